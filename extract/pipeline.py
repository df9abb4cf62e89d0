"""A PDF in, readings out: reading, layout, header and every finder in order."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from extract import layout
from extract.claims import Claim, Pictures, SheetReading
from extract.document import Document
from extract.finders import (
    application,
    coats,
    drying,
    exposure,
    film,
    mixing,
    preparation,
    safety,
    storage,
    windows,
)
from extract.header import read_header
from extract.pictured import doubt_pictures
from extract.products import split_products
from extract.reading.pages import open_sheet
from extract.sorting import in_page_order, without_doubles
from extract.terms import SubjectNames, Vocabulary

READER_VERSION = "1"
"""Raised whenever the same PDF may give other claims, so that a library knows which sheets to read again."""

Progress = Callable[[int, int], None]
"""Called with pages read so far and pages in all."""

Finder = Callable[[Document, SubjectNames, Vocabulary], Iterable[Claim]]

FINDERS: tuple[Finder, ...] = (
    coats.find,
    windows.find,
    preparation.find,
    exposure.find,
    mixing.find,
    film.find,
    application.find,
    drying.find,
    storage.find,
    safety.find,
)

FIGURES: tuple[Finder, ...] = (exposure.find, film.find, drying.find, storage.find, mixing.find, application.find)
"""What may be read in a language that has words for figures and cautions and none yet for coats: nothing is a leave."""


def read_sheet(
    pdf: bytes,
    file_name: str,
    password: str | None = None,
    progress: Progress | None = None,
    pictures: Pictures = Pictures.LEAVE,
) -> tuple[SheetReading, ...]:
    """Everything that a PDF says, one reading for each product that it covers.

    Raises an error of extract.errors where the file cannot be opened; what can be opened is read as far as it goes,
    and the reading's problems say what was left out.
    """
    sheet = open_sheet(pdf, password, progress, pictures)
    sha256 = hashlib.sha256(pdf).hexdigest()
    documents = split_products(layout.build(sheet))
    readings = tuple(
        doubt_pictures(read_document(d, file_name, sha256, sheet.page_count), sheet.pages) for d in documents
    )
    return readings if len(readings) == 1 else tuple(_named(r) for r in readings)


def _named(reading: SheetReading) -> SheetReading:
    """A reading out of several of one file: each claim says which product it is about."""
    product = reading.header.product
    return replace(reading, claims=tuple(replace(c, subject=product) for c in reading.claims))


def read_document(document: Document, file_name: str, sha256: str, pages: int) -> SheetReading:
    """The reading of a sheet of one product whose layout is known."""
    document = _in_its_own_language(document)
    vocabulary = _vocabulary(document.language)
    header, subject = read_header(document, file_name, sha256, pages, vocabulary)
    if vocabulary.language != document.language:
        # Another language's words read 'ne pas appliquer sur le mastic polyester' as leave to do so: figures only.
        problem = f"The sheet's language ({document.language}) is read for figures and cautions only."
        figures = in_page_order(without_doubles(c for f in FIGURES for c in f(document, subject, vocabulary)))
        header = replace(header, kind=None)
        return SheetReading(header, tuple(figures), document.pages, (*document.problems, problem), READER_VERSION)
    bound = vocabulary.bind(document, subject)
    claims = in_page_order(without_doubles(_claims(document, subject, bound)))
    return SheetReading(header, tuple(claims), document.pages, document.problems, READER_VERSION)


def _in_its_own_language(document: Document) -> Document:
    """The document without the sections of another language: one language's words misread another's prohibitions."""
    strange = sorted({b.section.language for b in document.blocks} - {"", document.language})
    if not strange:
        return document
    kept = tuple(b for b in document.blocks if b.section.language in ("", document.language))
    problem = f"Parts of the sheet are in another language ({', '.join(strange)}); they are not read."
    return replace(document, blocks=kept, problems=(*document.problems, problem))


def _vocabulary(language: str) -> Vocabulary:
    try:
        return Vocabulary.load(language)
    except FileNotFoundError:
        return Vocabulary.load("en")


def _claims(document: Document, subject: SubjectNames, vocabulary: Vocabulary) -> Iterator[Claim]:
    for find in FINDERS:
        yield from find(document, subject, vocabulary)

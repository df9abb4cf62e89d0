"""A PDF in, readings out: reading, layout, header and every finder in order."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from extract import layout
from extract.certainty import no_surer_than_it_proved
from extract.claims import Claim, Pictures, SheetReading
from extract.collecting import seldom_collected
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
from extract.gloss.doubts import sure
from extract.gloss.naming import product_named
from extract.gloss.original import Original
from extract.gloss.sheets import READER, gloss_document, languages_of
from extract.header import read_header
from extract.imprint import without_imprint
from extract.pictured import doubt_pictures
from extract.products import split_products
from extract.reading.pages import open_sheet
from extract.sorting import in_page_order, without_doubles
from extract.terms import SubjectNames, Vocabulary
from extract.version import READER_VERSION

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
    with seldom_collected():
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
    vocabulary = Vocabulary.load(READER)
    if languages_of(document) != {READER}:
        return _read_glossed(document, file_name, sha256, pages, vocabulary)
    header, subject = read_header(document, file_name, sha256, pages, vocabulary)
    document = without_imprint(document)
    bound = vocabulary.bind(document, subject)
    claims = in_page_order(without_doubles(_claims(document, subject, bound)))
    return SheetReading(header, tuple(claims), document.pages, document.problems, READER_VERSION)


def _read_glossed(document: Document, file_name: str, sha256: str, pages: int, vocabulary: Vocabulary) -> SheetReading:
    """The reading of a sheet that is, in whole or in part, in another language than the reader's."""
    header, _ = read_header(document, file_name, sha256, pages, vocabulary)
    header = replace(header, product=product_named(document, header.product))
    glossed = gloss_document(document, tuple(n for n in (header.product, header.maker) if n))
    # The page's own words are left out: they would stand beside the gloss of the same.
    inner, subject = read_header(replace(glossed.document, pages=()), file_name, sha256, pages, vocabulary)
    header = replace(header, kind=inner.kind)
    subject = replace(subject, name=header.product or subject.name, code=header.code)
    bound = vocabulary.bind(glossed.document, subject)
    original = Original(document)
    found = sure(_claims(glossed.document, subject, bound), glossed.doubts)
    claims = in_page_order(original.claim(c) for c in without_doubles(found))
    problems = document.problems
    if glossed.unread:
        unread = ", ".join(sorted(glossed.unread))
        problems = (*problems, f"Parts of the sheet are in another language ({unread}); they are not read.")
    return SheetReading(header, tuple(claims), document.pages, problems, READER_VERSION)


def _claims(document: Document, subject: SubjectNames, vocabulary: Vocabulary) -> Iterator[Claim]:
    for find in FINDERS:
        for claim in find(document, subject, vocabulary):
            yield no_surer_than_it_proved(claim)

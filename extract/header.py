"""What a sheet says of itself: maker, product, code, kind, date, revision, and the product's names."""

from __future__ import annotations

import re

from extract.claims import SheetHeader
from extract.dates import issue_date, revision
from extract.document import Document, fold
from extract.head_code import code_of
from extract.head_kind import kind_by_name, kind_of, names_several_kinds
from extract.head_maker import maker_of
from extract.head_product import aliases_of, product_of
from extract.head_texts import texts_of
from extract.names import readable
from extract.terms import SubjectNames, Vocabulary


def read_header(
    document: Document, file_name: str, sha256: str, pages: int, vocabulary: Vocabulary
) -> tuple[SheetHeader, SubjectNames]:
    """The header of a sheet of one product, and the names by which the sheet calls it."""
    texts = texts_of(document)
    maker = maker_of(texts)
    product = readable(document.product) if document.product else product_of(texts, maker, file_name)
    code = code_of(texts, product, maker)
    # Of products side by side the head describes them all: what the name itself says goes first.
    kind = kind_by_name(document.product, vocabulary) if document.product else None
    if kind is None and not (document.product and names_several_kinds(texts, vocabulary)):
        kind = kind_of(texts, product, vocabulary)
    heads = [fold(t) for t in (*texts.facts, *texts.running, *texts.titles, *texts.opening, *texts.closing)]
    american = _is_american(fold(texts.body))
    header = SheetHeader(
        file=file_name,
        sha256=sha256,
        pages=pages,
        maker=maker,
        product=product,
        code=code,
        kind=kind,
        issued=issue_date(heads, month_first=american),
        revision=revision(heads),
        language=document.language,
        scanned=document.scanned,
    )
    aliases = aliases_of(texts, product, maker, document.product)
    root = document.product.split()[0] if len(document.product.split()) > 1 else ""
    return header, SubjectNames(product or "", aliases, kind=kind, code=code, root=root)


def _is_american(body: str) -> bool:
    """Whether the sheet measures the American way, which decides '03/04/2024'."""
    us = len(re.findall(r"°\s?f\b|\bpsi\b|\bmils?\b|\bgal(?:lon)?s?\b|\bcolor\b|\bu\.?s\.?a?\b", body))
    metric = len(re.findall(r"°\s?c\b|\bbar\b|\bµm\b|\blitres?\b|\bcolour\b", body))
    return us > metric

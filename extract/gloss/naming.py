"""The product's name on a sheet of another language, where the words beside it were taken for it."""

from __future__ import annotations

from extract.document import Document, fold
from extract.gloss.glossing import CODED, Glosser
from extract.gloss.words import tongue


def product_named(document: Document, product: str | None) -> str | None:
    """The product, or the one name with a code in the titles where what was found is only words or holds more."""
    known = tongue(document.language)
    coded = dict.fromkeys(m.group() for t in document.titles for m in CODED.finditer(t.text))
    if known is None or len(coded) != 1:
        return product
    (name,) = coded
    if product is None or name in product or not any(fold(product) in fold(t.text) for t in document.titles):
        return name
    return name if Glosser(known).is_understood(product) else product

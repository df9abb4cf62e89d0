"""What a name typed in the window means: itself or nothing.

`names.resolve` also takes a name that is merely like another, for scripts and kept files. Where somebody types and
presses Enter, a likeness is only offered: 'old paint that lifts' must not become factory paint.
"""

from __future__ import annotations

from collections.abc import Sequence

from extract.claims import PRODUCT_PREFIX, SELF
from extract.kinds import is_known
from store.records import ProductRecord
from store.rules.names import (
    NO_LABELS,
    KindLabels,
    KindName,
    Unknown,
    complete,
    full_name,
    kind_called,
    resolve,
    run_together,
)

_OFFERED = 5


def named(
    text: str, products: Sequence[ProductRecord], called: KindLabels = NO_LABELS, *, kinds_too: bool = True
) -> ProductRecord | KindName | Unknown:
    """The product or kind of this very name, whatever its capitals, spaces and hyphens; else what may be meant.

    A product goes by its name, by that with its maker or code before or after it, or by its code alone; a kind by its
    label, in English and as called has it, by its id, or by what else the trade calls it. Where several products
    carry the name, all are in Unknown.nearest. kinds_too is whether kinds are among what is offered.
    """
    wanted = text.strip()
    product_meant = wanted.startswith(PRODUCT_PREFIX)
    wanted = wanted.removeprefix(PRODUCT_PREFIX).strip()
    if not product_meant and is_known(wanted) and wanted != SELF:
        return KindName(wanted)
    said = run_together(wanted)
    for ways in (_by_name, _by_maker_and_name, _by_code):
        same = [product for product in products if said and said in ways(product)]
        if len(same) == 1:
            return same[0]
        if same:
            return Unknown(text, tuple(full_name(product) for product in same[:_OFFERED]), several=True)
    kind = None if product_meant else kind_called(wanted, called)
    if kind is not None:
        return KindName(kind)
    offers = complete(wanted, products, _OFFERED, kinds_too=kinds_too and not product_meant, called=called)
    nearest = [_written(offer.meaning, offer.text, products) for offer in offers]
    likely = resolve(text, products, called)
    if isinstance(likely, ProductRecord):
        # 'Granat 12 epoxy primer' is like a product as a whole, however much it is like kinds by its words.
        nearest.insert(0, _written(likely, likely.name, products))
    return Unknown(text, tuple(dict.fromkeys(nearest))[:_OFFERED])


def _by_name(product: ProductRecord) -> tuple[str, ...]:
    return (run_together(product.name),)


def _by_maker_and_name(product: ProductRecord) -> tuple[str, ...]:
    return (run_together(full_name(product)),)


def _by_code(product: ProductRecord) -> tuple[str, ...]:
    code = product.code or ""
    if not run_together(code):
        return ()
    return run_together(code), run_together(f"{code} {product.name}"), run_together(f"{product.name} {code}")


def _written(meaning: ProductRecord | KindName, text: str, products: Sequence[ProductRecord]) -> str:
    """An offer so that typing it out means it: with its maker where two products share the name."""
    if isinstance(meaning, KindName):
        return text
    shared = sum(run_together(product.name) == run_together(text) for product in products) > 1
    return full_name(meaning) if shared else text

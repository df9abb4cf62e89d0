"""Two to six products side by side: a row for each thing that any of their sheets speaks of. Pure; words are app's.

What may go over what is judged exactly as an answer is, so that a comparison can never say more than a question would.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from extract.claims import PRODUCT_PREFIX, SELF, Claim, Topic
from extract.kinds import is_known, kinds
from store.records import OwnRule, ProductRecord, Proposal, Rule, RuleOrigin
from store.rules.answers import Answer, Clause, Conditional, Silent, Unconfirmed, Window
from store.rules.names import Likeness, likeness
from store.rules.reach import KindParty, Party, ProductParty
from store.rules.verdicts import judge
from store.rules.windows import governing_window

_CONTACTS = (Topic.GOES_OVER, Topic.TOPPED_BY)


class Said(StrEnum):
    SAID = "said"
    UNSAID = "unsaid"
    UNCONFIRMED = "unconfirmed"
    """Only proposed claims speak."""


@dataclass(frozen=True, slots=True)
class Cell:
    """What one product's sheet says in a row. sources are the sentences, rules before proposals.

    answer is set in rows about what goes over what, window in rows about times; elsewhere the sources say it all.
    """

    said: Said
    sources: tuple[Rule | Proposal, ...] = ()
    answer: Answer | None = None
    window: Window | None = None


@dataclass(frozen=True, slots=True)
class Row:
    """topic with property and object tells what the row is about; differs where two sheets say different things."""

    topic: Topic
    property: str | None
    object: str | None
    cells: tuple[Cell, ...]
    differs: bool


@dataclass(frozen=True, slots=True)
class Comparison:
    """Rows in the topics' order; cells[i] of each row belongs to products[i]."""

    products: tuple[ProductRecord, ...]
    rows: tuple[Row, ...]
    at_c: float | None

    def of_topic(self, topic: Topic) -> tuple[Row, ...]:
        return tuple(row for row in self.rows if row.topic is topic)


@dataclass(frozen=True, slots=True)
class Material:
    """What the sheets of the products at hand say, and the whole library's products to read names against."""

    rules: tuple[Rule, ...]
    proposals: tuple[Proposal, ...] = ()
    own_rules: tuple[OwnRule, ...] = ()
    products: tuple[ProductRecord, ...] = ()

    def rules_of(self, product: ProductRecord) -> list[Rule]:
        return [r for r in self.rules if r.sheet.product_id == product.id and r.origin is not RuleOrigin.OWN]

    def proposals_of(self, product: ProductRecord) -> list[Proposal]:
        return [p for p in self.proposals if p.sheet.product_id == product.id]


def compare(products: Sequence[ProductRecord], material: Material, at_c: float | None = None) -> Comparison:
    """The comparison, windows at at_c (degC; None takes each sheet's own row)."""
    rows: list[Row] = []
    for topic in Topic:
        for property_, object_ in _row_keys(topic, products, material):
            cells = tuple(_cell(topic, property_, object_, product, material, at_c) for product in products)
            if any(cell.said is not Said.UNSAID for cell in cells):
                rows.append(Row(topic, property_, object_, cells, _differs(cells)))
    return Comparison(tuple(products), tuple(rows), at_c)


def _row_keys(
    topic: Topic, products: Sequence[ProductRecord], material: Material
) -> list[tuple[str | None, str | None]]:
    """What the rows of a topic are about, as property and object; objects in the vocabulary's order."""
    ids = {product.id for product in products}
    sources: list[Rule | Proposal] = [*material.rules, *material.proposals]
    claims = [s.claim for s in sources if s.sheet.product_id in ids and s.claim.topic is topic]
    if topic in _CONTACTS:
        return [(None, object_) for object_ in _objects(claims)]
    found: list[tuple[str | None, str | None]] = []
    for property_ in dict.fromkeys(claim.property for claim in claims):
        of_property = [claim for claim in claims if claim.property == property_]
        if topic in {Topic.OVERCOAT_WINDOW, Topic.PREPARATION}:
            found += [(property_, object_) for object_ in _objects(of_property)]
        else:
            found.append((property_, None))
    return found


def _objects(claims: Iterable[Claim]) -> list[str | None]:
    order = {kind: place for place, kind in enumerate(kinds())}
    found: dict[str | None, None] = {}
    for claim in claims:
        same = next((known for known in found if _same_name(known, claim.object)), None)
        if same is None:
            found[claim.object] = None
    return sorted(found, key=lambda o: (-1, "") if o is None else (order.get(o, len(order)), o))


def _same_name(one: str | None, other: str | None) -> bool:
    if one is None or other is None or one == other:
        return one == other
    if not (one.startswith(PRODUCT_PREFIX) and other.startswith(PRODUCT_PREFIX)):
        return False
    first, second = one.removeprefix(PRODUCT_PREFIX), other.removeprefix(PRODUCT_PREFIX)
    return likeness(first, ProductRecord(0, second, "", None)) is Likeness.SAME


def _party(object_: str, product: ProductRecord, products: Sequence[ProductRecord]) -> Party | None:
    """The other side of a contact that a row is about; None for 'anything' and for products not in the library."""
    if object_ == SELF:
        return ProductParty(product)
    if not object_.startswith(PRODUCT_PREFIX):
        return KindParty(object_) if is_known(object_) else None
    name = object_.removeprefix(PRODUCT_PREFIX)
    same = [p for p in products if likeness(name, p) >= Likeness.SHORT]
    return ProductParty(same[0]) if len(same) == 1 else None


def _cell(
    topic: Topic,
    property_: str | None,
    object_: str | None,
    product: ProductRecord,
    material: Material,
    at_c: float | None,
) -> Cell:
    rules = [r for r in material.rules_of(product) if r.claim.topic is topic and r.claim.property == property_]
    proposals = [p for p in material.proposals_of(product) if p.claim.topic is topic and p.claim.property == property_]
    other = _party(object_, product, material.products) if object_ is not None else None
    if topic in _CONTACTS and other is not None:
        return _contact_cell(topic, product, other, material)
    if topic is Topic.OVERCOAT_WINDOW and property_ == "window":
        return _window_cell(product, object_, other, rules, proposals, material, at_c)
    sources: list[Rule | Proposal] = [r for r in rules if _in_row(topic, r.claim, object_)]
    waiting: list[Rule | Proposal] = [p for p in proposals if _in_row(topic, p.claim, object_)]
    if sources:
        return Cell(Said.SAID, (*sources, *waiting))
    return Cell(Said.UNCONFIRMED, tuple(waiting)) if waiting else Cell(Said.UNSAID)


def _in_row(topic: Topic, claim: Claim, object_: str | None) -> bool:
    by_object = topic in {*_CONTACTS, Topic.OVERCOAT_WINDOW, Topic.PREPARATION}
    return not by_object or _same_name(claim.object, object_)


def _contact_cell(topic: Topic, product: ProductRecord, other: Party, material: Material) -> Cell:
    """This product's sheet on one contact, the other side's sheet left aside: the column is this product's."""
    here = ProductParty(product)
    lower, upper = (other, here) if topic is Topic.GOES_OVER else (here, other)
    answer = judge(
        lower,
        upper,
        [rule for rule in material.rules_of(product) if rule.claim.topic in {topic, *_TIMES}],
        [proposal for proposal in material.proposals_of(product) if proposal.claim.topic is topic],
        material.own_rules,
        material.products,
    )
    ids = {citation.id: citation for citation in (*answer.citations, *answer.pending)}
    sources: tuple[Rule | Proposal, ...] = (
        *(rule for rule in material.rules_of(product) if rule.id in ids),
        *(proposal for proposal in material.proposals_of(product) if proposal.id in ids),
    )
    if isinstance(answer, Silent):
        return Cell(Said.UNSAID, answer=answer)
    said = Said.UNCONFIRMED if isinstance(answer, Unconfirmed) else Said.SAID
    return Cell(said, sources, answer=answer)


_TIMES = (Topic.OVERCOAT_WINDOW, Topic.PREPARATION)


def _window_cell(
    product: ProductRecord,
    object_: str | None,
    other: Party | None,
    rules: Sequence[Rule],
    proposals: Sequence[Proposal],
    material: Material,
    at_c: float | None,
) -> Cell:
    in_row = [rule for rule in rules if _same_name(rule.claim.object, object_)]
    if other is not None:
        window = governing_window(ProductParty(product), other, rules, material.products, at_c)
    elif in_row:
        # A general window, or one for a product that the library does not hold: its own rows alone.
        window = governing_window(ProductParty(product), _nobody(object_), in_row, material.products, at_c)
    else:
        window = None
    if window is not None:
        return Cell(Said.SAID, replace(window, past=None).carried_by, window=window)
    waiting = tuple(proposal for proposal in proposals if _same_name(proposal.claim.object, object_))
    return Cell(Said.UNCONFIRMED, waiting) if waiting else Cell(Said.UNSAID)


def _nobody(object_: str | None) -> Party:
    """A stand-in for the coat that a row is about: the name on the sheet, or no name at all."""
    name = object_.removeprefix(PRODUCT_PREFIX) if object_ is not None else ""
    return ProductParty(ProductRecord(0, name or "-", "", None, has_sheet=False))


def _differs(cells: Sequence[Cell]) -> bool:
    values = {_value(cell) for cell in cells if cell.said is Said.SAID}
    return len(values) > 1


def _value(cell: Cell) -> object:
    """What a cell says, without where it says it."""
    if cell.answer is not None:
        clauses: tuple[Clause, ...] = cell.answer.clauses if isinstance(cell.answer, Conditional) else ()
        terms = frozenset((term.condition, term.via) for clause in clauses for way in clause.ways for term in way)
        return (cell.answer.word, terms)
    if cell.window is not None:
        return tuple((one.low, one.high, one.unlimited, one.conditions) for one in cell.window.each)
    return frozenset(_figures(source.claim) for source in cell.sources if isinstance(source, Rule))


def _figures(claim: Claim) -> object:
    said = (claim.stance, claim.low, claim.high, claim.unlimited, claim.text, claim.parts, claim.basis)
    return (*said, claim.at_c, claim.method, frozenset(claim.conditions))

"""One PDF, several products side by side: the columns or rows of one table are products of their own.

Products are told by their names: the title names them all ('KORVO FINE · KORVO COARSE'), or they share the title's
first word. Hardeners, thinners, colours, packs and temperatures over columns are no products.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from extract.document import Block, Document, Passage, Row, Statement, Table, fold
from extract.head_product import descriptive, variants_of
from extract.head_texts import without_sheet_words

_MOST_PRODUCTS = 5
_LEAST_ROWS = 2
_ABBREVIATION = 3
"""A word in capitals of so many letters is left as it is."""
_COMPONENT = re.compile(
    r"\b(?:hardener|activator|catalyst|thinner|reducer|diluent|component|comp|part|additive|cleaner|colou?r|shade|"
    r"litres?|tin|can|pack|kg|ml)\b|\b\d+(?:[.,]\d+)?\s?(?:l|kg|ml|g|°|%|mm)\b"
)
_NAME = re.compile(r"[A-ZÀ-Þ][\w-]+(?: [A-ZÀ-Þ\d][\w-]*){1,3}")
"""A name of several words as printed; 'For the brush' is none."""
_LINK = re.compile(r"[®™]?\s*(?:,|/|&|\+|\band\b|\bor\b|\bnor\b|\band/or\b|\bas well as\b)\s*(?:the\s+)?")
"""What stands between two names of which the same is said."""
_NEW_SUBJECT = re.compile(r"(?:[,;:.–-]\s*|\b(?:and|while|whereas|but)\s+)(?:only\s+|for\s+|with\s+|the\s+)?$")
_AT_THE_HEAD = 24
"""Characters before the name of what a sentence is about."""


@dataclass(frozen=True, slots=True)
class _Product:
    name: str
    forms: re.Pattern[str]
    """The name and the part of it that tells it from the others, on folded text."""

    def heads(self, text: str) -> bool:
        """Whether a column's head or a row's label is this product and nothing else."""
        bare = re.sub(r"\([^)]*\)", "", fold(text)).replace("®", "").strip(" .:*")
        return self.forms.fullmatch(bare) is not None


def split_by_columns(document: Document) -> tuple[Document, ...]:
    """A document for each product that a table sets beside others; the document itself where none does."""
    products = _products(document)
    if len(products) < 2:
        return (document,)
    return tuple(_of_one(document, product, products) for product in products)


def _products(document: Document) -> list[_Product]:
    titles = [p.text for p in document.titles]
    tables = [b for b in document.blocks if isinstance(b, Table)]
    for names in (named_in(titles), *(_kin(table, titles) for table in tables)):
        products = _with_forms(names)
        if 2 <= len(products) <= _MOST_PRODUCTS and any(_is_set_beside(t, products) for t in tables):
            return products
    return []


def named_in(titles: Sequence[str]) -> list[str]:
    """The products that the title names, by one line or by several of the same first word."""
    for title in titles:
        names = [n for n in variants_of(without_sheet_words(title)) if not _COMPONENT.search(fold(n))]
        if len(names) > 1:
            return names
    bare = [without_sheet_words(t) for t in titles]
    named = [t for t in bare if _NAME.fullmatch(t) and not _COMPONENT.search(fold(t))]
    first = {fold(t.split()[0]) for t in named}
    return named if len(named) > 1 and len(first) == 1 and not first & descriptive() else []


def _kin(table: Table, titles: Sequence[str]) -> list[str]:
    """Heads or labels of one table that share their first word with a title which is none of them."""
    openings = {fold(w[0]) for t in titles if (w := without_sheet_words(t).split()) and len(w[0]) > 2} - descriptive()
    for texts in ([stack[-1].text for stack in table.heads if stack], [row.label.text for row in table.rows]):
        names = [" ".join(t.split()) for t in texts if 2 <= len(t.split()) <= 4 and not _COMPONENT.search(fold(t))]
        kin = [n for n in dict.fromkeys(names) if fold(n.split()[0]) in openings]
        if len(kin) > 1 and len(kin) == len([t for t in texts if t.strip()]) - _others(texts, kin):
            own = {fold(without_sheet_words(t)) for t in titles}
            return [] if any(fold(n) in t for n in kin for t in own) else kin
    return []


def _others(texts: Sequence[str], kin: Sequence[str]) -> int:
    """Columns that head no product but remarks on all ('Comment', 'Unit')."""
    return sum(1 for t in texts if t.strip() and " ".join(t.split()) not in kin and len(t.split()) == 1)


def _with_forms(names: Sequence[str]) -> list[_Product]:
    split = [n.split() for n in names]
    if not split:
        return []
    shared = 0
    for column in zip(*split, strict=False):
        if len({fold(w) for w in column}) > 1:
            break
        shared += 1
    out = []
    for name, words in zip(names, split, strict=True):
        rest = fold(" ".join(words[shared:]))
        forms = [fold(name)]
        if len(rest) > 2 and not rest[0].isdigit() and rest not in descriptive():
            forms.append(rest)
        pattern = "|".join(re.escape(f).replace(r"\ ", r"[ -]?") for f in sorted(forms, key=len, reverse=True))
        out.append(_Product(name, re.compile(rf"(?<![\w-])(?:{pattern})(?![\w-])")))
    return out


def _is_set_beside(table: Table, products: Sequence[_Product]) -> bool:
    """Whether two or more products head columns of the table, or label its rows."""
    columns = {p.name for p in products for stack in table.heads if any(p.heads(c.text) for c in stack)}
    rows = {p.name for p in products for row in table.rows if p.heads(row.label.text)}
    return (len(columns) > 1 and len(table.rows) >= _LEAST_ROWS) or (len(rows) > 1 and len(table.heads) >= _LEAST_ROWS)


def _of_one(document: Document, product: _Product, products: Sequence[_Product]) -> Document:
    """What the document says of one product: its own, and what is said of all."""
    others = [p for p in products if p is not product]
    blocks: list[Block] = []
    for block in document.blocks:
        if isinstance(block, Table):
            if (table := _table_of_one(block, product, others)) is not None:
                blocks.append(table)
        else:
            blocks.extend(_statements_of_one(block, product, others))
    metadata = tuple((key, value) for key, value in document.metadata if key.lower() != "title")
    return replace(document, blocks=tuple(blocks), metadata=metadata, product=_written(product.name))


def _written(name: str) -> str:
    return " ".join(
        w.capitalize() if w.isupper() and w.isalpha() and len(w) > _ABBREVIATION else w for w in name.split()
    )


def _table_of_one(table: Table, product: _Product, others: Sequence[_Product]) -> Table | None:
    if any(p.forms.search(table.title.folded) or p.forms.search(table.section.title.folded) for p in others) and not (
        product.forms.search(table.title.folded) or product.forms.search(table.section.title.folded)
    ):
        return None
    kept = [
        i
        for i, stack in enumerate(table.heads)
        if not any(p.heads(c.text) for c in stack for p in others) or any(product.heads(c.text) for c in stack)
    ]
    rows = [row for row in table.rows if not any(p.heads(row.label.text) for p in others)]
    if len(kept) == len(table.heads) and len(rows) == len(table.rows):
        return table
    return replace(
        table,
        heads=tuple(tuple(c for c in table.heads[i] if not product.heads(c.text)) for i in kept),
        rows=tuple(_cells_kept(row, kept) for row in rows),
    )


def _cells_kept(row: Row, kept: Sequence[int]) -> Row:
    return replace(row, cells=tuple(row.cells[i] for i in kept if i < len(row.cells)))


def _statements_of_one(statement: Statement, product: _Product, others: Sequence[_Product]) -> Iterator[Statement]:
    """The statement, or the parts of it that are about this product; none where it is about another alone."""
    governing = [h for h in (*statement.section.headings[1:], statement.label, statement.lead) if h is not None]
    for part in _parts(statement.passage, (product, *others)):
        owner = _owner(part.folded, product, others)
        if owner is None:
            headed = (_only_owner(h.folded, product, others) for h in reversed(governing))
            owner = next((o for o in headed if o is not None), True)
        if owner:
            yield replace(statement, passage=part)


def _only_owner(folded: str, product: _Product, others: Sequence[_Product]) -> bool | None:
    """The same of a heading, which speaks for what stands under it only where it names one product."""
    named = [p for p in (product, *others) if p.forms.search(folded)]
    return named[0] is product if len(named) == 1 else None


def _owner(folded: str, product: _Product, others: Sequence[_Product]) -> bool | None:
    """Whether a text is about this product (True) or another (False); None where it names none of them."""
    named = sorted((m.start(), m.end(), p is product) for p in (product, *others) for m in p.forms.finditer(folded))
    if not named:
        return None
    if len({own for _, _, own in named}) == 1 and len(named) == 1:
        return named[0][2]
    group = [named[0]]
    for name in named[1:]:
        if not _LINK.fullmatch(folded[group[-1][1] : name[0]]):
            break
        group.append(name)
    if len(group) > 1:
        return any(own for _, _, own in group)
    if named[0][0] <= _AT_THE_HEAD:
        return named[0][2]
    return all(own for _, _, own in named)


def _parts(passage: Passage, products: Sequence[_Product]) -> Iterator[Passage]:
    """The passage cut where another product becomes the subject: '... on steel, KORVO 20 on zinc too'."""
    folded = passage.folded
    named = sorted((m.start(), m.end()) for p in products for m in p.forms.finditer(folded))
    cuts = [0]
    for before, here in itertools.pairwise(named):
        linked = _LINK.fullmatch(folded[before[1] : here[0]])
        boundary = _NEW_SUBJECT.search(folded[before[1] : here[0]])
        if boundary is not None and not linked:
            cuts.append(before[1] + boundary.start() + 1)
    for start, end in zip(cuts, [*cuts[1:], len(passage.text)], strict=True):
        if passage.text[start:end].strip():
            yield passage.part(start, end) if len(cuts) > 1 else passage

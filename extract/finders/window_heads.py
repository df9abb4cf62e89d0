"""What a head or a label of a table says of the times beside it: which end, how warm, for which coat."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from extract.bounds import Bound
from extract.claims import SELF, Method
from extract.clauses.cues import Cues
from extract.document import Cell, Row, Table, fold
from extract.figures.governing import HOT, method_of
from extract.figures.merging import bound_word
from extract.finders.window_coats import keeps_closed
from extract.mention import Mention
from extract.quantities import find_quantities
from extract.terms import Vocabulary
from extract.units import Dimension


@dataclass(frozen=True, slots=True)
class Side:
    """What a head or a label says of the times beside it."""

    role: str = ""
    """'least', 'most', 'both', 'free' (the time in which nothing need be sanded) or ''."""
    at_c: float | None = None
    method: Method | None = None
    objects: tuple[tuple[str | None, str], ...] = ()
    recoat: bool = False
    stage: bool = False
    words: bool = False
    """True where it is made of words."""
    worked: bool = False
    """'After sanding P500': the coat may follow so for the times beneath."""
    closed: bool = False
    """'Do not overcoat', 'lifts': the times beneath are those in which the film is left alone."""

    remark: bool = False
    """The column is the table's remarks."""

    @property
    def told(self) -> bool:
        return self.recoat or bool(self.role) or self.at_c is not None

    @staticmethod
    def of(text: str, cells: Sequence[Cell], known: Cues, vocabulary: Vocabulary) -> Side:
        folded = fold(text)
        if not folded.strip():
            return Side()
        heads = known.heads
        recoat = heads["recoat"].search(folded) is not None and heads["flash"].match(folded) is None
        # Of heads above one another the nearest to the times says which end they are.
        nearest = (r for c in reversed(cells) if (r := role_of(c.passage.folded, known)))
        role = next(nearest, role_of(folded, known)) if len(cells) > 1 else role_of(folded, known)
        if not recoat and len(folded) > 45 and not cells:
            role = ""
        mentions = vocabulary.mentions(text)
        # 'Base coat, water' is a coat, and no stage of standing in water.
        stage = not recoat and heads["stage"].search(_without(folded, mentions)) is not None
        objects = tuple(_objects(text, mentions, known))
        if objects and cells and heads["an_end"].search(folded):
            recoat = True
        if heads["any_coat"].search(folded) and not objects:
            recoat = True
        return Side(
            role,
            temperature_of(folded),
            _method(folded),
            objects,
            recoat,
            stage,
            re.search(r"[a-z]{3}", folded) is not None,
            heads["worked"].match(folded) is not None,
            keeps_closed(folded, known),
            heads["remark"].fullmatch(folded.strip()) is not None,
        )

    def after(self, before: Side, row: Row) -> Side:
        """This row's side where the row before began a pair: 'To recoat, minimum' and under it only 'maximum'."""
        if before.recoat and before.role == "least" and bound_word(row.label.text) is Bound.MOST and not self.recoat:
            return replace(self, recoat=True, objects=before.objects, stage=False)
        return self

    def is_coat_row(self, row: Row) -> bool:
        """Whether a label is a coat's name and nothing else: 'Topcoat' under 'Recoat' in a table of drying times."""
        named = sum(len(words) for _, words in self.objects)
        least = 0.5 if self.role else _MOSTLY
        return bool(self.objects) and not self.stage and named >= least * len(row.label.text.strip(" :."))


_MOSTLY = 0.7


def temperature_of(folded: str) -> float | None:
    """The temperature in a head, in degC."""
    return next(
        (
            q.low if q.low is not None else q.high
            for q in find_quantities(folded)
            if q.dimension is Dimension.TEMPERATURE
        ),
        None,
    )


def row_temperature(row: Row) -> float | None:
    """The temperature that a row has a cell of its own for, in degC."""
    for cell in row.cells:
        found = find_quantities(cell.passage.folded)
        if len(found) == 1 and found[0].dimension is Dimension.TEMPERATURE and found[0].low == found[0].high:
            return found[0].low
    return None


def row_role(row: Row) -> str:
    """The end that a row has a cell of its own for: 'Itself | Max | 7 d'."""
    ends = {bound_word(cell.text) for cell in row.cells} - {Bound.NONE}
    if len(ends) != 1:
        return ""
    return "most" if ends == {Bound.MOST} else "least"


def role_of(folded: str, known: Cues) -> str:
    """Which end of a window the times beside a head are: 'least', 'most', 'both' or ''."""
    heads, words = known.heads, known.window
    least = heads["least"].search(folded) or words["least"].search(folded)
    most = heads["most"].search(folded)
    if most:
        return "both" if heads["least"].search(folded) else "most"
    if heads["before"].search(folded):
        return "most"
    if words["most"].search(folded):
        free = "free" if words["spares"].search(folded) else "most"
        return "both" if least else free
    return "least" if least else ""


def _method(folded: str) -> Method | None:
    if re.search(r"wet[- ]on[- ]wet", folded):
        return Method.WET_ON_WET
    temperature = temperature_of(folded)
    named = method_of(folded)
    if named is not None and named is not Method.AIR:
        return named
    return Method.FORCE if temperature is not None and temperature >= HOT else None


def _without(folded: str, mentions: Sequence[Mention]) -> str:
    out = list(folded)
    for m in mentions:
        out[m.start : m.end] = " " * (m.end - m.start)
    return "".join(out)


def _objects(text: str, mentions: Sequence[Mention], known: Cues) -> list[tuple[str | None, str]]:
    folded = fold(text)
    # 'Filler, on sanded primer': what the coat lies on is no coat of the row.
    upper = [m for n, m in enumerate(mentions) if not n or not known.heads["onto"].search(folded[: m.start])]
    objects = [(m.object, m.words) for m in upper]
    if not objects and known.heads["itself"].search(folded):
        return [(SELF, text)]
    return [(o, w) for o, w in objects if not (o or "").startswith(("surface.", "finish.", "treatment."))]


def variant_of(row: Row, table: Table, known: Cues) -> str | None:
    """The hardener or thinner that a row is about, where the table has a row for each."""
    label = row.label.passage.folded.strip()
    varies, pace = known.heads["varies"], known.heads["pace"]
    of_rows = varies.search(table.corner.folded) or varies.search(label) or pace.fullmatch(label)
    if label and of_rows and not known.heads["recoat"].search(label):
        return row.label.text.strip()
    return None


def column_variants(table: Table, known: Cues) -> list[str | None]:
    """The hardener or thinner that each column is about, where the table has a column for each."""
    varies, pace = known.heads["varies"], known.heads["pace"]
    texts = [" ".join(c.text for c in stack).strip() for stack in table.heads]
    told = [bool(t) and (varies.search(fold(t)) or pace.search(fold(t))) is not None for t in texts]
    return [t if named and sum(told) > 1 else None for t, named in zip(texts, told, strict=True)]

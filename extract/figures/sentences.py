"""Figures in running text and in fields: each bound to the label that stands nearest to it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from extract.bounds import Bound
from extract.claims import Method, Topic
from extract.document import Passage, Statement, StatementKind, fold, join
from extract.figures.asides import is_choice_of_speed, is_reference, is_test_climate
from extract.figures.baking import heat_behind, is_bake
from extract.figures.bare_numbers import carried, carried_times, counted, tips
from extract.figures.bound import BoundFigure
from extract.figures.captions import caption_parts
from extract.figures.claims import is_plausible
from extract.figures.cups import find_cup
from extract.figures.governing import HOT, governing, head_temperature, method_of, reading, settled_method
from extract.figures.labels import FigureSpec, Label, figure_specs, find_labels, spec_of, stands
from extract.figures.merging import merge_bounds
from extract.figures.nearness import FAR, distance
from extract.figures.pairs import paired
from extract.figures.plain_drying import is_plain_drying
from extract.figures.turning import limit_of, turned
from extract.figures.twins import TWINS, twin_of
from extract.quantities import Quantity, find_quantities
from extract.sections import Sense, sense_of
from extract.units import Dimension

_SKIPPED = {Sense.FAULTS, Sense.SYSTEMS, Sense.QUESTIONS, Sense.LEGAL, Sense.CLEANING, Sense.PACKAGING}
_BESIDE_STORAGE = {Sense.CLEANING, Sense.PACKAGING}
_STAGE_HEADINGS = {"sand", "handle", "hard", "touch", "cure"}
"""'Sanding' over a paragraph says what it is about, not that each time in it is one until sanding."""
_AFTER_RATIO = re.compile(r"\d\s*:\s*\d+(?:[.,]\d+)?\s*(?::|\+)\s*$")
"""'2:1 + 10-20 %': what is added to a ratio is thinner."""
_PER_COAT = re.compile(r"\s*(?:each|per coat|a coat|per layer)\b")
_GUN = re.compile(r"\b(?:nozzle|spray|gun|tip)\b")
_WEATHER = 8.0
"""Kelvin: an unnamed range as wide as this, where the sheet tells how to apply, is weather to work in."""
_OPENING = 60
_BY_WEIGHT = re.compile(
    r"(?:[\s(]*(?:solids? )?|[\s,(]*)(?:by |in )?(?:weight|mass|wt\b|w/w|m/m)(?!\s*solids|.{0,12}thinn|[\s:]*\d)"
)
_WEIGHT_BEFORE = re.compile(r"\b(?:by|in) (?:weight|mass)[\s:]*$")
_SELF_EVIDENT = {Dimension.COVERAGE: (Topic.FILM, "coverage"), Dimension.COUNT: (Topic.FILM, "coats")}
_KEEPS = 3 * 43200.0
"""Minutes: a caption of three months or more tells how long the tin keeps."""
_THINNED = re.compile(
    r"\s*\(?(?:[a-z]+\s)?(?:[a-z]{1,5}-?\s?\d+|thinn|diluen|dilut|reduc|solvent|disolvente|verd|gun|brush|spray|roller|airless)"
)
_OF_THINNER = re.compile(r"\s*(?:of |with )?(?:our |the )?(?:[a-z]{1,3}-?\d|thinn|diluen|reduc|solvent)")
_DEFAULT_UNITS = {Dimension.COUNT: "coat", Dimension.SECONDS: "s", Dimension.PERCENT: "%"}


def figures_in(
    statement: Statement, language: str = "en", section_at_c: float | None = None, stage: FigureSpec | None = None
) -> Iterator[BoundFigure]:
    """Every figure of a statement that a label names.

    section_at_c governs what no nearer temperature governs; stage is the one that the section's table was about,
    for a sentence that adds a temperature to it ('At 10 °C reckon with 50 min').
    """
    senses = sense_of(statement.section, language)
    # 'Packing and storage': the packs' figures are no claims, the tin's keeping is one.
    kept_only = Sense.STORAGE in senses and bool(senses & _BESIDE_STORAGE)
    if (senses & _SKIPPED and not kept_only) or senses == {Sense.SAFETY}:
        return
    for part in caption_parts(statement):
        for figure in _figures_of(part, language, section_at_c, stage):
            if not kept_only or figure.spec.topic is Topic.STORAGE:
                yield figure


def _figures_of(
    statement: Statement, language: str, section_at_c: float | None, stage: FigureSpec | None
) -> Iterator[BoundFigure]:
    label = statement.label
    passage = statement.passage
    head_end = 0
    if label is not None and not fold(passage.text).startswith(fold(label.text)):
        passage = join([label, passage], ": ")
        head_end = len(label.text)
    elif label is not None:
        head_end = len(label.text)
    elif statement.kind is StatementKind.BULLET and statement.lead is not None and len(statement.lead.text) < 80:
        passage = join([statement.lead, passage], " ")
        head_end = len(statement.lead.text)
    context = " ".join(fold(h.text) for h in statement.section.headings)
    if statement.lead is not None:
        context += " " + fold(statement.lead.text)
    yield from _Reader(passage, head_end, context, statement, language, section_at_c, stage).read()


class _Reader:
    """Reads one passage; kept together because every step needs the text, its labels and its figures."""

    def __init__(
        self,
        passage: Passage,
        head_end: int,
        context: str,
        statement: Statement,
        language: str,
        section_at_c: float | None,
        stage: FigureSpec | None,
    ) -> None:
        self.passage, self.head_end, self.context = passage, head_end, context
        self.statement, self.language, self.section_at_c = statement, language, section_at_c
        self.stage = stage
        self.times: list[Quantity] = []
        self.folded = passage.folded
        self.senses = sense_of(statement.section, language)

    def read(self) -> Iterator[BoundFigure]:
        merged = merge_bounds(self.folded, self._quantities())
        if not merged:
            return
        dimensions = frozenset(q.dimension for q in merged)
        labels = self._labels(dimensions)
        storage = self._is_storage(labels, merged) or any(
            q.dimension is Dimension.TIME and self._by_caption(q) == (Topic.STORAGE, "shelf_life") for q in merged
        )
        quantities = [q for i, q in enumerate(merged) if not is_reference(self.folded, merged, i)]
        held, used = ({}, set()) if storage else governing(self.folded, quantities)
        stage: Label | None = None
        governed: Quantity | None = None
        self.times = [q for q in quantities if q.dimension is Dimension.TIME]
        pairs = paired(self.folded, self.head_end, self.times, self.language)
        for i, q in enumerate(quantities):
            if q.dimension is Dimension.PERCENT and self._by_weight(q):
                continue
            if i in used or is_test_climate(self.folded, quantities, i, used):
                continue
            if storage and q.dimension is Dimension.TEMPERATURE and q.end <= self.head_end and q.low == q.high:
                continue  # 'Shelf life (20 °C): ...'
            if (own := pairs.get(q.start)) is not None:
                chosen = [(own, 10.0)]
            else:
                chosen = list(self._choose(q, quantities, labels, storage=storage, held=i in held))
            if (
                not chosen
                and stage is not None
                and self._goes_on(q, quantities[i - 1] if i else None, stage, held=i in held)
            ):
                chosen = [(stage, 60.0)]
                if q.dimension is Dimension.SECONDS and i not in held and governed is not None:
                    held[i] = governed
            if not chosen and self._is_unnamed_bake(q, held.get(i)):
                chosen = [(Label(q.start, q.end, spec_of(Topic.DRYING, "hard", self.language)), 60.0)]
            governed = held.get(i, governed)
            for first, far in chosen:
                if first.spec.topic is None:
                    continue
                named = first
                if is_bake(first, q, held.get(i)):
                    named = Label(q.start, q.end, spec_of(Topic.DRYING, "hard", self.language))
                # 'Sandable after 20 min at 20 °C; with infrared after 5 min': the stage named goes before the lamp.
                goes_on = named.weak and stage is not None and stage.spec.topic is Topic.DRYING
                label = stage if goes_on and stage is not None and q.dimension is Dimension.TIME else named
                stage = label if label.spec.dimension in {Dimension.TIME, Dimension.SECONDS} else None
                yield self._figure(q, limit_of(self.folded, q, label, self.language), far, held.get(i))

    def _quantities(self) -> Sequence[Quantity]:
        quantities = carried(self.folded, tips(self.folded, counted(self.folded, find_quantities(self.folded))))
        quantities = carried_times(self.folded, quantities, self.language)
        if self.head_end and not any(q.start >= self.head_end for q in quantities):
            # A field whose value is a bare number: the label says what it counts.
            head = self.folded[: self.head_end]
            specs = {lb.spec.dimension for lb in find_labels(head, frozenset(_DEFAULT_UNITS), short=True,
                                                            language=self.language) if lb.spec.topic}  # fmt: skip
            if len(specs) == 1:
                unit = _DEFAULT_UNITS[next(iter(specs))]
                quantities = tuple(q for q in find_quantities(self.folded, unit) if q.start >= self.head_end)
        return quantities

    def _labels(self, dimensions: frozenset[Dimension]) -> tuple[Label, ...]:
        labels = find_labels(self.folded, dimensions, language=self.language)
        if self.head_end:
            head = find_labels(self.folded[: self.head_end], dimensions, short=True, language=self.language)
            labels = (*(lb for lb in labels if lb.start >= self.head_end), *head)
        return tuple(lb for lb in labels if stands(lb.spec, self.folded, lb.start, lb.end, self.context))

    def _by_weight(self, q: Quantity) -> bool:
        behind = _BY_WEIGHT.match(self.folded, q.end)
        # 'Solids by weight 69 %, by volume 51 %': of two shares each has its own word before it.
        return behind is not None or _WEIGHT_BEFORE.search(self.folded[: q.start]) is not None

    def _is_storage(self, labels: Sequence[Label], quantities: Sequence[Quantity]) -> bool:
        if Sense.STORAGE in self.senses:
            return True
        kept = [lb for lb in labels if lb.spec.topic is Topic.STORAGE]
        if any(lb.spec.property == "shelf_life" for lb in kept):
            return True
        # 'Store below 120 °F, 2 years': so long stands only the tin.
        long = any(q.dimension is Dimension.TIME and (q.low or q.high or 0.0) >= _KEEPS for q in quantities)
        return long and any(lb.start <= 3 for lb in kept)

    def _choose(
        self,
        q: Quantity,
        quantities: Sequence[Quantity],
        labels: Sequence[Label],
        *,
        storage: bool,
        held: bool,
    ) -> Iterator[tuple[Label, float]]:
        ranked = sorted(
            (
                (
                    distance(self.folded, self.passage.text, self.head_end, lb, q, quantities)
                    + 22.0 * (lb.weak and not 0 <= lb.start - q.end <= 1),
                    lb,
                )
                for lb in labels
                if lb.spec.dimension is q.dimension
                and is_plausible(lb.spec, q)
                and not (lb.spec.property in TWINS and is_choice_of_speed(self.folded, q))
            ),
            key=lambda pair: (pair[0], pair[1].start - pair[1].end),
        )
        if storage and q.dimension in {Dimension.TIME, Dimension.TEMPERATURE}:
            ranked = [(d, lb) for d, lb in ranked if lb.spec.topic in {Topic.STORAGE, None}]
        if not ranked or ranked[0][0] > FAR:
            default = self._default(q, storage=storage, held=held)
            if default is not None:
                yield default, 60.0
            return
        if q.dimension is Dimension.PERCENT and _AFTER_RATIO.search(self.folded[: q.start]):
            yield Label(q.start, q.end, spec_of(Topic.MIXING, "thinner", self.language)), 10.0
            return
        far, best = ranked[0]
        yield best, far
        twin = twin_of(self.folded, best, q, ranked)
        if twin is not None:
            yield twin, far

    def _goes_on(self, q: Quantity, before: Quantity | None, stage: Label, *, held: bool) -> bool:
        """Whether a time is the last stage's under another way of drying: '...; with infrared after 5 minutes'."""
        if before is None or q.dimension is not stage.spec.dimension:
            return False
        gap = self.folded[before.end : q.start]
        if held and len(gap.strip(" ,;:.-/")) <= 12:
            return True  # 'pot life: 25 °C 2 h; 35 °C 1 h'
        if q.dimension is Dimension.SECONDS:
            return True  # '28-32 s for sanding; 18-20 s wet-on-wet'
        if stage.spec.topic is not Topic.DRYING:
            return False
        return method_of(self.folded[before.end : q.end + 20]) in {Method.IR, Method.FORCE}

    def _is_unnamed_bake(self, q: Quantity, at: Quantity | None) -> bool:
        """'30 min at 60 °C' where the sheet tells how it dries."""
        hot = q.dimension is Dimension.TIME and at is not None and at.value >= HOT
        bake = spec_of(Topic.DRYING, "hard", self.language)
        return hot and Sense.DRYING in self.senses and stands(bake, self.folded, q.start, q.end, self.context)

    def _default(self, q: Quantity, *, storage: bool, held: bool) -> Label | None:
        """What a figure is where no label stands: by its unit, its section, or the heading over it."""
        specs = figure_specs(self.language)
        wanted = _SELF_EVIDENT.get(q.dimension)
        if q.dimension is Dimension.PRESSURE and (Sense.APPLICATION in self.senses or _GUN.search(self.folded)):
            wanted = (Topic.APPLICATION, "pressure")
        if storage and q.dimension is Dimension.TIME and (q.low or q.high or 0) >= 40000:
            wanted = (Topic.STORAGE, "shelf_life")
        if storage and q.dimension is Dimension.TEMPERATURE and Sense.STORAGE in self.senses:
            wanted = (Topic.STORAGE, "temp")
        if wanted is None:
            wanted = self._by_caption(q)
        if (
            wanted is None
            and q.dimension is Dimension.TIME
            and is_plain_drying(self.folded, self.head_end, q, self.language)
        ):
            wanted = (Topic.DRYING, "hard")
        if wanted is None and q.dimension is Dimension.PERCENT and Sense.MIXING in self.senses:
            wanted = (Topic.MIXING, "thinner") if _OF_THINNER.match(self.folded, q.end) else None
        if wanted is None and q.printed_unit in ("um", "mil") and _PER_COAT.match(self.folded, q.end):
            wanted = (Topic.FILM, "dry")
        if wanted is None and self._is_weather(q, held=held):
            wanted = (Topic.APPLICATION, "air_temp")
        if wanted is None and q.dimension is Dimension.PERCENT and _AFTER_RATIO.search(self.folded[: q.start]):
            wanted = (Topic.MIXING, "thinner")
        if wanted is None and held and self.stage is not None and q.dimension is self.stage.dimension:
            return Label(q.start, q.end, self.stage)
        if wanted is None:
            title = self.statement.section.title.folded
            heads = [lb for lb in find_labels(title, frozenset({q.dimension}), short=True, language=self.language)
                     if lb.spec.topic is not None and lb.spec.property not in _STAGE_HEADINGS
                     and lb.end - lb.start >= 0.5 * len(title.strip())]  # fmt: skip
            if len({lb.spec.key() for lb in heads}) != 1:
                return None
            wanted = (heads[0].spec.topic, heads[0].spec.property)  # type: ignore[assignment]
        spec = next(s for s in specs if (s.topic, s.property) == wanted)
        if not stands(spec, self.folded, q.start, q.end, self.context):
            return None
        return Label(q.start, q.end, spec)

    def _is_weather(self, q: Quantity, *, held: bool) -> bool:
        """'Not under 12 °C' where the sheet tells how to apply: the air's, where nothing else is named."""
        if q.dimension is not Dimension.TEMPERATURE or held or q.value >= HOT:
            return False
        if is_choice_of_speed(self.folded, q):
            return False
        if not self.senses & {Sense.APPLICATION} and "humid" not in self.folded:
            return False
        wide = q.low is not None and q.high is not None and q.high - q.low >= _WEATHER
        return wide or q.bound is not Bound.NONE

    def _by_caption(self, q: Quantity) -> tuple[Topic, str] | None:
        """What a figure under a picture is where its unit can mean but one thing ('1.3-1.8 mm', '24 months')."""
        if self.statement.kind is not StatementKind.FIELD or self.statement.label is not None:
            return None
        low = q.low if q.low is not None else q.high or 0.0
        match q.dimension:
            case Dimension.LENGTH if q.printed_unit == "mm" and q.bound is Bound.NONE and 200 <= low <= 6000:
                return (Topic.APPLICATION, "nozzle")
            case Dimension.PRESSURE:
                return (Topic.APPLICATION, "pressure")
            case Dimension.TIME if q.printed_unit in {"month", "year"} and low >= _KEEPS and q.bound is not Bound.MOST:
                return (Topic.STORAGE, "shelf_life")
            case Dimension.TEMPERATURE if q.low != q.high and re.search(r"\b(?:months?|years?)\b", self.folded):
                return (Topic.STORAGE, "temp")
            case Dimension.PERCENT if _THINNED.match(self.folded, q.end):
                return (Topic.MIXING, "thinner")
            case _:
                return None

    def _figure(self, q: Quantity, label: Label, far: float, at: Quantity | None) -> BoundFigure:
        q = turned(self.folded, q, label)
        at_c = reading(at) if at is not None else None
        if at_c is None:
            at_c = self._context_temperature()
        named = method_of(self._nearby(q, label)) if label.spec.topic is Topic.DRYING else None
        if label.spec.property == "flash_off":
            named = heat_behind(self.folded, q, label)
        start, end = min(label.start, q.lead), max(label.end, q.end, at.end if at is not None else 0)
        if at is not None:
            start = min(start, at.lead)
        text = None
        if label.spec.dimension is Dimension.SECONDS and (cup := find_cup(self.folded, q.start)) is not None:
            start, end = min(start, cup[0]), max(end, cup[1])
            text = self.passage.text[cup[0] : cup[1]].strip()
        return BoundFigure(
            spec=label.spec,
            quantity=q,
            words=(self.passage.part(start, min(end, len(self.passage.text))),),
            at_c=at_c,
            method=settled_method(named, at_c),
            text=text,
            confidence=0.93 if far < 12 else 0.86 if far < 40 else 0.7,
            label=self.folded[label.start : label.end],
            clause=self.folded,
            about=self.passage.text[:_OPENING],
        )

    def _nearby(self, q: Quantity, label: Label) -> str:
        """The words that may name this time's way of drying, and not another time's."""
        others = [o for o in self.times if o is not q and o.start != q.start]
        earlier = [o.end for o in others if label.end <= o.start < q.start]
        before = self.folded[max(earlier) : q.start] if earlier else self.folded[max(0, label.start - 60) : q.start]
        stop = min([q.end + 60, *(o.start for o in others if o.start >= q.end)])
        after = re.match(r"(?:(?!\bor\b|(?<!min)(?<!hr)(?<!hrs)\.\s)[^;])*", self.folded[q.end : max(stop, q.end)])
        words = after.group() if after else ""
        if stop < q.end + 60 and "," in words:
            words = words.rpartition(",")[0]  # what stands behind the comma leads up to the next time
        return before + " " + words

    def _context_temperature(self) -> float | None:
        if self.statement.lead is not None:
            at = head_temperature(self.statement.lead.folded)
            if at is not None:
                return at
        if self.head_end:
            at = head_temperature(self.folded[: self.head_end])
            if at is not None and not re.search(r"\b(?:stor|shelf|keep)", self.folded[: self.head_end]):
                return at
        return self.section_at_c


def with_block(figure: BoundFigure, block: int) -> BoundFigure:
    return replace(figure, block=block)

"""What the panels' place shows, worked out from what the library holds: no widget and no SQL in it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import TYPE_CHECKING

from app.caution_words import usual_cautions
from app.sentences import Sentence, one_each
from app.translating import translate
from extract.claims import Topic
from store.job_records import ChangeRecord, PanelRecord, TinRecord
from store.planning.clocks import Warmth
from store.planning.due import DueItem, due
from store.planning.fetching import material_of, products_of
from store.planning.next_steps import Step, next_steps, progress
from store.planning.outdoors import Bare, bare_outdoors
from store.records import ProductRecord, Rule
from store.rules.comparison import Material

if TYPE_CHECKING:
    from store.library import Library


@dataclass(frozen=True, slots=True)
class Held:
    """Panels with their logs (finished ones too), tins, and what the sheets of all their products say."""

    panels: tuple[PanelRecord, ...] = ()
    tins: tuple[TinRecord, ...] = ()
    material: Material = field(default_factory=lambda: Material(()))
    undo: ChangeRecord | None = None
    redo: ChangeRecord | None = None

    @property
    def in_work(self) -> tuple[PanelRecord, ...]:
        return tuple(panel for panel in self.panels if panel.finished_at is None)

    def panel(self, panel_id: int | None) -> PanelRecord | None:
        return next((panel for panel in self.panels if panel.id == panel_id), None)

    def due(self, now: datetime, forecast: Sequence[Warmth]) -> tuple[DueItem, ...]:
        return due(self.in_work, self.material, now, forecast)

    def product(self, product_id: int | None) -> ProductRecord | None:
        return next((product for product in self.material.products if product.id == product_id), None)


def hold(library: Library) -> Held:
    """Everything at once, on the library's thread."""
    panels, tins = library.panels(finished=True), library.tins()
    material = material_of(library, products_of(panels, tins))
    return Held(panels, tins, material, library.next_undo(), library.next_redo())


@dataclass(frozen=True, slots=True)
class Caution:
    """The usual caution in plain words, and the sheets' sentences that call for it."""

    words: tuple[str, ...]
    sentences: tuple[Sentence, ...]


@dataclass(frozen=True, slots=True)
class PanelNow:
    """One panel at a moment: what may come next, how it stands outdoors, what to be careful of."""

    record: PanelRecord
    steps: tuple[Step, ...]
    bare: Bare | None
    caution: Caution
    place: int | None
    """The layer of the plan that the last planned coat belongs to, from 0."""
    coats_of_place: int


def panel_now(record: PanelRecord, held: Held, now: datetime, forecast: Sequence[Warmth]) -> PanelNow:
    done = [coat for coat in record.coats if coat.coat.at <= now]
    place, count = progress(record.panel.plan, done, held.material)
    return PanelNow(
        record,
        next_steps(record, held.material, now, forecast),
        bare_outdoors(record, held.material, now),
        caution_of(record, held.material),
        place,
        count,
    )


def caution_of(record: PanelRecord, material: Material) -> Caution:
    """Cautions that the sheets of what is on the panel or planned for it state; old paint from the panel's surface."""
    ids = products_of([record])
    rules: list[Rule] = [
        rule for rule in material.rules if rule.claim.topic is Topic.SAFETY and rule.sheet.product_id in ids
    ]
    kinds = {p.kind or "" for p in material.products if p.id in ids}
    stated = {rule.claim.property for rule in rules}
    words = list(usual_cautions(stated))
    if any(kind.startswith("primer.etch") for kind in kinds):
        words.append(
            translate("cautions", "Etch primer is acid. The usual way is gloves and eye cover, and water at hand.")
        )
    if (record.panel.surface or "").startswith("finish."):
        words.append(
            translate(
                "cautions", "Old paint may hold lead or chromate. The usual way is no dry sanding until that is known."
            )
        )
    return Caution(tuple(words), one_each(Sentence.of_source(rule) for rule in rules))

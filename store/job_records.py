"""The job as plain values: panels with what was done to them, tins on the shelf, and changes that can be undone.

Values (Panel, Coat, Preparation, OutdoorSpell, Tin) go in; records with an id and those values come out. Times are
aware and come back in UTC; temperatures degC, humidity %, films um, amounts in the tin's own unit.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum


class PreparationKind(StrEnum):
    ABRADED = "abraded"
    BLASTED = "blasted"
    DERUSTED = "derusted"
    DEGREASED = "degreased"


class Unit(StrEnum):
    ML = "ml"
    G = "g"


class Component(StrEnum):
    """What is in a tin, seen from the product that it belongs to."""

    BASE = "base"
    HARDENER = "hardener"
    THINNER = "thinner"


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer of the planned build-up: a product or a kind, with the coats and the film meant for it."""

    product_id: int | None = None
    kind: str | None = None
    coats: int | None = None
    dry_um: float | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Panel:
    """A panel or part. job is the vehicle or customer, surface a vocabulary id, plan from the metal up."""

    name: str
    job: str = ""
    surface: str | None = None
    plan: tuple[Layer, ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True)
class TinTake:
    """What a coat is to take from a tin, in the tin's unit."""

    tin_id: int
    amount: float


@dataclass(frozen=True, slots=True)
class Drawn:
    """What a coat took. wanted may be more than was there by the books; opened where it was the tin's first use."""

    tin_id: int
    wanted: float
    taken: float
    opened: bool = False


@dataclass(frozen=True, slots=True)
class Coat:
    """coats put on at one time count as one entry; the time is that of the last of them."""

    at: datetime
    product_id: int
    coats: int = 1
    takes: tuple[TinTake, ...] = ()
    air_c: float | None = None
    panel_c: float | None = None
    humidity: float | None = None
    wet_um: float | None = None
    dry_um: float | None = None
    note: str = ""
    photo_ids: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Preparation:
    """grit is the P grade of the last paper used, where it was abraded."""

    at: datetime
    kind: PreparationKind
    grit: int | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class OutdoorSpell:
    """A time that the panel stood outdoors; ended None while it still stands there."""

    began: datetime
    ended: datetime | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class CoatRecord:
    id: int
    panel_id: int
    coat: Coat
    product: str
    """The product's name as it is called now."""
    drawn: tuple[Drawn, ...] = ()


@dataclass(frozen=True, slots=True)
class PreparationRecord:
    id: int
    panel_id: int
    preparation: Preparation


@dataclass(frozen=True, slots=True)
class SpellRecord:
    id: int
    panel_id: int
    spell: OutdoorSpell


@dataclass(frozen=True, slots=True)
class PanelRecord:
    """A panel with its whole log, each part in the order of time."""

    id: int
    panel: Panel
    made_at: datetime
    finished_at: datetime | None = None
    coats: tuple[CoatRecord, ...] = ()
    preparations: tuple[PreparationRecord, ...] = ()
    spells: tuple[SpellRecord, ...] = ()

    @property
    def outdoors(self) -> SpellRecord | None:
        """The spell that has not ended, where the panel stands outdoors now."""
        return next((s for s in reversed(self.spells) if s.spell.ended is None), None)


@dataclass(frozen=True, slots=True)
class Tin:
    """A tin on the shelf. name is a hardener's or thinner's own; left and size are in unit; dates are the user's."""

    product_id: int
    left: float
    component: Component = Component.BASE
    name: str = ""
    unit: Unit = Unit.ML
    size: float | None = None
    batch: str = ""
    made: date | None = None
    bought: date | None = None
    opened: date | None = None
    place: str = ""
    price_per_litre: float | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class TinRecord:
    id: int
    tin: Tin
    product: str
    maker: str
    kind: str | None
    kept_since: datetime


@dataclass(frozen=True, slots=True)
class Photo:
    """A picture kept in the library, by content. name is the file's as it came."""

    id: int
    sha256: str
    suffix: str
    name: str


class ChangeScope(StrEnum):
    """Each scope has an undo history of its own."""

    JOB = "job"
    """Panels, their logs, and tins."""
    SHEETS = "sheets"
    """Sheets taken out of the library and put back."""


class ChangeKind(StrEnum):
    PANEL_ADDED = "panel_added"
    PANEL_CHANGED = "panel_changed"
    PANEL_FINISHED = "panel_finished"
    PANEL_REOPENED = "panel_reopened"
    PANEL_REMOVED = "panel_removed"
    PANEL_RESTORED = "panel_restored"
    COAT_LOGGED = "coat_logged"
    COAT_CHANGED = "coat_changed"
    COAT_REMOVED = "coat_removed"
    PREPARATION_LOGGED = "preparation_logged"
    PREPARATION_CHANGED = "preparation_changed"
    PREPARATION_REMOVED = "preparation_removed"
    PUT_OUTDOORS = "put_outdoors"
    TAKEN_IN = "taken_in"
    SPELL_CHANGED = "spell_changed"
    SPELL_REMOVED = "spell_removed"
    TIN_ADDED = "tin_added"
    TIN_CHANGED = "tin_changed"
    TIN_REMOVED = "tin_removed"
    TIN_RESTORED = "tin_restored"
    SHEET_REMOVED = "sheet_removed"
    SHEET_RESTORED = "sheet_restored"


@dataclass(frozen=True, slots=True)
class ChangeRecord:
    """One change that can be undone or done again; subject is the name of what it was about."""

    id: int
    scope: ChangeScope
    kind: ChangeKind
    subject: str
    who: str
    at: datetime

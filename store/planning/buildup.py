"""A build-up from the metal up, and what its check comes to: frozen values, no words (app/buildup_words.py has those).

Layer 0 is what is found there; every further layer lies on the one before it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from store.records import Proposal, Rule
from store.rules.answers import Answer, Clause, Word
from store.rules.reach import Party

WEEK = 10080.0
"""Minutes."""

BADNESS: Mapping[Word, int] = {"yes": 0, "yes_if": 1, "silent": 2, "unconfirmed": 3, "disputed": 4, "no": 5}
"""How bad a verdict is; the whole is as bad as the worst of its parts."""


def worst(words: tuple[Word, ...]) -> Word:
    """The worst of several verdicts; yes where there is none."""
    return max(words, key=lambda word: BADNESS[word], default="yes")


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer, and how it came onto the one below. None is 'not said' throughout.

    film_um: dry film of all its coats. after_min: minutes since the layer below went on (on bare metal: since it was
    prepared). at_c: temperature while waiting and putting on; hottest_c: the highest that the surface reached in
    that time. abraded, cleaned, cured: whether the layer below was sanded, degreased or washed, left to cure.
    weeks_outdoors: how long the job then stands outdoors with this layer on top.
    """

    party: Party
    film_um: float | None = None
    after_min: float | None = None
    at_c: float | None = None
    hottest_c: float | None = None
    abraded: bool | None = None
    cleaned: bool | None = None
    cured: bool | None = None
    weeks_outdoors: float = 0.0


@dataclass(frozen=True, slots=True)
class BuildUp:
    """Layers from the metal up. at_c (degC) holds for every layer that names no temperature of its own."""

    layers: tuple[Layer, ...]
    at_c: float | None = None

    def temperature(self, index: int) -> float | None:
        own = self.layers[index].at_c
        return self.at_c if own is None else own

    def waited(self, index: int) -> float | None:
        """Minutes between layer index and the one below: as said, and at the least the time that stood outdoors."""
        said = self.layers[index].after_min
        outdoors = self.layers[index - 1].weeks_outdoors * WEEK if index > 0 else 0.0
        return max(said or 0.0, outdoors) if outdoors > 0 else said


class FindingKind(StrEnum):
    REACHES_THROUGH = "reaches_through"
    """The sheet forbids it anywhere below, whatever lies between."""
    ISOLATED_AS_SAID = "isolated_as_said"
    """The coat between is the one that the sheet asks for."""
    ISOLATED_OTHERWISE = "isolated_otherwise"
    """The sheet allows it with one coat between (via), another one is there."""
    ONLY_WITH = "only_with"
    """The sheet ties the product to another (via) above or below, which is not there."""
    TOO_EARLY = "too_early"
    WINDOW_PASSED = "window_passed"
    """Past the latest time; remedy is what the sheet says to do then, if it does."""
    WINDOW_KEYED = "window_keyed"
    """Past the latest time, and keyed as the sheet asks."""
    WINDOW_CONDITION = "window_condition"
    """In time, if the window's own conditions are met (conditions)."""
    TIME_UNSAID = "time_unsaid"
    """The sheet's table does not reach to the temperature (note says so)."""
    NOT_CURED = "not_cured"
    CONDITION_UNMET = "condition_unmet"
    """A condition of the permission is said not to be met (clause)."""
    PREPARATION_UNDONE = "preparation_undone"
    PREPARED_TOO_LONG_AGO = "prepared_too_long_ago"
    TOO_COLD = "too_cold"
    TOO_HOT = "too_hot"
    FILM_THICK = "film_thick"
    FILM_THIN = "film_thin"
    TOTAL_FILM = "total_film"
    """All coats of the product together, or the whole build-up, are thicker than the sheet allows."""
    COVER_THIN = "cover_thin"
    """The sheet asks for a least film above it."""
    COVER_UNSAID = "cover_unsaid"
    """The same, and the films above are not all given."""
    TOPCOAT_MISSING = "topcoat_missing"
    """The sheet says that it must be topcoated, and nothing that fits lies above."""
    OUTDOORS_FORBIDDEN = "outdoors_forbidden"
    OUTDOORS_TOO_LONG = "outdoors_too_long"
    OUTDOORS_ALLOWED = "outdoors_allowed"
    OUTDOORS_UNSAID = "outdoors_unsaid"
    """Nothing says how long it may stand outdoors, though a coat of it keeps water out."""
    NO_WATER_BARRIER = "no_water_barrier"
    """It stands outdoors, and no coat of it is said to keep water out."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that the check found. layer is the upper layer concerned, other the lower one where there is one.

    given is what the build-up has, allowed the sheet's limit, both in unit, at at_c degC. sources are the sentences.
    """

    kind: FindingKind
    word: Word
    layer: int
    other: int | None = None
    sources: tuple[Rule | Proposal, ...] = ()
    given: float | None = None
    allowed: float | None = None
    unit: str | None = None
    at_c: float | None = None
    via: tuple[str, ...] = ()
    clause: Clause | None = None
    conditions: tuple[str, ...] = ()
    remedy: Rule | None = None
    note: str = ""


class Met(StrEnum):
    """Whether a condition holds, by what the layer says of itself."""

    MET = "met"
    UNMET = "unmet"
    OPEN = "open"
    """The build-up does not say: the painter sees to it."""


@dataclass(frozen=True, slots=True)
class Contact:
    """Layer upper straight onto the one below. clauses of the answer stand beside `met` in the same order."""

    upper: int
    answer: Answer
    met: tuple[Met, ...] = ()

    @property
    def lower(self) -> int:
        return self.upper - 1

    @property
    def word(self) -> Word:
        return self.answer.word


@dataclass(frozen=True, slots=True)
class Step:
    """Something that a sheet asks for before layer goes on. done is None where the build-up does not say."""

    layer: int
    rule: Rule
    done: bool | None = None


@dataclass(frozen=True, slots=True)
class Checked:
    """What a build-up comes to. findings are worst first, then from the metal up; cautions as (layer, sentence)."""

    build_up: BuildUp
    word: Word
    contacts: tuple[Contact, ...]
    findings: tuple[Finding, ...]
    steps: tuple[Step, ...]
    cautions: tuple[tuple[int, Rule], ...] = ()

    @property
    def reason(self) -> Contact | Finding | None:
        """The part that makes the whole what it is: the worst one, the lowest first, findings before bare contacts.

        None where everything is a plain yes.
        """
        if self.word == "yes":
            return None
        findings = [finding for finding in self.findings if finding.word == self.word]
        contacts = [contact for contact in self.contacts if contact.word == self.word]
        if contacts and (not findings or contacts[0].upper < findings[0].layer):
            return contacts[0]
        return findings[0]

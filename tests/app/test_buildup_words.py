"""Findings, steps, events and results as sentences."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from app.buildup_words import (
    event_words,
    finding_words,
    layer_words,
    moment_words,
    rank_words,
    result_words,
    sequence_words,
    step_words,
    whole_words,
)
from extract.claims import Claim, Evidence, Stance, Topic
from store.planning.buildup import BuildUp, Checked, Finding, FindingKind, Layer, Step
from store.planning.finder import FindResult, Rank, Wanted
from store.planning.timeline import Event, EventKind
from store.records import ProductRecord, Rule, SheetRef
from store.rules.reach import KindParty, ProductParty

EPOXY = ProductParty(ProductRecord(1, "Granat 12", "Vellmark", "primer.epoxy.2k"))
GLOSS = ProductParty(ProductRecord(2, "Lumo DG", "Vellmark", "topcoat.solid.2k"))
SHEET = SheetRef(1, 1, "Granat 12", "Vellmark", "primer.epoxy.2k")
EVIDENCE = Evidence(2, "as printed", ((0.0, 0.0, 1.0, 1.0),))
RULE = Rule(1, Claim(Topic.PREPARATION, "degrease", Stance.REQUIRES, EVIDENCE), SHEET)
BUILD = BuildUp((Layer(KindParty("surface.steel")), Layer(EPOXY, weeks_outdoors=8), Layer(GLOSS)))
WHOLE = Checked(BUILD, "yes", (), (), ())


def finding(kind: FindingKind, unit: str | None = "min", **more: object) -> Finding:
    return Finding(kind, "no", 2, 1, (RULE,), 7200.0, 4320.0, unit, 20.0, **more)  # type: ignore[arg-type]


@pytest.mark.parametrize("kind", list(FindingKind))
def test_every_finding_is_a_whole_sentence_about_its_coat(kind: FindingKind) -> None:
    words = finding_words(finding(kind, conditions=("clean",), via=("surfacer",), note="why"), WHOLE)
    assert not words[0].islower()
    assert words.endswith(".")
    assert "None" not in words
    assert "  " not in words
    assert "Lumo DG" in words or "Granat 12" in words


def test_figures_stand_with_their_units() -> None:
    late = finding_words(finding(FindingKind.WINDOW_PASSED), WHOLE)
    assert late == (
        "Lumo DG goes on too late: after 5 days, and Granat 12 wants it within 3 days at 20 °C. "
        "The sheet does not say what to do then."
    )
    cold = Finding(FindingKind.TOO_COLD, "no", 2, None, (RULE,), 5.0, 10.0, "degC")
    assert finding_words(cold, WHOLE) == "5 °C is too cold for Lumo DG: its sheet asks for at least 10 °C."
    out = Finding(FindingKind.OUTDOORS_TOO_LONG, "no", 1, None, (RULE,), 80640.0, 40320.0, "min")
    assert finding_words(out, WHOLE).startswith("Granat 12 stands outdoors for 8 weeks; its sheet allows 4 weeks")


def test_layers_and_sequences() -> None:
    said = Layer(EPOXY, film_um=90.0, after_min=1440.0, at_c=15.0, cleaned=True, abraded=False, weeks_outdoors=1)
    assert layer_words(said) == (
        "Granat 12, 90 µm, after 24 h, at 15 °C, cleaned first, not sanded first, then 1 week outdoors"
    )
    assert sequence_words(BUILD) == "bare steel → Granat 12 (8 weeks outdoors) → Lumo DG"


def test_a_whole_that_is_allowed_says_so() -> None:
    assert whole_words(WHOLE) == "Yes. Every contact is allowed."


def test_steps_and_ranks() -> None:
    assert step_words(Step(2, RULE, False), WHOLE) == "Before Lumo DG: Degrease (Granat 12, p. 2), not done"
    assert rank_words(Rank(1, 2, 1, 1080.0, 3)) == (
        "1 point that no sheet speaks of, 3 coats, 2 conditions, at least 18 h of waiting, 1 wait without a stated time"
    )
    wanted = Wanted(KindParty("surface.steel"), GLOSS)
    assert result_words(FindResult(wanted, (), lacking=(KindParty("filler"),))).startswith(
        "Nothing at hand is body filler"
    )


@pytest.mark.parametrize("kind", list(EventKind))
def test_every_event_has_words(kind: EventKind) -> None:
    assert "Granat 12" in event_words(Event(kind, 1, datetime(2026, 5, 4, 8, 0, tzinfo=UTC)), BUILD)
    assert event_words(Event(kind, 1, None, note="no time"), BUILD).endswith(": no time")
    assert event_words(Event(kind, 1, None, unlimited=True), BUILD).endswith(": no limit")


def test_a_moment() -> None:
    assert moment_words(datetime(2026, 5, 4, 18, 30, tzinfo=UTC)) == "Mon 4 May 2026, 18:30"

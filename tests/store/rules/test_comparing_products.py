"""Products side by side, and needs."""

from __future__ import annotations

import pytest
from paper import (
    EPOXY,
    ETCH,
    GLOSS,
    SHELF,
    claim,
    not_over,
    not_topped,
    over,
    party,
    proposed,
    rule,
    sheet_of,
    topped,
    window,
)  # fmt: skip

from extract.claims import Stance, Topic
from store.records import Proposal, Rule
from store.rules.comparison import Comparison, Material, Row, Said, compare
from store.rules.needs import Met, Need, NeedKind, need_cell, needs_met


def material(*rules: Rule, waiting: tuple[Proposal, ...] = ()) -> Material:
    return Material(rules, waiting, (), SHELF)


def row(comparison: Comparison, topic: Topic, object_: str | None = None, property_: str | None = None) -> Row:
    (found,) = [r for r in comparison.of_topic(topic) if r.object == object_ and r.property == property_]
    return found


def test_a_row_for_each_thing_that_any_sheet_speaks_of() -> None:
    both = compare((EPOXY, ETCH), material(over(EPOXY, "surface.steel"), not_over(ETCH, "surface.plastic")))
    assert [(r.topic, r.object) for r in both.rows] == [
        (Topic.GOES_OVER, "surface.steel"),
        (Topic.GOES_OVER, "surface.plastic"),
    ]
    steel = row(both, Topic.GOES_OVER, "surface.steel")
    assert [cell.said for cell in steel.cells] == [Said.SAID, Said.UNSAID]
    assert not steel.differs


def test_contacts_are_judged_as_an_answer_is() -> None:
    both = compare((EPOXY, ETCH), material(topped(EPOXY, "topcoat"), not_topped(ETCH, "topcoat.solid.2k")))
    solid = row(both, Topic.TOPPED_BY, "topcoat.solid.2k")
    words = [cell.answer.word if cell.answer is not None else None for cell in solid.cells]
    assert words == ["yes", "no"]
    assert solid.differs
    assert [source.sheet.product for source in solid.cells[0].sources] == ["Granat 12"]


def test_windows_stand_at_the_temperature_asked_for() -> None:
    rules = [window(EPOXY, "topcoat", 60, 1440, at_c=20.0), window(EPOXY, "topcoat", 120, 2880, at_c=10.0)]
    both = compare((EPOXY, ETCH), material(*rules, window(ETCH, None, 30, 720, at_c=15.0)), at_c=15.0)
    cells = row(both, Topic.OVERCOAT_WINDOW, "topcoat", "window").cells
    windows = [cell.window for cell in cells]
    assert windows[0] is not None
    assert windows[1] is not None
    assert [(w.low, w.high) for w in windows if w is not None] == [(120, 1440), (30, 720)]


def test_what_waits_is_shown_as_not_confirmed() -> None:
    pot_life = claim(Topic.MIXING, None, Stance.STATES, property_="pot_life", low=60, high=60, unit="min")
    waiting = Proposal(900, pot_life, sheet_of(ETCH))
    both = compare(
        (EPOXY, ETCH), material(rule(EPOXY, pot_life), waiting=(waiting, proposed(over(ETCH, "surface.zinc"))))
    )
    assert [c.said for c in row(both, Topic.MIXING, None, "pot_life").cells] == [Said.SAID, Said.UNCONFIRMED]
    assert [c.said for c in row(both, Topic.GOES_OVER, "surface.zinc").cells] == [Said.UNSAID, Said.UNCONFIRMED]


def test_figures_that_differ_are_marked() -> None:
    def dry(low: float) -> Rule:
        made = claim(Topic.FILM, None, Stance.STATES, property_="dry", low=low, high=60, unit="um")
        return rule(EPOXY if low == 40 else ETCH, made)

    assert row(compare((EPOXY, ETCH), material(dry(40), dry(50))), Topic.FILM, None, "dry").differs
    same = [dry(40), rule(ETCH, dry(40).claim)]
    assert not row(compare((EPOXY, ETCH), material(*same)), Topic.FILM, None, "dry").differs


def outdoors(stance: Stance, high: float | None = None, **more: object) -> Rule:
    return rule(EPOXY, claim(Topic.EXPOSURE, None, stance, property_="outdoors", high=high, unit="min", **more))


WEEK = 7 * 1440.0


@pytest.mark.parametrize(
    ("rules", "met"),
    [
        ([], Met.UNSAID),
        ([outdoors(Stance.PERMITS, 8 * WEEK)], Met.MET),
        ([outdoors(Stance.PERMITS, 12 * WEEK)], Met.MET),
        ([outdoors(Stance.PERMITS, 4 * WEEK)], Met.NOT_MET),
        ([outdoors(Stance.PERMITS, None)], Met.UNSAID),
        ([outdoors(Stance.PERMITS, None, unlimited=True)], Met.MET),
        ([outdoors(Stance.FORBIDS)], Met.NOT_MET),
        ([outdoors(Stance.PERMITS, 12 * WEEK), outdoors(Stance.FORBIDS)], Met.NOT_MET),
    ],
)
def test_eight_weeks_outdoors(rules: list[Rule], met: Met) -> None:
    cell = need_cell(Need(NeedKind.OUTDOORS, minutes=8 * WEEK), EPOXY, material(*rules))
    assert cell.met is met
    assert bool(cell.sources) is bool(rules)


def test_needs_about_contacts_are_answers_with_their_sentences() -> None:
    shelf = material(
        over(EPOXY, "surface.steel.blasted", "clean"), topped(EPOXY, "filler.polyester"), not_topped(ETCH, "filler"),
    )  # fmt: skip
    needs = [
        Need(NeedKind.OVER, party("surface.steel.blasted")),
        Need(NeedKind.UNDER, party("filler.polyester")),
        Need(NeedKind.WATERPROOF),
    ]
    rows = needs_met(needs, (EPOXY, ETCH), shelf)
    assert [[cell.met for cell in found.cells] for found in rows] == [
        [Met.MET_IF, Met.UNSAID],
        [Met.MET, Met.NOT_MET],
        [Met.UNSAID, Met.UNSAID],
    ]
    assert rows[1].cells[1].sources[0].sheet.product == "Zahn E"


@pytest.mark.parametrize(("stance", "met"), [(Stance.PERMITS, Met.MET), (Stance.FORBIDS, Met.NOT_MET)])
def test_keeping_water_out_is_what_the_sheet_says_of_it(stance: Stance, met: Met) -> None:
    said = claim(Topic.EXPOSURE, None, stance, property_="waterproof")
    assert need_cell(Need(NeedKind.WATERPROOF), GLOSS, material(rule(GLOSS, said))).met is met
    waiting = Proposal(901, said, sheet_of(GLOSS))
    assert need_cell(Need(NeedKind.WATERPROOF), GLOSS, material(waiting=(waiting,))).met is Met.UNCONFIRMED


def test_a_need_that_is_not_whole_is_refused() -> None:
    with pytest.raises(ValueError, match="other side"):
        need_cell(Need(NeedKind.OVER), EPOXY, material())
    with pytest.raises(ValueError, match="time"):
        need_cell(Need(NeedKind.OUTDOORS), EPOXY, material())

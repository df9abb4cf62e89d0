"""Build-ups checked: reach, times, films, weather, preparation; and what must hold of every check."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from paper import (
    EPOXY,
    ETCH,
    FILLER,
    GLOSS,
    SHELF,
    SURFACER,
    claim,
    not_over,
    not_topped,
    over,
    party,
    proposed,
    rule,
    topped,
    window,
)  # fmt: skip

from extract.claims import Stance, Topic
from store.planning.buildup import BADNESS, BuildUp, Checked, FindingKind, Layer, Met
from store.planning.buildup_check import check
from store.planning.buildup_sheets import Sheets
from store.records import ProductRecord, Proposal, Rule

HOUR, DAY, WEEK = 60.0, 1440.0, 10080.0
ALLOWS = {"yes", "yes_if"}


def layer(name: str, **facts: Any) -> Layer:
    return Layer(party(name), **facts)


def sheets(rules: Sequence[Rule], proposals: Sequence[Proposal] = ()) -> Sheets:
    return Sheets(rules, proposals, (), SHELF)


def checked(
    rules: Sequence[Rule], *layers: Layer, proposals: Sequence[Proposal] = (), at_c: float | None = None
) -> Checked:
    return check(BuildUp(layers, at_c), sheets(rules, proposals))


def said(product: ProductRecord, topic: Topic, property_: str, stance: Stance = Stance.STATES, **fields: Any) -> Rule:
    object_ = fields.pop("object_", None)
    conditions = fields.pop("conditions", ())
    return rule(product, claim(topic, object_, stance, *conditions, property_=property_, **fields))


def bad(result: Checked) -> dict[FindingKind, str]:
    return {finding.kind: finding.word for finding in result.findings if finding.word not in ALLOWS}


STEEL = layer("surface.steel")
SYSTEM = (over(EPOXY, "surface.steel"), topped(EPOXY, "surfacer"), topped(SURFACER, "topcoat"))
STACK = (STEEL, layer("Granat 12"), layer("NK-310 Plainfield"), layer("Lumo DG"))


def test_the_whole_is_the_worst_of_its_parts_and_the_reason_is_that_part() -> None:
    assert checked(SYSTEM, *STACK).word == "yes"
    assert checked(SYSTEM, *STACK).reason is None
    broken = checked([*SYSTEM, not_over(SURFACER, "primer.epoxy")], *STACK)
    assert broken.word == "disputed"
    assert broken.reason is broken.contacts[1]
    assert checked(SYSTEM[:2], *STACK).word == "silent"


def test_a_single_layer_is_no_build_up() -> None:
    with pytest.raises(ValueError, match="two layers"):
        checked(SYSTEM, STEEL)


# --- rules that reach through ---


def test_a_plain_prohibition_is_for_the_direct_contact_only() -> None:
    assert checked([*SYSTEM, not_over(GLOSS, "surface.steel", quote="Not over bare steel.")], *STACK).word == "yes"


def test_one_that_says_so_reaches_through_and_brings_its_sentence() -> None:
    reaching = not_over(GLOSS, "surface.steel", quote="Not over bare steel, even if it is primed.")
    result = checked([*SYSTEM, reaching], *STACK)
    assert bad(result) == {FindingKind.REACHES_THROUGH: "no"}
    assert result.findings[0].sources == (reaching,)
    assert (result.findings[0].layer, result.findings[0].other) == (3, 0)


def test_the_lower_sheet_reaches_up_as_well() -> None:
    reaching = not_topped(EPOXY, "topcoat", quote="No topcoats over it, even with another coat between.")
    assert bad(checked([*SYSTEM, reaching], *STACK)) == {FindingKind.REACHES_THROUGH: "no"}


def test_an_unconfirmed_one_makes_it_unconfirmed() -> None:
    waiting = proposed(not_over(GLOSS, "surface.steel", quote="Not over bare steel, even if isolated."))
    result = checked(SYSTEM, *STACK, proposals=[waiting])
    assert bad(result) == {FindingKind.REACHES_THROUGH: "unconfirmed"}


def test_a_coat_between_has_to_be_the_one_that_the_sheet_names() -> None:
    between = over(GLOSS, "primer.epoxy", "isolated", via="surfacer")
    right = checked([*SYSTEM, between], *STACK)
    assert FindingKind.ISOLATED_AS_SAID in {finding.kind for finding in right.findings}
    assert right.word == "yes"
    wrong = checked([*SYSTEM, over(GLOSS, "primer.epoxy", "isolated", via="sealer")], *STACK)
    assert bad(wrong) == {FindingKind.ISOLATED_OTHERWISE: "silent"}


def test_only_as_part_of_a_system_wants_what_it_names() -> None:
    tied = topped(EPOXY, "topcoat.clear", quote="Use only as part of a system with clear coats.")
    result = checked([*SYSTEM, tied], *STACK)
    assert bad(result) == {FindingKind.ONLY_WITH: "no"}
    there = topped(EPOXY, "topcoat.solid.2k", quote="Use only as part of a system with 2K solid colours.")
    assert checked([*SYSTEM, there], *STACK).word == "yes"


# --- films ---


def test_all_coats_of_a_product_together_are_held_against_its_greatest_film() -> None:
    most = said(EPOXY, Topic.FILM, "dry_total_max", high=200.0, unit="um")
    twice = (STEEL, layer("Granat 12", film_um=120.0), layer("Granat 12", film_um=90.0))
    result = checked([*SYSTEM, topped(EPOXY, "self"), most], *twice)
    assert bad(result) == {FindingKind.TOTAL_FILM: "no"}
    assert (result.findings[0].given, result.findings[0].allowed) == (210.0, 200.0)
    assert not bad(checked([*SYSTEM, topped(EPOXY, "self"), most], *twice[:2]))


@pytest.mark.parametrize(
    ("quote", "word"), [("The total system must not exceed 200 µm.", "no"), ("At most 200 µm dry.", "yes")]
)
def test_a_limit_on_the_whole_counts_every_coat(quote: str, word: str) -> None:
    most = said(GLOSS, Topic.FILM, "dry_total_max", high=200.0, unit="um", quote=quote)
    films = [replace(one, film_um=80.0) for one in STACK[1:]]
    assert checked([*SYSTEM, most], STEEL, *films).word == word


@pytest.mark.parametrize(("film", "word"), [(45.0, "yes"), (90.0, "yes_if"), (130.0, "no"), (20.0, "yes_if")])
def test_a_film_between_one_coat_and_all_coats_is_for_the_painter(film: float, word: str) -> None:
    rules = [
        *SYSTEM,
        said(EPOXY, Topic.FILM, "dry", low=40.0, high=60.0, unit="um"),
        said(EPOXY, Topic.FILM, "coats", low=1.0, high=2.0, unit="count"),
    ]
    assert checked(rules, STEEL, layer("Granat 12", film_um=film)).word == word


@pytest.mark.parametrize(
    ("films", "kind"),
    [((60.0, 50.0), None), ((30.0, 40.0), FindingKind.COVER_THIN), ((30.0, None), FindingKind.COVER_UNSAID)],
)
def test_the_least_film_above_is_the_sum_of_what_lies_above(
    films: tuple[float | None, float | None], kind: FindingKind | None
) -> None:
    needs = said(
        EPOXY, Topic.EXPOSURE, "topcoat_needed", Stance.REQUIRES, quote="At least 100 µm of paint must lie above it."
    )
    above = [replace(one, film_um=film) for one, film in zip(STACK[2:], films, strict=True)]
    kinds = {finding.kind for finding in checked([*SYSTEM, needs], *STACK[:2], *above).findings}
    assert kinds == (set() if kind is None else {kind})


# --- times ---

WINDOWED = (*SYSTEM, window(EPOXY, "surfacer", HOUR, 3 * DAY, at_c=20.0))


@pytest.mark.parametrize(
    ("after", "at_c", "kind"),
    [
        (30.0, 20.0, FindingKind.TOO_EARLY),
        (2 * HOUR, 20.0, None),
        (4 * DAY, 20.0, FindingKind.WINDOW_PASSED),
        (2 * HOUR, 8.0, FindingKind.TIME_UNSAID),
        (2 * HOUR, 30.0, FindingKind.TIME_UNSAID),
    ],
)
def test_a_coat_goes_on_in_its_window_or_it_is_said_why_not(
    after: float, at_c: float, kind: FindingKind | None
) -> None:
    top = layer("NK-310 Plainfield", after_min=after, at_c=at_c)
    assert set(bad(checked(WINDOWED, *STACK[:2], top))) == (set() if kind is None else {kind})


def test_past_the_latest_time_the_sheets_remedy_counts_once_it_is_done() -> None:
    rules = [
        *WINDOWED,
        said(EPOXY, Topic.OVERCOAT_WINDOW, "abrade_after", Stance.REQUIRES, low=320.0, high=320.0, unit="P"),
    ]
    late = layer("NK-310 Plainfield", after_min=4 * DAY, at_c=20.0)
    result = checked(rules, *STACK[:2], late)
    assert bad(result) == {FindingKind.WINDOW_PASSED: "no"}
    assert result.findings[0].remedy == rules[-1]
    keyed = checked(rules, *STACK[:2], replace(late, abraded=True))
    assert keyed.word == "yes_if"
    assert [finding.kind for finding in keyed.findings] == [FindingKind.WINDOW_KEYED]


def test_weeks_outdoors_are_weeks_of_waiting() -> None:
    stood = (STEEL, layer("Granat 12", weeks_outdoors=8), layer("NK-310 Plainfield"))
    allowed = said(EPOXY, Topic.EXPOSURE, "outdoors", Stance.PERMITS, high=10 * WEEK, unit="min")
    assert set(bad(checked([*WINDOWED, allowed], *stood, at_c=20.0))) == {FindingKind.WINDOW_PASSED}


def test_within_the_window_or_sanded_is_met_by_either() -> None:
    sentence = "Surfacers within 3 days, or sanded."
    rules = [
        over(EPOXY, "surface.steel"),
        topped(EPOXY, "surfacer", "within_window", quote=sentence),
        topped(EPOXY, "surfacer", "abraded", quote=sentence),
        window(EPOXY, "surfacer", HOUR, 3 * DAY, at_c=20.0),
    ]
    late = layer("NK-310 Plainfield", after_min=5 * DAY, at_c=20.0, abraded=True)
    assert checked(rules, *STACK[:2], late).word == "yes_if"
    assert checked(rules, *STACK[:2], replace(late, abraded=False)).word == "no"
    in_time = replace(late, after_min=2 * DAY, abraded=False)
    assert checked(rules, *STACK[:2], in_time).contacts[1].met == (Met.MET,)


def test_full_cure_is_held_against_the_sheets_own_time() -> None:
    rules = [
        *SYSTEM[:1],
        topped(EPOXY, "filler", "cured"),
        said(EPOXY, Topic.DRYING, "cure", low=7 * DAY, high=7 * DAY, unit="min", at_c=20.0),
    ]
    early = (STEEL, layer("Granat 12"), layer("Fugex 300", after_min=2 * DAY, at_c=20.0))
    assert bad(checked(rules, *early)) == {FindingKind.NOT_CURED: "no"}
    assert not bad(checked(rules, *early[:2], replace(early[2], after_min=8 * DAY)))


# --- weather ---


@pytest.mark.parametrize(
    ("rules", "kind", "word"),
    [
        ((), FindingKind.NO_WATER_BARRIER, "silent"),
        ((said(EPOXY, Topic.EXPOSURE, "waterproof", Stance.FORBIDS),), FindingKind.NO_WATER_BARRIER, "no"),
        ((said(EPOXY, Topic.EXPOSURE, "waterproof", Stance.PERMITS),), FindingKind.OUTDOORS_UNSAID, "silent"),
        ((said(EPOXY, Topic.EXPOSURE, "outdoors", Stance.FORBIDS),), FindingKind.OUTDOORS_FORBIDDEN, "no"),
        (
            (said(EPOXY, Topic.EXPOSURE, "outdoors", Stance.PERMITS, high=4 * WEEK, unit="min"),),
            FindingKind.OUTDOORS_TOO_LONG,
            "no",
        ),
        (
            (said(EPOXY, Topic.EXPOSURE, "outdoors", Stance.PERMITS, high=12 * WEEK, unit="min"),),
            FindingKind.OUTDOORS_ALLOWED,
            "yes",
        ),
        ((said(EPOXY, Topic.EXPOSURE, "outdoors", Stance.PERMITS),), FindingKind.NO_WATER_BARRIER, "silent"),
    ],
)
def test_eight_weeks_outdoors(rules: tuple[Rule, ...], kind: FindingKind, word: str) -> None:
    result = checked([*SYSTEM, *rules], STEEL, layer("Granat 12", weeks_outdoors=8))
    assert [(finding.kind, finding.word) for finding in result.findings] == [(kind, word)]
    assert result.word == word


def test_etch_left_without_its_topcoat_is_named() -> None:
    needs = said(ETCH, Topic.EXPOSURE, "topcoat_needed", Stance.REQUIRES, object_="surfacer.2k")
    rules = [over(ETCH, "surface.steel"), topped(ETCH, None), needs]
    assert bad(checked(rules, STEEL, layer("Zahn E"))) == {FindingKind.TOPCOAT_MISSING: "no"}
    assert bad(checked(rules, STEEL, layer("Zahn E"), layer("Lumo DG"))) == {FindingKind.TOPCOAT_MISSING: "no"}
    assert not bad(checked(rules, STEEL, layer("Zahn E"), layer("NK-310 Plainfield")))


# --- preparation ---


def test_preparation_is_listed_and_missed_where_it_is_said_not_to_be_done() -> None:
    degrease = said(EPOXY, Topic.PREPARATION, "degrease", Stance.REQUIRES)
    grit = said(EPOXY, Topic.PREPARATION, "abrade", Stance.REQUIRES, object_="surface.steel", low=80.0, unit="P")
    other = said(EPOXY, Topic.PREPARATION, "abrade", Stance.REQUIRES, object_="surface.zinc", low=240.0, unit="P")
    rules = [*SYSTEM, degrease, grit, other]
    listed = checked(rules, STEEL, layer("Granat 12", abraded=True))
    assert [(step.rule, step.done) for step in listed.steps] == [(degrease, None), (grit, True)]
    assert listed.word == "yes"
    assert bad(checked(rules, STEEL, layer("Granat 12", cleaned=False))) == {FindingKind.PREPARATION_UNDONE: "no"}


# --- what must hold of every check ---

PRODUCTS = (EPOXY, ETCH, FILLER, GLOSS, SURFACER)
OBJECTS = ("surface.steel", "primer", "primer.epoxy", "primer.etch", "filler", "surfacer", "topcoat", "self", None)
QUOTES = ("", "Not over it, even if isolated.", "Use only as part of this system.", "At least 80 µm of paint above it.")


@st.composite
def some_rules(draw: st.DrawFn) -> Rule:
    product = draw(st.sampled_from(PRODUCTS))
    object_, quote = draw(st.sampled_from(OBJECTS)), draw(st.sampled_from(QUOTES))
    make: Any = draw(st.sampled_from((over, over, topped, topped, not_over, not_topped, None, "figure")))
    if make is None:
        low, high = draw(st.sampled_from(((HOUR, DAY), (None, WEEK), (DAY, None))))
        return window(product, object_, low, high, at_c=draw(st.sampled_from((None, 10.0, 20.0))))
    if make == "figure":
        return draw(st.sampled_from((
            said(product, Topic.FILM, "dry_total_max", high=100.0, unit="um"),
            said(product, Topic.EXPOSURE, "topcoat_needed", Stance.REQUIRES, object_=object_),
            said(product, Topic.EXPOSURE, "outdoors", Stance.PERMITS, high=2 * WEEK, unit="min"),
            said(product, Topic.APPLICATION, "air_temp", low=10.0, high=30.0, unit="degC"),
        )))  # fmt: skip
    made: Rule = make(product, object_, quote=quote)
    return made


@st.composite
def some_layers(draw: st.DrawFn) -> tuple[Layer, ...]:
    names = draw(st.lists(st.sampled_from([product.name for product in PRODUCTS]), min_size=1, max_size=4))
    tri = st.sampled_from((None, True, False))
    return (
        STEEL,
        *(
            layer(
                name, film_um=draw(st.sampled_from((None, 40.0, 90.0))), abraded=draw(tri), cleaned=draw(tri),
                after_min=draw(st.sampled_from((None, 30.0, 2 * HOUR, 3 * DAY))),
                at_c=draw(st.sampled_from((None, 5.0, 20.0, 35.0))), weeks_outdoors=draw(st.sampled_from((0.0, 3.0))),
            )
            for name in names
        ),
    )  # fmt: skip


RULES = st.lists(some_rules(), max_size=14)


@given(RULES, some_layers(), st.sampled_from([product.name for product in PRODUCTS]))
def test_a_further_layer_never_improves_the_contacts_below(
    rules: list[Rule], layers: tuple[Layer, ...], name: str
) -> None:
    before, after = checked(rules, *layers), checked(rules, *layers, layer(name))
    for old, new in zip(before.contacts, after.contacts, strict=False):
        assert BADNESS[new.word] >= BADNESS[old.word]
    kept = {f for f in before.findings if f.kind in {FindingKind.REACHES_THROUGH, FindingKind.WINDOW_PASSED,
                                                     FindingKind.TOO_EARLY, FindingKind.TOTAL_FILM}}  # fmt: skip
    assert all(any((f.kind, f.layer, f.other) == (g.kind, g.layer, g.other) for g in after.findings) for f in kept)


@given(RULES, some_layers(), st.integers())
def test_the_order_of_the_rules_changes_nothing(rules: list[Rule], layers: tuple[Layer, ...], seed: int) -> None:
    mixed = list(rules)
    random.Random(seed).shuffle(mixed)
    assert checked(mixed, *layers) == checked(rules, *layers)


@given(RULES, some_layers())
def test_the_whole_is_never_better_than_any_part_and_every_finding_has_its_sentence(
    rules: list[Rule], layers: tuple[Layer, ...]
) -> None:
    result = checked(rules, *layers)
    parts = [*(contact.word for contact in result.contacts), *(finding.word for finding in result.findings)]
    assert BADNESS[result.word] == max(BADNESS[word] for word in parts)
    assert all(finding.sources for finding in result.findings if finding.word != "silent")
    assert (result.reason is None) is (result.word == "yes")
    if result.reason is not None:
        assert result.reason.word == result.word

"""Each line of how an answer is found, with a sentence of its own."""

from __future__ import annotations

import pytest
from paper import (
    EPOXY,
    ETCH,
    FILLER,
    GLASS,
    GLOSS,
    MYSTERY,
    SURFACER,
    ask,
    claim,
    not_over,
    not_topped,
    over,
    own,
    proposed,
    rule,
    topped,
)  # fmt: skip

from extract.claims import Condition, Stance, Topic
from store.records import Rule, RuleOrigin
from store.rules.answers import AdviceKind, Conditional, Part, Standing


@pytest.mark.parametrize(
    ("lower", "upper", "rules", "word"),
    [
        pytest.param("Zahn E", "Granat 12", [not_over(EPOXY, "primer.etch")], "no", id="upper sheet, an ancestor"),
        pytest.param("Zahn E", "Granat 12", [not_topped(ETCH, "primer.epoxy")], "no", id="lower sheet, an ancestor"),
        pytest.param("Zahn E", "Granat 12", [not_over(EPOXY, "family.acid")], "no", id="a family"),
        pytest.param("Zahn E", "Granat 12", [not_over(EPOXY, "product:Zahn E")], "no", id="a named product"),
        pytest.param("Zahn E", "Granat 12", [not_over(EPOXY, None)], "no", id="everything"),
        pytest.param("Zahn E", "Granat 12", [over(ETCH, "primer.epoxy.2k")], "silent", id="direction holds"),
        pytest.param("Granat 12", "Lumo DG", [topped(EPOXY, "topcoat")], "yes", id="a parent speaks of its children"),
        pytest.param("surfacer", "Granat 12", [over(EPOXY, "surfacer.2k")], "silent", id="a child says nothing up"),
        pytest.param("Granat 12", "Lumo DG", [], "silent", id="nothing said"),
        pytest.param("Granat 12", "Lumo DG", [topped(EPOXY, "surfacer.2k")], "silent", id="said of something else"),
        pytest.param(
            "Granat 12", "Lumo DG", [topped(EPOXY, "topcoat"), not_over(GLOSS, "primer.epoxy")], "disputed",
            id="one sheet permits and the other forbids",
        ),
        pytest.param(
            "Granat 12", "Lumo DG", [topped(EPOXY, "topcoat"), over(GLOSS, "primer.epoxy")], "yes", id="both permit",
        ),
        pytest.param(
            "Granat 12", "Lumo DG", [not_topped(EPOXY, "topcoat"), not_over(GLOSS, "primer")], "no", id="both forbid",
        ),
        pytest.param("etch primer", "epoxy primer", [not_over(EPOXY, "primer.etch")], "silent", id="kinds: no sheet"),
        pytest.param("etch primer", "Granat 12", [not_over(EPOXY, "primer.etch")], "no", id="its sheet about a kind"),
        pytest.param(
            "Zahn E", "surfacer.2k", [topped(ETCH, "surfacer.2k"), not_over(SURFACER, "primer.etch")], "yes",
            id="a product of the kind asked has no say",
        ),
    ],
)  # fmt: skip
def test_whose_word_counts(lower: str, upper: str, rules: list[Rule], word: str) -> None:
    assert ask(lower, upper, rules).word == word


@pytest.mark.parametrize(
    ("rules", "word"),
    [
        pytest.param([not_topped(EPOXY, "topcoat"), topped(EPOXY, "product:Lumo DG")], "yes", id="product over kind"),
        pytest.param([topped(EPOXY, "topcoat"), not_topped(EPOXY, "product:Lumo DG")], "no", id="product forbidden"),
        pytest.param([not_topped(EPOXY, "topcoat"), topped(EPOXY, "topcoat.solid.2k")], "yes", id="kind over ancestor"),
        pytest.param([topped(EPOXY, "topcoat"), not_topped(EPOXY, "topcoat.solid.2k")], "no", id="kind forbidden"),
        pytest.param([not_topped(EPOXY, None), topped(EPOXY, "topcoat")], "yes", id="ancestor over everything"),
        pytest.param([not_topped(EPOXY, None), topped(EPOXY, "family.2k")], "yes", id="family over everything"),
        pytest.param([topped(EPOXY, "family.2k"), not_topped(EPOXY, "topcoat.solid.2k")], "no", id="kind over family"),
        pytest.param([topped(EPOXY, "family.2k"), not_topped(EPOXY, "topcoat")], "no", id="family, ancestor"),
        pytest.param([not_topped(EPOXY, "family.2k"), topped(EPOXY, "topcoat")], "no", id="the other way: forbids"),
        pytest.param([topped(EPOXY, "topcoat"), not_topped(EPOXY, "topcoat")], "no", id="equally particular: forbids"),
    ],
)
def test_the_more_particular_claim_of_one_sheet_wins(rules: list[Rule], word: str) -> None:
    assert ask("Granat 12", "Lumo DG", rules).word == word
    assert ask("Granat 12", "Lumo DG", rules[::-1]).word == word


def test_the_nearer_of_two_ancestors_wins() -> None:
    rules = [not_over(GLOSS, "primer"), over(GLOSS, "primer.epoxy")]
    assert ask("Granat 12", "Lumo DG", rules).word == "yes"


@pytest.mark.parametrize(
    ("lower", "word"),
    [
        ("bare steel", "yes_if"),
        ("surface.steel.blasted", "yes_if"),
        ("e-coat", "no"),
        ("rust converter", "no"),
        ("Fugex 300", "silent"),
        ("epoxy primer", "silent"),
    ],
)
def test_an_only_list_closes_its_own_sort(lower: str, word: str) -> None:
    rules = [over(ETCH, kind, "clean", only=True) for kind in ("surface.steel", "surface.zinc")]
    assert ask(lower, "Zahn E", rules).word == word


def test_an_only_list_of_coats_closes_the_coats() -> None:
    rules = [topped(ETCH, "surfacer.2k", "within_window", only=True)]
    assert ask("Zahn E", "NK-310", rules).word == "yes_if"
    answer = ask("Zahn E", "Lumo DG", rules)
    assert answer.word == "no"
    assert [citation.part for citation in answer.citations] == [Part.CLOSES]
    assert AdviceKind.CLOSED_LIST in {advice.kind for advice in answer.advice}


def test_a_closed_list_yields_to_what_the_sheet_says_in_particular() -> None:
    rules = [topped(ETCH, "surfacer.2k", only=True), topped(ETCH, "topcoat", "tested")]
    assert ask("Zahn E", "Lumo DG", rules).word == "yes_if"


def test_a_closed_list_waits_for_its_own_unconfirmed_lines() -> None:
    rules = [topped(ETCH, "surfacer.2k", only=True)]
    waiting = [proposed(topped(ETCH, "topcoat", only=True))]
    assert ask("Zahn E", "Lumo DG", rules, proposals=waiting).word == "unconfirmed"


def test_an_unconfirmed_line_of_a_closed_list_does_not_let_another_sheets_yes_through() -> None:
    rules = [topped(ETCH, "surfacer.2k", only=True), over(GLOSS, "primer.etch")]
    waiting = [proposed(topped(ETCH, "topcoat", only=True))]
    assert ask("Zahn E", "Lumo DG", rules).word == "disputed"
    assert ask("Zahn E", "Lumo DG", rules, proposals=waiting).word == "disputed"


def test_a_closed_list_says_nothing_of_a_product_whose_kind_is_not_known() -> None:
    answer = ask("Zahn E", "Oddment", [topped(ETCH, "surfacer.2k", only=True)])
    assert answer.word == "silent"
    assert AdviceKind.NO_KIND in {advice.kind for advice in answer.advice}
    assert answer.upper.kind is None
    assert MYSTERY.kind is None


def test_a_permission_with_a_coat_between_is_a_no_with_the_build_up_as_advice() -> None:
    rules = [over(GLOSS, "primer.epoxy", "isolated", via="surfacer.2k")]
    answer = ask("Granat 12", "Lumo DG", rules)
    assert answer.word == "no"
    advice = answer.advice[0]
    assert (advice.kind, advice.via) == (AdviceKind.PUT_BETWEEN, "surfacer.2k")


def test_a_coat_between_on_one_sheet_against_a_permission_on_the_other_is_disputed() -> None:
    rules = [over(GLOSS, "primer.epoxy", "isolated", via="surfacer.2k"), topped(EPOXY, "topcoat")]
    answer = ask("Granat 12", "Lumo DG", rules)
    assert answer.word == "disputed"
    assert {citation.sheet.product for citation in answer.citations} == {"Granat 12", "Lumo DG"}
    assert {advice.kind for advice in answer.advice} == {AdviceKind.PUT_BETWEEN, AdviceKind.SETTLE}


def test_glass_fillers_share_the_prohibition_of_polyester_fillers_but_not_the_permission() -> None:
    assert ask("Zahn E", "Fugex Glas", [not_topped(ETCH, "filler.polyester")]).word == "no"
    assert ask("Zahn E", "Fugex Glas", [topped(ETCH, "filler.polyester")]).word == "silent"
    assert ask("Zahn E", "filler.aluminium", [not_topped(ETCH, "filler.polyester")]).word == "no"
    assert ask("Zahn E", "Fugex 300", [topped(ETCH, "filler.polyester")]).word == "yes"
    assert ask("Fugex Glas", "Granat 12", [not_over(EPOXY, "filler.polyester"), over(EPOXY, "filler")]).word == "no"
    assert (
        ask("Fugex Glas", "Granat 12", [not_over(EPOXY, "filler.polyester"), over(EPOXY, "filler.glass")]).word == "yes"
    )
    assert GLASS.kind == "filler.glass"


def test_small_spots_stand_beside_a_prohibition_of_larger_areas() -> None:
    rules = [over(SURFACER, "surface.steel", "spot_only"), not_over(SURFACER, "surface.steel")]
    answer = ask("bare steel", "NK-310", rules)
    assert isinstance(answer, Conditional)
    assert [term.condition for clause in answer.clauses for way in clause.ways for term in way] == [Condition.SPOT_ONLY]
    assert {citation.part for citation in answer.citations} == {Part.PERMITS, Part.FORBIDS}


def test_a_prohibition_in_one_state_stands_beside_the_permission_of_the_same_thing() -> None:
    sanded = not_over(SURFACER, "primer.etch", "abraded")
    answer = ask("Zahn E", "NK-310", [over(SURFACER, "primer.etch", "within_window"), sanded])
    assert isinstance(answer, Conditional)
    assert {citation.part for citation in answer.citations} == {Part.PERMITS, Part.FORBIDS}
    assert ask("Zahn E", "NK-310", [sanded]).word == "no"
    whole = not_over(SURFACER, "primer.etch")
    assert ask("Zahn E", "NK-310", [over(SURFACER, "primer.etch", "within_window"), whole, sanded]).word == "no"
    assert ask("Zahn E", "NK-310", [topped(ETCH, "surfacer.2k"), sanded]).word == "disputed"


def test_every_condition_of_every_permission_that_counts_is_listed() -> None:
    rules = [topped(EPOXY, "filler.polyester", "abraded", "within_window"), over(FILLER, "primer.epoxy.2k", "cured")]
    answer = ask("Granat 12", "Fugex 300", rules)
    assert isinstance(answer, Conditional)
    listed = {(c.sheet.product, t.condition.value) for c in answer.clauses for way in c.ways for t in way}
    assert listed == {("Granat 12", "abraded"), ("Granat 12", "within_window"), ("Fugex 300", "cured")}


def test_one_sentence_with_two_ways_gives_alternatives() -> None:
    quote = "2K surfacers within 72 h, or sanded P320"
    rules = [topped(EPOXY, "surfacer.2k", condition, quote=quote) for condition in ("within_window", "abraded")]
    answer = ask("Granat 12", "NK-310", rules)
    assert isinstance(answer, Conditional)
    assert [len(clause.ways) for clause in answer.clauses] == [2]
    apart = [topped(EPOXY, "surfacer.2k", "within_window"), topped(EPOXY, "surfacer.2k", "abraded")]
    answer = ask("Granat 12", "NK-310", apart)
    assert isinstance(answer, Conditional)
    assert [len(clause.ways) for clause in answer.clauses] == [1, 1], "two sentences hold both"


def test_a_doubtful_name_never_gives_a_yes_until_it_is_put_right() -> None:
    ranged = topped(EPOXY, "product:Lumo")
    answer = ask("Granat 12", "Lumo DG", [ranged])
    assert answer.word == "unconfirmed"
    assert [citation.standing for citation in answer.pending] == [Standing.NAME_DOUBTFUL]
    assert AdviceKind.SETTLE_NAME in {advice.kind for advice in answer.advice}
    elsewhere = claim(Topic.TOPPED_BY, "product:Fugex Glas", Stance.PERMITS)
    assert ask("Granat 12", "Fugex Glas", [rule(EPOXY, elsewhere)]).word == "unconfirmed", "another maker's bare name"
    assert ask("Granat 12", "Fugex Glas", [rule(EPOXY, elsewhere, RuleOrigin.CORRECTED)]).word == "yes"


def test_a_condition_carries_the_grit_that_its_sheet_gives() -> None:
    sanding = claim(Topic.PREPARATION, "primer.epoxy", Stance.REQUIRES, property_="abrade", low=120, high=180, unit="P")
    other = claim(Topic.PREPARATION, "surface.steel", Stance.REQUIRES, property_="abrade", low=80, high=80, unit="P")
    rules = [over(FILLER, "primer.epoxy.2k", "abraded"), rule(FILLER, sanding), rule(FILLER, other)]
    answer = ask("Granat 12", "Fugex 300", rules)
    assert isinstance(answer, Conditional)
    (term,) = answer.clauses[0].ways[0]
    assert term.detail == sanding


def test_proposed_claims_never_carry_a_verdict() -> None:
    waiting = [proposed(topped(EPOXY, "topcoat"))]
    answer = ask("Granat 12", "Lumo DG", [], proposals=waiting)
    assert answer.word == "unconfirmed"
    assert [citation.standing for citation in answer.pending] == [Standing.PROPOSED]
    assert AdviceKind.CONFIRM in {advice.kind for advice in answer.advice}


def test_a_proposed_prohibition_is_shown_beside_a_confirmed_permission() -> None:
    answer = ask("Granat 12", "Lumo DG", [topped(EPOXY, "topcoat")], proposals=[proposed(not_over(GLOSS, "primer"))])
    assert answer.word == "yes"
    assert AdviceKind.PENDING_AGAINST in {advice.kind for advice in answer.advice}


def test_a_proposed_permission_does_not_soften_a_no() -> None:
    rules = [not_topped(EPOXY, "topcoat")]
    assert ask("Granat 12", "Lumo DG", rules, proposals=[proposed(over(GLOSS, "primer"))]).word == "no"


def test_own_rules_tighten_and_never_loosen() -> None:
    permit = [topped(EPOXY, "topcoat")]
    assert ask("Granat 12", "Lumo DG", permit, own_rules=[own("epoxy primer", "Lumo DG", forbids=True)]).word == "no"
    assert ask("Granat 12", "Lumo DG", permit, own_rules=[own("primer", "topcoat", forbids=False)]).word == "yes_if"
    assert ask("Granat 12", "Lumo DG", [], own_rules=[own("primer", "topcoat", forbids=False)]).word == "silent"
    assert ask("Granat 12", "Lumo DG", permit, own_rules=[own("surfacer", "topcoat", forbids=True)]).word == "yes"
    forbid = [not_topped(EPOXY, "topcoat")]
    assert ask("Granat 12", "Lumo DG", forbid, own_rules=[own("primer", "topcoat", forbids=False)]).word == "no"


def test_a_claim_of_the_users_own_making_cannot_permit() -> None:
    mine = rule(EPOXY, claim(Topic.TOPPED_BY, "topcoat", Stance.PERMITS), RuleOrigin.OWN)
    assert ask("Granat 12", "Lumo DG", [mine]).word == "silent"


def test_a_coat_on_itself_is_one_sheets_word() -> None:
    rules = [not_over(ETCH, "primer"), topped(ETCH, "self", "within_window")]
    assert ask("Zahn E", "Zahn E", rules).word == "yes_if"
    assert ask("Zahn E", "Granat 12", [topped(ETCH, "self")]).word == "silent"


def test_both_products_without_a_word_are_named_as_silent() -> None:
    answer = ask("Granat 12", "Lumo DG", [topped(EPOXY, "topcoat")])
    assert [silence.name for silence in answer.silences] == ["Lumo DG"]
    answer = ask("Granat 12", "Lumo DG", [])
    assert {silence.name for silence in answer.silences} == {"Granat 12", "Lumo DG"}


def test_a_general_yes_names_the_kinds_that_it_leaves_out() -> None:
    answer = ask("primer", "NK-310", [over(SURFACER, "primer"), not_over(SURFACER, "primer.etch")])
    assert answer.word == "yes"
    exceptions = [a.citation for a in answer.advice if a.kind is AdviceKind.EXCEPTION]
    assert [citation.claim.object for citation in exceptions if citation is not None] == ["primer.etch"]


def test_a_yes_that_rests_on_a_wider_surface_says_so() -> None:
    rules = [over(SURFACER, "finish.old", "abraded")]
    answer = ask("finish.old.soft", "NK-310", rules)
    assert answer.word == "yes_if"
    assert AdviceKind.BROAD in {advice.kind for advice in answer.advice}
    assert AdviceKind.BROAD not in {advice.kind for advice in ask("finish.old", "NK-310", rules).advice}
    coats = [topped(EPOXY, "topcoat")]
    assert AdviceKind.BROAD not in {advice.kind for advice in ask("Granat 12", "Lumo DG", coats).advice}


def test_a_claim_that_only_states_permits_nothing() -> None:
    stated = rule(EPOXY, claim(Topic.TOPPED_BY, "topcoat", Stance.STATES))
    assert ask("Granat 12", "Lumo DG", [stated]).word == "silent"


def test_an_answer_is_neither_true_nor_false() -> None:
    with pytest.raises(TypeError, match="word"):
        bool(ask("Granat 12", "Lumo DG", []))

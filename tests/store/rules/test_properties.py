"""What must hold of answers whatever the sheets say."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from paper import EPOXY, ETCH, FILLER, GLOSS, SURFACER, ask, not_over, not_topped, over, own, proposed, topped

from extract.kinds import kinds
from store.records import ProductRecord, Proposal, Rule
from store.rules.answers import Conditional, Disputed, Permitted, Prohibited, Silent, Unconfirmed

PRODUCTS = (EPOXY, ETCH, FILLER, GLOSS, SURFACER)
OBJECTS = (*kinds(), *(f"product:{product.name}" for product in PRODUCTS), "product:Lumo", None)
CONDITIONS = ("clean", "abraded", "cured", "within_window", "isolated", "spot_only", "tested")
ALLOWS = ("yes", "yes_if")


@st.composite
def sheet_rules(draw: st.DrawFn, forbids: bool | None = None) -> Rule:
    product = draw(st.sampled_from(PRODUCTS))
    object_ = draw(st.sampled_from(OBJECTS))
    if draw(st.booleans()) if forbids is None else forbids:
        return draw(st.sampled_from((not_over, not_topped)))(product, object_)
    make: Any = draw(st.sampled_from((over, topped)))
    conditions = draw(st.lists(st.sampled_from(CONDITIONS), unique=True, max_size=2))
    made: Rule = make(product, object_, *conditions, only=draw(st.booleans()))
    return made


@st.composite
def likely_rules(draw: st.DrawFn) -> list[Rule]:
    """Rules that mostly concern the pair that is asked about, so that something is said."""
    near = st.sampled_from(
        ("primer", "primer.epoxy", "primer.epoxy.2k", "topcoat", "topcoat.solid.2k", "family.2k", None)
    )
    found = draw(st.lists(sheet_rules(), max_size=4))
    for _ in range(draw(st.integers(0, 4))):
        make: Any = draw(st.sampled_from((over, not_over, topped, not_topped)))
        product: ProductRecord = GLOSS if make in (over, not_over) else EPOXY
        found.append(make(product, draw(near)))
    return found


ALL = likely_rules()


def asked(rules: list[Rule], **more: Any) -> Any:
    return ask("Granat 12", "Lumo DG", rules, **more)


@given(ALL, st.randoms())
def test_the_order_of_the_rules_changes_nothing(rules: list[Rule], random: Any) -> None:
    mixed = list(rules)
    random.shuffle(mixed)
    assert asked(mixed) == asked(rules)


@given(ALL, sheet_rules(forbids=True))
def test_a_further_prohibition_never_turns_a_no_into_a_yes(rules: list[Rule], forbids: Rule) -> None:
    if asked(rules).word not in ALLOWS:
        assert asked([*rules, forbids]).word not in ALLOWS


@given(ALL, st.sampled_from(("surface.wood", "surface.copper", "sealant.cavity", "topcoat.rubber", "filler.stopper")))
def test_a_rule_on_something_else_never_breaks_a_silence_with_a_yes(rules: list[Rule], object_: str) -> None:
    if asked(rules).word == "silent":
        for unrelated in (
            over(GLOSS, object_),
            topped(EPOXY, object_),
            over(ETCH, "primer.epoxy"),
            topped(FILLER, None),
        ):
            assert asked([*rules, unrelated]).word == "silent"


@given(ALL, st.booleans(), st.sampled_from(("Granat 12", "primer", "topcoat")), st.sampled_from(("Lumo DG", "topcoat")))
def test_own_rules_never_loosen(rules: list[Rule], forbids: bool, lower: str, upper: str) -> None:
    strictness = {"yes": 0, "yes_if": 1, "silent": 2, "unconfirmed": 2, "disputed": 2, "no": 3}
    before = asked(rules).word
    after = asked(rules, own_rules=[own(lower, upper, forbids=forbids)]).word
    assert strictness[after] >= strictness[before]


@given(ALL, st.lists(sheet_rules(), max_size=4))
def test_proposals_never_make_nor_soften_a_verdict(rules: list[Rule], more: list[Rule]) -> None:
    waiting: list[Proposal] = [proposed(rule) for rule in more]
    before, after = asked(rules).word, asked(rules, proposals=waiting).word
    if before not in ALLOWS:
        assert after not in ALLOWS
    if before in {*ALLOWS, "disputed"}:
        assert after == before


@given(ALL)
def test_every_answer_but_silence_carries_its_sentence(rules: list[Rule]) -> None:
    answer = asked(rules)
    if not isinstance(answer, Silent):
        assert answer.citations or answer.pending
        assert all(citation.claim.evidence.quote for citation in (*answer.citations, *answer.pending))
    if isinstance(answer, Permitted | Conditional):
        assert any(citation.part.value == "permits" for citation in answer.citations)
    if isinstance(answer, Prohibited | Disputed):
        assert any(citation.part.value != "permits" for citation in answer.citations)


@given(ALL)
def test_a_bare_yes_has_no_conditions_behind_it(rules: list[Rule]) -> None:
    answer = asked(rules)
    carried = [citation for citation in answer.citations if citation.part.value == "permits"]
    if isinstance(answer, Permitted):
        assert not any(citation.claim.conditions for citation in carried)
    if isinstance(answer, Conditional):
        listed = {term.condition for clause in answer.clauses for way in clause.ways for term in way}
        assert listed == {condition for citation in carried for condition in citation.claim.conditions}


@given(st.sampled_from(sorted(kinds())), st.sampled_from(sorted(kinds())), st.lists(sheet_rules(), max_size=6))
def test_two_kinds_are_never_answered(lower: str, upper: str, rules: list[Rule]) -> None:
    if "self" not in (lower, upper):
        assert ask(lower, upper, rules).word == "silent"


@pytest.mark.parametrize("answer", [Permitted, Conditional, Prohibited, Disputed, Silent, Unconfirmed])
def test_the_set_of_answers_is_closed_and_each_has_its_word(answer: Any) -> None:
    assert answer.word in {"yes", "yes_if", "no", "disputed", "silent", "unconfirmed"}

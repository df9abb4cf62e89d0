"""Where published sources contradict each other: both are shown or the safer one taken, never the middle of the two."""

from __future__ import annotations

from paper import EPOXY, ETCH, FILLER, GLOSS, SURFACER, ask, claim, not_over, not_topped, over, rule, topped, window

from extract.claims import Stance, Topic
from store.records import Rule, RuleOrigin
from store.rules.answers import AdviceKind, Conditional, Disputed, Permitted, Standing

H, D = 60.0, 1440.0


def test_epoxy_over_etch_is_each_sheets_own_word() -> None:
    """Yes in the standard military system (ARL-TR-3220, 2004); no in a collision trade magazine, October 2023."""
    military = over(EPOXY, "primer.etch")
    refinish = not_topped(ETCH, "primer.epoxy")
    assert ask("Zahn E", "Granat 12", [military]).word == "yes"
    assert ask("Zahn E", "Granat 12", [refinish]).word == "no"
    both = ask("Zahn E", "Granat 12", [military, refinish])
    assert isinstance(both, Disputed)
    assert len(both.citations) == 2
    assert ask("primer.etch", "primer.epoxy", [military, refinish]).word == "silent"


def test_etch_over_sanded_filler() -> None:
    """Good mechanical adhesion (trade magazine, October 2023) against 'not over filler' (an owners' forum)."""
    magazine, forum = over(ETCH, "filler.polyester", "abraded", "cured"), not_topped(FILLER, "primer.etch")
    assert isinstance(ask("Fugex 300", "Zahn E", [magazine]), Conditional)
    assert isinstance(ask("Fugex 300", "Zahn E", [magazine, forum]), Disputed)


def test_filler_over_epoxy() -> None:
    """Recommended by some filler makers (collision textbook, 2022), 'a wasted step' to others (article, 2013)."""
    for_it, against = over(FILLER, "primer.epoxy", "abraded"), not_topped(EPOXY, "filler")
    assert isinstance(ask("Granat 12", "Fugex 300", [for_it, against]), Disputed)


def test_the_best_moment_for_filler_over_epoxy_leaves_no_moment_rather_than_a_middle_one() -> None:
    """Within the recoat window (owners' wiki) against only after 5 to 7 days (marine text)."""
    inside = window(EPOXY, "filler", 8 * H, 3 * D, at_c=20.0)
    after = over(FILLER, "primer.epoxy", "within_window", low=7 * D, unit="min", at_c=20.0)
    answer = ask("Granat 12", "Fugex 300", [inside, after], at_c=20.0)
    assert isinstance(answer, Conditional)
    assert answer.window is not None
    assert answer.window.closed
    assert (answer.window.low, answer.window.high) == (7 * D, 3 * D)


def cure(days: float) -> Rule:
    return window(EPOXY, "topcoat", days * D, None, at_c=20.0)


def test_of_two_earliest_times_the_longer_holds_whatever_the_order() -> None:
    """Two views of blasted steel unprimed and of waits: hours to a day (a coatings problem forum, 2012)."""
    for rules in ([cure(1), cure(3)], [cure(3), cure(1)]):
        answer = ask("Granat 12", "Lumo DG", [*rules, topped(EPOXY, "topcoat")], at_c=20.0)
        assert isinstance(answer, Permitted | Conditional)
        assert answer.window is not None
        assert answer.window.low == 3 * D


def test_a_maker_that_names_its_own_product_decides_over_what_it_says_of_kinds() -> None:
    """One etch primer is refused where etch primers at large are taken: common practice, no source."""
    refused, at_large, below = not_over(GLOSS, "product:Zahn E"), over(GLOSS, "primer.etch"), topped(ETCH, "topcoat")
    assert ask("Zahn E", "Lumo DG", [at_large]).word == "yes"
    assert ask("Zahn E", "Lumo DG", [refused, at_large]).word == "no"
    assert ask("Zahn E", "Lumo DG", [refused, at_large, below]).word == "disputed"


def test_a_prohibition_whose_name_may_be_anothers_is_never_passed_over_in_silence() -> None:
    """Two makers may sell an 'etch E': no yes, though one sheet permits it, until the user says which is meant."""
    allowed, banned = topped(ETCH, "surfacer"), not_over(SURFACER, "product:Zahn E")
    assert ask("Zahn E", "NK-310", [allowed]).word == "yes"
    answer = ask("Zahn E", "NK-310", [banned, allowed])
    assert answer.word == "unconfirmed"
    assert [pending.standing for pending in answer.pending] == [Standing.NAME_DOUBTFUL]
    assert [citation.id for citation in answer.citations] == [allowed.id]
    assert AdviceKind.SETTLE_NAME in {advice.kind for advice in answer.advice}


def test_a_name_put_right_settles_whose_product_is_forbidden() -> None:
    allowed = topped(ETCH, "surfacer")

    def corrected(name: str) -> Rule:
        said = claim(Topic.GOES_OVER, f"product:{name}", Stance.FORBIDS)
        return rule(SURFACER, said, RuleOrigin.CORRECTED)

    assert ask("Zahn E", "NK-310", [corrected("Zahn E"), allowed]).word == "disputed"
    assert ask("Zahn E", "NK-310", [corrected("Vellmark Zahn E"), allowed]).word == "disputed"
    assert ask("Zahn E", "NK-310", [corrected("Norrkill Zahn E"), allowed]).word == "yes"
    epoxy = topped(EPOXY, "surfacer")
    assert ask("Granat 12", "NK-310", [corrected("Norrkill Granat 12"), epoxy]).word == "yes"


def test_a_ban_by_a_doubtful_name_opens_nothing_that_it_would_not_forbid() -> None:
    """It neither outdoes what is forbidden already, nor a prohibition of the user's own, nor a silence."""
    banned = not_over(SURFACER, "product:Zahn E")
    assert ask("Zahn E", "NK-310", [banned]).word == "unconfirmed"
    assert ask("Zahn E", "NK-310", [banned, not_topped(ETCH, "surfacer")]).word == "no"
    assert (
        ask("Zahn E", "NK-310", [banned, topped(ETCH, "surfacer"), not_over(SURFACER, "primer.etch")]).word
        == "disputed"
    )
    named = over(SURFACER, "product:Vellmark Zahn E", "abraded")
    assert ask("Zahn E", "NK-310", [not_over(SURFACER, "product:Zahn E"), named]).word == "unconfirmed"


def test_a_sheet_that_names_its_own_makers_product_means_no_other_makers() -> None:
    named = not_over(SURFACER, "product:Norrkill Granat 12")
    assert ask("Granat 12", "NK-310", [named, topped(EPOXY, "surfacer")]).word == "yes"
    unsaid = not_over(SURFACER, "product:Granat 12 range")
    assert ask("Granat 12", "NK-310", [unsaid, topped(EPOXY, "surfacer")]).word == "unconfirmed"

"""Where published sources contradict each other: both are shown or the safer one taken, never the middle of the two."""

from __future__ import annotations

from paper import EPOXY, ETCH, FILLER, GLOSS, SURFACER, ask, not_over, not_topped, over, topped, window

from store.records import Rule
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
    """Two makers may sell an 'etch E': the answer stands, with the sentence and the advice not to rely on it yet."""
    answer = ask("Zahn E", "NK-310", [not_over(SURFACER, "product:Zahn E"), topped(ETCH, "surfacer")])
    assert [pending.standing for pending in answer.pending] == [Standing.NAME_DOUBTFUL]
    assert {AdviceKind.PENDING_AGAINST, AdviceKind.SETTLE_NAME} <= {advice.kind for advice in answer.advice}

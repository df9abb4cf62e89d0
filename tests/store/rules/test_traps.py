"""Sentences that are easily read the wrong way round: rightly filed, what do they answer? Each with its twin."""

from __future__ import annotations

import pytest
from paper import EPOXY, ETCH, FILLER, GLOSS, SURFACER, ask, not_over, not_topped, over, topped

from store.records import Rule
from store.rules.answers import AdviceKind

Asked = tuple[str, str, str]
"""Lower, upper, and the word that is right."""


@pytest.mark.parametrize(
    ("rules", "questions"),
    [
        pytest.param(
            [not_over(EPOXY, "primer.etch", quote="Keep Granat 12 off etched metal primers.")],
            [("Zahn E", "Granat 12", "no"), ("Granat 12", "Zahn E", "silent")],
            id="a prohibition has a direction",
        ),
        pytest.param(
            [not_topped(EPOXY, "filler.polyester", quote="No polyester putty on Granat 12.")],
            [("Granat 12", "Fugex 300", "no"), ("Fugex 300", "Granat 12", "silent")],
            id="and so has its twin",
        ),
        pytest.param(
            [topped(EPOXY, "topcoat"), not_topped(EPOXY, "topcoat.cellulose")],
            [("Granat 12", "Lumo DG", "yes"), ("Granat 12", "topcoat.cellulose", "no")],
            id="all but one",
        ),
        pytest.param(
            [topped(EPOXY, "surfacer.2k", only=True, quote="Nothing but our 2K surfacers goes on Granat 12.")],
            [("Granat 12", "NK-310", "yes"), ("Granat 12", "Lumo DG", "no"), ("bare steel", "Granat 12", "silent")],
            id="nothing other than",
        ),
        pytest.param(
            [over(EPOXY, kind) for kind in ("surface.steel", "surface.zinc", "surface.aluminium")],
            [("bare steel", "Granat 12", "yes"), ("surface.zinc", "Granat 12", "yes"), ("wood", "Granat 12", "silent")],
            id="not only but also",
        ),
        pytest.param(
            [topped(FILLER, "topcoat", "abraded", quote="Fugex 300 takes no topcoat until it is sanded.")],
            [("Fugex 300", "Lumo DG", "yes_if")],
            id="not until sanded",
        ),
        pytest.param(
            [topped(ETCH, "filler.polyester", "isolated", via="primer.epoxy")],
            [("Zahn E", "Fugex 300", "no")],
            id="not direct, a coat between",
        ),
        pytest.param(
            [over(GLOSS, "primer.etch", "isolated", via="surfacer.2k")],
            [("Zahn E", "Lumo DG", "no"), ("NK-310", "Lumo DG", "silent")],
            id="provided that it was surfaced first; the coat between is not thereby allowed",
        ),
        pytest.param(
            [topped(EPOXY, "filler")],
            [("Granat 12", "filler", "yes"), ("Zahn E", "filler", "silent")],
            id="unlike etch primers, this one",
        ),
        pytest.param(
            [over(SURFACER, "finish.old"), not_over(SURFACER, "finish.old.soft")],
            [("old paintwork", "NK-310", "yes"), ("finish.old.soft", "NK-310", "no")],
            id="old paint, soft ones excluded",
        ),
        pytest.param(
            [over(SURFACER, "finish.old", "cured", "abraded"), not_over(SURFACER, "finish.old.soft")],
            [("old paintwork", "NK-310", "yes_if"), ("finish.old.soft", "NK-310", "no")],
            id="the conditions belong to what is allowed",
        ),
        pytest.param(
            [topped(EPOXY, "topcoat.base.water", quote="For use beneath waterborne base coats.")],
            [("Granat 12", "topcoat.base.water", "yes"), ("topcoat.base.water", "Granat 12", "silent")],
            id="use under",
        ),
        pytest.param(
            [over(GLOSS, "primer.epoxy", quote="Laid over epoxy primer, Lumo DG keeps its gloss.")],
            [("Granat 12", "Lumo DG", "yes"), ("Lumo DG", "Granat 12", "silent")],
            id="used over, the subject is the upper coat",
        ),
        pytest.param(
            [over(SURFACER, "surface.steel", "spot_only"), not_over(SURFACER, "surface.steel")],
            [("bare steel", "NK-310", "yes_if")],
            id="small rub-throughs only",
        ),
        pytest.param(
            [over(SURFACER, "primer.epoxy", "abraded"), over(SURFACER, "finish.ecoat", "clean")],
            [("finish.ecoat", "NK-310", "yes_if"), ("Granat 12", "NK-310", "yes_if")],
            id="sand all except one",
        ),
        pytest.param(
            [topped(EPOXY, "surfacer", "cured", quote="Surface Granat 12 once it has fully cured.")],
            [("Granat 12", "NK-310", "yes_if")],
            id="fully cured without a time is still a condition",
        ),
        pytest.param([], [("surface.aluminium", "Granat 12", "silent")], id="see another sheet"),
    ],
)  # fmt: skip
def test_the_right_reading_gives_the_right_answer(rules: list[Rule], questions: list[Asked]) -> None:
    for lower, upper, word in questions:
        assert ask(lower, upper, rules).word == word, f"{upper} over {lower}"


# Build-ups published by others, the rules in our own words; the letters name the source.
@pytest.mark.parametrize(
    ("source", "rules", "question"),
    [
        pytest.param(
            "a refinish trade article on etch primers: no body filler straight on them",
            [not_topped(ETCH, "filler.polyester")],
            ("Zahn E", "Fugex 300", "no"),
            id="steel / refinish etch / polyester filler",
        ),
        pytest.param(
            "the same: nor epoxy",
            [not_topped(ETCH, "primer.epoxy")],
            ("Zahn E", "Granat 12", "no"),
            id="steel / refinish etch / epoxy primer",
        ),
        pytest.param("nobody says", [], ("Zahn E", "Granat 12", "silent"), id="the same, unsaid"),
        pytest.param(
            "the same: colour only on a 2K urethane primer",
            [topped(ETCH, "topcoat", "isolated", via="surfacer.2k")],
            ("Zahn E", "Lumo DG", "no"),
            id="steel / refinish etch / colour coat",
        ),
        pytest.param(
            "the same: etch over cured, sanded filler",
            [over(ETCH, "filler.polyester", "cured", "abraded")],
            ("Fugex 300", "Zahn E", "yes_if"),
            id="filler, cured and sanded / refinish etch",
        ),
        pytest.param(
            "military finishing system: epoxy within a day of wash primer; a refinish article: never",
            [topped(ETCH, "primer.epoxy", "within_window"), not_over(EPOXY, "primer.etch")],
            ("Zahn E", "Granat 12", "disputed"),
            id="epoxy over etch: sources contradict",
        ),
    ],
)
def test_published_build_ups(source: str, rules: list[Rule], question: Asked) -> None:
    lower, upper, word = question
    assert ask(lower, upper, rules).word == word, source


def test_the_coat_between_is_the_advice() -> None:
    answer = ask("Zahn E", "Lumo DG", [topped(ETCH, "topcoat", "isolated", via="surfacer.2k")])
    assert [(advice.kind, advice.via) for advice in answer.advice] == [(AdviceKind.PUT_BETWEEN, "surfacer.2k")]

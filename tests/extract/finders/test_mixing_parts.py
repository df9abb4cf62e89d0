"""Ratios whose parts stand one by one: in rows with their unit, for two ways of use, and as a list of lines."""

import pytest

from extract.claims import Claim
from extract.document import Block, StatementKind
from extract.finders import mixing
from extract.terms import SubjectNames, Vocabulary
from tests.extract.build import document, statement, table

SUBJECT = SubjectNames("Hobnail 3", kind="primer.epoxy.2k", code="HM-40")


def ratios(*blocks: Block) -> list[Claim]:
    found = mixing.find(document(*blocks), SUBJECT, Vocabulary.load("en"))
    return [c for c in found if c.property == "ratio"]


def written(claims: list[Claim]) -> list[tuple[str, str | None, str | None]]:
    return [(":".join(f"{p:g}" for p in c.parts or ()), c.basis, c.text) for c in claims]


def test_two_ways_of_use_side_by_side_each_have_their_ratio() -> None:
    rows = [
        ("Hobnail 3", "4 parts", "4 parts"),
        ("Hardener HM-4", "1 part", "1 part"),
        ("Thinner HM-9", "½ part", "2 parts"),
    ]
    two = table(["", "Sanding surfacer", "Wet-on-wet sealer"], rows, "Mixing")
    measured = statement("By volume", "Mixing", kind=StatementKind.FIELD, label="Measured")
    assert written(ratios(two, measured)) == [
        ("4:1:0.5", "volume", "Sanding surfacer"),
        ("4:1:2", "volume", "Wet-on-wet sealer"),
    ]
    assert [c.basis for c in ratios(two)] == [None, None]
    elsewhere = statement("All shares by weight", "Packing")
    assert [c.basis for c in ratios(two, elsewhere)] == [None, None]


@pytest.mark.parametrize(
    "lines",
    [
        ("3 parts HM-40 colour", "1 part HM-4 activator", "½ part HM-9 reducer"),
        ("3 parts of Hobnail 3", "and 1 part of activator", "plus ½ part of thinner."),
    ],
)
def test_a_component_a_line(lines: tuple[str, ...]) -> None:
    blocks = [statement(line, "Mixing ratio (by volume)", paragraph=n) for n, line in enumerate(lines)]
    assert written(ratios(*blocks)) == [("3:1:0.5", "volume", None)]


def test_labels_with_parts_are_a_ratio_too() -> None:
    fields = [("Hobnail 3", "4 parts by weight"), ("Hardener", "1 part by weight")]
    blocks = [statement(v, "Mixing", kind=StatementKind.FIELD, label=label) for label, v in fields]
    assert written(ratios(*blocks)) == [("4:1", "weight", None)]


def test_parts_of_something_else_are_no_ratio_of_this_product() -> None:
    for lines in (
        ("2 parts water", "1 part vinegar"),
        ("1 part hardener",),
        ("3 parts HM-40 colour", "1 part sand"),
    ):
        blocks = [statement(line, "Mixing", paragraph=n) for n, line in enumerate(lines)]
        assert ratios(*blocks) == [], lines
    cleaning = [statement(t, "Cleaning") for t in ("3 parts HM-40 colour", "1 part thinner")]
    assert ratios(*cleaning) == []

"""Sentences over a list of grounds, and behind a member's first one, that set something on the members."""

from extract.document import Statement, StatementKind
from extract.finders import coats
from extract.terms import SubjectNames, Vocabulary
from tests.extract.build import document, statement, table
from tests.extract.test_coat_cases import written

SUBJECT = SubjectNames("Hobnail 3", kind="primer.etch.2k")
UNDER = "Suitable grounds"


def claims(*blocks: object) -> set[str]:
    return {written(c) for c in coats.find(document(*blocks), SUBJECT, Vocabulary.load("en"))}  # type: ignore[arg-type]


def row(label: str, value: str) -> Statement:
    return statement(value, UNDER, kind=StatementKind.FIELD, label=label, paragraph=2)


def test_a_sentence_that_points_at_the_list_sets_its_conditions_on_each_member() -> None:
    told = statement("Wipe with Marlgrit thinner and abrade as shown below.", UNDER)
    rows = [row("Mild steel", "P150"), row("Galvanised steel", "Medium nylon pad"), row("GRP", "suitable")]
    assert claims(told, *rows) == {
        "goes_over permits surface.steel if clean abraded",
        "goes_over permits surface.zinc if clean abraded",
        "goes_over permits surface.grp if clean abraded",
    }


def test_a_sentence_that_points_at_nothing_sets_nothing_on_the_list() -> None:
    told = statement("Wipe with Marlgrit thinner and abrade the old topcoat.", UNDER)
    assert "goes_over permits surface.grp" in claims(told, row("GRP", "suitable"))


def test_bare_metal_only_closes_the_list_of_metals_and_gives_no_leave_of_its_own() -> None:
    only = statement("For use on bare metal only.", UNDER)
    rows = [row("Steel", "Sand with P150"), row("Aluminium", "Sand with P320")]
    assert claims(only, *rows) == {
        "goes_over permits surface.steel if abraded only",
        "goes_over permits surface.aluminium if abraded only",
    }
    assert claims(only) == {"goes_over permits surface.steel only"}
    assert "goes_over permits surface.grp if abraded" in claims(only, *rows, row("GRP", "Sand with P320"))


def test_bare_metal_only_before_a_table() -> None:
    only = statement("For use on bare metal only.", UNDER)
    told = statement("Degrease and sand according to the table.", UNDER)
    block = table(["Metal", "Preparation"], [("Steel", "P150"), ("Zinc-coated steel", "Grey pad")], UNDER)
    found = claims(only, told, block)
    assert "goes_over permits surface.zinc if clean abraded only" in found
    assert all("surface.steel" not in one or "abraded" in one for one in found)


def test_a_second_sentence_behind_a_label_counts_for_its_ground() -> None:
    assert claims(row("Stainless steel", "P180. Make a test panel first.")) == {
        "goes_over permits surface.stainless if abraded tested",
    }
    assert claims(row("Stainless steel", "P180. Make a test panel on zinc first.")) == {
        "goes_over permits surface.stainless if abraded",
    }


def test_names_under_a_line_that_says_no_are_forbidden() -> None:
    lines = ["Suitable", "Aluminium", "Not suitable", "Etch primers", "Rust converters"]
    blocks = [statement(line, UNDER, paragraph=n) for n, line in enumerate(lines)]
    found = claims(*blocks)
    assert {"goes_over forbids primer.etch", "goes_over forbids treatment.converter"} <= found
    assert not any("permits primer.etch" in one or "permits treatment" in one for one in found)
    after = statement("Steel that was sanded with P120 can be primed at any time in a dry shop.", UNDER, paragraph=9)
    assert not any("forbids surface.steel" in one for one in claims(*blocks, after))

from extract.document import Block
from extract.finders import windows
from extract.terms import SubjectNames, Vocabulary
from tests.extract.build import document, statement, table
from tests.extract.test_coat_cases import written

SUBJECT = SubjectNames("Hobnail 3", kind="primer.epoxy.2k")


def claims(*blocks: Block) -> set[str]:
    tail = statement("Kelpstone 55 HS, grey, aluminium.")
    return {written(c) for c in windows.find(document(*blocks, tail), SUBJECT, Vocabulary.load("en"))}


def test_two_levels_of_heads() -> None:
    block = table(
        ["Next coat", ("Object 10 °C", "earliest"), ("Object 10 °C", "latest"), ("Object 20 °C", "earliest"),
         ("Object 20 °C", "latest")],
        [("Hobnail 3", "60 min", "10 d", "30 min", "7 d"), ("2K surfacers", "2 h", "5 d", "not recommended", "72 h")],
        "Overcoating",
    )  # fmt: skip
    assert claims(block) == {
        "window self 60..14400 @10",
        "window self 30..10080 @20",
    }


def test_fahrenheit_and_maximum_without_sanding() -> None:
    block = table(
        ["Next coat", ("At 70°F", "Min."), ("At 70°F", "Max. without sanding")],
        [("2K surfacers", "1 hr.", "72 hrs.")],
        "Recoat chart",
    )
    assert claims(block) == {"window surfacer.2k 60..4320 @21.1111"}


def test_from_and_to_as_heads_are_earliest_and_latest() -> None:
    block = table(["", "from", "to"], [("Base coats", "20 min", "8 h")], "Overcoating")
    assert claims(block) == {"window topcoat.base 20..480"}


def test_no_limit_once_sanded() -> None:
    block = table(
        ["Next coat", "earliest", "latest"],
        [("Polyester fillers", "24 h", "no limit"), ("Base coats", "24 h", "no limit")],
        "Overcoating at 20 °C",
        row_notes={0: ["Only on a film sanded with P120."]},
    )
    assert claims(block) == {
        "window filler.polyester 1440..unlimited @20 if abraded",
        "window topcoat.base 1440..unlimited @20",
    }


def test_a_temperature_below_the_table_governs_it() -> None:
    block = table(["Next coat", "Not before", "Not after"], [("2K surfacers", "30 min", "24 hours")], "Next coat")
    assert claims(block, statement("Times are for 20 °C.", "Next coat")) == {"window surfacer.2k 30..1440 @20"}
    assert claims(block, statement("Apply at 20 °C.", "Next coat")) == {"window surfacer.2k 30..1440"}


def test_rows_of_minimum_and_maximum() -> None:
    block = table(
        ["", "10 °C", "20 °C"], [("Minimum", "8 h", "4 h"), ("Maximum", "14 days", "7 days")], "Overcoating interval"
    )
    assert claims(block) == {"window - 480..20160 @10", "window - 240..10080 @20"}


def test_a_recoat_row_among_drying_stages() -> None:
    block = table(
        ["Stage", "20 °C", "60 °C"],
        [("Dust dry", "20 min", "5 min"), ("Touch dry", "1 h", "10 min"), ("Overcoatable", "4 h", "30 min")],
        "Drying",
    )
    assert claims(block) == {"window - 240.. @20", "window - 30.. @60"}


def test_drying_stages_are_no_windows() -> None:
    block = table(["Stage", "20 °C"], [("Dust dry", "20 min"), ("Sandable", "3 h")], "Drying")
    assert claims(block) == set()


def test_a_forbidden_coat_has_no_window() -> None:
    block = table(
        ["Next coat", "Min", "Max"], [("Nitro finishes", "✗ not to be used", "✗ not to be used")], "Overcoating"
    )
    assert claims(block) == set()

"""Windows as tins and American sheets print them, from the page to the answer, the time line, the panel and the card.

Made up, no product; that 'within 1 h or after 48 h' leaves a time between in which the film lifts is common practice.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from golden_sheets import ON_TOP, OVER, TIMES, Paper

from app.command_line.asking import answer_json
from app.window_words import window_words
from extract.pipeline import read_sheet
from store.job_records import Coat, Panel
from store.job_records import Layer as Planned
from store.library import Library
from store.planning.buildup import BuildUp, FindingKind, Layer
from store.planning.buildup_check import check
from store.planning.buildup_sheets import Sheets
from store.planning.clocks import steady
from store.planning.due import DueKind, due
from store.planning.fetching import material_of, products_of
from store.planning.timeline import EventKind, timeline
from store.rules.answers import Conditional, Permitted, Window
from store.rules.asking import ask
from store.rules.names import Unknown, resolve
from store.rules.reach import Party, party_of

HOUR = 60.0
NOON = datetime(2026, 5, 4, 12, tzinfo=UTC)

THIMBLE = Paper("Hexley Cans", "Thimble P", "1K primer, aerosol", (
    (OVER, ("Suitable for bare steel.",)),
    (ON_TOP, ("May be overcoated with 1K topcoat.",)),
    (TIMES, ("Recoat within 1 hour or after 48 hours at 70 °F.",)),
))  # fmt: skip
BOBBIN = Paper("Hexley Cans", "Bobbin T", "1K topcoat, aerosol", (
    (OVER, ("May be applied over 1K primer.",)),
))  # fmt: skip
COOPER = Paper("Hexley Cans", "Cooper E", "2K epoxy primer", (
    (OVER, ("Suitable for bare steel.",)),
    (ON_TOP, ("May be overcoated with 1K topcoat.",)),
    (TIMES, ("Recoat after 2 hours and within 24 hours at 70 °F.",)),
))  # fmt: skip


@pytest.fixture(scope="module")
def library(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Library]:
    folder: Path = tmp_path_factory.mktemp("tins") / "library"
    with Library.open(folder) as opened:
        for paper in (THIMBLE, BOBBIN, COOPER):
            pdf, name = paper.pdf(), f"{paper.product}.pdf"
            (filed,) = opened.file_sheet(pdf, name, read_sheet(pdf, name))
            opened.confirm([record.id for record in opened.claims(filed.sheet.id)])
        yield opened


def party(name: str, library: Library) -> Party:
    meaning = resolve(name, library.products())
    assert not isinstance(meaning, Unknown), name
    return party_of(meaning)


def window(library: Library, lower: str, at_c: float | None) -> Window:
    answer = ask(library, party(lower, library), party("Bobbin T", library), at_c=at_c)
    assert isinstance(answer, Permitted | Conditional), answer.word
    assert answer.window is not None
    return answer.window


def test_two_windows_are_asked_for_and_both_are_told(library: Library) -> None:
    found = window(library, "Thimble P", 21.0)
    assert [(one.low, one.high) for one in found.each] == [(None, HOUR), (48 * HOUR, None)]
    words = window_words(found)
    assert words == "Latest next coat 1 h, at 21 °C; or: earliest next coat 48 h, at 21 °C"
    answer = ask(library, party("Thimble P", library), party("Bobbin T", library), at_c=21.0)
    told = json.loads(json.dumps(answer_json(answer)))["window"]
    assert (told["low"], told["high"], told["words"]) == (None, HOUR, words)
    assert [(one["low"], one["high"]) for one in told["also"]] == [(48 * HOUR, None)]
    assert "within 1 hour or after 48 hours" in told["quote"]


def test_between_the_two_the_build_up_is_not_allowed(library: Library) -> None:
    sheets = Sheets(library.rules(), library.proposals(), library.own_rules(), library.products())

    def kinds(hours: float) -> set[FindingKind]:
        names = ("surface.steel", "Thimble P", "Bobbin T")
        layers = [Layer(party(name, library)) for name in names]
        layers[2] = Layer(layers[2].party, after_min=hours * HOUR, at_c=21.0, abraded=True)
        return {finding.kind for finding in check(BuildUp(tuple(layers)), sheets).findings if finding.layer == 2}

    assert kinds(0.5) == set()
    assert kinds(20) == {FindingKind.TOO_EARLY}
    assert kinds(50) == set()


def test_the_time_line_and_the_panel_have_both(library: Library) -> None:
    sheets = Sheets(library.rules(), library.proposals(), library.own_rules(), library.products())
    layers = tuple(Layer(party(name, library)) for name in ("surface.steel", "Thimble P", "Bobbin T"))
    events = timeline(BuildUp(layers), sheets, NOON, steady(NOON, 21.0))
    opened = {event.window: event.at for event in events if event.kind is EventKind.EARLIEST and event.layer == 1}
    assert opened == {0: None, 1: NOON + timedelta(hours=48)}
    ids = {product.name: product.id for product in library.products()}
    plan = (Planned(product_id=ids["Thimble P"]), Planned(product_id=ids["Bobbin T"]))
    door = library.add_panel(Panel("door", "", "surface.steel", plan))
    library.log_coat(door.id, Coat(NOON, ids["Thimble P"], panel_c=21.0))
    panels = library.panels()
    material = material_of(library, products_of(panels))
    told = [
        [(item.kind, item.at) for item in due(panels, material, NOON + timedelta(hours=hours))]
        for hours in (0.5, 20, 50)
    ]
    assert told == [
        [(DueKind.WINDOW_CLOSES, NOON + timedelta(hours=1))],
        [(DueKind.WINDOW_OPENS, NOON + timedelta(hours=48))],
        [(DueKind.MAY_NOW, NOON + timedelta(hours=48))],
    ]


def test_times_at_seventy_fahrenheit_in_a_shop_of_twenty_degrees(library: Library) -> None:
    """The latest holds, for colder the film stays open no shorter; the earliest does not, and it is said why."""
    found = window(library, "Cooper E", 20.0)
    assert (found.low, found.high) == (None, 24 * HOUR)
    words = window_words(found)
    assert "the earliest is later than the 2 h stated for 21.1 °C" in words
    assert "latest next coat 24 h" in words
    assert "keep it at 21.1 °C, or ask the maker" in words
    assert (window(library, "Cooper E", 21.0).low, window(library, "Cooper E", None).low) == (2 * HOUR, 2 * HOUR)

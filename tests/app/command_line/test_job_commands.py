"""The job's commands as they are typed, on a library with a panel, tins and two invented sheets."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from app.__main__ import main
from extract.claims import (
    Claim,
    Condition,
    Evidence,
    PageGeometry,
    PageText,
    SheetHeader,
    SheetReading,
    Stance,
    Topic,
)
from store.job_records import Coat, Component, Layer, OutdoorSpell, Panel, Tin
from store.library import Library

Run = Callable[..., tuple[int, str, str]]


def said(topic: Topic, object_: str | None, stance: Stance, quote: str, *conditions: Condition, **more: Any) -> Claim:
    property_ = more.pop("property_", None)
    return Claim(
        topic,
        property_,
        stance,
        Evidence(2, quote, ((50, 60, 200, 70),)),
        object=object_,
        conditions=conditions,
        **more,
    )


def reading(product: str, kind: str, *claims: Claim) -> SheetReading:
    header = SheetHeader(f"{product}.pdf", "", 1, maker="Vellmark", product=product, kind=kind, issued="2024-03-01")
    return SheetReading(header, claims, (PageText(1, PageGeometry((0, 0, 595, 842), (0, 0, 595, 842), 0), ()),))


PRIMER = reading(
    "Granat 12",
    "primer.epoxy.2k",
    said(Topic.TOPPED_BY, "surfacer", Stance.PERMITS, "Surfacers: within 3 days.", Condition.WITHIN_WINDOW),
    said(
        Topic.OVERCOAT_WINDOW, None, Stance.STATES, "From 1 h to 3 days at 20 °C.", property_="window",
        low=60.0, high=4320.0, unit="min", at_c=20.0,
    ),
    said(Topic.EXPOSURE, None, Stance.FORBIDS, "Do not leave outdoors.", property_="outdoors"),
    said(
        Topic.STORAGE, None, Stance.STATES, "Keeps 24 months.", property_="shelf_life", low=24.0, high=24.0,
        unit="months",
    ),
)  # fmt: skip
SURFACER = reading("Lumo Fill", "surfacer.2k", said(Topic.GOES_OVER, "primer.etch", Stance.FORBIDS, "Not over etch."))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    folder = tmp_path / "library"
    with Library.open(folder) as library:
        ids = []
        for number, made in enumerate((PRIMER, SURFACER)):
            (filed,) = library.file_sheet(b"%%PDF-1.7 %d" % number, made.header.file, [made])
            library.confirm([record.id for record in library.claims(filed.sheet.id)])
            ids.append(filed.sheet.product.id)
        primer, surfacer = ids
        door = library.add_panel(Panel("left door", "blue estate", "surface.steel", tuple(map(Layer, ids)))).id
        now = datetime.now(UTC)
        library.log_coat(door, Coat(now - timedelta(days=4), primer, panel_c=20.0))
        library.put_outdoors(door, OutdoorSpell(now - timedelta(days=2)))
        library.add_tin(Tin(surfacer, 700.0, size=1000.0, batch="7A", place="the cellar"))
        library.add_tin(Tin(primer, 90.0, Component.HARDENER, name="H 12"))
    return folder


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    def typed(*words: object) -> tuple[int, str, str]:
        try:
            status = main([str(word) for word in words])
        except SystemExit as end:
            status = int(end.code or 0)
        printed = capsys.readouterr()
        return status, printed.out, printed.err

    return typed


def test_due_says_what_is_too_late_with_the_sentences(run: Run, folder: Path) -> None:
    status, out, _ = run("--library", folder, "due")
    assert status == 0
    assert "! blue estate, left door: Lumo Fill: the latest time was" in out
    assert "the sheet doesn't say: ask the maker" in out
    assert "“From 1 h to 3 days at 20 °C.” Granat 12, p. 2" in out
    assert "Granat 12 must not be left bare outdoors. It has stood there for 48 h." in out


def test_due_as_json_carries_kinds_moments_and_reasons(run: Run, folder: Path) -> None:
    _, out, _ = run("--library", folder, "due", "--json")
    items = {item["kind"]: item for item in json.loads(out)}
    assert set(items) == {"window_passed", "outdoors_forbidden"}
    passed = items["window_passed"]
    assert passed["overdue"]
    assert passed["verdict"] == "yes_if"
    assert datetime.fromisoformat(passed["at"]) < datetime.now(UTC)
    assert {reason["quote"] for reason in passed["reasons"]} == {"From 1 h to 3 days at 20 °C."}
    assert items["outdoors_forbidden"]["reasons"][0]["page"] == 2


def test_panels_shows_the_log_and_what_comes_next(run: Run, folder: Path) -> None:
    _, out, _ = run("--library", folder, "panels")
    assert "blue estate, left door" in out
    assert "Granat 12, 1 ×" in out
    _, out, _ = run("--library", folder, "panels", "--json", "--at-c", "8")
    (panel,) = json.loads(out)
    layer = next(step for step in panel["next"] if step["kind"] == "layer")
    assert layer["earliest"] is None, "the shop is colder than the sheet's table"
    assert panel["outdoors"]["state"] == "forbidden"


def test_shelf_lists_tins_and_judges_them(run: Run, folder: Path) -> None:
    _, out, _ = run("--library", folder, "shelf")
    assert "Lumo Fill base, 700 ml of 1000 ml left, batch 7A, place: the cellar" in out
    assert "good until: not known (no shelf life on the sheet)" in out
    _, out, _ = run("--library", folder, "shelf", "--on", "Granat 12")
    assert "YES, IF  Lumo Fill." in out
    _, out, _ = run("--library", folder, "shelf", "--on", "primer.etch", "--json")
    (item,) = json.loads(out)
    assert (item["product"], item["may"], item["answer"]["verdict"]) == ("Lumo Fill", False, "no")
    status, _, err = run("--library", folder, "shelf", "--on", "Nothing 99")
    assert status == 2
    assert "Nothing 99" in err


def test_shelf_lists_what_expires(run: Run, folder: Path) -> None:
    _, out, _ = run("--library", folder, "shelf", "--expiring")
    assert "as far as dates and sheets tell" in out, "a tin without a date is not said to be good"
    with Library.open(folder) as library:
        primer = next(p.id for p in library.products() if p.name == "Granat 12")
        library.add_tin(Tin(primer, 400.0, bought=date(2019, 5, 31)))
    _, out, _ = run("--library", folder, "shelf", "--expiring")
    assert out == "Granat 12 base, 400 ml left\n    past its date since 31 May 2021: test it or discard it\n"


def test_an_empty_library_says_what_to_do(run: Run, tmp_path: Path) -> None:
    Library.open(tmp_path / "new").close()
    for command, words in (
        ("panels", "No panel is in work"),
        ("due", "Nothing falls due"),
        ("shelf", "shelf is empty"),
    ):
        status, out, _ = run("--library", tmp_path / "new", command)
        assert status == 0
        assert words in out


def test_a_sheet_is_taken_out_and_put_back_by_name_file_or_number(run: Run, folder: Path) -> None:
    status, out, _ = run("--library", folder, "remove-sheet", "granat 12")
    assert status == 0
    assert "It can be put back: tinsheet restore-sheet 1" in out
    _, out, _ = run("--library", folder, "remove-sheet", "--json")
    assert [sheet["product"] for sheet in json.loads(out)] == ["Lumo Fill"]
    _, out, _ = run("--library", folder, "restore-sheet")
    assert out.startswith("Granat 12 (Granat 12.pdf, issued 1 March 2024; number 1)")
    assert run("--library", folder, "restore-sheet", "1")[0] == 0
    with Library.open(folder) as library:
        assert len(library.sheets()) == 2
    status, _, err = run("--library", folder, "remove-sheet", "Unheard Of")
    assert status == 2
    assert "No sheet is called “Unheard Of”" in err


def test_help_names_the_jobs_commands(run: Run) -> None:
    _, out, _ = run("--help")
    for command in ("panels", "due", "shelf", "remove-sheet", "restore-sheet"):
        assert command in out

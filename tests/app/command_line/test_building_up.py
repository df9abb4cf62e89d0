"""`tinsheet build-up` and `find-build-up` as they are typed, on a library of four invented sheets."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from app.__main__ import main
from app.command_line.layers import NotUnderstood, layer_typed, stop_typed
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
from store.job_records import Tin
from store.library import Library
from store.planning.buildup import Layer
from store.planning.finder import Stop
from store.records import ProductRecord
from store.rules.reach import KindParty, ProductParty

Run = Callable[..., tuple[int, str, str]]
KEEP = ProductRecord(1, "Granat 12", "Vellmark", "primer.epoxy.2k")


def said(topic: Topic, object_: str | None, stance: Stance, quote: str, *conditions: Condition, **more: Any) -> Claim:
    property_ = more.pop("property_", None)
    evidence = Evidence(1, quote, ((50.0, 60.0, 200.0, 70.0),))
    return Claim(topic, property_, stance, evidence, object=object_, conditions=conditions, **more)


def reading(product: str, kind: str, *claims: Claim) -> SheetReading:
    header = SheetHeader(f"{product}.pdf", "", 1, maker="Vellmark", product=product, kind=kind, issued="2024-03-01")
    return SheetReading(header, claims, (PageText(1, PageGeometry((0, 0, 595, 842), (0, 0, 595, 842), 0), ()),))


SHEETS = (
    reading(
        "Granat 12",
        "primer.epoxy.2k",
        said(Topic.GOES_OVER, "surface.steel", Stance.PERMITS, "Over bare steel."),
        said(Topic.TOPPED_BY, "surfacer", Stance.PERMITS, "Surfacers, within 3 days.", Condition.WITHIN_WINDOW),
        said(
            Topic.OVERCOAT_WINDOW, "surfacer", Stance.STATES, "1 h to 3 d at 20 °C", property_="window",
            low=60.0, high=4320.0, unit="min", at_c=20.0,
        ),
        said(Topic.PREPARATION, None, Stance.REQUIRES, "Degrease.", property_="degrease"),
        said(Topic.SAFETY, None, Stance.STATES, "Contains isocyanate.", property_="isocyanate"),
    ),
    reading(
        "Plan 310",
        "surfacer.2k",
        said(Topic.TOPPED_BY, "topcoat", Stance.PERMITS, "Topcoats."),
        said(Topic.GOES_OVER, "primer.etch", Stance.FORBIDS, "Not over etch, even if it is isolated."),
    ),
    reading("Lumo DG", "topcoat.solid.2k"),
    reading("Zahn E", "primer.etch.1k", said(Topic.GOES_OVER, "surface.steel", Stance.PERMITS, "Over bare steel.")),
)  # fmt: skip


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A library of four sheets, all confirmed."""
    folder = tmp_path / "library"
    with Library.open(folder) as library:
        for number, made in enumerate(SHEETS):
            filed = library.file_sheet(b"%%PDF-1.7 %d" % number, made.header.file, [made])
            library.confirm([record.id for record in library.claims(filed[0].sheet.id)])
    return folder


@pytest.fixture
def run(folder: Path, capsys: pytest.CaptureFixture[str]) -> Run:
    def typed(*words: object) -> tuple[int, str, str]:
        try:
            status = main(["--library", str(folder), *(str(word) for word in words)])
        except SystemExit as end:
            status = int(end.code or 0)
        printed = capsys.readouterr()
        return status, printed.out, printed.err

    return typed


def test_a_build_up_is_judged_with_the_reason_first(run: Run) -> None:
    status, out, _ = run("build-up", "bare steel", "Granat 12", "Plan 310; after 5 days; at 20 C", "Lumo DG")
    assert status == 0
    assert out.splitlines()[0] == "bare steel → Granat 12 → Plan 310 → Lumo DG"
    assert out.splitlines()[2].startswith(
        "No. Plan 310 goes on too late: after 5 days, and Granat 12 wants it within 3 days"
    )
    assert "“1 h to 3 d at 20 °C” Granat 12, p. 1" in out
    assert "Before Granat 12: Degrease" in out
    assert "Granat 12: Contains isocyanates" in out


def test_the_same_as_json(run: Run) -> None:
    status, out, _ = run("build-up", "bare steel", "Zahn E", "Granat 12", "Plan 310", "--at-c", 20, "--json")
    assert status == 0
    printed = json.loads(out)
    assert printed["verdict"] == "no"
    assert [contact["verdict"] for contact in printed["contacts"]] == ["yes", "silent", "yes_if"]
    (finding,) = [f for f in printed["findings"] if f["verdict"] == "no"]
    assert (finding["kind"], finding["layer"], finding["other"]) == ("reaches_through", 3, 1)
    assert finding["sentences"][0]["quote"] == "Not over etch, even if it is isolated."
    assert printed["reason"] == finding["words"]


def test_with_a_start_the_coats_have_their_times_of_day(run: Run) -> None:
    layers = ("build-up", "bare steel", "Granat 12", "Plan 310", "Lumo DG")
    status, out, _ = run(*layers, "--at-c", 20, "--start", "2026-05-04T08:00")
    assert status == 0
    assert re.search(r"Mon 4 May 2026, 08:00 +Put on Granat 12", out)
    assert re.search(r"Thu 7 May 2026, 08:00 +Latest next coat on Granat 12", out)
    printed = json.loads(run(*layers, "--at-c", 20, "--start", "2026-05-04T08:00+00:00", "--json")[1])
    put_on = [event for event in printed["timeline"] if event["event"] == "put_on"]
    first, second = (datetime.fromisoformat(event["at"]) for event in put_on[:2])
    assert second - first == timedelta(hours=1)
    assert put_on[2]["at"] is None
    assert put_on[2]["note"]
    assert run(*layers, "--start", "2026-05-04T08:00")[0] == 2


def test_a_sequence_is_found_with_its_sentences(run: Run) -> None:
    status, out, _ = run("find-build-up", "bare steel", "topcoat", "--at-c", 20)
    assert status == 0
    assert "1. bare steel → Granat 12 → Plan 310 → Lumo DG" in out
    assert "“Topcoats.” Plan 310, p. 1" in out


def test_where_nothing_is_allowed_the_nearest_is_shown(run: Run) -> None:
    status, out, _ = run("find-build-up", "copper and brass", "Lumo DG", "--json")
    assert status == 0
    printed = json.loads(out)
    assert printed["found"] == []
    assert printed["nearest"]["sequence"][-1] == "Lumo DG"
    assert printed["in_the_way"]


def test_only_what_is_named_or_on_the_shelf_is_taken(run: Run, folder: Path) -> None:
    with Library.open(folder) as library:
        for product in library.products():
            if product.name != "Plan 310":
                library.add_tin(Tin(product.id, 800.0))
    status, out, _ = run("find-build-up", "bare steel", "Lumo DG", "--shelf")
    assert status == 0
    assert out.startswith("Nothing is allowed")
    named = ["--product", "Granat 12", "--product", "Plan 310", "--product", "Lumo DG"]
    assert run("find-build-up", "bare steel", "Lumo DG", *named)[1].startswith("1 build-up found")
    assert run("find-build-up", "bare steel", "Lumo DG", "--between", "filler")[1].startswith(
        "Nothing at hand is body filler"
    )


@pytest.mark.parametrize(
    "words",
    [
        ["build-up", "bare steel"],
        ["build-up", "bare steel", "Nonesuch 99"],
        ["build-up", "bare steel", "Granat 12; sideways"],
        ["find-build-up", "bare steel"],
        ["find-build-up", "bare steel", "Lumo DG", "--product", "filler"],
        ["find-build-up", "bare steel", "Lumo DG", "--between", "Nonesuch 99"],
    ],
)
def test_what_cannot_be_understood_is_status_2(run: Run, words: list[str]) -> None:
    status, out, err = run(*words)
    assert (status, out) == (2, "")
    assert err


@pytest.mark.parametrize(
    ("typed", "facts"),
    [
        ("Granat 12", {}),
        ("Granat 12; 90 um; after 24 h", {"film_um": 90.0, "after_min": 1440.0}),
        ("Granat 12; 2,5 µm; after 30 min", {"film_um": 2.5, "after_min": 30.0}),
        ("Granat 12; at 15 C; hottest 34 °C", {"at_c": 15.0, "hottest_c": 34.0}),
        ("Granat 12; at -2 C", {"at_c": -2.0}),
        ("Granat 12; sanded; cleaned; cured", {"abraded": True, "cleaned": True, "cured": True}),
        ("Granat 12; unsanded; not cleaned", {"abraded": False, "cleaned": False}),
        ("Granat 12; 8 weeks outdoors", {"weeks_outdoors": 8.0}),
        ("Granat 12; 1 week outdoors; 7 days outside", {"weeks_outdoors": 2.0}),
    ],
)
def test_a_layer_as_it_is_typed(typed: str, facts: dict[str, Any]) -> None:
    assert layer_typed(typed, [KEEP]) == Layer(ProductParty(KEEP), **facts)


def test_work_in_between_as_it_is_typed() -> None:
    assert stop_typed("filler; 2 weeks outdoors", [KEEP]) == Stop(KindParty("filler"), 2.0)
    assert stop_typed("8 weeks outdoors", [KEEP]) == Stop(None, 8.0)
    for text in ("filler; primer", "", "sideways"):
        with pytest.raises(NotUnderstood):
            stop_typed(text, [KEEP])

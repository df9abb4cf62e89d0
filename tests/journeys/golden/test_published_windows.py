"""Published window tables and limits, checked whole: sheets read by the real reader, filed, confirmed, then asked.

Each check names its source. The figures are the sources', the sentences and makers our own.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from golden_sheets import PAPERS as BUILD_UPS
from window_sheets import PAPERS

from extract.claims import Topic
from extract.pipeline import read_sheet
from store.library import Library
from store.planning.buildup import BuildUp, Checked, FindingKind, Layer
from store.planning.buildup_check import check
from store.planning.buildup_sheets import Sheets
from store.planning.clocks import Warmth, steady
from store.planning.timeline import EventKind, timeline
from store.rules.answers import Answer, Conditional, Permitted, Reading, Window
from store.rules.names import Unknown, resolve
from store.rules.reach import Party, party_of

HOUR, DAY = 60.0, 1440.0
STEEL, TOPCOAT = "surface.steel", "Canopy U"
_SHELF = ("Canopy U", "Teinte 9", "Nacelle B", "Meadow S", "Coterie E")
"""What goes on top here, out of the sheets of the golden build-ups."""


@pytest.fixture(scope="module")
def sheets(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Sheets]:
    folder: Path = tmp_path_factory.mktemp("windows") / "library"
    with Library.open(folder) as library:
        for paper in (*PAPERS, *(paper for paper in BUILD_UPS if paper.product in _SHELF)):
            pdf, name = paper.pdf(), f"{paper.product}.pdf"
            (filed,) = library.file_sheet(pdf, name, read_sheet(pdf, name))
            library.confirm([record.id for record in library.claims(filed.sheet.id)])
        yield Sheets(library.rules(), library.proposals(), library.own_rules(), library.products())


def party(name: str, sheets: Sheets) -> Party:
    meaning = resolve(name, sheets.products)
    assert not isinstance(meaning, Unknown), name
    return party_of(meaning)


def asked(sheets: Sheets, lower: str, upper: str, at_c: float | None = None) -> Answer:
    return sheets.answer(party(lower, sheets), party(upper, sheets), at_c)


def window(sheets: Sheets, lower: str, upper: str, at_c: float | None) -> Window:
    answer = asked(sheets, lower, upper, at_c)
    assert isinstance(answer, Permitted | Conditional), answer.word
    assert answer.window is not None
    return answer.window


def built(sheets: Sheets, *layers: tuple[str, dict[str, object]] | str) -> Checked:
    made = []
    for entry in layers:
        name, facts = entry if isinstance(entry, tuple) else (entry, {})
        made.append(Layer(party(name, sheets), **facts))  # type: ignore[arg-type]
    return check(BuildUp(tuple(made)), sheets)


# UFGS-09971, tack coat recoat window, by surface temperature classes 16-21 to 44-49 degC, hours.
@pytest.mark.parametrize(
    ("at_c", "low", "high"),
    [
        (21.0, 24, 96),
        (27.0, 24, 72),
        (32.0, 16, 48),
        (38.0, 12, 36),
        (30.0, 24, 48),
        (43.0, 10, 24),
        (49.0, 8, 16),
        (46.0, 10, 16),
    ],
)
def test_a_federal_guides_tack_coat_table(sheets: Sheets, at_c: float, low: float, high: float) -> None:
    found = window(sheets, "Viaduct T", TOPCOAT, at_c)
    assert (found.low, found.high) == (low * HOUR, high * HOUR)


def test_hotter_than_the_federal_guides_table_no_latest_is_read(sheets: Sheets) -> None:
    """UFGS-09971 ends at 49 degC."""
    found = window(sheets, "Viaduct T", TOPCOAT, 55.0)
    assert (found.low, found.high) == (8 * HOUR, None)


# A pipeline epoxy cure chart, hand applied, minutes: at each row as printed, between rows on the careful side.
@pytest.mark.parametrize(
    ("at_c", "low", "high"),
    [
        (4, 170, 360), (10, 100, 235), (16, 57, 150), (21, 47, 116), (27, 25, 75), (32, 20, 58), (38, 15, 37),
        (13, 100, 150), (18, 57, 116), (24, 47, 75), (30, 25, 58), (2, None, 360), (43, 13, 31),
    ],
)  # fmt: skip
def test_a_pipeline_charts_rows(sheets: Sheets, at_c: float, low: float | None, high: float) -> None:
    found = window(sheets, "Conduit F", "Conduit F", at_c)
    assert (found.low, found.high) == (low, high)


# A painting contractor's example: 68 degF 8 h to 4 days, 86 degF 4 to 12 h; the latest falls faster than the earliest.
@pytest.mark.parametrize(
    ("at_c", "low", "high"), [(20.0, 8, 96), (30.0, 4, 12), (25.0, 8, 12), (16.0, None, 96), (33.0, 4, None)]
)
def test_a_contractors_two_temperatures(sheets: Sheets, at_c: float, low: float | None, high: float | None) -> None:
    found = window(sheets, "Gantry E", TOPCOAT, at_c)
    assert found.low == (None if low is None else low * HOUR)
    assert found.high == (None if high is None else high * HOUR)


def test_a_straight_line_would_promise_too_much_on_a_contractors_two_temperatures(sheets: Sheets) -> None:
    """At 25 degC half-way between 96 and 12 h the line says 54 h, the curve through both 33.9 h (computed)."""
    found = window(sheets, "Gantry E", TOPCOAT, 25.0)
    assert found.high is not None
    assert found.high <= 33.9 * HOUR


# A decorative paint maker's site work instruction: waterborne two-pack epoxy, 16 h at 20 degC but 72 h at 10.
@pytest.mark.parametrize(("at_c", "low"), [(20.0, 16), (10.0, 72), (15.0, 72), (5.0, None)])
def test_a_waterborne_epoxy_slows_more_than_twofold(sheets: Sheets, at_c: float, low: float | None) -> None:
    found = window(sheets, "Parapet W", "Parapet W", at_c)
    assert found.low == (None if low is None else low * HOUR)
    assert found.high == 7 * DAY


@pytest.mark.parametrize(
    ("lower", "upper", "low", "high"),
    [
        ("Spelter D", "Teinte 9", 12 * HOUR, 24 * HOUR),  # SSPC paint specification, zinc dust phenolic
        ("Linseed M", "Meadow S", 36 * HOUR, None),  # SSPC paint specification, oil/alkyd primer: 36 h through dry
        ("Tackle 4", TOPCOAT, None, 4 * DAY),  # MIL-HDBK-1110 par. 2.3.4: while still tacky, e.g. within 4 days
    ],
)
def test_windows_for_which_no_temperature_is_stated(
    sheets: Sheets, lower: str, upper: str, low: float | None, high: float | None
) -> None:
    found = window(sheets, lower, upper, 15.0)
    assert (found.low, found.high, found.reading) == (low, high, Reading.UNTEMPERED)


@pytest.mark.parametrize(("hours", "in_time"), [(11, False), (12, True), (24, True), (25, False)])
def test_zinc_dust_phenolic_by_the_hour(sheets: Sheets, hours: float, in_time: bool) -> None:
    """Dry 12 h, best adhesion within 24 h: SSPC paint specification."""
    checked = built(sheets, STEEL, "Spelter D", ("Teinte 9", {"after_min": hours * HOUR, "at_c": 20.0}))
    times = {FindingKind.TOO_EARLY, FindingKind.WINDOW_PASSED}
    assert (not times & {finding.kind for finding in checked.findings}) is in_time


@pytest.mark.parametrize(
    ("product", "at_c", "word"),
    # A yacht paint maker's working conditions: 1K primers 10 to 25 degC, 2K polyurethane 12 to 25 degC.
    [("Strake 1", 9.0, "no"), ("Strake 1", 10.0, None), ("Strake 1", 26.0, "no"), ("Transom 2K", 11.0, "no"),
     ("Transom 2K", 12.0, None), ("Transom 2K", 27.0, "no")],
)  # fmt: skip
def test_working_temperatures_of_yacht_paints(sheets: Sheets, product: str, at_c: float, word: str | None) -> None:
    checked = built(sheets, "primer.epoxy.2k", (product, {"at_c": at_c}))
    found = {f.word for f in checked.findings if f.kind in {FindingKind.TOO_COLD, FindingKind.TOO_HOT}}
    assert found == ({word} if word else set())


def test_an_aerospace_tie_coat_names_the_product_it_is_for(sheets: Sheets) -> None:
    """Two to eight hours: TO 1-1-8 par. 5.6.2 f. The time is for the coat it names, and for no other."""
    rules = sheets.said(party("Longeron T", sheets), Topic.OVERCOAT_WINDOW, "window")
    assert [(r.claim.object, r.claim.low, r.claim.high) for r in rules] == [("product:Nacelle C", 120.0, 480.0)]
    other = asked(sheets, "Longeron T", "Coterie E", 24.0)
    assert not isinstance(other, Permitted | Conditional) or other.window is None


@pytest.mark.parametrize(("minutes", "late"), [(45.0, False), (60.0, False), (75.0, True)])
def test_rusted_steel_takes_its_primer_within_the_hour(sheets: Sheets, minutes: float, late: bool) -> None:
    """Primer within 1 h of drying: TM 1-1520-238-23 par. 1.49.16b."""
    checked = built(sheets, "surface.steel.rusted", ("Rotor C", {"after_min": minutes}))
    assert (FindingKind.PREPARED_TOO_LONG_AGO in {finding.kind for finding in checked.findings}) is late


def test_no_polyurethane_on_lacquer(sheets: Sheets) -> None:
    """Not on rubber, lacquer or vinyl: TB 43-0209. What has no name here stays unsaid, which is no yes either."""
    assert asked(sheets, "finish.old.soft", "Mantle C").word == "no"
    assert asked(sheets, "surface.plastic", "Mantle C").word == "silent"


def test_chlorinated_rubber_on_alkyd_wants_a_test_first(sheets: Sheets) -> None:
    """Possible lifting, spot check: SSPC specification for chlorinated-rubber primer."""
    answer = asked(sheets, "Meadow S", "Fender H")
    assert isinstance(answer, Conditional)
    assert any(term.condition.value == "tested" for clause in answer.clauses for way in clause.ways for term in way)


def test_the_hottest_hour_rules_the_time_line_too(sheets: Sheets) -> None:
    """Window by the highest surface temperature held for an hour or more: UFGS-09971; 27 degC 72 h, 32 degC 48 h."""
    start = datetime(2026, 6, 1, 8, tzinfo=UTC)
    layers = tuple(Layer(party(name, sheets)) for name in (STEEL, "Viaduct T", TOPCOAT))
    noon = (Warmth(start, 21.0), Warmth(start + timedelta(hours=4), 32.0), Warmth(start + timedelta(hours=6), 21.0))

    def latest(forecast: tuple[Warmth, ...]) -> datetime | None:
        events = timeline(BuildUp(layers), sheets, start, forecast)
        return next(event.at for event in events if event.kind is EventKind.LATEST and event.layer == 1)

    assert latest(steady(start, 21.0)) == start + timedelta(hours=96)
    assert latest(noon) == start + timedelta(hours=48)

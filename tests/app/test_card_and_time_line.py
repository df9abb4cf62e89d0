"""The card and the time line of a build-up: on the screen, on paper, and against what the library says."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from itertools import pairwise
from pathlib import Path
from zoneinfo import ZoneInfo

import pypdfium2
import pytest
from answer_kit import Outlets, confirm
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QImage, QPageSize, QPainter
from pytestqt.qtbot import QtBot
from window_kit import KEEPER, PreparedReader, claim, reading, window

from app.build_up.view import BuildUpPlace
from app.buildup_words import event_words
from app.card.contents import card_of
from app.card.paper import SIZES, card_html
from app.printing.comparison_sheet import foot
from app.printing.fitted import Sheet, write_sheet
from app.time_line.chart import Chart, chart_of, lane_words, ticks
from app.time_line.measures import Measures, wrapped
from app.time_line.painting import Inks, paint_chart, wait_bar
from app.typed_moments import moment_text
from app.wiring import Wiring
from extract.claims import Condition, Stance, Topic
from store.planning.buildup import BuildUp, Layer
from store.planning.timeline import Event, EventKind
from store.rules.reach import KindParty, ProductParty

BERLIN = ZoneInfo("Europe/Berlin")
COATS = ("Kestrel Bond 40", "Tarn Fill", "Tarn Sand", "Tarn Seal", "Tarn Colour")
KINDS = ("", "filler.polyester", "surfacer.2k", "sealer", "topcoat.solid.2k")
STATES = Stance.STATES


def coat(name: str, kind: str, below: str) -> object:
    hours = {"low": 120.0, "high": 2880.0, "unit": "min", "at_c": 20.0}
    return reading(
        name,
        [
            claim(f"{name} may go over anything sound and abraded below.", object_=below),
            claim(f"{name} takes any coat.", Topic.TOPPED_BY, object_="topcoat"),
            claim("Recoat after 2 hours and within 2 days at 20 °C.", Topic.OVERCOAT_WINDOW, "window", STATES, **hours),
            claim("Abrade P320.", Topic.PREPARATION, "abrade", Stance.REQUIRES, low=320.0, high=320.0, unit="P"),
            claim("Mix 4:1 by volume.", Topic.MIXING, "ratio", STATES, parts=(4.0, 1.0), basis="volume", page=2),
            claim("Thin 5 to 10 %.", Topic.MIXING, "thinner", STATES, low=5.0, high=10.0, unit="%", page=2),
            claim("Pot life 4 hours.", Topic.MIXING, "pot_life", STATES, low=240.0, high=240.0, unit="min", page=2),
            claim("40 to 60 µm dry.", Topic.FILM, "dry", STATES, low=40.0, high=60.0, unit="um", page=2),
            claim("The hardener contains isocyanates.", Topic.SAFETY, "isocyanate", STATES, page=2),
        ],
        kind=kind,
    )


READINGS = {"coat0.pdf": KEEPER} | {
    f"coat{at}.pdf": coat(COATS[at], KINDS[at], KINDS[at - 1] or "primer.epoxy.2k") for at in range(1, len(COATS))
}


@pytest.fixture
def outlets() -> Outlets:
    return Outlets()


@pytest.fixture
def place(qtbot: QtBot, tmp_path: Path, outlets: Outlets) -> Iterator[BuildUpPlace]:
    for name in READINGS:
        (tmp_path / name).write_bytes(name.encode())
    with window(tmp_path, PreparedReader(READINGS), outlets=outlets) as wiring:  # type: ignore[arg-type]
        wiring.filing.add([tmp_path / name for name in READINGS])
        confirm(wiring)
        wiring.window.go_to("build_up")
        wiring.build_up.open_build_up(six_layers(wiring))
        yield wiring.build_up


def six_layers(wiring: Wiring) -> BuildUp:
    products = {product.name: product for product in wiring.book.products}
    coats = [Layer(ProductParty(products[name])) for name in COATS]
    coats[0] = replace(coats[0], film_um=60.0, weeks_outdoors=0.2)
    return BuildUp((Layer(KindParty("surface.steel")), *coats), 20.0)


def words_of(path: Path) -> list[str]:
    document = pypdfium2.PdfDocument(path)
    found = [" ".join(page.get_textpage().get_text_bounded().replace("\xa0", " ").split()) for page in document]
    document.close()
    return found


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_card_of_six_layers_is_one_page_with_everything_on_it(
    place: BuildUpPlace, outlets: Outlets, tmp_path: Path, paper: str
) -> None:
    place.kept_bar.name.setText("Left front door")
    place.show_page(3)
    place.card.paper.setCurrentText(paper)
    outlets.path = tmp_path / "card.pdf"
    place.card.pdf_button.click()
    (page,) = words_of(outlets.path)
    assert outlets.asked == ["Left front door.pdf"]
    card = place.card.card
    assert card is not None
    assert len(card.rows) == 5
    for words in (
        "Left front door", *COATS, "Bare steel", "Times at 20 °C", "4 : 1 by volume", "Thinner 5–10 %", "Pot life 4 h",
        "40–60 µm", "P320", "p. 2", "Planned 60 µm dry in all", "0.2 weeks outdoors", "isocyanates",
        card.word, foot()[:40], "latest 48 h",
    ):  # fmt: skip
        assert words in page, words
    height = {"A4": 842, "Letter": 792}[paper]
    document = pypdfium2.PdfDocument(outlets.path)
    assert round(document[0].get_height()) == height
    document.close()
    assert "On one page." in place.card.says.text()


def test_a_card_that_is_too_full_goes_on_a_second_page_and_says_so(place: BuildUpPlace, tmp_path: Path) -> None:
    assert place.worked is not None
    card = card_of(place.worked)
    long = replace(card, rows=tuple(card.rows * 3))
    sheet = Sheet(card_html(long, date(2026, 5, 4)), foot(), SIZES)
    pages = write_sheet(tmp_path / "long.pdf", sheet, "long", QPageSize(QPageSize.PageSizeId.A4))
    said = words_of(tmp_path / "long.pdf")
    assert len(said) == pages == 2
    assert "1 / 2" in said[0]
    assert "2 / 2" in said[1]


def test_a_forbidden_build_up_says_so_on_its_card(place: BuildUpPlace) -> None:
    layers = place.build_up.layers
    soon = (layers[0], replace(layers[1], weeks_outdoors=0.0), replace(layers[2], after_min=1.0))
    place.open_build_up(replace(place.build_up, layers=soon))
    place.show_page(3)
    card = place.card.card
    assert card is not None
    assert (card.shape, card.word) == ("no", "No")
    assert "too early" in card.reason
    assert "Kestrel Bond 40, p. 1" in card.reason_pages


def test_without_a_build_up_the_pages_teach(qtbot: QtBot, place: BuildUpPlace) -> None:
    place.editor.set_layers(())
    place._on_changed()
    for number, page in ((2, place.time_line), (3, place.card)):
        place.show_page(number)
        assert page.stack.currentWidget() is page.empty
        page.empty.button.click()
        assert place.pages.currentIndex() == 0


def test_the_list_says_when_and_opens_the_sentence(qtbot: QtBot, place: BuildUpPlace) -> None:
    place.show_page(2)
    page = place.time_line
    page.start.setText("4.5.2026 08:00")
    qtbot.keyClick(page.start, Qt.Key.Key_Return)
    start = page.start.moment
    put_on = {e.layer: e.at for e in page.events if e.kind is EventKind.PUT_ON}
    assert put_on[1] == start
    assert put_on[2] == start + timedelta(weeks=0.2)
    entry = next(e for e in page.list.entries if "takes the next coat" in e.words)
    with qtbot.waitSignal(place.evidence_opened):
        page.list.entry_opened.emit(entry)
    assert moment_text(start).split(", ")[1] in page.list.entries[0].words


def test_a_colder_shop_moves_the_moments(qtbot: QtBot, place: BuildUpPlace) -> None:
    place.show_page(2)
    page = place.time_line
    assert page.picture.chart is not None
    page.warmth_form.temperature.set_value(5)
    page.warmth_form.temperature.figure_changed.emit()
    assert any(event.at is None for event in page.events if event.kind is EventKind.EARLIEST)
    assert place.temperature.value == 5


def test_a_start_that_cannot_be_read_is_said(qtbot: QtBot, place: BuildUpPlace) -> None:
    place.show_page(2)
    page = place.time_line
    page.start.setText("one fine day")
    qtbot.keyClick(page.start, Qt.Key.Key_Return)
    assert "one fine day" in page.says.text()
    assert page.picture.chart is None
    assert not page.print_button.isEnabled()


def test_the_picture_is_zoomed_by_keys(qtbot: QtBot, place: BuildUpPlace) -> None:
    place.show_page(2)
    picture = place.time_line.picture
    narrow = picture.widget().width()
    qtbot.keyClick(picture, Qt.Key.Key_Plus)
    assert picture.widget().width() > narrow
    qtbot.keyClick(picture, Qt.Key.Key_0)
    assert picture.widget().width() == narrow


def test_the_time_line_prints_with_its_moments_and_pages(place: BuildUpPlace, outlets: Outlets, tmp_path: Path) -> None:
    place.show_page(2)
    outlets.path = tmp_path / "line.pdf"
    place.time_line.pdf_button.click()
    said = " ".join(words_of(outlets.path))
    for words in (*COATS[:2], "next coat may go on", "Kestrel Bond 40 takes the next coat", "Kestrel Bond 40, p. 1"):
        assert words in said, words


def layers_of(*names: str) -> BuildUp:
    return BuildUp(tuple(Layer(KindParty(name)) for name in names))


START = datetime(2026, 3, 28, 8, 0, tzinfo=UTC)


def test_a_lane_says_its_times_by_the_clock_on_the_wall() -> None:
    events = (
        Event(EventKind.PUT_ON, 1, START),
        Event(EventKind.EARLIEST, 1, START + timedelta(hours=24)),
        Event(EventKind.LATEST, 1, None, unlimited=True),
        Event(EventKind.PUT_ON, 2, None, note="no sheet says"),
    )
    chart = chart_of(events, layers_of("surface.steel", "primer.epoxy", "topcoat"))
    assert chart is not None
    # Europe/Berlin went from UTC+1 to UTC+2 on 29 March 2026 at 01:00 UTC (EU summer time rules).
    assert lane_words(chart.lanes[0], START, BERLIN) == "put on Sat 09:00 · next coat from Sun 10:00 on, no limit"
    assert lane_words(chart.lanes[1], START, BERLIN) == "when, nobody says: it waits for epoxy primer"


def test_where_the_sheet_gives_no_earliest_the_lanes_say_so_and_show_the_latest() -> None:
    why = "the sheet gives no earliest time below 21 °C"
    latest = START + timedelta(days=7)
    events = (
        Event(EventKind.PUT_ON, 1, START),
        Event(EventKind.EARLIEST, 1, None, note=why),
        Event(EventKind.LATEST, 1, latest),
        Event(EventKind.PUT_ON, 2, None),
        Event(EventKind.PUT_ON, 3, None),
    )
    chart = chart_of(events, layers_of("surface.steel", "primer.epoxy", "surfacer.2k", "topcoat"))
    assert chart is not None
    assert chart.begin < START < latest < chart.end
    first, second, third = (lane_words(lane, START, BERLIN) for lane in chart.lanes)
    assert first.endswith(f"next coat by 4 Apr 10:00, but {why}")
    assert second == f"when, nobody says: {why}. Give the time waited under Check."
    assert third == "when, nobody says: it waits for 2K surfacer"


def test_words_of_a_lane_are_broken_into_lines_and_none_is_lost_but_at_the_end(qtbot: QtBot) -> None:
    metrics = QFontMetricsF(QFont())
    words = "put on Sat 09:00 · next coat by 4 Apr 10:00, but the sheet gives no earliest time below 21 °C"
    for width in (150, 260, 400):
        lines = wrapped(words, metrics, width)
        assert " ".join(lines) == words
        assert all(metrics.horizontalAdvance(line) <= width for line in lines)
        short = wrapped(words, metrics, width, 2)
        assert len(short) == 2
        assert all(metrics.horizontalAdvance(line) <= width for line in short)
        assert (short[1] == lines[1]) == (len(lines) == 2)
    assert wrapped("Zweikomponentengrundierung", metrics, 20) == ["Zweikomponentengrundierung"]


def test_a_lane_tells_all_of_its_words_under_the_mouse(place: BuildUpPlace) -> None:
    place.show_page(2)
    picture = place.time_line.picture
    assert picture.chart is not None
    drawing = picture.widget()
    first = picture.chart.lanes[0]
    measures = Measures.of(picture.chart, drawing.font(), picture.viewport().width() - 8)
    words = drawing.words_at(measures.axis + 2)
    assert words == f"1  {first.name}: {lane_words(first, picture.chart.begin)}"
    assert drawing.words_at(2) == ""
    assert drawing.words_at(measures.height(picture.chart) - 2) == ""


def test_a_time_from_when_on_is_not_known_is_never_filled(qtbot: QtBot) -> None:
    events = (
        Event(EventKind.PUT_ON, 1, START),
        Event(EventKind.EARLIEST, 1, None, note="the sheet gives no earliest time"),
        Event(EventKind.LATEST, 1, START + timedelta(hours=10)),
        Event(EventKind.PUT_ON, 2, None),
    )
    shown = painted(chart := chart_of(events, layers_of("surface.steel", "primer.epoxy", "topcoat")))
    assert chart is not None
    colours = {shown(hour) for hour in range(1, 10)}
    assert not any(QColor("#dddddd").lightness() in found for found in colours)
    assert any(len(found) > 1 for found in colours)


def test_several_windows_stand_on_one_lane_each_with_its_conditions() -> None:
    clean = (Condition.CLEAN,)
    events = (
        Event(EventKind.PUT_ON, 1, START),
        Event(EventKind.EARLIEST, 1, None, note="the sheet gives no earliest time"),
        Event(EventKind.LATEST, 1, START + timedelta(hours=1)),
        Event(EventKind.EARLIEST, 1, START + timedelta(hours=48), window=1, conditions=clean),
        Event(EventKind.LATEST, 1, START + timedelta(hours=72), window=1, conditions=clean),
    )
    build_up = layers_of("surface.steel", "primer.epoxy", "topcoat")
    chart = chart_of(events, build_up)
    assert chart is not None
    assert [opening.latest for opening in chart.lanes[0].openings] == [events[2].at, events[4].at]
    words = lane_words(chart.lanes[0], START, BERLIN)
    assert (
        "next coat by Sat 10:00, but the sheet gives no earliest time, or Mon 10:00 – Tue 10:00, once it is clean"
        in words
    )
    assert event_words(events[4], build_up) == "Latest next coat on epoxy primer, window 2, once it is clean"


def test_marks_stand_at_the_walls_hours_also_when_clocks_change() -> None:
    found = ticks(START, START + timedelta(hours=36), 12, BERLIN)
    gaps = [(after.at.astimezone(UTC) - before.at.astimezone(UTC)) for before, after in pairwise(found)]
    assert gaps.count(timedelta(hours=2)) == 1
    assert all(tick.at.astimezone(BERLIN).hour % 3 == 0 for tick in found)
    assert [tick.words for tick in found if tick.strong] == ["Sun 29"]
    for most in (4, 8, 20):
        assert len(ticks(START, START + timedelta(days=200), most, BERLIN)) <= most + 1


def test_wait_and_open_time_are_told_apart_in_black_and_white(qtbot: QtBot) -> None:
    events = (
        Event(EventKind.PUT_ON, 1, START),
        Event(EventKind.EARLIEST, 1, START + timedelta(hours=10)),
        Event(EventKind.LATEST, 1, START + timedelta(hours=14)),
        Event(EventKind.PUT_ON, 2, START + timedelta(hours=10)),
    )
    chart = chart_of(events, layers_of("surface.steel", "primer.epoxy", "topcoat"))
    shown = painted(chart)
    assert len(shown(5)) > 1
    assert shown(12) == {QColor("#dddddd").lightness()}


def painted(chart: Chart | None) -> Callable[[float], frozenset[int]]:
    """The shades within the first lane's bar just after so many hours from START, in black and white."""
    assert chart is not None
    measures = Measures.of(chart, QFont(), 792)
    image = QImage(800, round(measures.height(chart)), QImage.Format.Format_Grayscale8)
    image.fill(QColor("white"))
    painter = QPainter(image)
    inks = Inks(QColor("black"), QColor("#333333"), QColor("#aaaaaa"), QColor("#dddddd"))
    paint_chart(painter, QRectF(image.rect()), chart, inks, QFont())
    painter.end()
    span = (chart.end - chart.begin).total_seconds()

    def shades(hour: float) -> frozenset[int]:
        x = round((START + timedelta(hours=hour) - chart.begin).total_seconds() / span * 800)
        middle = round(measures.axis + measures.lane - 8 - measures.bar / 2)
        return frozenset(image.pixelColor(x + step, middle).lightness() for step in range(8))

    return shades


def test_a_wait_is_hatched_on_paper_too(qtbot: QtBot, tmp_path: Path) -> None:
    inks = Inks(QColor("black"), QColor("black"), QColor("#aaaaaa"), QColor("#dddddd"))

    def picture(painter: QPainter, box: QRectF) -> None:
        # As paint_chart does: without it lines are a hair wide on paper.
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        wait_bar(painter, QRectF(10, 10, 200, 14), inks)

    write_sheet(tmp_path / "bar.pdf", Sheet("", foot(), (9.0,), True, picture, 40.0), "bar")
    document = pypdfium2.PdfDocument(tmp_path / "bar.pdf")
    image = document[0].render(scale=4, grayscale=True).to_pil()
    bar = [[image.getpixel((x, y)) for x in range(image.width)] for y in range(image.height // 5)]
    # Only now: the picture lies in the document's memory.
    document.close()
    # Where it is hatched a row of pixels goes from white to dark time and again; an even grey has its two edges.
    assert max(sum(a > 200 > b for a, b in pairwise(row)) for row in bar) >= 10

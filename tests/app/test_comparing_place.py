"""Comparing in the real window: what stands in the table is what the reasoning says, and it can be taken along."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from pathlib import Path

import pypdfium2
import pytest
from answer_kit import Outlets, filed, name_it
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication, QPageSize
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot
from window_kit import KEEPER, PreparedReader, window

from app.comparing.lines import NEEDS, Line, ShownCell, lines_of
from app.comparing.model import CELL_ROLE, LINE_ROLE
from app.comparison_words import UNSAID
from app.jobs import LibraryChange
from app.printing.comparison_sheet import foot
from app.printing.paper import write_pdf
from app.printing.table import PrintedTable, TableRow, cuts
from app.wiring import Wiring
from extract.claims import Topic
from store.rules.comparison import Comparison, Material, compare
from store.rules.needs import NeedRow, needs_met


@pytest.fixture
def outlets() -> Outlets:
    return Outlets()


@pytest.fixture
def wiring(qtbot: QtBot, tmp_path: Path, outlets: Outlets) -> Iterator[Wiring]:
    with filed(tmp_path, but=("rival.pdf",), outlets=outlets) as made:
        made.window.go_to("compare")
        yield made


def choose(qtbot: QtBot, wiring: Wiring, *letters: str) -> None:
    for few in letters:
        name_it(qtbot, wiring.comparing.bar.field, few)


def reasoned(wiring: Wiring, at_c: float | None = None) -> tuple[Comparison, tuple[NeedRow, ...]]:
    products = wiring.comparing.bar.products
    ids = [product.id for product in products]
    found: list[tuple[Comparison, tuple[NeedRow, ...]]] = []

    def work(library: object) -> tuple[Comparison, tuple[NeedRow, ...]]:
        material = Material(
            library.rules(ids), library.proposals(ids), library.own_rules(), library.products()  # type: ignore[attr-defined]
        )  # fmt: skip
        needs = needs_met(wiring.comparing.needs.needs, products, material, at_c)
        return compare(products, material, at_c), needs

    wiring.desk.read(work, found.append)
    return found[0]


def row_named(wiring: Wiring, head: str, topic: Topic | str) -> Line:
    wanted = topic.value if isinstance(topic, Topic) else topic
    (line,) = [line for line in wiring.comparing.lines.lines if line.head == head and line.topic == wanted]
    return line


def test_the_table_is_the_reasonings_row_by_row(qtbot: QtBot, wiring: Wiring, qtmodeltester: ModelTester) -> None:
    choose(qtbot, wiring, "kestrel", "larkrise", "morrow")
    place = wiring.comparing
    comparison, needs = reasoned(wiring)
    assert place.lines == lines_of(comparison, needs)
    assert [product.name for product in place.lines.products] == ["Kestrel Bond 40", "Larkrise Etch 7", "Morrow Etch"]
    rows = [line for line in place.lines.lines if not line.is_heading]
    assert len(rows) == len(comparison.rows)
    assert [line.differs for line in rows] == [row.differs for row in comparison.rows]
    headings = [line.topic for line in place.lines.lines if line.is_heading]
    assert headings == [topic.value for topic in Topic if comparison.of_topic(topic)]
    qtmodeltester.check(place.table)


def test_unsaid_and_unconfirmed_are_shown_as_such_in_words_and_shape(qtbot: QtBot, wiring: Wiring) -> None:
    choose(qtbot, wiring, "kestrel", "larkrise", "morrow")
    steel = row_named(wiring, "Bare steel", Topic.GOES_OVER)
    assert [cell.shape for cell in steel.cells] == ["yes", "yes", "unconfirmed"]
    assert "not yet confirmed" in steel.cells[2].text
    aluminium = row_named(wiring, "Aluminium", Topic.GOES_OVER)
    assert aluminium.cells[0] == ShownCell(UNSAID, "silent", unsaid=True)


def test_differences_are_marked_and_can_be_shown_alone(qtbot: QtBot, wiring: Wiring) -> None:
    choose(qtbot, wiring, "kestrel", "larkrise")
    place = wiring.comparing
    filler = row_named(wiring, "Polyester fillers", Topic.TOPPED_BY)
    assert filler.differs
    assert filler.marked_head == "≠ Polyester fillers"
    place.only_differences.click()
    shown = [line for line in place.lines.lines if not line.is_heading]
    assert shown
    assert all(line.differs for line in shown)


def test_every_cell_that_says_something_opens_its_sentence(qtbot: QtBot, wiring: Wiring) -> None:
    choose(qtbot, wiring, "kestrel", "larkrise")
    place = wiring.comparing
    opened: list[tuple[int, int, object]] = []
    place.evidence_opened.connect(lambda *what: opened.append(what))
    for row in range(place.table.rowCount()):
        for column in range(1, place.table.columnCount()):
            index = place.table.index(row, column)
            cell = index.data(CELL_ROLE)
            if index.data(LINE_ROLE).is_heading:
                continue
            place.view.setCurrentIndex(index)
            place.view.setFocus()
            before = len(opened)
            qtbot.keyClick(place.view, Qt.Key.Key_Return)
            assert len(opened) == before + (not cell.unsaid)
            assert [card.sentence for card in place.details.cards] == list(cell.sentences)
    assert len(opened) > 5
    assert wiring.window.evidence.isVisible()


def test_a_click_opens_the_page_and_arrows_show_the_sentences(qtbot: QtBot, wiring: Wiring) -> None:
    choose(qtbot, wiring, "kestrel", "larkrise")
    view = wiring.comparing.view
    view.choose(0, 2)
    first = wiring.comparing.details.cards
    qtbot.keyClick(view, Qt.Key.Key_Down)
    assert wiring.comparing.details.cards != first
    where = view.visualRect(view.currentIndex()).center()
    assert not wiring.window.evidence.isVisible()
    qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=where)
    assert wiring.window.evidence.isVisible()


def test_windows_follow_the_one_temperature(qtbot: QtBot, wiring: Wiring) -> None:
    choose(qtbot, wiring, "kestrel", "larkrise")
    assert "Earliest next coat 1 h" in row_named(wiring, "Next coat", Topic.OVERCOAT_WINDOW).cells[0].text
    field = wiring.comparing.temperature
    field.setFocus()
    qtbot.keyClicks(field, "5")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert "only, not for 5 °C" in row_named(wiring, "Next coat", Topic.OVERCOAT_WINDOW).cells[0].text
    comparison, needs = reasoned(wiring, 5.0)
    assert wiring.comparing.lines == lines_of(comparison, needs)


def test_needs_stand_first_with_their_sentences(qtbot: QtBot, wiring: Wiring) -> None:
    choose(qtbot, wiring, "kestrel", "larkrise", "morrow")
    place = wiring.comparing
    place._with_needs.click()
    name_it(qtbot, place.needs.surface, "bare steel")
    name_it(qtbot, place.needs.filler, "polyester filler")
    qtbot.keyClicks(place.needs.weeks, "8")
    qtbot.keyClick(place.needs.weeks, Qt.Key.Key_Return)
    assert place.lines.lines[0].head == NEEDS
    surface = row_named(wiring, "Goes straight onto bare steel", NEEDS)
    filler = row_named(wiring, "Takes polyester filler straight on top", NEEDS)
    outdoors = row_named(wiring, "Stands outdoors for 8 weeks without a further coat", NEEDS)
    assert [cell.text for cell in surface.cells] == ["Met", "Met", "Not yet confirmed"]
    assert [cell.text for cell in filler.cells] == ["Met", "Not met", "Not yet confirmed"]
    assert [cell.text for cell in outdoors.cells] == ["Met", "Sheet doesn't say", "Sheet doesn't say"]
    assert [s.quote for s in filler.cells[1].sentences] == ["Do not coat with polyester filler."]
    place.needs.waterproof.click()
    assert row_named(wiring, "Keeps water out", NEEDS).cells[0].unsaid
    comparison, needs = reasoned(wiring)
    assert place.lines == lines_of(comparison, needs)


def test_an_own_rule_is_marked_in_its_cell(qtbot: QtBot, wiring: Wiring) -> None:
    wiring.desk.write(
        lambda library: library.add_own_rule(
            "bare steel", "Kestrel Bond 40", forbids=False, words="blast it first", source="own experience"
        ),
        LibraryChange(everything=True),
    )
    choose(qtbot, wiring, "kestrel", "larkrise")
    cell = row_named(wiring, "Bare steel", Topic.GOES_OVER).cells[0]
    assert cell.own == ("blast it first (your own rule, own experience)",)
    assert "blast" not in cell.text
    assert "▲ blast it first (your own rule, own experience)" in cell.said


def test_products_come_and_go_by_keys(qtbot: QtBot, wiring: Wiring) -> None:
    choose(qtbot, wiring, "kestrel", "larkrise", "brockle")
    place = wiring.comparing
    assert place.table.columnCount() == 4
    chip = place.bar.chips[1]
    assert chip.accessibleName() == "Take Larkrise Etch 7 out"
    chip.setFocus()
    qtbot.keyClick(chip, Qt.Key.Key_Space)
    assert [product.name for product in place.bar.products] == ["Kestrel Bond 40", "Brockle Fill"]
    choose(qtbot, wiring, "kestrel")
    assert len(place.bar.products) == 2


def test_one_product_is_not_yet_a_comparison(qtbot: QtBot, wiring: Wiring) -> None:
    choose(qtbot, wiring, "kestrel")
    place = wiring.comparing
    assert place.table.rowCount() == 0
    assert "one product more" in place._empty.words
    assert not place._deeds[0].isEnabled()


def test_the_table_is_copied_in_columns(qtbot: QtBot, wiring: Wiring) -> None:
    choose(qtbot, wiring, "kestrel", "larkrise")
    place = wiring.comparing
    qtbot.keyClick(place, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)
    rows = [line.split("\t") for line in QGuiApplication.clipboard().text().split("\n")]
    assert rows[0] == ["", "Kestrel Bond 40", "Larkrise Etch 7", "Differs"]
    assert ["Polyester fillers", "Yes", "No", "differs"] in rows
    assert {len(row) for row in rows} == {4}


def test_a_cell_is_copied_with_its_quote(qtbot: QtBot, wiring: Wiring) -> None:
    choose(qtbot, wiring, "kestrel", "larkrise")
    view = wiring.comparing.view
    view.choose(0, 1)
    view.setFocus()
    qtbot.keyClick(view, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    copied = QGuiApplication.clipboard().text()
    assert copied == "Yes\n“Apply over clean bare steel, abraded P180 to P240.” Kestrel Bond 40, p. 1"


def test_csv_holds_every_row_with_its_sentences(qtbot: QtBot, wiring: Wiring, outlets: Outlets, tmp_path: Path) -> None:
    choose(qtbot, wiring, "kestrel", "larkrise")
    outlets.path = tmp_path / "both sheets.csv"
    wiring.comparing._deeds[1].click()
    rows = list(csv.reader(io.StringIO(outlets.path.read_bytes().decode("utf-8-sig"))))
    assert len(rows) == 1 + len(wiring.comparing.lines.lines)
    (filler,) = [row for row in rows if row[0] == "Polyester fillers"]
    assert filler[1] == "Yes; “May be overcoated with polyester fillers.” Kestrel Bond 40, p. 1"
    assert filler[3] == "differs"


def test_a_sheets_words_do_not_run_in_a_spreadsheet(qtbot: QtBot, wiring: Wiring, outlets: Outlets) -> None:
    from app.comparing.lines import Lines, csv_text  # noqa: PLC0415

    products = wiring.book.products[:2]
    lines = Lines(products, (Line("=1+1", (ShownCell("@SUM(A1)"), ShownCell("fine"))),), None)
    assert list(csv.reader(io.StringIO(csv_text(lines))))[1] == ["'=1+1", "'@SUM(A1)", "fine", ""]


def pdf_text(path: Path) -> tuple[str, int, tuple[float, float]]:
    document = pypdfium2.PdfDocument(path)
    try:
        texts = []
        for page in document:
            texts.append(page.get_textpage().get_text_range())
            size = page.get_size()
            page.close()
        return "\n".join(texts), len(texts), size
    finally:
        document.close()


def test_ctrl_p_prints_what_the_table_shows(qtbot: QtBot, wiring: Wiring, outlets: Outlets, tmp_path: Path) -> None:
    choose(qtbot, wiring, "kestrel", "larkrise")
    outlets.prints_to = tmp_path / "printed.pdf"
    qtbot.keyClick(wiring.comparing, Qt.Key.Key_P, Qt.KeyboardModifier.ControlModifier)
    text, _, (width, height) = pdf_text(outlets.prints_to)
    assert width < height
    assert "Polyester fillers" in text
    assert "sheet doesn't say" in text


@pytest.mark.parametrize("dark", [False, True])
def test_the_pdf_holds_the_whole_comparison(
    qtbot: QtBot, wiring: Wiring, outlets: Outlets, tmp_path: Path, dark: bool
) -> None:
    choose(qtbot, wiring, "kestrel", "larkrise", "morrow")
    wiring.theme.set_dark(dark)
    outlets.path = tmp_path / "comparison.pdf"
    wiring.comparing._deeds[2].click()
    text, pages, (width, height) = pdf_text(outlets.path)
    plain = " ".join(text.split())
    assert width > height
    for line in wiring.comparing.lines.lines:
        assert line.head.split()[0] in plain
    assert "Polyester fillers" in plain
    assert "not yet confirmed" in plain
    assert f"{pages} / {pages}" in plain
    assert foot() in plain
    assert not list(tmp_path.glob(".comparison*"))
    # Black on white in light and dark alike.
    document = pypdfium2.PdfDocument(outlets.path)
    picture = document[0].render(scale=1).to_pil().convert("L")
    document.close()
    assert picture.getpixel((2, 2)) == 255
    assert picture.getextrema()[0] < 60
    wiring.theme.set_dark(False)


@pytest.mark.parametrize(
    ("size", "points"), [(QPageSize.PageSizeId.A4, (595, 842)), (QPageSize.PageSizeId.Letter, (612, 792))]
)
def test_a_long_table_goes_over_pages_with_its_head_repeated(
    qtbot: QtBot, tmp_path: Path, size: QPageSize.PageSizeId, points: tuple[int, int]
) -> None:
    rows = tuple(TableRow(f"<tr><td>row {number:03}</td><td>said</td></tr>") for number in range(120))
    table = PrintedTable("", "<h1>Long</h1>", "<tr><th>What</th><th>Keeper</th></tr>", rows)
    path = tmp_path / "long.pdf"
    pages = write_pdf(path, table, "foot", landscape=False, title="Long", size=QPageSize(size))
    text, found, printed = pdf_text(path)
    assert pages == found > 1
    assert text.count("Keeper") == pages
    assert all(f"row {number:03}" in text for number in range(120))
    assert tuple(round(side) for side in printed) == points


def test_a_row_higher_than_a_page_is_cut_rather_than_lost(qtbot: QtBot, tmp_path: Path) -> None:
    words = " ".join(f"word{number:04}" for number in range(3000))
    rows = (TableRow("<tr><td>short</td></tr>"), TableRow(f"<tr><td>{words}</td></tr>"))
    table = PrintedTable("", "", "<tr><th>Keeper</th></tr>", rows)
    path = tmp_path / "high.pdf"
    assert write_pdf(path, table, "foot", landscape=False, title="High") > 1
    text, _, _ = pdf_text(path)
    assert "word0000" in text
    assert "word2999" in text


@pytest.mark.parametrize(
    ("heights", "headings", "begins"),
    [
        ([30, 30, 30, 30], [False] * 4, (0, 2)),
        ([30, 20, 30, 30], [False, True, False, False], (0, 1, 3)),
        ([30], [False], (0,)),
        ([], [], (0,)),
        ([30, 120], [False] * 2, None),
    ],
)
def test_pages_are_cut_between_rows_and_headings_stay_with_theirs(
    heights: list[float], headings: list[bool], begins: tuple[int, ...] | None
) -> None:
    """First page 70 high, the others 60."""
    assert cuts(heights, headings, 70, 60) == begins


def test_a_folder_that_takes_no_file_is_said_and_nothing_is_left(
    qtbot: QtBot, wiring: Wiring, outlets: Outlets, tmp_path: Path
) -> None:
    choose(qtbot, wiring, "kestrel", "larkrise")
    outlets.path = tmp_path / "gone" / "comparison.pdf"
    wiring.comparing._deeds[2].click()
    assert wiring.window.trouble.isVisible()
    assert not outlets.path.exists()


def test_thinking_better_of_it_writes_nothing(qtbot: QtBot, wiring: Wiring, outlets: Outlets, tmp_path: Path) -> None:
    choose(qtbot, wiring, "kestrel", "larkrise")
    before = set(tmp_path.iterdir())
    for deed in wiring.comparing._deeds[1:]:
        deed.click()
    assert outlets.asked[0].endswith(".csv")
    assert outlets.asked[1].endswith(".pdf")
    assert outlets.asked[2] == "printer"
    assert set(tmp_path.iterdir()) == before


def test_products_and_needs_stand_there_when_the_window_comes_back(qtbot: QtBot, tmp_path: Path) -> None:
    with filed(tmp_path) as wiring:
        wiring.window.go_to("compare")
        choose(qtbot, wiring, "kestrel", "larkrise")
        wiring.comparing._with_needs.click()
        name_it(qtbot, wiring.comparing.needs.filler, "polyester filler")
        before = wiring.comparing.lines
        assert before.lines[0].head == NEEDS
    with window(tmp_path, PreparedReader({"keeper.pdf": KEEPER})) as wiring:
        wiring.window.go_to("compare")
        qtbot.waitUntil(lambda: wiring.comparing.lines == before)
        assert wiring.comparing.needs.isVisible()


def test_what_is_put_right_elsewhere_shows_at_once(qtbot: QtBot, wiring: Wiring) -> None:
    choose(qtbot, wiring, "kestrel", "larkrise")
    product = wiring.comparing.bar.products[0]
    wiring.desk.write(
        lambda library: library.change_product(product.id, name="Kestrel Bond 41"),
        LibraryChange(products=frozenset({product.id}), filed=True),
    )
    qtbot.waitUntil(lambda: wiring.comparing.lines.heads[0] == "Kestrel Bond 41")

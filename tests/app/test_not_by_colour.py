"""No sign is told by its colour alone: beside each shape stands its word, on the screen and for a screen reader."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractItemView, QApplication, QWidget
from pytestqt.qtbot import QtBot
from window_kit import PreparedReader, window
from window_states import fill, prepared
from words_in_sight import painted_words

from app.grouped_list import ENTRY_ROLE, Entry, Group, GroupedList
from app.theme.theme import Theme
from app.theme.verdict_shape import VerdictShape, VerdictWord


def wordless(inside: QWidget) -> Iterator[str]:
    """Shapes in sight that no word goes with."""
    for shape in inside.findChildren(VerdictShape):
        if shape.isVisible() and not shape.accessibleName():
            yield f"a shape at {shape.geometry().topLeft().toTuple()}"
    for word in inside.findChildren(VerdictWord):
        if word.isVisible() and not any(part.strip() for part in painted_words(word)):
            yield f"a shape without its word: {word.accessibleName()}"
    for view in inside.findChildren(QAbstractItemView):
        model = view.model()
        for row in range(model.rowCount()) if view.isVisible() and model is not None else ():
            index = model.index(row, 0)
            entry = index.data(ENTRY_ROLE)
            if isinstance(entry, Entry) and entry.shape:
                said = index.data(Qt.ItemDataRole.AccessibleTextRole) or ""
                if not (entry.shape_word or entry.beside) or entry.shape_word not in said:
                    yield f"an entry: {entry.words}"


def test_every_shape_has_its_word(qtbot: QtBot, tmp_path: Path) -> None:
    found: dict[str, str] = {}
    seen = 0
    with window(tmp_path, PreparedReader(prepared("full"))) as wiring:
        for name, bring_about in fill(wiring, "full", tmp_path):
            bring_about()
            QApplication.processEvents()
            seen += sum(shape.isVisible() for shape in wiring.window.findChildren(VerdictShape))
            for words in wordless(wiring.window):
                found.setdefault(words, name)
    assert found == {}
    assert seen > 20


def test_cells_of_a_comparison_say_what_their_shape_shows(qtbot: QtBot, tmp_path: Path) -> None:
    with window(tmp_path, PreparedReader(prepared("full"))) as wiring:
        for name, bring_about in fill(wiring, "full", tmp_path):
            bring_about()
            QApplication.processEvents()
            if name == "compare-needs":
                cells = [cell for line in wiring.comparing.lines.lines for cell in line.cells if cell.shape]
                by_shape = {
                    shape: {c.text.split("\n")[0] for c in cells if c.shape == shape}
                    for shape in {c.shape for c in cells}
                }
                break
    assert len(by_shape) >= 4
    # No two shapes share their first words, so that the words alone tell one from the other.
    assert sum(len(words) for words in by_shape.values()) == len(set().union(*by_shape.values()))


def test_a_shape_without_its_word_is_found(qapp: QApplication, qtbot: QtBot) -> None:
    theme = Theme(qapp, dark=False)
    page = QWidget()
    qtbot.addWidget(page)
    VerdictShape(theme, "no", "", parent=page)
    listed = GroupedList(theme, "Found", page)
    listed.show_groups([Group("Heading", (Entry("one", shape="no"), Entry("two", shape="no", shape_word="No")))])
    page.show()
    assert list(wordless(page)) == ["a shape at (0, 0)", "an entry: one"]

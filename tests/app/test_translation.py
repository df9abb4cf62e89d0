"""Every word can be translated: none is set past Qt's translation, and words a third longer still fit."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QLocale, QPoint
from PySide6.QtWidgets import (
    QAbstractScrollArea,
    QApplication,
    QCheckBox,
    QLabel,
    QListWidget,
    QPushButton,
    QToolButton,
    QWidget,
)
from pytestqt.qtbot import QtBot
from translation_kit import ROOT, SOURCES, spoken, translated
from window_kit import KEEPER, PreparedReader, window

from app.language import take_up
from app.translating import translate
from app.wiring import Wiring

SHOWN = {
    "setText", "setPlaceholderText", "setToolTip", "setAccessibleName", "setAccessibleDescription", "setWindowTitle",
    "addItem", "addAction", "addMenu", "setTitle", "setStatusTip", "say", "refuse", "QLabel", "QPushButton",
    "QCheckBox", "QRadioButton", "QAction", "QGroupBox", "QMenu", "QToolButton", "EmptyPlace", "FigureField",
    "FigureLine", "GroupedList", "QListWidgetItem",
}  # fmt: skip
"""Calls whose first words stand on the screen."""
NAMES = re.compile(r"Tinsheet|((Ctrl|Shift|Alt)\+)+\w+")
"""What is the same in every language."""


def called(node: ast.Call) -> str:
    function = node.func
    return function.attr if isinstance(function, ast.Attribute) else getattr(function, "id", "")


def bare_words(node: ast.AST) -> Iterator[str]:
    """English in an expression that goes through no translation."""
    if isinstance(node, ast.Call):
        if called(node) == "format" and isinstance(node.func, ast.Attribute):
            yield from bare_words(node.func.value)
        return
    if isinstance(node, ast.Constant):
        if isinstance(node.value, str) and re.search(r"[A-Za-z]{2}", node.value):
            yield node.value
        return
    if isinstance(node, (ast.JoinedStr, ast.IfExp, ast.BinOp, ast.BoolOp)):
        inner = node.test if isinstance(node, ast.IfExp) else None
        for child in ast.iter_child_nodes(node):
            if child is not inner:
                yield from bare_words(child)


def literals(call: ast.Call) -> list[str]:
    """The message of a call, where it stands in it: translate's second argument, tr's first."""
    messages = call.args[1:2] if called(call) == "translate" else call.args[:1]
    return [arg.value for arg in messages if isinstance(arg, ast.Constant) and isinstance(arg.value, str)]


def untranslated(source: str) -> list[tuple[int, str]]:
    found = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.JoinedStr):
            # lupdate reads no further than the quotes: words translated within them are never offered to be.
            inside = [
                call for call in ast.walk(node) if isinstance(call, ast.Call) and called(call) in {"tr", "translate"}
            ]
            found += [(node.lineno, words) for call in inside for words in literals(call)]
        if isinstance(node, ast.Call) and called(node) in SHOWN and node.args:
            found += [(node.lineno, words) for words in bare_words(node.args[0]) if not NAMES.fullmatch(words)]
        if isinstance(node, ast.ClassDef) and any(getattr(base, "id", "") == "Place" for base in node.bases):
            for statement in node.body:
                if isinstance(statement, ast.Assign) and getattr(statement.targets[0], "id", "") == "title":
                    found += [(statement.lineno, words) for words in bare_words(statement.value)]
    return found


@pytest.mark.parametrize("path", SOURCES, ids=lambda p: str(p.relative_to(ROOT)))
def test_no_word_is_set_past_the_translation(path: Path) -> None:
    assert untranslated(path.read_text(encoding="utf-8")) == []


def test_the_walk_finds_what_it_is_for() -> None:
    assert untranslated('label.setText("Two words")') == [(1, "Two words")]
    assert untranslated('QLabel(f"{count} wait", self)') == [(1, " wait")]
    assert untranslated('button.setToolTip(self.tr("a") if x == "yy" else "past it")') == [(1, "past it")]
    assert untranslated("words = f\"{tr('within quotes')} here\"") == [(1, "within quotes")]
    assert untranslated('class Here(Place):\n    title = "Here"') == [(2, "Here")]
    assert untranslated('label.setText(self.tr("{n} wait").format(n=3))\nkey.setText("Ctrl+T")') == []


def longer(words: str) -> str:
    """A third longer, as German is, with the places for figures and the menu's letter kept."""
    if not re.search(r"[A-Za-z]{2}", words):
        return words
    # Endings of real length on real words, so that a line breaks where a language would let it.
    parts = re.split(r"(\{[^}]*\}|\s+|\([^)]*\*[^)]*\))", words)
    return "".join(_stretched(part) if re.search(r"[A-Za-z]{3}", part) and part[0] not in "{(" else part
                   for part in parts)  # fmt: skip


def _stretched(word: str) -> str:
    ending = "enschaft"[: max(1, round(len(word) * 0.38))]
    tail = re.search(r"\W*$", word)
    cut = tail.start() if tail else len(word)
    return word[:cut] + ending + word[cut:]


@pytest.fixture(scope="module")
def pseudo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a whole translation into words a third longer."""
    return translated(tmp_path_factory.mktemp("translations"), longer)


@pytest.fixture
def in_longer_words(qapp: QApplication, pseudo: Path) -> Iterator[None]:
    with spoken(qapp, pseudo):
        yield


def test_without_a_translation_nothing_is_taken_up(qapp: QApplication, tmp_path: Path) -> None:
    assert not take_up(qapp, QLocale("fr_FR"), tmp_path)
    assert translate("wording", "Preparation") == "Preparation"


def test_all_words_of_a_place_come_from_the_translation(in_longer_words: None, qtbot: QtBot, tmp_path: Path) -> None:
    with window(tmp_path, PreparedReader({})) as wiring:
        titles = [place.title for place in wiring.window.places]
        assert titles == [longer(type(place).title) for place in wiring.window.places]
        assert translate("wording", "Preparation") == longer("Preparation") != "Preparation"


def clipped(inside: QWidget) -> Iterator[str]:
    """Buttons and labels in sight that are smaller than their words, or stick out at the side."""
    for widget in inside.findChildren(QWidget):
        if not widget.isVisible() or not isinstance(widget, (QLabel, QPushButton, QCheckBox, QToolButton)):
            continue
        words = widget.text()
        if not words.strip():
            continue
        if isinstance(widget, QLabel) and widget.wordWrap():
            needed = widget.heightForWidth(widget.width())
            if widget.height() + 2 < needed:
                yield f"{words[:50]!r} is {widget.height()} high, {needed} needed"
        elif widget.width() + 2 < widget.minimumSizeHint().width():
            yield f"{words[:50]!r} is {widget.width()} wide, {widget.minimumSizeHint().width()} needed"
        frame = frame_of(widget)
        left = widget.mapTo(frame, QPoint(0, 0)).x()
        if left < -1 or left + widget.width() > frame.width() + 1:
            yield f"{words[:50]!r} reaches from {left} to {left + widget.width()} of {frame.width()}"


def frame_of(widget: QWidget) -> QWidget:
    """What it is seen through: the nearest scrolling area, or the window."""
    parent = widget.parentWidget()
    while parent is not None and not parent.isWindow():
        above = parent.parentWidget()
        if isinstance(above, QAbstractScrollArea) and above.viewport() is parent:
            return parent
        parent = above
    return widget.window()


def test_words_that_do_not_fit_are_found(qtbot: QtBot) -> None:
    outer = QWidget()
    qtbot.addWidget(outer)
    outer.resize(200, 100)
    button = QPushButton("Words that are far too long for it", outer)
    button.setFixedWidth(60)
    lines = QLabel("Words that take more than one line of so narrow a label", outer)
    lines.setWordWrap(True)
    lines.setGeometry(0, 40, 80, 18)
    beside = QLabel("beside", outer)
    beside.setGeometry(190, 60, beside.sizeHint().width(), 18)
    outer.show()
    assert [words.split("'")[1] for words in clipped(outer)] == [button.text(), lines.text()[:50], "beside"]


def settled(wiring: Wiring) -> None:
    for _ in range(3):
        QApplication.processEvents()
    wiring.window.repaint()


@pytest.mark.parametrize("size", [(1280, 800), (1024, 700)], ids=str)
@pytest.mark.parametrize("full", [False, True], ids=["empty", "full"])
def test_words_a_third_longer_are_not_clipped(
    in_longer_words: None, qtbot: QtBot, tmp_path: Path, size: tuple[int, int], full: bool
) -> None:
    (tmp_path / "keeper.pdf").write_bytes(b"keeper")
    with window(tmp_path, PreparedReader({"keeper.pdf": KEEPER})) as wiring:
        wiring.window.resize(*size)
        if full:
            wiring.filing.add([tmp_path / "keeper.pdf"])
            wiring.desk.read(
                lambda library: [library.confirm([c.id for c in library.claims(s.id)[:3]]) for s in library.sheets()],
                lambda _: None,
            )
            wiring.mixing.product.write("Kestrel Bond 40")
        found = []
        for place in wiring.window.places:
            wiring.window.go_to(place.name)
            settled(wiring)
            found += [f"{place.name}: {words}" for words in clipped(place)]
        side = wiring.window.findChildren(QListWidget)
        places = next(one for one in side if one.accessibleName() == translate("MainWindow", "Places"))
        if places.sizeHintForColumn(0) > places.viewport().width():
            found.append(f"places: {places.sizeHintForColumn(0)} of {places.viewport().width()}")
        assert found == []

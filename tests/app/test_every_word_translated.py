"""Every word that a person sees goes through translation, in every place, in every state, and on paper.

The program is given a translation into another alphabet; whatever stays in ours came past it. What may stay: what the
person typed and filed, units and keys, and the formulas and sources of sums, which stand as they were published.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from datetime import date, datetime
from pathlib import Path

import pypdfium2 as pdfium
import pytest
from other_alphabet import Owned, marked, owned, strange_words
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QApplication, QLabel, QWidget
from pytestqt.qtbot import QtBot
from translation_kit import spoken
from window_kit import PreparedReader, window
from window_states import fill, prepared
from words_in_sight import painted_words, said_words

from app.demo import demo_folder
from app.figure_words import counted_words
from app.translating import translate
from app.typed_moments import day_text, moment_text, read_day, read_moment
from app.wording import kind_labels
from store.rules.names import KindName, resolve


class KeptHere:
    """Answers for the system's dialogs: everything goes into one folder, nothing to a printer."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        folder.mkdir()

    def file(self, parent: QWidget, name: str, kind: str) -> Path | None:
        return self.folder / f"{len(list(self.folder.iterdir()))}.{kind}"

    def printer(self, parent: QWidget, printer: QPrinter) -> QPrinter | None:
        return None


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo library, made anew: the program's language does not go into it."""
    return demo_folder(beside=tmp_path_factory.mktemp("demo"))


@pytest.mark.parametrize("state", ["empty", "full", "long", "demo"])
def test_every_word_on_the_screen_is_translated(
    request: pytest.FixtureRequest, qapp: QApplication, other_alphabet: Path, tmp_path: Path, state: str
) -> None:
    if state == "demo":
        shutil.copytree(request.getfixturevalue("demo"), tmp_path / "library")
    with spoken(qapp, other_alphabet):
        strange = strange_in(state, tmp_path)
    assert "\n".join(f"{name}: {words}" for words, name in strange.items()) == ""


def strange_in(state: str, folder: Path) -> dict[str, str]:
    """Untranslated words with the first picture that they stood in."""
    strange: dict[str, str] = {}
    with window(folder, PreparedReader(prepared(state))) as wiring:
        for name, bring_about in fill(wiring, state, folder):
            bring_about()
            QApplication.processEvents()
            for words in strange_words(wiring, folder):
                strange.setdefault(words, name)
    return strange


def test_every_printed_word_is_translated(spoken_otherwise: None, qtbot: QtBot, tmp_path: Path) -> None:
    outlets = KeptHere(tmp_path / "kept")
    strange: dict[str, str] = {}
    with window(tmp_path, PreparedReader(prepared("full")), outlets=outlets) as wiring:
        keep = {
            "compare-needs": wiring.comparing.save_pdf,
            "build-up-time-line": wiring.build_up.time_line.save_pdf,
            "build-up-card": wiring.build_up.card.save_pdf,
            "panels-0": lambda: wiring.panels.page.print_wanted.emit("pdf"),
        }
        for name, bring_about in fill(wiring, "full", tmp_path):
            bring_about()
            QApplication.processEvents()
            if name not in keep:
                continue
            before = set(outlets.folder.iterdir())
            keep[name]()
            (kept,) = set(outlets.folder.iterdir()) - before
            own = owned(wiring, tmp_path)
            for line in printed_lines(kept):
                if words := own.strange(line, in_pieces=True):
                    strange.setdefault(words, name)
    assert "\n".join(f"{name}: {words}" for words, name in strange.items()) == ""


def printed_lines(path: Path) -> Iterator[str]:
    document = pdfium.PdfDocument(path)
    for page in document:
        yield from page.get_textpage().get_text_range().splitlines()
    document.close()


def test_words_that_came_past_translation_are_found(spoken_otherwise: None, qtbot: QtBot) -> None:
    own = Owned(["Kestrel Bond 40", "Apply over clean bare steel."])
    assert own.strange("Kestrel Bond 40 over басд туддл") == "over"
    assert own.strange("“Apply over clean bare steel.”, Kestrel Bond 40, 4 : 1, 30 min, Ctrl+T") == ""
    assert own.strange("over clean bare", in_pieces=True) == ""
    assert own.strange("over clean zinc", in_pieces=True) == "over clean zinc"
    label = QLabel("Two words")
    qtbot.addWidget(label)
    label.show()
    assert list(painted_words(label)) == ["Two words"]
    assert "Two words" in list(said_words(label))
    label.setText(translate("wording", "Preparation"))
    assert [own.strange(words) for words in painted_words(label)] == [""]


def test_days_and_kinds_are_understood_in_both_languages(spoken_otherwise: None) -> None:
    day = date(2026, 3, 30)
    assert day_text(day) == f"30 {marked('Mar')} 2026"
    for typed in (day_text(day), "30 Mar 2026", "30 march 2026", "30.3.2026"):
        assert read_day(typed, date(2026, 1, 1)) == day
    now = datetime(2026, 4, 1, 12, 0).astimezone()
    for typed in (moment_text(now), "Wed 12:00", f"{marked('today')} 12:00", "1 Apr 2026, 12:00"):
        assert read_moment(typed, now) == now
    for typed in (marked("bare steel"), "bare steel", "mild steel"):
        assert resolve(typed, (), kind_labels()) == KindName("surface.steel")


def test_counted_words_have_their_form(spoken_otherwise: None) -> None:
    assert counted_words(1, "day") == f"1 {marked('day')}"
    assert counted_words(3, "day") == f"3 {marked('days')}"

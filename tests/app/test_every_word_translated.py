"""Every word that a person sees goes through translation, in every place, in every state, and on paper.

The program is given a translation into another alphabet; whatever stays in ours came past it. What may stay: what the
person typed and filed, units and keys, and the formulas and sources of sums, which stand as they were published.
"""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterable, Iterator
from datetime import date, datetime
from pathlib import Path

import pypdfium2 as pdfium
import pytest
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QApplication, QLabel, QLineEdit, QWidget
from pytestqt.qtbot import QtBot
from translation_kit import spoken, translated
from window_kit import PreparedReader, window
from window_states import fill, prepared
from words_in_sight import painted_words, said_words

from app.figure_words import counted_words, true_minus
from app.naming.offers import OffersPopup
from app.translating import translate
from app.typed_moments import day_text, moment_text, read_day, read_moment
from app.wiring import Wiring
from app.wording import kind_labels
from store.library import Library
from store.rules.names import KindName, resolve

_LETTERS = {chr(ord("a") + at): chr(ord("а") + at) for at in range(26)}
_LETTERS |= {latin.upper(): other.upper() for latin, other in _LETTERS.items()}
_KEPT = re.compile(r"(\{[^}]*\}|<[^>]*>|&\w+;|%n|(?:Ctrl|Shift|Alt)\+\w+)")
"""Places for figures, tags and keys, which a translator keeps too."""

_SAME_EVERYWHERE = re.compile(
    r"\b(?:(?:Ctrl|Shift|Alt)\+[\w↑↓]*|Tinsheet|PDF|CSV|P\d+|[12]K|"
    r"min|ml|kg/l|kg|mm|mil|US|gal|fl|oz|ft|lb|yd|psi|bar|DIN|ISO|Ford|Zahn|AFNOR|CAMI|FEPA|HVLP)(?![A-Za-z])"
)
"""Units, keys, names of standards: written so in every language with this alphabet."""


def marked(words: str) -> str:
    """In the other alphabet."""
    parts = _KEPT.split(words)
    return "".join(part if at % 2 else "".join(_LETTERS.get(c, c) for c in part) for at, part in enumerate(parts))


class Owned:
    """The person's own words: what is in the library and what was typed."""

    def __init__(self, texts: Iterable[str]) -> None:
        whole = {" ".join(text.split()) for text in texts}
        self._whole = sorted((text for text in whole if len(text) > 1), key=len, reverse=True)
        self._all = "\n".join(self._whole)

    def strange(self, words: str, *, in_pieces: bool = False) -> str:
        """What of the words is nobody's and still in our alphabet; in_pieces where a line may break anywhere."""
        left = " ".join(words.split())
        for text in self._whole:
            left = left.replace(text, "·")
        left = _SAME_EVERYWHERE.sub("·", left)
        strange = re.findall(r"[A-Za-z][A-Za-z' ,.]*[A-Za-z]", left)
        if in_pieces:
            strange = [part for part in strange if not self._holds_piece(words, part)]
        return " | ".join(strange)

    def _holds_piece(self, words: str, part: str) -> bool:
        piece = " ".join(words.split()).strip("“”… ·(),.:;")
        return piece in self._all or (part in self._all and len(part) > 5)


def texts_of(value: object) -> Iterator[str]:
    """Every text in a record, however deep."""
    if isinstance(value, str):
        yield value
    elif dataclasses.is_dataclass(value):
        for field in dataclasses.fields(value):
            yield from texts_of(getattr(value, field.name))
    elif isinstance(value, (tuple, list, frozenset)):
        for part in value:
            yield from texts_of(part)


def own_words(library: Library) -> list[str]:
    records: list[object] = [library.products(), library.tins(), library.panels(), library.own_rules()]
    records += [library.questions()]
    for product in library.products():
        records.append(library.notes(product.id))
    found = list(texts_of(tuple(records)))
    for sheet in library.sheets():
        found += [sheet.file_name, *texts_of(tuple(claim.claim.evidence.quote for claim in library.claims(sheet.id)))]
        found += [claim.claim.text or "" for claim in library.claims(sheet.id)]
        found += [" ".join(word.text for word in page.words) for page in library.page_texts(sheet.id)]
    return found


SOUGHT = "steel"
"""What the states type into Find."""


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
def other_alphabet(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return translated(tmp_path_factory.mktemp("translations"), marked)


@pytest.fixture
def spoken_otherwise(qapp: QApplication, other_alphabet: Path) -> Iterator[None]:
    with spoken(qapp, other_alphabet):
        yield


def owned(wiring: Wiring, folder: Path) -> Owned:
    words: list[str] = []
    wiring.desk.read(own_words, words.extend)
    words += [str(path) for path in folder.glob("*.pdf")] + [path.name for path in folder.glob("*.pdf")]
    # Sums are shown with what is published; the reader's own words for a damaged file are for its maker.
    for worked in wiring.sums.card.worked:
        for published in (worked.result.formula, worked.result.source, worked.result.valid_for):
            words += [published, true_minus(published)]
    wiring.desk.read(lambda library: library.search(SOUGHT), lambda hits: words.extend(texts_of(hits)))
    for offers in wiring.window.findChildren(OffersPopup):
        words += [offer.other_name for offer in offers.offers]
    typed = [line.text() for line in wiring.window.findChildren(QLineEdit) if line.isModified()]
    return Owned([*words, *typed, "no cross-reference table"])


def strange_words(wiring: Wiring, folder: Path) -> list[str]:
    own = owned(wiring, folder)
    found = [own.strange(words, in_pieces=True) for words in painted_words(wiring.window)]
    found += [own.strange(words) for words in said_words(wiring.window) if words != SOUGHT]
    return [words for words in found if words]


@pytest.mark.parametrize("state", ["empty", "full"])
def test_every_word_on_the_screen_is_translated(
    spoken_otherwise: None, qtbot: QtBot, tmp_path: Path, state: str
) -> None:
    strange: dict[str, str] = {}
    with window(tmp_path, PreparedReader(prepared(state))) as wiring:
        for name, bring_about in fill(wiring, state, tmp_path):
            bring_about()
            QApplication.processEvents()
            for words in strange_words(wiring, tmp_path):
                strange.setdefault(words, name)
    assert "\n".join(f"{name}: {words}" for words, name in strange.items()) == ""


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

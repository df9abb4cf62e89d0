"""A field in which a product or a kind is named: a few letters, arrows, Enter.

Enter and Tab take a name that is written out in full, or the offer that the arrows went to; never the likeliest guess.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QFocusEvent, QHideEvent, QKeyEvent, QMoveEvent
from PySide6.QtWidgets import QLabel, QLineEdit, QSizePolicy, QVBoxLayout, QWidget

from app.naming.book import NameBook
from app.naming.offers import OffersPopup
from app.theme.theme import GRID, set_look
from app.translating import translate
from store.records import ProductRecord

if TYPE_CHECKING:
    from store.rules.names import KindName, Suggestion, Unknown

    Meaning = ProductRecord | KindName


_NEAREST = 3


class NameLine(QLineEdit):
    """The line itself, with its offers.

    Signals: offer_taken(Suggestion); entered() by Enter with no offer marked; offers_wanted() by an arrow with none
    shown; left().
    """

    offer_taken = Signal(object)
    entered = Signal()
    offers_wanted = Signal()
    left = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.offers = OffersPopup(self)
        self.offers.offer_taken.connect(self.offer_taken)
        # The list lies in the window, so it does not go with this line by itself.
        self.destroyed.connect(self.offers.deleteLater)
        set_look(self, "lead")

    def event(self, event: QEvent) -> bool:
        # Tab is taken here, before it moves the keyboard on.
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress and event.key() == Qt.Key.Key_Tab:
            current = self.offers.current
            if current is not None:
                self.offer_taken.emit(current)
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = event.key()
        if key in (Qt.Key.Key_Down, Qt.Key.Key_Up) and self.offers.isVisible():
            self.offers.step(1 if key == Qt.Key.Key_Down else -1)
        elif key == Qt.Key.Key_Down:
            self.offers_wanted.emit()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            current = self.offers.current
            if current is not None:
                self.offer_taken.emit(current)
            else:
                self.entered.emit()
        elif key == Qt.Key.Key_Escape and self.offers.isVisible():
            self.offers.hide()
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.offers.hide()
        if event.reason() != Qt.FocusReason.ActiveWindowFocusReason:
            self.left.emit()

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self.offers.hide()

    def moveEvent(self, event: QMoveEvent) -> None:
        super().moveEvent(event)
        self.offers.hide()


class NameField(QWidget):
    """Names one thing. `meaning` is what the text stands for, None while that is open.

    Signals: meaning_changed(ProductRecord, KindName or None); refused() once the name is known to be none.
    """

    meaning_changed = Signal(object)
    refused = Signal()

    def __init__(
        self, book: NameBook, name: str, *, hint: str = "", kinds_too: bool = True, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._book = book
        self._kinds_too = kinds_too
        self._meaning: Meaning | None = None
        self._asked = 0
        self.line = NameLine(self)
        self.line.setAccessibleName(name)
        self.line.setPlaceholderText(hint)
        self.line.setClearButtonEnabled(True)
        self._nearest: tuple[str, ...] = ()
        self._trouble_words = ""
        self._trouble = QLabel(self)
        self._trouble.setWordWrap(True)
        self._trouble.setTextFormat(Qt.TextFormat.RichText)
        self._trouble.setTextInteractionFlags(
            Qt.TextInteractionFlag.LinksAccessibleByMouse | Qt.TextInteractionFlag.LinksAccessibleByKeyboard
        )
        self._trouble.setAccessibleName(self.tr("What is wrong with the name"))
        self._trouble.linkActivated.connect(lambda link: self.write(self._nearest[int(link)]))
        set_look(self._trouble, "quiet")
        self._trouble.hide()
        self.setFocusProxy(self.line)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        self.setMinimumWidth(18 * GRID)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID // 2)
        column.addWidget(self.line)
        column.addWidget(self._trouble)
        self.line.textEdited.connect(self._on_text_edited)
        self.line.offer_taken.connect(self._on_offer_taken)
        self.line.entered.connect(self._on_entered)
        self.line.offers_wanted.connect(self._on_offers_wanted)
        self.line.left.connect(self._on_left)

    @property
    def meaning(self) -> Meaning | None:
        return self._meaning

    @property
    def text(self) -> str:
        return self.line.text()

    @property
    def trouble(self) -> str:
        """What is said under the field where the name is not known."""
        return self._trouble_words

    def set_meaning(self, meaning: Meaning | None) -> None:
        """Show this and mean it; says nothing to anybody."""
        self._asked += 1
        self._meaning = meaning
        self.line.setText(self._book.text_of(meaning) if meaning is not None else "")
        self.line.setCursorPosition(0)
        self.line.setToolTip(self.line.text())
        self._say("")
        self.line.offers.hide()

    def write(self, text: str) -> None:
        """Write a name kept from before, and find out what it means now."""
        self.line.setText(text)
        self.line.setCursorPosition(0)
        self._meaning = None
        self._say("")
        if text.strip():
            self._find_out(text)

    # --- inside

    def _on_text_edited(self, text: str) -> None:
        self._say("")
        if self._meaning is not None:
            self._meaning = None
            self.meaning_changed.emit(None)
        self._asked += 1
        if text.strip():
            self._complete(text, moved=False)
        else:
            self.line.offers.hide()

    def _on_offers_wanted(self) -> None:
        if self._meaning is None and self.line.text().strip():
            self._asked += 1
            self._complete(self.line.text(), moved=True)

    def _complete(self, text: str, *, moved: bool) -> None:
        """Offer what may be meant; moved is for an arrow that brought the list up and so went to its first row."""
        asked = self._asked
        self._book.complete(text, lambda offers: self._on_completed(asked, offers, moved), kinds_too=self._kinds_too)

    def _on_completed(self, asked: int, offers: Sequence[Suggestion], moved: bool) -> None:
        if asked != self._asked:
            return
        typed = _plain(self.line.text())
        whole = [row for row, offer in enumerate(offers) if typed in (_plain(offer.text), _plain(offer.other_name))]
        # Two products of one name: the user says which.
        marked = whole[0] if len(whole) == 1 else 0 if moved else None
        if self.line.hasFocus() or self.line.isVisible():
            self.line.offers.show_offers(offers, marked)

    def _on_offer_taken(self, offer: Suggestion) -> None:
        self._take(offer.meaning)

    def _on_entered(self) -> None:
        if self._meaning is not None:
            self.meaning_changed.emit(self._meaning)
        elif self.line.text().strip():
            self._find_out(self.line.text())

    def _on_left(self) -> None:
        if self._meaning is None and self.line.text().strip():
            self._find_out(self.line.text())

    def _find_out(self, text: str) -> None:
        self._asked += 1
        asked = self._asked
        self.line.offers.hide()
        self._book.resolve(text, lambda meaning: self._on_resolved(asked, meaning), kinds_too=self._kinds_too)

    def _on_resolved(self, asked: int, meaning: ProductRecord | KindName | Unknown) -> None:
        if asked != self._asked:
            return
        nearest = getattr(meaning, "nearest", None)
        if nearest is not None:
            several = getattr(meaning, "several", False)
            words = self.tr("Several are called “{text}”.") if several else self.tr("Nothing here is called “{text}”.")
            self._say(words.format(text=self.line.text().strip()), nearest)
        elif not self._kinds_too and not isinstance(meaning, ProductRecord):
            self._say(self.tr("“{text}” is a kind; name a product.").format(text=self.line.text().strip()))
        else:
            self._take(meaning)  # type: ignore[arg-type]

    def _take(self, meaning: Meaning) -> None:
        self.set_meaning(meaning)
        self.meaning_changed.emit(meaning)

    def _say(self, words: str, nearest: Sequence[str] = ()) -> None:
        """Say what is wrong; nearest are names that may have been meant, each to be taken by a click or Enter."""
        self._nearest = tuple(nearest[:_NEAREST])
        asking = self.tr(" Do you mean {names}? Arrow down shows what there is.")
        near = asking.format(names=_or(f"“{name}”" for name in self._nearest))
        self._trouble_words = words + (near if self._nearest else "")
        links = _or(f'“<a href="{at}">{escape(name)}</a>”' for at, name in enumerate(self._nearest))
        shown = asking.format(names=links) if self._nearest else ""
        self._trouble.setText(escape(words) + shown)
        self._trouble.setVisible(bool(words))
        if words:
            self.refused.emit()


def _plain(name: str) -> str:
    """A name without capitals and spaces, as Enter compares it."""
    return "".join(name.casefold().split())


def _or(names: Iterable[str]) -> str:
    return translate("naming", " or ").join(names)

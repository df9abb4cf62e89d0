"""The place with one search box over everything in the library."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLabel, QLineEdit, QVBoxLayout, QWidget

from app.empty_place import EmptyPlace
from app.finding.groups import groups_of
from app.front_stack import FrontStack
from app.grouped_list import Entry, GroupedList
from app.jobs import LibraryChange, LibraryDesk
from app.naming.book import NameBook
from app.place import Place
from app.settings import Settings
from app.theme.text_size import limit_width
from app.theme.theme import GRID, Theme, set_look
from app.translating import QT_TRANSLATE_NOOP
from store.records import Hit, HitKind

MOST = 60
"""Hits asked for at once."""
_WORDS = "find/words"


class SearchLine(QLineEdit):
    """The search box: Down and Enter go on into the hits."""

    def __init__(self, hits: GroupedList, parent: QWidget) -> None:
        super().__init__(parent)
        self._hits = hits

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Down, Qt.Key.Key_Return, Qt.Key.Key_Enter) and self._hits.entries:
            self._hits.setFocus(Qt.FocusReason.OtherFocusReason)
            self._hits.choose_first()
            if event.key() != Qt.Key.Key_Down:
                self._hits.open_current()
            return
        super().keyPressEvent(event)


class FindingPlace(Place):
    """Looks as one types; of several searches under way only the last one's hits are shown."""

    name = "find"
    title = QT_TRANSLATE_NOOP("places", "Find")
    icon_name = "find"

    def __init__(
        self, desk: LibraryDesk, book: NameBook, theme: Theme, settings: Settings, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._desk = desk
        self._book = book
        self._settings = settings
        self._looking = False
        head = QLabel(self.tr("Find"), self)
        set_look(head, "large")
        self.hits = GroupedList(theme, self.tr("What was found"), self)
        self.line = SearchLine(self.hits, self)
        self.line.setAccessibleName(self.tr("Find in products, makers, statements, sheets and notes"))
        self.line.setPlaceholderText(self.tr("a product, a maker, any words of a sheet or of your notes"))
        self.line.setClearButtonEnabled(True)
        limit_width(self.line, 90 * GRID)
        set_look(self.line, "lead")
        self._empty = EmptyPlace("", "", self)
        self._empty.wanted.connect(self._on_empty_wanted)
        self._stack = FrontStack(self)
        self._stack.addWidget(self._empty)
        self._stack.addWidget(self.hits)
        column = QVBoxLayout(self)
        column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        column.setSpacing(2 * GRID)
        column.addWidget(head)
        column.addWidget(self.line)
        column.addWidget(self._stack, 1)
        self.line.textChanged.connect(self._on_text_changed)
        self.hits.entry_opened.connect(self._on_entry_opened)
        book.names_changed.connect(self._say_nothing_yet)
        desk.library_changed.connect(self._on_library_changed)
        # Words kept from last time are looked for once there is a library to look in.
        desk.library_opened.connect(self._look_if_free)
        self._say_nothing_yet()
        self.line.setText(settings.text(_WORDS))

    @property
    def empty(self) -> EmptyPlace:
        return self._empty

    def activated(self) -> None:
        self.line.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.line.selectAll()

    def come_with(self, payload: object) -> None:
        """payload: words to look for."""
        if isinstance(payload, str):
            self.line.setText(payload)

    def keep(self) -> None:
        self._settings.set_text(_WORDS, self.line.text())

    # --- inside

    def _on_text_changed(self, _: str) -> None:
        if not self.line.text().strip():
            self.hits.show_groups(())
            self._say_nothing_yet()
            return
        self._look_if_free()

    def _look_if_free(self) -> None:
        if self.line.text().strip() and self._desk.ready and not self._looking:
            self._look()

    def _look(self) -> None:
        """One search at a time: what is typed meanwhile is looked for when it comes back."""
        words = self.line.text().strip()
        self._looking = True
        self._desk.read(
            lambda library: library.search(words, MOST), lambda hits: self._on_found(words, hits), self._on_failed
        )

    def _on_found(self, words: str, hits: Sequence[Hit]) -> None:
        self._looking = False
        now = self.line.text().strip()
        if words != now:
            if now:
                self._look()
            return
        self.hits.show_groups(groups_of(hits))
        if hits:
            self._stack.setCurrentWidget(self.hits)
        else:
            self._empty.say(self.tr("Nothing in the library holds “{words}”.").format(words=words))
            self._stack.setCurrentWidget(self._empty)

    def _on_failed(self, error: BaseException) -> None:
        self._looking = False
        self._desk.trouble_came.emit(error)

    def _say_nothing_yet(self) -> None:
        if self.line.text().strip():
            return
        if self._book.products:
            self._empty.say(self.tr("Type a word: products, makers, statements, the sheets' own words, your notes."))
        else:
            self._empty.say(
                self.tr("Everything that you file can be found here. File your first sheet to begin."),
                self.tr("File sheets …"),
            )
        self._stack.setCurrentWidget(self._empty)

    def _on_empty_wanted(self) -> None:
        self.place_wanted.emit("sheets", None)

    def _on_library_changed(self, _: LibraryChange) -> None:
        self._look_if_free()

    def _on_entry_opened(self, entry: Entry) -> None:
        hit = entry.payload
        if not isinstance(hit, Hit):
            return
        if hit.kind in (HitKind.CLAIM, HitKind.PAGE) and hit.sheet_id is not None and hit.page is not None:
            self.evidence_opened.emit(hit.sheet_id, hit.page, hit.boxes)
        elif hit.kind is HitKind.MAKER:
            self.place_wanted.emit("products", hit.title)
        elif hit.product_id is not None:
            self.place_wanted.emit("products", hit.product_id)

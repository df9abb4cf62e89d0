"""The place of the panels in work: what falls due, each panel's page, and the forms in which its log is kept."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import (
    QLabel,
    QPushButton,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from app.due_list.view import DueList
from app.empty_place import EmptyPlace
from app.flow import FlowLayout
from app.front_stack import FrontStack
from app.grouped_list import Entry, GroupedList
from app.job_undo import JobUndo
from app.jobs import LibraryChange, LibraryDesk, Soon
from app.naming.book import NameBook
from app.now import Now
from app.panels.coat_form import CoatForm
from app.panels.deeds import LogRecord, PanelDeeds
from app.panels.entry_form import EntryForm
from app.panels.held import Held, hold
from app.panels.panel_form import PanelForm
from app.panels.panel_list import DUE, groups_of
from app.panels.panel_page import PanelPage
from app.panels.paper import put_out
from app.panels.photos import PhotoChooser, choose_photos
from app.panels.seen import Seen, see, waited_for
from app.panels.warmth_form import WarmthForm
from app.place import Place
from app.printing.outlets import Outlets
from app.sentences import Sentence
from app.settings import Settings
from app.shop_warmth import ShopWarmth
from app.theme.text_size import scaled
from app.theme.theme import GRID, Theme, set_look
from app.translating import QT_TRANSLATE_NOOP
from store.job_records import (
    CoatRecord,
    PanelRecord,
)
from store.planning.plans import build_up_of

if TYPE_CHECKING:
    from store.library import Library

_LAST = "panels/last"
_TICK = 20_000
_NARROW = 86 * GRID


class PanelsPlace(Place):
    """Comes with a panel's id, or with 'due'."""

    name = "panels"
    title = QT_TRANSLATE_NOOP("places", "Panels")
    icon_name = "panels"

    def __init__(
        self,
        desk: LibraryDesk,
        book: NameBook,
        outlets: Outlets,
        warmth: ShopWarmth,
        theme: Theme,
        settings: Settings,
        now: Now,
        photo_chooser: PhotoChooser = choose_photos,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._desk, self._outlets, self._warmth, self._settings, self._now = desk, outlets, warmth, settings, now
        self._seen: Seen | None = None
        last = settings.text(_LAST)
        self._wanted: int | None = int(last) if last.isdigit() else None
        self._asked = 0
        self._browsing = True
        self._again = Soon(self.look, parent=self)
        self.undo = JobUndo(desk, self)
        self._deeds = PanelDeeds(desk, now, self)
        self.new_button = QPushButton(self.tr("New panel"), self)
        self.all_button = QPushButton(self.tr("All panels"), self)
        self.warmth_form = WarmthForm(warmth, settings, self)
        self.list = GroupedList(theme, self.tr("Panels"), self)
        self.list.setMinimumWidth(28 * GRID)
        self.due_list = DueList(theme, self)
        self.page = PanelPage(theme, self)
        self.form = PanelForm(book, self)
        self.coat_form = CoatForm(book, theme, now, photo_chooser, self)
        self.entry_form = EntryForm(now, self)
        self.pages = FrontStack(self)
        for page in (self.due_list, self.page, self.form, self.coat_form, self.entry_form):
            self.pages.addWidget(page)
        self.empty = EmptyPlace(
            self.tr(
                "A panel is a door, a wing or a whole shell. Plan its build-up, log each coat, and its clocks run here."
            ),
            self.tr("Add the first panel"),
            self,
        )
        self._split = QSplitter(Qt.Orientation.Horizontal, self)
        self._split.setChildrenCollapsible(False)
        self._split.setHandleWidth(2 * GRID)
        self._split.addWidget(self.list)
        self._split.addWidget(self.pages)
        self._split.setStretchFactor(1, 1)
        self._split.setSizes([34 * GRID, 90 * GRID])
        settings.restore_splitter("panels", self._split)
        self._stack = FrontStack(self)
        self._stack.addWidget(self.empty)
        self._stack.addWidget(self._split)
        self._lay_out()
        self._connect()
        self._timer = QTimer(self)
        self._timer.setInterval(_TICK)
        self._timer.timeout.connect(self.tick)
        self._timer.start()
        if desk.ready:
            self.look()

    @property
    def seen(self) -> Seen | None:
        """What is shown."""
        return self._seen

    def look(self) -> None:
        """Look at the library again."""
        self._work(None)

    def tick(self) -> None:
        """Time has gone on: reckon again from what was read."""
        if self._seen is not None and self.isVisible():
            self._work(self._seen.held)

    def show_panel(self, panel_id: int) -> None:
        if self._held_by_form():
            return
        self._wanted = panel_id
        self._browsing = False
        self.pages.setCurrentWidget(self.page)
        self._arrange()
        self.look()

    def show_due(self) -> None:
        if self._held_by_form():
            return
        self._wanted = None
        self._browsing = False
        self.pages.setCurrentWidget(self.due_list)
        self._arrange()
        self.tick()

    def add_panel(self) -> None:
        """Open the form for a new panel."""
        if self._held_by_form():
            return
        self._stack.setCurrentWidget(self._split)
        self._browsing = False
        self.pages.setCurrentWidget(self.form)
        self._arrange()
        self.form.open(None)

    def log_coat(self) -> None:
        """Open the form for a coat on the panel that is shown, with what the plan waits for."""
        seen = self._seen
        if seen is None or seen.panel is None or self._held_by_form():
            return
        self.pages.setCurrentWidget(self.coat_form)
        self.coat_form.open(seen.panel.record, seen.held, waited_for(seen.panel), self._warmth.steady_c)

    def activated(self) -> None:
        self.warmth_form.show_warmth()
        self.look()
        current = self.pages.currentWidget()
        if self._stack.currentWidget() is self.empty:
            self.empty.button.setFocus()
        elif current in (self.due_list, self.page):
            self.list.setFocus() if self.list.isVisible() else current.setFocus()

    def come_with(self, payload: object) -> None:
        if isinstance(payload, int):
            self.show_panel(payload)
        elif payload == DUE:
            self.show_due()

    def keep(self) -> None:
        self._settings.keep_splitter("panels", self._split)
        self._settings.set_text(_LAST, str(self._wanted) if self._wanted is not None else "")

    # --- inside

    def _lay_out(self) -> None:
        head = QLabel(self.tr("Panels"), self)
        set_look(head, "large")
        head.setMinimumWidth(14 * GRID)
        first = QWidget(self)
        flow = FlowLayout(first, GRID)
        for widget in (head, self.all_button, self.new_button, self.undo):
            flow.addWidget(widget)
        column = QVBoxLayout(self)
        column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        column.setSpacing(GRID + GRID // 2)
        column.addWidget(first)
        column.addWidget(self.warmth_form)
        column.addWidget(self._stack, 1)

    def _connect(self) -> None:
        deeds = self._deeds
        self.empty.wanted.connect(self.add_panel)
        self.new_button.clicked.connect(self.add_panel)
        self.all_button.clicked.connect(self._on_browse)
        self.list.entry_opened.connect(self._on_entry_opened)
        self.due_list.panel_wanted.connect(self.show_panel)
        for source in (self.due_list, self.page):
            source.sentence_opened.connect(self._open)
        self.page.coat_wanted.connect(self.log_coat)
        self.page.change_wanted.connect(self._on_change_wanted)
        self.page.finish_wanted.connect(lambda: self._on_panel(deeds.finish_or_reopen))
        self.page.remove_wanted.connect(self._on_remove_wanted)
        self.page.check_wanted.connect(self._on_check_wanted)
        self.page.print_wanted.connect(self._on_print_wanted)
        self.page.prepared.connect(lambda kind, grit: self._on_panel(lambda panel: deeds.prepare(panel, kind, grit)))
        self.page.outdoors_toggled.connect(lambda: self._on_panel(deeds.put_out_or_take_in))
        self.page.entry_change_wanted.connect(self._on_entry_change_wanted)
        self.page.entry_remove_wanted.connect(deeds.remove_entry)
        deeds.kept.connect(self._on_kept)
        self.form.kept.connect(
            lambda panel: deeds.keep_panel(self.form.record.id if self.form.record else None, panel, self.form.say)
        )
        self.coat_form.kept.connect(lambda wanted: deeds.keep_coat(wanted, self.coat_form.say))
        self.entry_form.preparation_kept.connect(
            lambda number, done: deeds.keep_preparation(number, done, self.entry_form.say)
        )
        self.entry_form.spell_kept.connect(lambda number, spell: deeds.keep_spell(number, spell, self.entry_form.say))
        for form in (self.form, self.coat_form, self.entry_form):
            form.left.connect(self._back)
        self._warmth.warmth_changed.connect(self.tick)
        self._desk.library_opened.connect(self.look)
        self._desk.library_changed.connect(self._on_library_changed)
        shortcut = QShortcut(QKeySequence("Ctrl+L"), self)
        shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        shortcut.activated.connect(self.log_coat)
        self.page.coat_button.setToolTip("Ctrl+L")

    def _work(self, held: Held | None) -> None:
        self._asked += 1
        asked, wanted, now, forecast = self._asked, self._wanted, self._now(), self._warmth.forecast

        def work(library: Library) -> Seen:
            return see(library, hold(library) if held is None else held, wanted, now, forecast)

        self._desk.read(work, lambda seen: self._on_seen(asked, seen))

    def _on_seen(self, asked: int, seen: Seen) -> None:
        if asked != self._asked:
            return
        self._seen = seen
        self.undo.show_changes(seen.held.undo, seen.held.redo)
        editing = self._open_form is not None
        if not seen.held.panels and not editing:
            self._stack.setCurrentWidget(self.empty)
        else:
            self._stack.setCurrentWidget(self._split)
        self.new_button.setVisible(bool(seen.held.panels))
        self.warmth_form.setVisible(bool(seen.held.panels))
        self._show_list(seen)
        self.due_list.show_items(seen.due, seen.now)
        if seen.panel is not None:
            self.page.show_panel(seen.panel, seen.held, seen.now, seen.photos.get)
        if not editing:
            self.pages.setCurrentWidget(self.page if seen.panel is not None else self.due_list)
        self._arrange()

    def _show_list(self, seen: Seen) -> None:
        groups = groups_of(seen)
        entries = tuple(entry for group in groups for entry in group.entries)
        at = self.list.verticalScrollBar().value()
        if self.list.entries != entries:
            self.list.show_groups(groups)
        payloads = [entry.payload for entry in entries]
        wanted = DUE if self._wanted is None else self._wanted
        if wanted in payloads:
            self.list.choose(payloads.index(wanted))
        self.list.verticalScrollBar().setValue(at)

    def _on_entry_opened(self, entry: Entry) -> None:
        if isinstance(entry.payload, int):
            self.show_panel(entry.payload)
        else:
            self.show_due()

    @property
    def _open_form(self) -> PanelForm | CoatForm | EntryForm | None:
        current = self.pages.currentWidget()
        return current if isinstance(current, PanelForm | CoatForm | EntryForm) else None

    def _held_by_form(self) -> bool:
        """A form with something typed in it stays, and says so, where a slip would lose it."""
        form = self._open_form
        if form is None or not form.half_typed.hold():
            return False
        self._stack.setCurrentWidget(self._split)
        self._browsing = False
        self._arrange()
        if self._seen is not None:
            self._show_list(self._seen)
        return True

    def _on_browse(self) -> None:
        self._browsing = True
        self._arrange()
        self.list.setFocus()

    def _back(self) -> None:
        panel = self._seen.panel if self._seen is not None else None
        self.pages.setCurrentWidget(self.page if panel is not None else self.due_list)
        self.look()
        if panel is not None:
            self.page.coat_button.setFocus()

    def _open(self, sentence: Sentence) -> None:
        self.evidence_opened.emit(sentence.sheet_id, sentence.page, sentence.boxes)

    # --- changes

    def _on_kept(self, panel_id: int) -> None:
        self._wanted = panel_id
        self.pages.setCurrentWidget(self.page)
        self.page.coat_button.setFocus()
        self.page.verticalScrollBar().setValue(0)

    def _on_remove_wanted(self) -> None:
        self._on_panel(self._deeds.remove)
        self._wanted = None

    def _on_change_wanted(self) -> None:
        if self._seen is not None and self._seen.panel is not None:
            self.pages.setCurrentWidget(self.form)
            self.form.open(self._seen.panel.record)

    def _on_entry_change_wanted(self, record: LogRecord) -> None:
        seen = self._seen
        if seen is None or seen.panel is None:
            return
        if isinstance(record, CoatRecord):
            self.pages.setCurrentWidget(self.coat_form)
            self.coat_form.open_logged(seen.panel.record, seen.held, record)
        else:
            self.pages.setCurrentWidget(self.entry_form)
            self.entry_form.open(record)

    def _on_check_wanted(self) -> None:
        seen = self._seen
        if seen is not None and seen.panel is not None:
            products = {product.id: product for product in seen.held.material.products}
            self.place_wanted.emit("build_up", build_up_of(seen.panel.record.panel, products))

    def _on_panel(self, does: Callable[[PanelRecord], None]) -> None:
        """Do something to the panel that is shown."""
        panel = self._seen.panel if self._seen is not None else None
        if panel is not None:
            does(panel.record)

    def _on_library_changed(self, change: LibraryChange) -> None:
        if change.job:
            self.look()
        elif change.sheets or change.products or change.filed or change.everything:
            self._again.ask()

    def _on_print_wanted(self, how: str) -> None:
        seen = self._seen
        if seen is None or seen.panel is None:
            return
        try:
            put_out(self, self._outlets, how, seen.panel, seen.held, self._now())
        except OSError as error:
            self._desk.trouble_came.emit(error)

    # --- room

    def _arrange(self) -> None:
        """Where the place is narrow, either the list or the page is shown."""
        narrow = self.width() < scaled(_NARROW)
        self.list.setVisible(not narrow or (self._browsing and self._open_form is None))
        self.pages.setVisible(not narrow or not self.list.isVisibleTo(self._split))
        self.all_button.setVisible(narrow and not self.list.isVisibleTo(self._split))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()

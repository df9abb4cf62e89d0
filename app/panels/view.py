"""The place of the panels in work: what falls due, each panel's page, and the forms in which its log is kept."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import (
    QFileDialog,
    QLabel,
    QPushButton,
    QSplitter,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from app.due_list.view import DueList
from app.empty_place import EmptyPlace
from app.flow import FlowLayout
from app.grouped_list import Entry, Group, GroupedList
from app.job_undo import JobUndo
from app.jobs import LibraryChange, LibraryDesk, Soon
from app.messages import message_for
from app.naming.book import NameBook
from app.now import Now
from app.panels.coat_form import PICTURES, CoatForm, CoatToLog, PhotoChooser
from app.panels.entry_form import EntryForm
from app.panels.held import Held, hold
from app.panels.panel_form import PanelForm
from app.panels.panel_page import PanelPage
from app.panels.paper import put_out
from app.panels.seen import Seen, panel_name, see, waited_for
from app.panels.warmth_form import WarmthForm
from app.place import Place
from app.printing.outlets import Outlets
from app.sentences import Sentence
from app.settings import Settings
from app.shop_warmth import ShopWarmth
from app.theme.text_size import scaled
from app.theme.theme import GRID, Theme, set_look
from app.translating import QT_TRANSLATE_NOOP, translate
from store.errors import WrongEntry
from store.job_records import (
    CoatRecord,
    OutdoorSpell,
    Panel,
    PanelRecord,
    Preparation,
    PreparationKind,
    PreparationRecord,
    SpellRecord,
)
from store.planning.plans import build_up_of

if TYPE_CHECKING:
    from store.library import Library

_LAST = "panels/last"
_TICK = 20_000
_NARROW = 86 * GRID
DUE = "due"


def choose_photos(parent: QWidget) -> tuple[Path, ...]:
    """The system's own dialog."""
    patterns = " ".join(f"*{suffix}" for suffix in sorted(PICTURES))
    pictures = translate("panels", "Pictures")
    chosen, _ = QFileDialog.getOpenFileNames(
        parent, translate("panels", "Photos of the coat"), "", f"{pictures} ({patterns})"
    )
    return tuple(Path(name) for name in chosen)


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
        self.pages = QStackedWidget(self)
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
        self._stack = QStackedWidget(self)
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
        self._wanted = panel_id
        self._browsing = False
        self.pages.setCurrentWidget(self.page)
        self._arrange()
        self.look()

    def show_due(self) -> None:
        self._wanted = None
        self._browsing = False
        self.pages.setCurrentWidget(self.due_list)
        self._arrange()
        self.tick()

    def add_panel(self) -> None:
        """Open the form for a new panel."""
        self._stack.setCurrentWidget(self._split)
        self._browsing = False
        self.pages.setCurrentWidget(self.form)
        self._arrange()
        self.form.open(None)

    def log_coat(self) -> None:
        """Open the form for a coat on the panel that is shown, with what the plan waits for."""
        seen = self._seen
        if seen is None or seen.panel is None:
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
        self.empty.wanted.connect(self.add_panel)
        self.new_button.clicked.connect(self.add_panel)
        self.all_button.clicked.connect(self._on_browse)
        self.list.entry_opened.connect(self._on_entry_opened)
        self.due_list.panel_wanted.connect(self.show_panel)
        for source in (self.due_list, self.page):
            source.sentence_opened.connect(self._open)
        self.page.coat_wanted.connect(self.log_coat)
        self.page.change_wanted.connect(self._on_change_wanted)
        self.page.finish_wanted.connect(self._on_finish_wanted)
        self.page.remove_wanted.connect(self._on_remove_wanted)
        self.page.check_wanted.connect(self._on_check_wanted)
        self.page.print_wanted.connect(self._on_print_wanted)
        self.page.prepared.connect(self._on_prepared)
        self.page.outdoors_toggled.connect(self._on_outdoors_toggled)
        self.page.entry_change_wanted.connect(self._on_entry_change_wanted)
        self.page.entry_remove_wanted.connect(self._on_entry_remove_wanted)
        self.form.kept.connect(self._on_panel_kept)
        self.coat_form.kept.connect(self._on_coat_kept)
        self.entry_form.preparation_kept.connect(
            lambda number, done: self._change(lambda library: library.change_preparation(number, done), self.entry_form)
        )
        self.entry_form.spell_kept.connect(
            lambda number, spell: self._change(lambda library: library.change_spell(number, spell), self.entry_form)
        )
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
        forms = (self.form, self.coat_form, self.entry_form)
        editing = self.pages.currentWidget() in forms
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
        count = len(seen.due)
        late = sum(item.overdue for item in seen.due)
        beside = self.tr("{count} things, {late} too late").format(count=count, late=late) if late else (
            self.tr("{count} things").format(count=count) if count else self.tr("nothing now")
        )  # fmt: skip
        first = Entry(self.tr("What falls due"), beside, DUE, "no" if late else "wait" if count else "yes")
        in_work = tuple(self._entry(panel, seen) for panel in seen.held.in_work)
        finished = tuple(
            Entry(panel_name(panel), "", panel.id, "confirmed", self.tr("finished"))
            for panel in seen.held.panels
            if panel.finished_at is not None
        )
        groups = (
            Group("", (first,)), Group(self.tr("In work"), in_work), Group(self.tr("Finished"), finished),
        )  # fmt: skip
        payloads = [entry.payload for group in groups for entry in group.entries]
        at = self.list.verticalScrollBar().value()
        if self.list.entries != tuple(entry for group in groups for entry in group.entries):
            self.list.show_groups(groups)
        wanted = DUE if self._wanted is None else self._wanted
        if wanted in payloads:
            self.list.choose(payloads.index(wanted))
        self.list.verticalScrollBar().setValue(at)

    def _entry(self, panel: PanelRecord, seen: Seen) -> Entry:
        due, bare = seen.lines[panel.id]
        words = [due.said if due is not None else self.tr("nothing planned next")]
        if bare is not None:
            outdoors = self.tr("outdoors")
            words.append(f"{outdoors}: {bare.said}")
        worst = next((short for short in (due, bare) if short is not None and short.shape == "no"), due or bare)
        return Entry(panel_name(panel), "\n".join(words), panel.id, worst.shape if worst else "", "")

    def _on_entry_opened(self, entry: Entry) -> None:
        if isinstance(entry.payload, int):
            self.show_panel(entry.payload)
        else:
            self.show_due()

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

    def _on_panel_kept(self, panel: Panel) -> None:
        record = self.form.record

        def work(library: Library) -> PanelRecord:
            if record is None:
                return library.add_panel(panel)
            # What a form does not show stays as it is.
            return library.change_panel(record.id, panel)

        self._change(work, self.form)

    def _on_coat_kept(self, wanted: CoatToLog) -> None:
        def work(library: Library) -> PanelRecord:
            photos = [library.keep_photo(path.read_bytes(), path.name).id for path in wanted.photos]
            coat = replace(wanted.coat, photo_ids=(*wanted.coat.photo_ids, *photos))
            if wanted.coat_id is not None:
                return library.change_coat(wanted.coat_id, coat)
            return library.log_coat(wanted.panel_id, coat)

        self._change(work, self.coat_form)

    def _on_prepared(self, kind: PreparationKind, grit: int | None) -> None:
        done = Preparation(self._now(), kind, grit)
        self._on_panel(lambda library, panel: library.log_preparation(panel.id, done))

    def _on_outdoors_toggled(self) -> None:
        now = self._now()

        def work(library: Library, panel: PanelRecord) -> PanelRecord:
            if panel.outdoors is not None:
                return library.take_in(panel.id, now)
            return library.put_outdoors(panel.id, OutdoorSpell(now))

        self._on_panel(work)

    def _on_finish_wanted(self) -> None:
        def work(library: Library, panel: PanelRecord) -> PanelRecord:
            return library.finish_panel(panel.id) if panel.finished_at is None else library.reopen_panel(panel.id)

        self._on_panel(work)

    def _on_remove_wanted(self) -> None:
        def work(library: Library, panel: PanelRecord) -> None:
            library.remove_panel(panel.id)

        self._on_panel(work)
        self._wanted = None

    def _on_change_wanted(self) -> None:
        if self._seen is not None and self._seen.panel is not None:
            self.pages.setCurrentWidget(self.form)
            self.form.open(self._seen.panel.record)

    def _on_entry_change_wanted(self, record: CoatRecord | PreparationRecord | SpellRecord) -> None:
        seen = self._seen
        if seen is None or seen.panel is None:
            return
        if isinstance(record, CoatRecord):
            self.pages.setCurrentWidget(self.coat_form)
            self.coat_form.open_logged(seen.panel.record, seen.held, record)
        else:
            self.pages.setCurrentWidget(self.entry_form)
            self.entry_form.open(record)

    def _on_entry_remove_wanted(self, record: CoatRecord | PreparationRecord | SpellRecord) -> None:
        def work(library: Library, _: PanelRecord) -> PanelRecord:
            if isinstance(record, CoatRecord):
                return library.remove_coat(record.id)
            if isinstance(record, PreparationRecord):
                return library.remove_preparation(record.id)
            return library.remove_spell(record.id)

        self._on_panel(work)

    def _on_check_wanted(self) -> None:
        seen = self._seen
        if seen is not None and seen.panel is not None:
            products = {product.id: product for product in seen.held.material.products}
            self.place_wanted.emit("build_up", build_up_of(seen.panel.record.panel, products))

    def _on_panel(self, work: Callable[[Library, PanelRecord], Any]) -> None:
        """Do something to the panel that is shown."""
        panel = self._seen.panel if self._seen is not None else None
        if panel is not None:
            record = panel.record
            self._desk.write(lambda library: work(library, record), LibraryChange(job=True))

    def _change(
        self, work: Callable[[Library], PanelRecord], form: PanelForm | CoatForm | EntryForm
    ) -> None:  # fmt: skip
        """Keep what a form holds; where it cannot be, the form stays and says why."""

        def done(record: PanelRecord) -> None:
            self._wanted = record.id
            self.pages.setCurrentWidget(self.page)
            self.page.coat_button.setFocus()

        def failed(error: BaseException) -> None:
            if isinstance(error, (WrongEntry, OSError)):
                form.say(message_for(error).sentence)
            else:
                self._desk.trouble_came.emit(error)

        self._desk.write(work, LibraryChange(job=True), done, failed)

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
        forms = (self.form, self.coat_form, self.entry_form)
        self.list.setVisible(not narrow or (self._browsing and self.pages.currentWidget() not in forms))
        self.pages.setVisible(not narrow or not self.list.isVisibleTo(self._split))
        self.all_button.setVisible(narrow and not self.list.isVisibleTo(self._split))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()

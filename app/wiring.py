"""Wires the window: the only place that makes the objects and gives each what it needs.

Imported after the window's first paint (see window.py). SQLAlchemy is imported later still, on the library's thread.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMenu, QMessageBox

from app.asking.view import AskingPlace
from app.bench_sums.view import SumsPlace
from app.build_up.view import BuildUpPlace
from app.comparing.view import ComparingPlace
from app.confirming.view import ConfirmingPlace
from app.filing.cautions import DISCLAIMER
from app.filing.choosing import FileChooser, SystemChooser
from app.filing.queue import FilingQueue, Reader
from app.filing.view import FilingPlace
from app.finding.view import FindingPlace
from app.jobs import InlineRunner, LibraryDesk, Runner, ThreadRunner
from app.library_menu.choosing import LibraryChooser, SystemLibraryChooser
from app.library_menu.menu import LibraryMenu
from app.messages import message_for
from app.mixing.view import MixingPlace
from app.naming.book import NameBook
from app.notices import Notices, SystemTray, Tray
from app.now import Now, now_here
from app.page_pane.drawer import ChildPageDrawer
from app.page_pane.evidence_panel import EvidencePanel
from app.page_pane.pictures import PageDrawer, PagePictures
from app.panels.view import PanelsPlace
from app.place import Place
from app.printing.outlets import Outlets, SystemOutlets
from app.product_page.view import ProductsPlace
from app.reading_again.work import ReadingAgain
from app.settings import Settings
from app.shell import MainWindow
from app.shop_warmth import ShopWarmth
from app.text_menu import TextMenu
from app.theme.icons import icon
from app.theme.roles import Role
from app.theme.theme import Theme
from app.tins.view import TinsPlace
from app.translating import translate
from app.workers import ReadingChildren

if TYPE_CHECKING:
    from store.library import Library


@dataclass(frozen=True, slots=True)
class Runners:
    """Where work is done: one thread for the library, two for reading, one for drawing, one for planning."""

    library: Runner
    reading: Runner
    drawing: Runner
    planning: Runner = field(default_factory=InlineRunner)

    @classmethod
    def threads(cls) -> Runners:
        return cls(
            library=ThreadRunner("library", drops=False),
            # Two readings, and a third thread so that looking through a folder never waits behind them.
            reading=ThreadRunner("reading", threads=3),
            drawing=ThreadRunner("drawing"),
            planning=ThreadRunner("planning"),
        )


class Wiring(QObject):
    """The window with everything behind it. Keep it as long as the window lives; close() lets everything go."""

    def __init__(
        self,
        opener: Callable[[], Library],
        theme: Theme,
        settings: Settings,
        runners: Runners,
        *,
        window: MainWindow | None = None,
        reader: Reader | None = None,
        drawer: PageDrawer | None = None,
        chooser: FileChooser | None = None,
        outlets: Outlets | None = None,
        now: Now = now_here,
        tray: Tray | None = None,
        library_chooser: LibraryChooser | None = None,
    ) -> None:
        """window: one that is shown already, to be furnished."""
        super().__init__()
        self._opener = opener
        self._closed = False
        self.theme = theme
        self.desk = LibraryDesk(runners.library, self)
        passwords: dict[str, str] = {}
        self._children = ReadingChildren()
        reads = reader or self._children
        self.queue = FilingQueue(self.desk, reads, runners.reading, self, passwords)
        self.reading_again = ReadingAgain(self.desk, reads, runners.reading, self)
        self.pictures = PagePictures(drawer or ChildPageDrawer(passwords), runners.drawing, self)
        self.filing = FilingPlace(self.desk, self.queue, self.reading_again, chooser or SystemChooser(), settings)
        self.confirming = ConfirmingPlace(self.desk, self.pictures, theme, settings)
        self.book = NameBook(self.desk, self)
        self.asking = AskingPlace(self.desk, self.book, theme, settings)
        self.comparing = ComparingPlace(self.desk, self.book, outlets or SystemOutlets(), theme, settings)
        self.products = ProductsPlace(self.desk, self.book, theme, settings)
        self.finding = FindingPlace(self.desk, self.book, theme, settings)
        self._planning = runners.planning
        self.mixing = MixingPlace(self.desk, self.book, theme, settings, now)
        self.warmth = ShopWarmth(settings, now, self)
        self.build_up = BuildUpPlace(
            self.desk, self.book, runners.planning, outlets or SystemOutlets(), self.warmth, theme, settings, now
        )
        self.panels = PanelsPlace(self.desk, self.book, outlets or SystemOutlets(), self.warmth, theme, settings, now)
        self.tins = TinsPlace(self.desk, self.book, outlets or SystemOutlets(), self.warmth, theme, settings, now)
        self.sums = SumsPlace(self.desk, self.book, settings)
        places: list[Place] = [
            self.filing, self.confirming, self.asking, self.comparing, self.products, self.finding, self.build_up,
            self.mixing, self.panels, self.tins, self.sums,
        ]  # fmt: skip
        self.window = window or MainWindow(theme, settings)
        self.window.furnish(places, EvidencePanel(self.desk, self.pictures))
        self.window.files_dropped.connect(self._on_files_dropped)
        self.window.closing.connect(self.close)
        system_tray = SystemTray(icon("panels", theme.colour(Role.ACCENT)), self)
        system_tray.clicked.connect(self._on_notice_clicked)
        self.window.closing.connect(system_tray.hide)
        self.notices = Notices(self.desk, self.warmth, now, tray or system_tray, self.window.notice, self)
        self.mixing.clocks.stage_changed.connect(self.notices.tell_of_pot)
        self.desk.trouble_came.connect(self._on_trouble)
        self._settings = settings
        self._library_chooser = library_chooser or SystemLibraryChooser()
        self._make_menus()

    def open_library(self) -> None:
        self.desk.open(self._opener)

    def close(self) -> None:
        """Stop reading, finish every decision, close the library, end the threads and children."""
        if not self._closed:
            self._closed = True
            self.notices.stop()
            self.reading_again.stop()
            self.queue.close()
            self._children.close()
            self.pictures.close()
            self.build_up.search.leave()
            self._planning.close()
            self.desk.close()

    def _make_menus(self) -> None:
        bar = self.window.menuBar()
        first = bar.actions()[0]
        sheets = bar.addMenu(self.tr("&Sheets"))
        bar.insertMenu(first, sheets)
        for words, keys, does in (
            (self.tr("File sheets …"), "Ctrl+O", self.filing.choose_files),
            (self.tr("File a folder …"), "Ctrl+Shift+O", self.filing.choose_folder),
            (self.tr("Quit"), "Ctrl+Q", self.window.close),
        ):
            action = QAction(words, self.window)
            action.setShortcut(QKeySequence(keys))
            action.triggered.connect(lambda _=False, does=does: does())
            sheets.addAction(action)
        library = QMenu(self.tr("&Library"), bar)
        bar.insertMenu(first, library)
        self.library_menu = LibraryMenu(
            library, self.window, self.desk, open_library, self._library_chooser, self._settings,
            lambda: self.queue.under_way > 0,
        )  # fmt: skip
        find = QAction(self.tr("Find …"), self.window)
        find.setShortcut(QKeySequence(QKeySequence.StandardKey.Find))
        find.triggered.connect(self._on_find_asked)
        places = first.menu()
        if isinstance(places, QMenu):
            places.addAction(find)
        self.text_menu = TextMenu(bar.addMenu(self.tr("&Text")), self.window, self.theme, self._settings)
        about = QAction(self.tr("What Tinsheet is"), self.window)
        about.triggered.connect(lambda: QMessageBox.about(self.window, "Tinsheet", translate("cautions", DISCLAIMER)))
        bar.addMenu(self.tr("&Help")).addAction(about)

    def _on_notice_clicked(self) -> None:
        self.window.show()
        self.window.raise_()
        self.window.activateWindow()
        self.window.go_to(*self.notices.last.value)

    def _on_find_asked(self) -> None:
        self.window.go_to(self.finding.name)
        # In front already, or not: the keyboard goes to the box.
        self.finding.activated()

    def _on_files_dropped(self, paths: list[Path]) -> None:
        self.window.go_to(self.filing.name)
        if paths:
            self.filing.add(paths)
        else:
            self.window.trouble.say(
                self.tr("What was dropped has no file behind it. Save the PDF in a folder first, then drop it here.")
            )

    def _on_trouble(self, error: BaseException) -> None:
        message = message_for(error)
        self.window.trouble.say(message.sentence, message.detail)


def open_library(folder: Path) -> Library:
    """The library in a folder, made where there is none. Runs on the library's thread."""
    from store.library import Library  # noqa: PLC0415 - SQLAlchemy is imported after the first paint

    return Library.open(folder)

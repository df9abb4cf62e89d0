"""The place of the build-up: layers from the metal up and their check; and finding one for a job."""

from __future__ import annotations

import json
from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from app.build_up.check_page import CheckPage
from app.build_up.check_view import CheckView
from app.build_up.find_page import FindPage
from app.build_up.keeping import Keeping
from app.build_up.kept_bar import KeptBar
from app.build_up.layers_editor import LayersEditor
from app.build_up.search import BuildUpSearch
from app.build_up.steps import Steps, without_warmth
from app.build_up.worked import Worked, work_out
from app.card.page import CardPage
from app.empty_place import EmptyPlace
from app.figure_words import joined
from app.flow import FlowLayout
from app.front_stack import FrontStack
from app.jobs import LibraryChange, LibraryDesk, Runner, Soon
from app.naming.book import NameBook
from app.naming.temperature import TemperatureField
from app.now import Now
from app.place import Place
from app.printing.outlets import Outlets
from app.sentences import Sentence
from app.settings import Settings
from app.shop_warmth import ShopWarmth
from app.theme.text_size import scaled
from app.theme.theme import GRID, Theme, set_look
from app.time_line.page import TimeLinePage
from app.translating import QT_TRANSLATE_NOOP
from app.undo_buttons import UndoButtons
from store.build_ups import KeptBuildUp, decoded, encoded
from store.planning.buildup import BuildUp, Layer
from store.rules.reach import ProductParty

_BESIDE = 88 * GRID
_IN_WORK = "build_up/in_work"
_BEFORE = "build_up/before"


class BuildUpPlace(Place):
    """Comes with a product's id (the next layer up) or with a BuildUp."""

    name = "build_up"
    title = QT_TRANSLATE_NOOP("places", "Build-up")
    icon_name = "build_up"

    def __init__(
        self,
        desk: LibraryDesk,
        book: NameBook,
        planning: Runner,
        outlets: Outlets,
        warmth: ShopWarmth,
        theme: Theme,
        settings: Settings,
        now: Now,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._desk = desk
        self._book = book
        self._settings = settings
        self._asked = 0
        self._restored = False
        self._opened = False
        self.worked: Worked | None = None
        self._again = Soon(self._look_again, parent=self)
        self._steps = Steps()
        self._stood = BuildUp(())
        self._check = QWidget(self)
        self.kept_bar = KeptBar(self)
        self.undo = UndoButtons(self._check)
        self.temperature = TemperatureField(settings, self)
        self.editor = LayersEditor(book, theme, self)
        self.view = CheckView(theme, self)
        self._keeping = Keeping(desk, self.kept_bar, lambda: self.build_up, self)
        self.empty = EmptyPlace("", self.tr("Name the next layer"), self)
        self.answer = FrontStack(self)
        self.search = BuildUpSearch(desk, planning, self)
        self.find_page = FindPage(book, self.search, theme, settings, self)
        self.time_line = TimeLinePage(desk, outlets, warmth, theme, settings, now, self)
        self.card = CardPage(outlets, self)
        self.pages = FrontStack(self)
        self._buttons = QButtonGroup(self)
        self._lay_out()
        self.empty.wanted.connect(self._on_empty_wanted)
        self.editor.layers_changed.connect(self._on_layers_changed)
        self.temperature.figure_changed.connect(self._on_changed)
        self.view.sentence_opened.connect(self._on_sentence_opened)
        self.find_page.sentence_opened.connect(self._on_sentence_opened)
        self.find_page.opening_wanted.connect(self.open_build_up)
        self.find_page.shelf_wanted.connect(lambda: self.place_wanted.emit("shelf", None))
        self.find_page.trouble_came.connect(desk.trouble_came)
        self.time_line.sentence_opened.connect(self._on_sentence_opened)
        for page in (self.time_line, self.card):
            page.check_wanted.connect(lambda: self.show_page(0))
        warmth.warmth_changed.connect(self._on_warmth_changed)
        self.kept_bar.loaded.connect(self._on_loaded)
        self._keeping.planned.connect(lambda panel_id: self.place_wanted.emit("panels", panel_id))
        self.undo.undo_wanted.connect(lambda: self._on_step_wanted(self._steps.take_back(self.build_up)))
        self.undo.redo_wanted.connect(lambda: self._on_step_wanted(self._steps.do_again(self.build_up)))
        book.names_changed.connect(self._on_names_changed)
        desk.library_changed.connect(self._on_library_changed)
        desk.library_opened.connect(self._on_library_opened)
        self._teach()

    @property
    def build_up(self) -> BuildUp:
        return BuildUp(self.editor.layers, self.temperature.value)

    def activated(self) -> None:
        self.temperature.take_up()
        self.find_page.temperature.take_up()
        self._show_further()
        page = self.pages.currentWidget()
        if page is self.find_page:
            self.find_page.activated()
        elif page is self.time_line:
            self.time_line.start.setFocus(Qt.FocusReason.OtherFocusReason)
        elif page is self.card:
            self.card.print_button.setFocus(Qt.FocusReason.OtherFocusReason)
        else:
            self.editor.field.line.setFocus(Qt.FocusReason.OtherFocusReason)

    def come_with(self, payload: object) -> None:
        if isinstance(payload, BuildUp):
            self.open_build_up(payload)
        elif isinstance(payload, int):
            product = self._book.product(payload)
            if product is not None:
                self.open_build_up(replace(self.build_up, layers=(*self.editor.layers, Layer(ProductParty(product)))))

    def show_page(self, number: int) -> None:
        """0 the check, 1 finding one, 2 the time line, 3 the card."""
        self._buttons.button(number).setChecked(True)
        self.pages.setCurrentIndex(number)
        self.activated()

    def open_build_up(self, build_up: BuildUp) -> None:
        """Check this one; what stood there can be brought back."""
        before = self.build_up
        self._put(build_up)
        replaced = bool(before.layers) and before.layers != build_up.layers
        if replaced:
            self._steps.put(before)
        gone = replaced and not set(before.layers) <= set(build_up.layers)
        self.kept_bar.say(self.tr("What stood here before is not lost: Undo brings it back.") if gone else "")
        self.show_page(0)
        self._on_changed()

    def keep(self) -> None:
        self._settings.keep_splitter("build_up", self.split)
        self._remember()

    # --- inside

    def _lay_out(self) -> None:
        head = QLabel(self.tr("Build-up"), self)
        set_look(head, "large")
        head.setMinimumWidth(18 * GRID)
        top = QWidget(self)
        flow = FlowLayout(top, GRID)
        flow.addWidget(head)
        for number, words in enumerate((self.tr("Check"), self.tr("Find"), self.tr("Time line"), self.tr("Card"))):
            button = QPushButton(words, self)
            button.setCheckable(True)
            button.setAccessibleName(words)
            self._buttons.addButton(button, number)
            flow.addWidget(button)
        self._buttons.button(0).setChecked(True)
        self._buttons.idClicked.connect(self.show_page)
        self.kept_bar.add(self.undo)
        self.undo.heed_in(self.editor.field.line)
        self.answer.addWidget(self.empty)
        self.answer.addWidget(self.view)
        left = QWidget(self)
        side = QVBoxLayout(left)
        side.setContentsMargins(0, 0, 0, 0)
        side.setSpacing(GRID)
        at = QHBoxLayout()
        at.setSpacing(GRID)
        label = QLabel(self.tr("Shop at"), left)
        label.setBuddy(self.temperature)
        at.addWidget(label)
        at.addWidget(self.temperature)
        at.addStretch(1)
        side.addWidget(self.editor, 1)
        side.addLayout(at)
        # With large text in a low window the layers scroll rather than lie on one another.
        layers = QScrollArea(self)
        layers.setWidgetResizable(True)
        layers.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        layers.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        layers.setWidget(left)
        layers.setMinimumWidth(42 * GRID)
        self.split = QSplitter(Qt.Orientation.Horizontal, self)
        self.split.setChildrenCollapsible(False)
        self.split.setHandleWidth(2 * GRID)
        self.split.addWidget(layers)
        self.split.addWidget(self.answer)
        self.split.setStretchFactor(1, 1)
        self.split.setSizes([48 * GRID, 80 * GRID])
        self._settings.restore_splitter("build_up", self.split)
        inside = QVBoxLayout(self._check)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.setSpacing(GRID)
        inside.addWidget(self.kept_bar)
        inside.addWidget(self.split, 1)
        self.pages.addWidget(self._check)
        for page in (self.find_page, self.time_line, self.card):
            self.pages.addWidget(page)
        column = QVBoxLayout(self)
        column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        column.setSpacing(2 * GRID)
        column.addWidget(top)
        column.addWidget(self.pages, 1)

    def _on_loaded(self, one: KeptBuildUp) -> None:
        self.open_build_up(one.build_up)
        if one.lost:
            self.kept_bar.say(self.tr("No longer in the library, so left out: {names}.").format(names=joined(one.lost)))

    def _on_layers_changed(self) -> None:
        """By whatever a hand does in the editor."""
        self._steps.put(without_warmth(self._stood))
        self.kept_bar.say("")
        self._on_changed()

    def _on_step_wanted(self, build_up: BuildUp | None) -> None:
        if build_up is not None:
            self._put(build_up)
            self.kept_bar.say("")
            self._on_changed()

    def _put(self, build_up: BuildUp) -> None:
        if build_up.at_c is not None:
            self.temperature.set_value(build_up.at_c)
        self.editor.set_layers(build_up.layers)

    def _on_changed(self) -> None:
        self._stood = self.build_up
        self.undo.show_words(self._steps.words_back(self._stood), self._steps.words_on(self._stood))
        self._remember()
        self._work()

    def _work(self) -> None:
        self._asked += 1
        asked, build_up = self._asked, self.build_up
        if len(build_up.layers) < 2:
            self.worked = None
            self._teach()
            self._show_further()
            return

        def done(worked: Worked) -> None:
            # Another build-up stands meanwhile: its own answer is on the way.
            if asked == self._asked:
                self._show(worked)

        self._desk.read(lambda library: work_out(library, build_up), done)

    def _show(self, worked: Worked) -> None:
        self.worked = worked
        self.view.show_page(CheckPage.of(worked))
        self.editor.show_words([contact.word for contact in worked.checked.contacts])
        self.answer.setCurrentWidget(self.view)
        self._show_further()

    def _show_further(self) -> None:
        """What is in front of time line and card is made of the build-up as it was last worked out."""
        page = self.pages.currentWidget()
        if page is self.time_line or page is self.card:
            page.show_worked(self.worked, self.kept_bar.name.text().strip())

    def _on_warmth_changed(self) -> None:
        """Said elsewhere how warm the shop is."""
        before = self.temperature.value
        self.temperature.take_up()
        if self.temperature.value != before:
            self._work()

    def _teach(self) -> None:
        if not self._book.products:
            self.empty.say(
                self.tr("A build-up is judged by your own data sheets. File the sheets of its products to begin."),
                self.tr("File sheets …"),
            )
        elif not self.editor.layers:
            self.empty.say(
                self.tr("Name the layers from the metal up: what is found there first, then each coat."),
                self.tr("Name what is found there"),
            )
        else:
            self.empty.say(self.tr("Name what goes on next: every contact is judged."), self.tr("Name the next layer"))
        self.answer.setCurrentWidget(self.empty)

    def _on_empty_wanted(self) -> None:
        if self._book.products:
            self.editor.field.line.setFocus(Qt.FocusReason.OtherFocusReason)
        else:
            self.place_wanted.emit("sheets", None)

    def _remember(self) -> None:
        """What is in work outlives a crash."""
        self._settings.set_text(_IN_WORK, json.dumps(encoded(self.build_up)) if self.editor.layers else "")
        self._settings.set_text(_BEFORE, self._steps.written())

    def _look_again(self) -> None:
        if self.editor.layers:
            self._work()

    def _on_names_changed(self) -> None:
        if not self._restored and self._book.products:
            self._restored = True
            self._restore()
        if self.worked is None:
            self._teach()
            self._work()

    def _restore(self) -> None:
        text = self._settings.text(_IN_WORK)
        try:
            raw = json.loads(text) if text else None
        except ValueError:
            raw = None
        if self.editor.layers:
            return
        self._steps.read(self._settings.text(_BEFORE), self._book.products)
        if isinstance(raw, dict):
            build_up, _ = decoded(raw, self._book.products)
            self.editor.set_layers(build_up.layers)
        self._stood = self.build_up
        self.undo.show_words(self._steps.words_back(self._stood), self._steps.words_on(self._stood))

    def _on_library_changed(self, change: LibraryChange) -> None:
        if change.sheets or change.products or change.filed or change.everything:
            self._again.ask()
            self.find_page.forget_result()
        if change.job or change.everything:
            self._keeping.read_panels()
        if change.everything:
            self._keeping.read()

    def _on_library_opened(self) -> None:
        """Another library than before: what was named is of that one."""
        another, self._opened = self._opened, True
        if another:
            self.editor.set_layers(())
            self.find_page.clear()
            self._steps.clear()
            self._on_changed()
        self._keeping.read()

    def _on_sentence_opened(self, sentence: Sentence) -> None:
        self.evidence_opened.emit(sentence.sheet_id, sentence.page, sentence.boxes)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        beside = event.size().width() >= scaled(_BESIDE)
        self.split.setOrientation(Qt.Orientation.Horizontal if beside else Qt.Orientation.Vertical)

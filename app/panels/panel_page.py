"""One panel: what may come next and when, how it stands outdoors, its time line, its build-up, its log."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QScrollArea, QVBoxLayout, QWidget

from app.caution_words import deferring_words
from app.due_list.short_card import ShortCard
from app.due_list.words import bare_short, step_short
from app.figure_words import counted_words, number_words
from app.flow import flowing
from app.job_words import bare_words, step_name, step_words
from app.naming.figures import FigureField
from app.panels.entries import LogEntry, entries_of
from app.panels.held import Caution, Held, PanelNow
from app.panels.log_card import LogCard
from app.panels.section import Section
from app.panels.time_line import TimeLinePicture, drawing_of, key_words
from app.sentence_links import SentenceLinks
from app.sentences import Sentence, one_each
from app.theme.text_size import fix_width, limit_width
from app.theme.theme import GRID, Theme, set_look
from app.theme.verdict_shape import VerdictWord
from app.translating import translate
from app.verdict_words import advice_text, answer_words, conditions_words
from app.wording import kind_words
from store.job_records import Layer, PreparationKind
from store.planning.next_steps import Step, StepKind, Timing, step_sources

READABLE = 104 * GRID
Photos = Callable[[int], Path | None]


class PanelPage(QScrollArea):
    """Signals: coat_wanted(); change_wanted(); finish_wanted(); remove_wanted(); check_wanted();
    print_wanted(how: 'print', 'pdf' or 'csv'); prepared(PreparationKind, grit or None); outdoors_toggled();
    entry_change_wanted(record); entry_remove_wanted(record); sentence_opened(Sentence)."""

    coat_wanted = Signal()
    change_wanted = Signal()
    finish_wanted = Signal()
    remove_wanted = Signal()
    check_wanted = Signal()
    print_wanted = Signal(str)
    prepared = Signal(object, object)
    outdoors_toggled = Signal()
    entry_change_wanted = Signal(object)
    entry_remove_wanted = Signal(object)
    sentence_opened = Signal(object)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.panel: PanelNow | None = None
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(self.tr("The panel"))
        self._name = QLabel(self)
        self._name.setWordWrap(True)
        set_look(self._name, "head")
        self._job = QLabel(self)
        self._job.setWordWrap(True)
        set_look(self._job, "quiet")
        self.coat_button = self._deed(self.tr("Log a coat"), self.coat_wanted.emit)
        set_look(self.coat_button, "primary")
        self.change_button = self._deed(self.tr("Change"), self.change_wanted.emit)
        self.finish_button = self._deed(self.tr("It is finished"), self.finish_wanted.emit)
        self.print_button = self._deed(self.tr("Print …"), lambda: self.print_wanted.emit("print"))
        self.pdf_button = self._deed(self.tr("PDF …"), lambda: self.print_wanted.emit("pdf"))
        self.csv_button = self._deed(self.tr("CSV …"), lambda: self.print_wanted.emit("csv"))
        self.check_button = self._deed(self.tr("Check this build-up"), self.check_wanted.emit)
        self.remove_button = self._deed(self.tr("Remove"), self.remove_wanted.emit)
        self.grit = FigureField(
            self.tr("Grit that it was abraded with, P grade"), "P", 12, 5000,
            empty_words=self.tr("P grade"), first=180, parent=self,
        )  # fmt: skip
        fix_width(self.grit, 12 * GRID)
        self.abraded_button = self._deed(self.tr("Abraded now"), self._on_abraded)
        self.degreased_button = self._deed(
            self.tr("Degreased now"), lambda: self.prepared.emit(PreparationKind.DEGREASED, None)
        )
        self.blasted_button = self._deed(
            self.tr("Blasted now"), lambda: self.prepared.emit(PreparationKind.BLASTED, None)
        )
        self.derusted_button = self._deed(
            self.tr("Derusted now"), lambda: self.prepared.emit(PreparationKind.DERUSTED, None)
        )
        self.outdoors_button = self._deed(self.tr("Put outdoors now"), self.outdoors_toggled.emit)
        self.grit.returnPressed.connect(self._on_abraded)
        self.cautions = Section("", self)
        self.next = Section(self.tr("What may come next"), self)
        self.bare = Section(self.tr("Outdoors"), self)
        self.stages = Section(self.tr("Drying"), self)
        self.picture = TimeLinePicture(theme, self)
        self._picture_section = Section(self.tr("Time line"), self)
        self.plan = Section(self.tr("Build-up"), self)
        self.log = Section(self.tr("Log"), self)
        self.caution_words = Section(self.tr("The cautions in the sheets' own words"), self)
        self._lay_out()

    def show_panel(self, panel: PanelNow, held: Held, now: datetime, photos: Photos) -> None:
        """What stands there is left alone where it says the same."""
        another = self.panel is None or self.panel.record.id != panel.record.id
        self.panel = panel
        record = panel.record
        self._name.setText(record.panel.name)
        surface = kind_words(record.panel.surface) if record.panel.surface else self.tr("surface not named")
        parts = [record.panel.job, self.tr("on {surface}").format(surface=surface), record.panel.note]
        self._job.setText(" · ".join(part for part in parts if part))
        self.setAccessibleName(record.panel.name)
        done = record.finished_at is not None
        self.finish_button.setText(self.tr("Back into work") if done else self.tr("It is finished"))
        out = record.outdoors is not None
        self.outdoors_button.setText(self.tr("Taken in now") if out else self.tr("Put outdoors now"))
        self._show_cautions(panel.caution)
        self._show_steps(panel, now)
        self._show_bare(panel, now)
        drawing = drawing_of(panel, now)
        self._picture_section.fill(drawing is not None, lambda: self._picture_widgets(drawing is not None))
        self.picture.show_drawing(drawing)
        rows = plan_rows(panel, held)
        self.check_button.setVisible(bool(record.panel.plan))
        self.plan.fill(rows, lambda: [self._plan_row(*row) for row in rows] or [self._no_plan()])
        entries = entries_of(record, held.tins)
        self.log.fill(entries, lambda: [self._log_card(entry, photos) for entry in entries])
        if another:
            self.verticalScrollBar().setValue(0)

    # --- inside

    def _deed(self, words: str, does: Callable[[], None]) -> QPushButton:
        button = QPushButton(words, self)
        set_look(button, "deed")
        button.clicked.connect(does)
        return button

    def _on_abraded(self) -> None:
        self.grit.take_text()
        grit = round(self.grit.value) if self.grit.value is not None else None
        self.prepared.emit(PreparationKind.ABRADED, grit)

    def _show_cautions(self, caution: Caution) -> None:
        def make() -> list[QWidget]:
            if not caution.words:
                return []
            frame = QFrame(self)
            set_look(frame, "caution")
            column = QVBoxLayout(frame)
            column.setContentsMargins(2 * GRID, GRID, 2 * GRID, GRID)
            column.setSpacing(GRID // 2)
            for words in (*caution.words, deferring_words()):
                column.addWidget(_wrapped(words, frame))
            frame.setAccessibleName(self.tr("Cautions: {words}").format(words=" ".join(caution.words)))
            return [frame]

        self.cautions.fill(caution.words, make)
        # Where the clocks are looked for, the words alone; whose they are stands at the end.
        self.caution_words.fill(
            caution.sentences, lambda: [self._links(caution.sentences, self)] if caution.sentences else []
        )

    def _show_steps(self, panel: PanelNow, now: datetime) -> None:
        coats = [step for step in panel.steps if step.kind is not StepKind.STAGE]
        cards = [(step, step_short(step, now), step_lines(step)) for step in coats]
        key = (cards, panel.record.panel.plan)
        self.next.fill(key, lambda: [self._step_card(*card) for card in cards] or [self._nothing_next(panel)])
        stages = [step for step in panel.steps if step.kind is StepKind.STAGE]
        rows = [(step, step_short(step, now), step_words(step)) for step in stages]
        self.stages.fill(rows, lambda: [self._stage_row(*row) for row in rows])

    def _step_card(self, step: Step, short: object, lines: tuple[str, ...]) -> QWidget:
        name = step_name(step)
        title = name[:1].upper() + name[1:]
        if step.needed and step.kind in {StepKind.LAYER, StepKind.FIRST}:
            title = self.tr("{name}, next in the build-up").format(name=title)
        card = ShortCard(self._theme, title, short, lines, step_sentences(step), parent=self)  # type: ignore[arg-type]
        card.sentence_opened.connect(self.sentence_opened)
        return card

    def _stage_row(self, step: Step, short: object, words: str) -> QWidget:
        card = QWidget(self)
        row = QHBoxLayout(card)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(2 * GRID)
        mark = VerdictWord(self._theme, short.shape, short.word, side=12, parent=card)  # type: ignore[attr-defined]
        fix_width(mark, 18 * GRID)
        text = QVBoxLayout()
        text.setSpacing(0)
        text.addWidget(_wrapped(words, card))
        text.addWidget(self._links(one_each(Sentence.of_source(s) for s in step_sources(step)), card))
        row.addWidget(mark, 0, Qt.AlignmentFlag.AlignTop)
        row.addLayout(text, 1)
        return card

    def _nothing_next(self, panel: PanelNow) -> QWidget:
        if panel.record.panel.plan:
            words = self.tr("Every layer of the build-up is on.")
        else:
            words = self.tr("Nothing is planned yet. Change the panel and name the layers, from the metal up.")
        return _wrapped(words, self)

    def _show_bare(self, panel: PanelNow, now: datetime) -> None:
        bare = panel.bare
        short = bare_short(bare, now) if bare is not None else None

        def make() -> list[QWidget]:
            if bare is None or short is None:
                return []
            sentences = one_each(Sentence.of_source(source) for source in (*bare.sources, *bare.related))
            title = bare.product.name if bare.product is not None else self.tr("Bare metal")
            card = ShortCard(self._theme, title, short, (bare_words(bare),), sentences, parent=self)
            card.sentence_opened.connect(self.sentence_opened)
            return [card]

        self.bare.fill((short, bare.sources if bare is not None else ()), make)

    def _picture_widgets(self, there: bool) -> list[QWidget]:
        if not there:
            return []
        # The picture itself stays; only what is beside it comes and goes.
        key = _wrapped(key_words(), self)
        set_look(key, "quiet")
        return [key]

    def _plan_row(self, shape: str, state: str, words: str) -> QWidget:
        row = QWidget(self)
        inside = QHBoxLayout(row)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.setSpacing(2 * GRID)
        mark = VerdictWord(self._theme, shape, state, side=12, parent=row)
        fix_width(mark, 18 * GRID)
        inside.addWidget(mark, 0, Qt.AlignmentFlag.AlignTop)
        inside.addWidget(_wrapped(words, row), 1)
        return row

    def _no_plan(self) -> QWidget:
        return _wrapped(self.tr("No build-up is planned."), self)

    def _log_card(self, entry: LogEntry, photos: Photos) -> QWidget:
        card = LogCard(entry, photos, self)
        card.change_wanted.connect(self.entry_change_wanted)
        card.remove_wanted.connect(self.entry_remove_wanted)
        return card

    def _links(self, sentences: Sequence[Sentence], parent: QWidget) -> SentenceLinks:
        links = SentenceLinks(sentences, parent)
        links.sentence_opened.connect(self.sentence_opened)
        return links

    def _lay_out(self) -> None:
        whole = QWidget()
        limit_width(whole, READABLE)
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, GRID, 2 * GRID)
        column.setSpacing(GRID)
        column.addWidget(self._name)
        column.addWidget(self._job)
        column.addWidget(
            flowing(
                GRID, self.coat_button, self.change_button, self.finish_button, self.print_button, self.pdf_button,
                self.csv_button, self.remove_button, parent=whole,
            )
        )  # fmt: skip
        column.addWidget(self.cautions)
        column.addWidget(self.next)
        quick = flowing(
            GRID, _together(whole, self.grit, self.abraded_button), self.degreased_button, self.blasted_button,
            self.derusted_button, self.outdoors_button, parent=whole,
        )  # fmt: skip
        column.addSpacing(GRID)
        column.addWidget(quick)
        for section in (self.bare, self.stages):
            column.addSpacing(GRID)
            column.addWidget(section)
        column.addWidget(self._picture_section)
        column.addWidget(self.picture)
        column.addSpacing(GRID)
        column.addWidget(self.plan)
        column.addWidget(flowing(GRID, self.check_button, parent=whole))
        column.addSpacing(GRID)
        column.addWidget(self.log)
        column.addSpacing(GRID)
        column.addWidget(self.caution_words)
        column.addStretch(1)
        self.setWidget(whole)


def step_lines(step: Step) -> tuple[str, ...]:
    """The verdict in its sentence with every condition, then the times; both, for they are two things."""
    lines: list[str] = []
    if step.answer is not None:
        lines.append(answer_words(step.answer))
        lines += [f"• {words[:1].upper()}{words[1:]}" for words in conditions_words(step.answer)]
        advice = advice_text(step.answer)
        if advice and step.answer.word != "yes":
            lines.append(advice)
    lines.append(step_words(step))
    return tuple(lines)


def step_sentences(step: Step) -> tuple[Sentence, ...]:
    """The sentences of the verdict, of the times, and of what to do once it is too late."""
    found: list[Sentence] = []
    if step.answer is not None:
        found += [Sentence.of_citation(citation) for citation in (*step.answer.citations, *step.answer.pending)]
    found += [Sentence.of_source(source) for source in step_sources(step)]
    if step.past is not None and step.timing in {Timing.PASSED, Timing.REOPENED}:
        found.append(Sentence.of_source(step.past))
    return one_each(found)


def plan_rows(panel: PanelNow, held: Held) -> tuple[tuple[str, str, str], ...]:
    """Shape, state and words of each layer, the uppermost first, as they lie on the panel."""
    rows = []
    for at, layer in enumerate(panel.record.panel.plan):
        shape, state = _layer_state(at, layer, panel)
        rows.append((shape, state, f"{at + 1}. {layer_words(layer, held)}"))
    return tuple(reversed(rows))


def layer_words(layer: Layer, held: Held) -> str:
    product = held.product(layer.product_id)
    name = product.name if product is not None else kind_words(layer.kind or "")
    parts = [name]
    if layer.coats is not None:
        parts.append(counted_words(layer.coats, "coat"))
    if layer.dry_um is not None:
        parts.append(translate("panels", "{film} µm dry").format(film=number_words(layer.dry_um)))
    return ", ".join(part for part in (*parts, layer.note) if part)


def _layer_state(at: int, layer: Layer, panel: PanelNow) -> tuple[str, str]:
    if panel.place is None or at > panel.place:
        following = at == (0 if panel.place is None else panel.place + 1)
        unfinished = panel.place is not None and _unfinished(panel)
        return (
            ("wait", translate("panels", "next"))
            if following and not unfinished
            else ("unconfirmed", translate("panels", "later"))
        )
    if at == panel.place and _unfinished(panel):
        return "wait", translate("panels", "{done} of {coats} on").format(done=panel.coats_of_place, coats=layer.coats)
    return "confirmed", translate("panels", "on")


def _unfinished(panel: PanelNow) -> bool:
    if panel.place is None:
        return False
    return panel.coats_of_place < (panel.record.panel.plan[panel.place].coats or 1)


def _wrapped(words: str, parent: QWidget) -> QLabel:
    label = QLabel(words, parent)
    label.setWordWrap(True)
    return label


def _together(parent: QWidget, *widgets: QWidget) -> QWidget:
    pair = QWidget(parent)
    row = QHBoxLayout(pair)
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(GRID // 2)
    for widget in widgets:
        row.addWidget(widget)
    return pair

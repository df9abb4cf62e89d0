"""One product's page: its cautions first, then what its sheets say, notes and own rules, its issues."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QButtonGroup,
    QFrame,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.figure_words import page_words
from app.filing.cautions import CautionBand
from app.flow import FlowLayout, flowing
from app.front_stack import FrontStack
from app.grouped_list import Entry, Group, GroupedList
from app.jobs import LibraryDesk
from app.naming.book import NameBook
from app.product_page.about import About, Issue, issue_words, standing_of
from app.product_page.notes import NotesPanel
from app.product_page.own_rules import OwnRulesPanel
from app.sentences import Sentence
from app.theme.theme import GRID, Theme, set_look
from app.wording import kind_words, topic_words
from extract.claims import Topic
from store.records import ClaimRecord, ClaimStatus, SheetRecord


class ProductPage(QWidget):
    """Signals: sentence_opened(sheet id, page, boxes); place_wanted(name, payload)."""

    sentence_opened = Signal(int, int, object)
    place_wanted = Signal(str, object)

    def __init__(self, desk: LibraryDesk, book: NameBook, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.about: About | None = None
        self.setAccessibleName(self.tr("The chosen product"))
        self._name = QLabel(self)
        self._name.setWordWrap(True)
        set_look(self._name, "head")
        self._source = QLabel(self)
        self._source.setWordWrap(True)
        set_look(self._source, "quiet")
        self.cautions = CautionBand(self)
        self.cautions.caution_opened.connect(self._open_record)
        self._deeds = QWidget(self)
        deeds = FlowLayout(self._deeds, GRID)
        for words, place in ((self.tr("Ask about it"), "ask"), (self.tr("Compare it"), "compare")):
            button = QPushButton(words, self._deeds)
            button.clicked.connect(self._goer(place))
            deeds.addWidget(button)
        self._confirm = QPushButton(self.tr("Confirm"), self._deeds)
        self._confirm.clicked.connect(self._on_confirm)
        deeds.addWidget(self._confirm)

        self.claims = GroupedList(theme, self.tr("What its sheets say"), self)
        self.claims.entry_opened.connect(self._on_claim_opened)
        self.notes = NotesPanel(desk, theme, self)
        self.own_rules = OwnRulesPanel(desk, book, theme, self)
        self._issues = QVBoxLayout()
        self._issues.setSpacing(GRID)
        self._parts = FrontStack(self)
        self._parts.addWidget(self.claims)
        self._parts.addWidget(_scrolled(self.notes, self.own_rules))
        issues = QWidget()
        issues.setLayout(self._issues)
        self._issues.setContentsMargins(0, 0, 0, 0)
        self._parts.addWidget(_scrolled(issues))
        self._chooser = QButtonGroup(self)
        self._switch = QWidget(self)
        switch_flow = FlowLayout(self._switch, GRID)
        for number in range(3):
            button = QPushButton(self._switch)
            button.setCheckable(True)
            self._chooser.addButton(button, number)
            switch_flow.addWidget(button)
        self._chooser.button(0).setChecked(True)
        self._chooser.idClicked.connect(self._parts.setCurrentIndex)

        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(self._name)
        column.addWidget(self._source)
        column.addWidget(self.cautions)
        column.addWidget(self._deeds)
        column.addSpacing(GRID)
        column.addWidget(self._switch)
        column.addWidget(self._parts, 1)
        self._name_parts(0, 0, 0)

    def show_part(self, number: int) -> None:
        """0: what its sheets say, 1: notes and own rules, 2: sheets and issues."""
        self._chooser.button(number).setChecked(True)
        self._parts.setCurrentIndex(number)

    def show_about(self, found: About) -> None:
        self.about = found
        product = found.product
        self._name.setText(product.name)
        kind = kind_words(product.kind) if product.kind else self.tr("kind not known")
        parts = [product.maker or self.tr("maker not known"), kind, product.code or ""]
        self._source.setText(" · ".join(part for part in parts if part))
        self.cautions.show_cautions(found.claims, product.name)
        waiting = sum(sheet.waiting for sheet in found.current)
        self._confirm.setVisible(bool(found.current))
        self._confirm.setText(
            self.tr("Confirm ({count} wait)").format(count=waiting) if waiting else self.tr("Look its sheet through")
        )
        at = self.claims.verticalScrollBar().value()
        self.claims.show_groups(_groups(found.claims, product.name))
        self.claims.verticalScrollBar().setValue(at)
        self.notes.show_notes(product.id, found.notes)
        self.own_rules.show_rules(product, found.own_rules)
        self._show_issues(found)
        kept = [record for record in found.claims if record.status is not ClaimStatus.REJECTED]
        self._name_parts(len(kept), len(found.notes) + len(found.own_rules), len(found.issues))

    # --- inside

    def _name_parts(self, claims: int, own: int, issues: int) -> None:
        for number, words in enumerate(
            (
                self.tr("What its sheets say ({count})").format(count=claims),
                self.tr("Notes and own rules ({count})").format(count=own),
                self.tr("Sheets and issues ({count})").format(count=issues),
            )
        ):
            self._chooser.button(number).setText(words)
        self._switch.updateGeometry()

    def _show_issues(self, found: About) -> None:
        while self._issues.count():
            item = self._issues.takeAt(0)
            widget = item.widget() if item is not None else None
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        if not found.issues:
            none = QLabel(self.tr("No sheet of this product is filed. Drop its PDF anywhere on the window."))
            none.setWordWrap(True)
            self._issues.addWidget(none)
        for issue in found.issues:
            self._issues.addWidget(self._issue_card(issue))
        self._issues.addStretch(1)

    def _issue_card(self, issue: Issue) -> QFrame:
        card = QFrame()
        set_look(card, "card")
        head = QLabel(issue_words(issue), card)
        head.setWordWrap(True)
        state = QLabel(standing_of(issue), card)
        set_look(state, "quiet")
        column = QVBoxLayout(card)
        column.setContentsMargins(2 * GRID, GRID, GRID, GRID)
        column.setSpacing(GRID // 2)
        column.addWidget(head)
        column.addWidget(state)
        if issue.changes:
            changed = QLabel(self.tr("Changed since the issue before:"), card)
            column.addWidget(changed)
            for change in issue.changes:
                words = QLabel(f"• {change.words}", card)
                words.setWordWrap(True)
                column.addWidget(words)
        links = []
        for text, does in (
            (self.tr("Open its pages"), self._page_opener(issue.sheet)),
            (self.tr("Go to its sheet"), self._sheet_goer(issue.sheet)),
        ):
            button = QPushButton(text, card)
            set_look(button, "link")
            button.clicked.connect(does)
            links.append(button)
        column.addWidget(flowing(GRID, *links, parent=card))
        return card

    def _goer(self, place: str) -> Callable[[], None]:
        def go() -> None:
            if self.about is not None:
                self.place_wanted.emit(place, self.about.product.id)

        return go

    def _page_opener(self, sheet: SheetRecord) -> Callable[[], None]:
        return lambda: self.sentence_opened.emit(sheet.id, 1, ())

    def _sheet_goer(self, sheet: SheetRecord) -> Callable[[], None]:
        return lambda: self.place_wanted.emit("sheets", sheet.id)

    def _on_confirm(self) -> None:
        if self.about is not None and self.about.current:
            waiting = [sheet for sheet in self.about.current if sheet.waiting]
            self.place_wanted.emit("confirm", (waiting or list(self.about.current))[0].id)

    def _on_claim_opened(self, entry: Entry) -> None:
        if isinstance(entry.payload, ClaimRecord):
            self._open_record(entry.payload)

    def _open_record(self, record: ClaimRecord) -> None:
        evidence = record.claim.evidence
        self.sentence_opened.emit(record.sheet_id, evidence.page, evidence.boxes)


def _groups(claims: tuple[ClaimRecord, ...], product: str) -> list[Group]:
    """By topic, the sentence beneath each; what was rejected is left out."""
    kept = [record for record in claims if record.status is not ClaimStatus.REJECTED]
    return [
        Group(
            topic_words(topic),
            tuple(_entry(record, product) for record in kept if record.claim.topic is topic),
        )
        for topic in Topic
    ]


def _entry(record: ClaimRecord, product: str) -> Entry:
    sentence = Sentence.of_record(record, product)
    beside = f"{sentence.quoted} {page_words(sentence.page)} · {sentence.standing}"
    return Entry(sentence.said, beside, record, sentence.shape, sentence.standing)


def _scrolled(*widgets: QWidget) -> QScrollArea:
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    whole = QWidget()
    column = QVBoxLayout(whole)
    column.setContentsMargins(0, GRID, GRID, GRID)
    column.setSpacing(3 * GRID)
    for widget in widgets:
        column.addWidget(widget)
    column.addStretch(1)
    area.setWidget(whole)
    return area

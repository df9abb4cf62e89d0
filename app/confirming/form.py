"""The small form in which a claim is corrected, or read out of the page by the person."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QCompleter,
    QFormLayout,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.confirming.draft import (
    CONTACT,
    Draft,
    NotUnderstood,
    claim_of,
    draft_of,
    new_draft,
    object_choices,
    properties_of,
    stances_of,
    unit_of,
)
from app.flow import flowing
from app.shortcuts import on_key
from app.theme.text_size import at_every_size, scaled
from app.theme.theme import GRID, set_look
from app.translating import QT_TRANSLATE_NOOP, translate
from app.wording import condition_words, method_words, property_words, topic_words
from extract.claims import Claim, Condition, Evidence, Method, Stance, Topic

_STANCES = {
    Stance.PERMITS: QT_TRANSLATE_NOOP("confirming", "allowed"),
    Stance.FORBIDS: QT_TRANSLATE_NOOP("confirming", "not allowed"),
    Stance.REQUIRES: QT_TRANSLATE_NOOP("confirming", "must be done"),
    Stance.STATES: QT_TRANSLATE_NOOP("confirming", "as stated"),
}
_UNITS = {"um": "µm", "degC": "°C", "m2/l": "m²/l", None: ""}
_UNIT_WORDS = {
    "min": QT_TRANSLATE_NOOP("confirming", "time"),
    "months": QT_TRANSLATE_NOOP("confirming", "months"),
    "count": QT_TRANSLATE_NOOP("confirming", "number"),
    "P": QT_TRANSLATE_NOOP("confirming", "P grade"),
}
_WITH_METHOD = frozenset({Topic.DRYING, Topic.OVERCOAT_WINDOW, Topic.APPLICATION, Topic.MIXING})


class ClaimForm(QFrame):
    """Edits one claim. Enter keeps it, Escape leaves it.

    Signals: kept(Claim); left().
    """

    kept = Signal(object)
    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._evidence: Evidence | None = None
        self._before: Claim | None = None
        set_look(self, "card")
        self.setAccessibleName(self.tr("Correct this statement"))
        self._title = QLabel(self)
        self._title.setWordWrap(True)
        set_look(self._title, "topic")
        self._quote = QLabel(self)
        self._quote.setWordWrap(True)
        set_look(self._quote, "quote")
        self._trouble = QLabel(self)
        self._trouble.setWordWrap(True)
        set_look(self._trouble, "caution")
        self._trouble.hide()
        fields = self._make_fields()
        scroll = QScrollArea(self)
        scroll.setWidgetResizable(True)
        scroll.setWidget(fields)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        at_every_size(scroll, lambda: scroll.setMinimumHeight(scaled(12 * GRID)))
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        keep = QPushButton(self.tr("Keep it so  (Enter)"), self)
        set_look(keep, "primary")
        keep.clicked.connect(self.keep)
        leave = QPushButton(self.tr("Leave it  (Esc)"), self)
        leave.clicked.connect(self.left)
        column = QVBoxLayout(self)
        column.setContentsMargins(2 * GRID, GRID, 2 * GRID, GRID)
        column.setSpacing(GRID)
        column.addWidget(self._title)
        column.addWidget(self._quote)
        column.addWidget(scroll, 1)
        column.addWidget(self._trouble)
        column.addWidget(flowing(GRID, keep, leave, parent=self))
        on_key(self, Qt.Key.Key_Escape, self.left.emit, children=True)
        self._on_topic_chosen()

    def correct(self, claim: Claim) -> None:
        """Open on a claim that was read."""
        self._start(self.tr("Correct what was read"), claim.evidence, claim)
        self._fill(draft_of(claim))
        self._topic.setFocus(Qt.FocusReason.OtherFocusReason)

    def add(self, evidence: Evidence, topic: Topic) -> None:
        """Open empty, on words chosen on the page."""
        self._start(self.tr("What do these words say?"), evidence, None)
        self._fill(new_draft(topic))
        self._topic.setFocus(Qt.FocusReason.OtherFocusReason)

    def keep(self) -> None:
        """Hand over the claim, or say what is not understood."""
        if self._evidence is None:
            return
        try:
            claim = claim_of(self.draft(), self._evidence, self._before)
        except NotUnderstood as problem:
            self._trouble.setText(problem.words)
            self._trouble.show()
            field = {
                "object": self._object,
                "via": self._via,
                "low": self._low,
                "high": self._high,
                "at_c": self._at_c,
                "parts": self._parts,
            }.get(problem.field)
            if field is not None:
                field.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        self.kept.emit(claim)

    def draft(self) -> Draft:
        """What the fields hold now."""
        return Draft(
            topic=Topic(self._topic.currentData()),
            property=self._property.currentData(),
            stance=Stance(self._stance.currentData()),
            object=self._object.currentText() if not self._object.isHidden() else "",
            via=self._via.currentText() if not self._via.isHidden() else "",
            only=self._only.isChecked(),
            conditions=frozenset(c for c, box in self._conditions.items() if box.isChecked()),
            low=self._low.text(),
            high=self._high.text(),
            unlimited=self._unlimited.isChecked() and not self._unlimited.isHidden(),
            at_c=self._at_c.text() if not self._at_c.isHidden() else "",
            method=Method(self._method.currentData()) if self._method.currentData() else None,
            parts=self._parts.text() if not self._parts.isHidden() else "",
            basis=self._basis.currentData(),
            text=self._text.text(),
        )

    @property
    def trouble(self) -> str:
        """What was not understood; empty where all was."""
        return "" if self._trouble.isHidden() else self._trouble.text()

    def sizeHint(self) -> QSize:
        return QSize(460, 460)

    # --- inside

    def _start(self, title: str, evidence: Evidence, before: Claim | None) -> None:
        self._title.setText(title)
        self._evidence, self._before = evidence, before
        self._quote.setText(f"“{evidence.quote}”")
        self._trouble.hide()

    def _make_fields(self) -> QWidget:
        fields = QWidget(self)
        self._rows = QFormLayout(fields)
        self._rows.setContentsMargins(0, 0, GRID, 0)
        self._rows.setSpacing(GRID)
        self._rows.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        self._topic, self._property, self._stance = QComboBox(), QComboBox(), QComboBox()
        for combo in (self._topic, self._property, self._stance):
            combo.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
            combo.setMinimumContentsLength(14)
        for topic in Topic:
            self._topic.addItem(topic_words(topic), topic.value)
        self._topic.currentIndexChanged.connect(self._on_topic_chosen)
        self._property.currentIndexChanged.connect(self._on_property_chosen)
        self._object, self._via = _kind_field(), _kind_field()
        self._only = QCheckBox(self.tr("only these, nothing else"))
        self._low, self._high, self._at_c = QLineEdit(), QLineEdit(), QLineEdit()
        self._unit = QLabel()
        self._unlimited = QCheckBox(self.tr("no upper limit"))
        self._method = QComboBox()
        self._method.addItem(self.tr("not said"), "")
        for method in Method:
            self._method.addItem(method_words(method), method.value)
        self._parts, self._text = QLineEdit(), QLineEdit()
        self._basis = QComboBox()
        for words, basis in (
            (self.tr("not said"), None),
            (self.tr("by volume"), "volume"),
            (self.tr("by weight"), "weight"),
        ):
            self._basis.addItem(words, basis)
        figures = QWidget()
        row = QHBoxLayout(figures)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GRID)
        row.addWidget(self._low, 1)
        row.addWidget(QLabel("–"))
        row.addWidget(self._high, 1)
        row.addWidget(self._unit)
        self._figures = figures
        boxes = QWidget()
        grid = QGridLayout(boxes)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setSpacing(GRID // 2)
        self._conditions = {c: QCheckBox(condition_words(c)) for c in Condition}
        for at, box in enumerate(self._conditions.values()):
            grid.addWidget(box, at, 0)
        self._boxes = boxes
        self._basis_row, self._parts_row = self._basis, self._parts
        for words, field in (
            (self.tr("It is about"), self._topic),
            (self.tr("namely"), self._property),
            (self.tr("which is"), self._stance),
            (self.tr("for / on"), self._object),
            ("", self._only),
            (self.tr("from – to"), figures),
            ("", self._unlimited),
            (self.tr("parts"), self._parts),
            (self.tr("measured"), self._basis),
            (self.tr("at °C"), self._at_c),
            (self.tr("dried or applied"), self._method),
            (self.tr("in words"), self._text),
            (self.tr("coat between"), self._via),
            (self.tr("conditions"), boxes),
        ):
            self._rows.addRow(words, field)
            if words:
                field.setAccessibleName(words)
        self._low.setAccessibleName(self.tr("from"))
        self._high.setAccessibleName(self.tr("to"))
        return fields

    def _fill(self, draft: Draft) -> None:
        self._topic.setCurrentIndex(self._topic.findData(draft.topic.value))
        self._on_topic_chosen()
        self._property.setCurrentIndex(max(self._property.findData(draft.property), 0))
        self._on_property_chosen()
        if self._stance.findData(draft.stance.value) < 0:
            self._stance.addItem(translate("confirming", _STANCES[draft.stance]), draft.stance.value)
        self._stance.setCurrentIndex(self._stance.findData(draft.stance.value))
        self._object.setCurrentText(draft.object)
        self._via.setCurrentText(draft.via)
        self._only.setChecked(draft.only)
        for condition, box in self._conditions.items():
            box.setChecked(condition in draft.conditions)
        self._low.setText(draft.low)
        self._high.setText(draft.high)
        self._unlimited.setChecked(draft.unlimited)
        self._at_c.setText(draft.at_c)
        self._method.setCurrentIndex(max(self._method.findData(draft.method.value if draft.method else ""), 0))
        self._parts.setText(draft.parts)
        self._basis.setCurrentIndex(max(self._basis.findData(draft.basis), 0))
        self._text.setText(draft.text)

    def _on_topic_chosen(self) -> None:
        topic = Topic(self._topic.currentData())
        self._property.blockSignals(True)
        self._property.clear()
        for name in properties_of(topic):
            self._property.addItem(property_words(name) if name else "", name)
        self._property.blockSignals(False)
        self._on_property_chosen()

    def _on_property_chosen(self) -> None:
        topic, name = Topic(self._topic.currentData()), self._property.currentData()
        contact = topic in CONTACT
        before = self._stance.currentData()
        self._stance.clear()
        for stance in stances_of(topic, name):
            self._stance.addItem(translate("confirming", _STANCES[stance]), stance.value)
        self._stance.setCurrentIndex(max(self._stance.findData(before), 0))
        unit = unit_of(topic, name)
        words = _UNIT_WORDS.get(unit or "")
        self._unit.setText(translate("confirming", words) if words else _UNITS.get(unit, unit or ""))
        ratio = name == "ratio"
        for field, shown in (
            (self._property, not contact),
            (self._stance, self._stance.count() > 1),
            (self._object, contact or topic in {Topic.PREPARATION, Topic.OVERCOAT_WINDOW, Topic.FILM}),
            (self._only, contact),
            (self._figures, unit is not None),
            (self._unlimited, unit == "min"),
            (self._parts, ratio),
            (self._basis, ratio),
            (self._at_c, topic in _WITH_METHOD and unit is not None),
            (self._method, topic in _WITH_METHOD and unit is not None),
            (self._text, not contact),
            (self._via, contact),
            (self._boxes, contact or topic in {Topic.PREPARATION, Topic.OVERCOAT_WINDOW, Topic.EXPOSURE}),
        ):
            self._rows.setRowVisible(field, shown)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.keep()
            event.accept()
        else:
            super().keyPressEvent(event)


def _kind_field() -> QComboBox:
    field = QComboBox()
    field.setEditable(True)
    field.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
    field.addItem("")
    field.addItems(list(object_choices()))
    completer = QCompleter(field.model(), field)
    completer.setFilterMode(Qt.MatchFlag.MatchContains)
    completer.setCompletionMode(QCompleter.CompletionMode.PopupCompletion)
    completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
    field.setCompleter(completer)
    field.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    field.setMinimumContentsLength(16)
    return field

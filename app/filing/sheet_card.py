"""One filed sheet: what it is of, what it warns of, what could not be read, and the way on to confirming it."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QFormLayout,
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.figure_words import counted_words
from app.filing.cautions import CautionBand
from app.filing.words import waiting_words
from app.jobs import LibraryChange, LibraryDesk
from app.theme.theme import GRID, set_look
from app.translating import translate
from app.wording import date_words, kind_words
from extract.kinds import kinds
from store.records import ClaimRecord, ProductRecord, SheetRecord


class SheetCard(QFrame):
    """Shows a sheet; its header can be put right here.

    Signals: confirming_asked(sheet id); page_asked(sheet id, page, boxes).
    """

    confirming_asked = Signal(int)
    page_asked = Signal(int, int, object)

    def __init__(self, desk: LibraryDesk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._sheet: SheetRecord | None = None
        set_look(self, "card")
        self.setAccessibleName(self.tr("The chosen sheet"))
        self._name = QLabel(self)
        self._name.setWordWrap(True)
        set_look(self._name, "head")
        self._source = QLabel(self)
        self._source.setWordWrap(True)
        set_look(self._source, "quiet")
        self._cautions = CautionBand(self)
        self._cautions.caution_opened.connect(self._on_caution_opened)
        self._problems = QLabel(self)
        self._problems.setWordWrap(True)
        set_look(self._problems, "caution")
        self._confirm = QPushButton(self.tr("Confirm"), self)
        set_look(self._confirm, "primary")
        self._confirm.clicked.connect(lambda: self._sheet and self.confirming_asked.emit(self._sheet.id))
        self._page = QPushButton(self.tr("Open its pages"), self)
        self._page.clicked.connect(lambda: self._sheet and self.page_asked.emit(self._sheet.id, 1, ()))
        self._edit = QPushButton(self.tr("Put the header right"), self)
        self._edit.setCheckable(True)
        self._edit.toggled.connect(self._on_edit_toggled)
        self._form = self._make_form()
        buttons = QVBoxLayout()
        buttons.setSpacing(GRID)
        for button in (self._confirm, self._page, self._edit):
            buttons.addWidget(button)
        column = QVBoxLayout(self)
        column.setContentsMargins(2 * GRID, 2 * GRID, 2 * GRID, 2 * GRID)
        column.setSpacing(GRID)
        column.addWidget(self._name)
        column.addWidget(self._source)
        column.addWidget(self._cautions)
        column.addWidget(self._problems)
        column.addSpacing(GRID)
        column.addLayout(buttons)
        column.addWidget(self._form)
        column.addStretch(1)
        self.show_sheet(None)

    @property
    def sheet(self) -> SheetRecord | None:
        return self._sheet

    def show_sheet(self, sheet: SheetRecord | None) -> None:
        """Show this sheet, or nothing."""
        other = sheet is None or self._sheet is None or sheet.id != self._sheet.id
        self._sheet = sheet
        self.setVisible(sheet is not None)
        if sheet is None:
            return
        product = sheet.product
        self._name.setText(product.name)
        self._source.setText("\n".join(_source_lines(sheet)))
        self._problems.setText("\n".join(sheet.problems))
        self._problems.setVisible(bool(sheet.problems))
        self._confirm.setEnabled(bool(sheet.waiting + sheet.decided))
        self._confirm.setText(
            self.tr("Confirm ({count} wait)").format(count=sheet.waiting)
            if sheet.waiting
            else self.tr("Look it through again")
        )
        if other:
            self._edit.setChecked(False)
            self._fill(product)
        self._desk.read(lambda library: library.claims(sheet.id), self._on_claims_read)

    def _make_form(self) -> QWidget:
        form = QWidget(self)
        rows = QFormLayout(form)
        rows.setContentsMargins(0, GRID, 0, 0)
        rows.setSpacing(GRID)
        rows.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapAllRows)
        self._name_field = QLineEdit(form)
        self._maker_field = QLineEdit(form)
        self._code_field = QLineEdit(form)
        self._kind_field = QComboBox(form)
        self._kind_field.addItem(self.tr("not known"), None)
        for kind in kinds():
            self._kind_field.addItem(kind_words(kind), kind)
        for words, field in (
            (self.tr("Product"), self._name_field),
            (self.tr("Maker"), self._maker_field),
            (self.tr("Kind"), self._kind_field),
            (self.tr("Code"), self._code_field),
        ):
            field.setAccessibleName(words)
            rows.addRow(words, field)
        save = QPushButton(self.tr("Keep these"), form)
        set_look(save, "primary")
        save.clicked.connect(self._on_saved)
        leave = QPushButton(self.tr("Leave as it was"), form)
        leave.clicked.connect(lambda: self._edit.setChecked(False))
        row = QHBoxLayout()
        row.addWidget(save)
        row.addWidget(leave)
        rows.addRow(row)
        self._name_field.returnPressed.connect(self._on_saved)
        form.hide()
        return form

    def _fill(self, product: ProductRecord) -> None:
        self._name_field.setText(product.name)
        self._maker_field.setText(product.maker)
        self._code_field.setText(product.code or "")
        self._kind_field.setCurrentIndex(max(self._kind_field.findData(product.kind), 0))

    def _on_edit_toggled(self, open_: bool) -> None:
        self._form.setVisible(open_)
        if open_ and self._sheet is not None:
            self._fill(self._sheet.product)
            self._name_field.setFocus(Qt.FocusReason.OtherFocusReason)
            self._name_field.selectAll()

    def _on_saved(self) -> None:
        sheet = self._sheet
        name = self._name_field.text().strip()
        if sheet is None or not name:
            return
        maker, code = self._maker_field.text().strip(), self._code_field.text().strip()
        kind = self._kind_field.currentData()
        product_id = sheet.product.id
        self._desk.write(
            lambda library: library.change_product(product_id, name=name, maker=maker, kind=kind, code=code),
            LibraryChange(sheets=frozenset({sheet.id}), products=frozenset({product_id}), filed=True, initiator=self),
        )
        self._edit.setChecked(False)

    def _on_claims_read(self, claims: tuple[ClaimRecord, ...]) -> None:
        if self._sheet is not None and all(c.sheet_id == self._sheet.id for c in claims):
            self._cautions.show_cautions(claims, self._sheet.product.name)

    def _on_caution_opened(self, record: ClaimRecord) -> None:
        evidence = record.claim.evidence
        self.page_asked.emit(record.sheet_id, evidence.page, evidence.boxes)


def _source_lines(sheet: SheetRecord) -> list[str]:
    product = sheet.product
    kind = kind_words(product.kind) if product.kind else translate("filing", "kind not known")
    issue = translate("filing", "no date of issue printed")
    if sheet.issued:
        issue = translate("filing", "issue of {date}").format(date=date_words(sheet.issued))
    if sheet.revision:
        issue = translate("filing", "{issue}, revision {revision}").format(issue=issue, revision=sheet.revision)
    maker = product.maker or translate("filing", "maker not known")
    lines = [f"{maker} · {kind}", f"{issue} · {counted_words(sheet.pages, 'page')}", sheet.file_name]
    lines.append(waiting_words(sheet))
    if sheet.superseded_by is not None:
        lines.append(translate("filing", "A newer issue of this sheet is filed; answers rest on that one."))
    return lines

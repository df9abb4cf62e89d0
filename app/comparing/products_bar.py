"""Which products are compared: each with the way to take it out, and a field to add another."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QPushButton, QWidget

from app.flow import FlowLayout
from app.naming.book import NameBook
from app.naming.field import NameField
from app.theme.theme import GRID
from store.records import ProductRecord

LEAST, MOST = 2, 6
_SHOWN = 26


class ProductsBar(QWidget):
    """Signals: products_changed()."""

    products_changed = Signal()

    def __init__(self, book: NameBook, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._book = book
        self._products: tuple[ProductRecord, ...] = ()
        self._chips: list[QPushButton] = []
        self.setAccessibleName(self.tr("Products compared"))
        self.field = NameField(
            book, self.tr("Add a product"), hint=self.tr("add a product"), kinds_too=False, parent=self
        )
        self.field.setMinimumWidth(28 * GRID)
        self.field.meaning_changed.connect(self._on_meaning_changed)
        self._flow = FlowLayout(self, GRID)
        self._flow.addWidget(self.field)
        book.names_changed.connect(self._on_names_changed)

    @property
    def products(self) -> tuple[ProductRecord, ...]:
        return self._products

    @property
    def chips(self) -> tuple[QPushButton, ...]:
        return tuple(self._chips)

    def set_products(self, products: Sequence[ProductRecord]) -> None:
        """Compare these; more than six, and the first six are taken."""
        kept = tuple({p.id: p for p in products}.values())[:MOST]
        if kept == self._products:
            return
        self._products = kept
        self._show()
        self.products_changed.emit()

    def add(self, product: ProductRecord) -> None:
        self.set_products((*self._products, product))

    def remove(self, product_id: int) -> None:
        at = next((i for i, p in enumerate(self._products) if p.id == product_id), 0)
        self.set_products([p for p in self._products if p.id != product_id])
        # The keyboard stays in the row rather than going nowhere with the button.
        after = self._chips[min(at, len(self._chips) - 1)] if self._chips else self.field.line
        after.setFocus(Qt.FocusReason.OtherFocusReason)

    def _show(self) -> None:
        for chip in self._chips:
            self._flow.removeWidget(chip)
            chip.hide()
            chip.deleteLater()
        self._chips = []
        for place, product in enumerate(self._products):
            name = product.name if len(product.name) <= _SHOWN else f"{product.name[: _SHOWN - 1]}…"
            chip = QPushButton(f"{name}   ✕", self)
            chip.setToolTip(self.tr("Take {name} out").format(name=product.name))
            chip.setAccessibleName(self.tr("Take {name} out").format(name=product.name))
            chip.clicked.connect(self._remover(product.id))
            self._flow.insert(place, chip)
            chip.show()
            self._chips.append(chip)
        self.field.setVisible(len(self._products) < MOST)
        self.updateGeometry()

    def _remover(self, product_id: int) -> Callable[[], None]:
        return lambda: self.remove(product_id)

    def _on_meaning_changed(self, meaning: object) -> None:
        if isinstance(meaning, ProductRecord):
            self.field.set_meaning(None)
            self.add(meaning)

    def _on_names_changed(self) -> None:
        """What was put right shows at once; what is no longer in the library goes."""
        now = [self._book.product(p.id) for p in self._products]
        self.set_products([p for p in now if p is not None])

"""The place that tells everything the library knows of one product."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QLineEdit, QSplitter, QVBoxLayout, QWidget

from app.empty_place import EmptyPlace
from app.front_stack import FrontStack
from app.grouped_list import Entry, Group, GroupedList
from app.jobs import LibraryChange, LibraryDesk, Soon
from app.naming.book import NameBook
from app.place import Place
from app.product_page.about import About, about
from app.product_page.page import ProductPage
from app.settings import Settings
from app.theme.theme import GRID, Theme, set_look
from app.translating import QT_TRANSLATE_NOOP, translate
from app.wording import kind_words
from store.records import ProductRecord

MOST = 200
"""Products listed at once; a few letters narrow the list."""
_LAST = "products/last"


class ProductsPlace(Place):
    """The products of the library down one side, the chosen one's page beside."""

    name = "products"
    title = QT_TRANSLATE_NOOP("places", "Products")
    icon_name = "notes"

    def __init__(
        self, desk: LibraryDesk, book: NameBook, theme: Theme, settings: Settings, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._desk = desk
        self._book = book
        self._settings = settings
        self._wanted: int | None = None
        self._asked = 0
        self._again = Soon(self._look_again, parent=self)
        head = QLabel(self.tr("Products"), self)
        set_look(head, "large")
        self.filter = QLineEdit(self)
        self.filter.setPlaceholderText(self.tr("Narrow the list"))
        self.filter.setAccessibleName(self.tr("Narrow the list of products"))
        self.filter.setClearButtonEnabled(True)
        self.list = GroupedList(theme, self.tr("Products"), self)
        self._more = QLabel(self)
        self._more.setWordWrap(True)
        set_look(self._more, "quiet")
        side = QWidget(self)
        side.setMinimumWidth(24 * GRID)
        side_column = QVBoxLayout(side)
        side_column.setContentsMargins(0, 0, 0, 0)
        side_column.setSpacing(GRID)
        side_column.addWidget(self.filter)
        side_column.addWidget(self.list, 1)
        side_column.addWidget(self._more)
        self.page = ProductPage(desk, book, theme, self)
        self._split = QSplitter(Qt.Orientation.Horizontal, self)
        self._split.setChildrenCollapsible(False)
        self._split.setHandleWidth(2 * GRID)
        self._split.addWidget(side)
        self._split.addWidget(self.page)
        self._split.setStretchFactor(1, 1)
        self._split.setSizes([260, 760])
        settings.restore_splitter("products", self._split)
        empty = EmptyPlace(
            self.tr("Each product has a page here: its sheets, what they say, your notes. File a sheet to begin."),
            self.tr("File sheets …"),
            self,
        )
        empty.wanted.connect(lambda: self.place_wanted.emit("sheets", None))
        self._stack = FrontStack(self)
        self._stack.addWidget(empty)
        self._stack.addWidget(self._split)
        column = QVBoxLayout(self)
        column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        column.setSpacing(2 * GRID)
        column.addWidget(head)
        column.addWidget(self._stack, 1)

        self.filter.textChanged.connect(lambda _: self._show_list())
        self.list.entry_opened.connect(self._on_entry_opened)
        self.list.selectionModel().currentChanged.connect(lambda *_: self._on_stepped())
        self.page.sentence_opened.connect(self.evidence_opened)
        self.page.place_wanted.connect(self.place_wanted)
        book.names_changed.connect(self._on_names_changed)
        desk.library_changed.connect(self._on_library_changed)
        last = settings.text(_LAST)
        self._wanted = int(last) if last.isdigit() else None
        self._on_names_changed()

    @property
    def shown(self) -> About | None:
        """What the page shows."""
        return self.page.about

    def show_product(self, product_id: int) -> None:
        self._wanted = product_id
        self._asked += 1
        asked, products = self._asked, self._book.products
        self._desk.read(
            lambda library: about(library, product_id, products),
            lambda found: self._on_about_read(asked, found),
        )

    def activated(self) -> None:
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def come_with(self, payload: object) -> None:
        """payload: a product id to show, or words to narrow the list by."""
        if isinstance(payload, int):
            self.filter.clear()
            self.show_product(payload)
            self._show_list()
        elif isinstance(payload, str):
            self.filter.setText(payload)

    def keep(self) -> None:
        self._settings.keep_splitter("products", self._split)
        self._settings.set_text(_LAST, str(self._wanted) if self._wanted is not None else "")

    # --- inside

    def _on_names_changed(self) -> None:
        products = self._book.products
        self._stack.setCurrentIndex(1 if products else 0)
        if products and (self._wanted is None or self._book.product(self._wanted) is None):
            self._wanted = products[0].id
        self._show_list()
        if products:
            self._again.ask()

    def _show_list(self) -> None:
        words = self.filter.text().casefold().split()
        fitting = [p for p in self._book.products if _fits(p, words)]
        shown = fitting[:MOST]
        more = len(fitting) - len(shown)
        self._more.setText(self.tr("and {count} more: narrow the list").format(count=more) if more else "")
        self._more.setVisible(bool(more))
        self.list.show_groups([Group("", tuple(_entry(product) for product in shown))])
        at = next((number for number, product in enumerate(shown) if product.id == self._wanted), None)
        if at is not None:
            self.list.selectionModel().blockSignals(True)
            self.list.choose(at)
            self.list.selectionModel().blockSignals(False)

    def _on_stepped(self) -> None:
        entry = self.list.current
        if entry is not None and isinstance(entry.payload, ProductRecord) and entry.payload.id != self._wanted:
            self.show_product(entry.payload.id)

    def _on_entry_opened(self, entry: Entry) -> None:
        if isinstance(entry.payload, ProductRecord):
            self.show_product(entry.payload.id)

    def _look_again(self) -> None:
        if self._wanted is not None and self._book.product(self._wanted) is not None:
            self.show_product(self._wanted)

    def _on_about_read(self, asked: int, found: About) -> None:
        if asked == self._asked:
            self.page.show_about(found)

    def _on_library_changed(self, change: LibraryChange) -> None:
        shown = self.page.about
        sheets = {issue.sheet.id for issue in shown.issues} if shown is not None else set()
        concerned = shown is None or shown.product.id in change.products or bool(change.sheets & sheets)
        if concerned or change.everything or change.filed:
            self._again.ask()


def _fits(product: ProductRecord, words: Sequence[str]) -> bool:
    if not words:
        return True
    kind = kind_words(product.kind) if product.kind else ""
    whole = f"{product.name} {product.maker} {product.code or ''} {kind}".casefold()
    return all(word in whole for word in words)


def _entry(product: ProductRecord) -> Entry:
    kind = kind_words(product.kind) if product.kind else ""
    beside = " · ".join(part for part in (product.maker, kind) if part)
    if not product.has_sheet:
        beside = " · ".join(part for part in (beside, translate("product", "no sheet filed")) if part)
    return Entry(product.name, beside, product)

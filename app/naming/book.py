"""The names that can be typed: products of the library and kinds of the trade, looked up off the main thread."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from app.jobs import LibraryChange, LibraryDesk
from app.wording import kind_labels, kind_words
from extract.kinds import is_known
from store.records import ProductRecord
from store.rules.names import KindName, Suggestion, Unknown, complete
from store.rules.typed_names import named

if TYPE_CHECKING:
    from store.library import Library

MOST = 12
"""Offers shown for what is typed."""


def kept_words(key: str) -> str:
    """A kept key as it is shown and typed: kinds in the language of the window, names as they stand."""
    return kind_words(key) if is_known(key) else key


class NameBook(QObject):
    """Keeps every product at hand, so that completing asks the library for nothing.

    Signals: names_changed() once products were read again.
    """

    names_changed = Signal()

    def __init__(self, desk: LibraryDesk, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._products: tuple[ProductRecord, ...] = ()
        self._counts: Counter[str] = Counter()
        desk.library_opened.connect(self._on_library_opened)
        desk.library_changed.connect(self._on_library_changed)
        if desk.ready:
            self._on_library_opened()

    @property
    def products(self) -> tuple[ProductRecord, ...]:
        return self._products

    def product(self, product_id: int) -> ProductRecord | None:
        return next((p for p in self._products if p.id == product_id), None)

    def text_of(self, meaning: ProductRecord | KindName) -> str:
        """What to write for it, so that it is found again: the maker too where two products share a name."""
        if not isinstance(meaning, ProductRecord):
            return kind_words(meaning.kind)
        shared = self._counts[meaning.name.casefold()] > 1
        return f"{meaning.maker} {meaning.name}".strip() if shared else meaning.name

    def key_of(self, meaning: ProductRecord | KindName) -> str:
        """What to keep for it: a kind's id, which is the same in every language, or the name that finds a product."""
        return self.text_of(meaning) if isinstance(meaning, ProductRecord) else meaning.kind

    def complete(self, typed: str, done: Callable[[Sequence[Suggestion]], None], *, kinds_too: bool = True) -> None:
        """What may be meant by the letters typed so far, best first; done on the main thread."""
        products, called = self._products, kind_labels()

        def work(_: Library) -> Sequence[Suggestion]:
            return complete(typed, products, MOST, kinds_too=kinds_too, called=called)

        self._desk.read(work, done)

    def resolve(
        self, text: str, done: Callable[[ProductRecord | KindName | Unknown], None], *, kinds_too: bool = True
    ) -> None:
        """What a whole name means; one that is merely like it is among the nearest of Unknown."""
        products, called = self._products, kind_labels()

        def work(library: Library) -> ProductRecord | KindName | Unknown:
            return named(text, products or library.products(), called, kinds_too=kinds_too)

        self._desk.read(work, done)

    def _on_library_opened(self) -> None:
        self._desk.read(lambda library: library.products(), self._on_products_read)

    def _on_library_changed(self, change: LibraryChange) -> None:
        if change.filed or change.products or change.everything:
            self._on_library_opened()

    def _on_products_read(self, products: tuple[ProductRecord, ...]) -> None:
        if products != self._products:
            self._products = products
            self._counts = Counter(p.name.casefold() for p in products)
            self.names_changed.emit()

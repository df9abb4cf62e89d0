"""The planned build-up as layers in their order, from the metal up: named, moved, counted, taken out."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QFrame, QLabel, QPushButton, QVBoxLayout, QWidget

from app.flow import flowing
from app.naming.book import NameBook
from app.naming.field import NameField
from app.naming.figures import FigureField
from app.theme.text_size import fix_width, scaled
from app.theme.theme import GRID, set_look
from app.wording import kind_words
from store.job_records import Layer
from store.records import ProductRecord
from store.rules.names import KindName

_BESIDE = 68 * GRID


class LayerRow(QFrame):
    """One layer. Its number is its place from the metal up."""

    def __init__(self, words: str, name: str, layer: Layer, parent: QWidget) -> None:
        super().__init__(parent)
        set_look(self, "card")
        self.layer = layer
        self.setAccessibleName(words)
        label = QLabel(words, self)
        label.setWordWrap(True)
        self.coats = FigureField(
            self.tr("Coats of {name}").format(name=name), self.tr("coats"), 1, 20,
            empty_words=self.tr("coats"), first=2, counted="coat", parent=self,
        )  # fmt: skip
        fix_width(self.coats, 12 * GRID)
        self.coats.set_value(layer.coats)
        self.up = self._button(self.tr("Up"), self.tr("Move {name} up: nearer the weather").format(name=name))
        self.down = self._button(self.tr("Down"), self.tr("Move {name} down: nearer the metal").format(name=name))
        self.out = self._button(self.tr("Take out"), self.tr("Take {name} out of the build-up").format(name=name))
        self._row = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._row.setContentsMargins(2 * GRID, GRID // 2, GRID, GRID // 2)
        self._row.setSpacing(GRID // 2)
        self._row.addWidget(label, 1)
        self._row.addWidget(flowing(GRID, self.coats, self.up, self.down, self.out, parent=self), 2)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        # A name that would be squeezed to a word a line stands above what is done to it.
        beside = event.size().width() >= scaled(_BESIDE)
        self._row.setDirection(QBoxLayout.Direction.LeftToRight if beside else QBoxLayout.Direction.TopToBottom)

    def _button(self, words: str, name: str) -> QPushButton:
        button = QPushButton(words, self)
        set_look(button, "deed")
        button.setAccessibleName(name)
        button.setToolTip(name)
        return button


class PlanEditor(QWidget):
    """Shown as it lies: the uppermost layer on top, the surface at the bottom.

    Signals: plan_changed().
    """

    plan_changed = Signal()

    def __init__(self, book: NameBook, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._book = book
        self._plan: list[Layer] = []
        self.rows: tuple[LayerRow, ...] = ()
        self.field = NameField(
            book, self.tr("Next layer up"), hint=self.tr("next layer up: a product or a kind"), parent=self
        )
        self.field.meaning_changed.connect(self._on_named)
        self._rows = QVBoxLayout()
        self._rows.setSpacing(GRID // 2)
        self._surface = QLabel(self)
        set_look(self._surface, "quiet")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(self.field)
        column.addLayout(self._rows)
        column.addWidget(self._surface)
        self.show_surface(None)

    @property
    def plan(self) -> tuple[Layer, ...]:
        """From the metal up."""
        return tuple(self._plan)

    def set_plan(self, plan: Sequence[Layer]) -> None:
        self._plan = list(plan)
        self.field.set_meaning(None)
        self._build()

    def show_surface(self, surface: str | None) -> None:
        """What the lowest layer goes onto."""
        name = kind_words(surface) if surface else self.tr("a surface that is not named")
        self._surface.setText(self.tr("on {surface}").format(surface=name))

    def name_of(self, layer: Layer) -> str:
        if layer.product_id is None:
            return kind_words(layer.kind or "")
        product = self._book.product(layer.product_id)
        return product.name if product is not None else self.tr("a product no longer here")

    def _on_named(self, meaning: object) -> None:
        if isinstance(meaning, ProductRecord):
            self._plan.append(Layer(product_id=meaning.id))
        elif isinstance(meaning, KindName):
            self._plan.append(Layer(kind=meaning.kind))
        else:
            return
        self.field.set_meaning(None)
        self._build()
        self.plan_changed.emit()
        self.field.line.setFocus()

    def _build(self) -> None:
        for row in self.rows:
            self._rows.removeWidget(row)
            row.hide()
            row.deleteLater()
        self.rows = tuple(self._row(at, layer) for at, layer in enumerate(self._plan))
        for row in reversed(self.rows):
            self._rows.addWidget(row)

    def _row(self, at: int, layer: Layer) -> LayerRow:
        name = self.name_of(layer)
        made = LayerRow(f"{at + 1}. {name}", name, layer, self)
        made.up.setEnabled(at + 1 < len(self._plan))
        made.down.setEnabled(at > 0)
        made.up.clicked.connect(self._mover(at, at + 1))
        made.down.clicked.connect(self._mover(at, at - 1))
        made.out.clicked.connect(lambda: self._take_out(at))
        made.coats.figure_changed.connect(lambda: self._count(at, made.coats.value))
        return made

    def _mover(self, at: int, to: int) -> Callable[[], None]:
        def move() -> None:
            self._plan.insert(to, self._plan.pop(at))
            self._build()
            moved = self.rows[to]
            wanted = moved.up if to > at else moved.down
            (wanted if wanted.isEnabled() else moved.out).setFocus()
            self.plan_changed.emit()

        return move

    def _take_out(self, at: int) -> None:
        del self._plan[at]
        self._build()
        self.field.line.setFocus()
        self.plan_changed.emit()

    def _count(self, at: int, coats: float | None) -> None:
        old = self._plan[at]
        count = round(coats) if coats is not None else None
        self._plan[at] = Layer(old.product_id, old.kind, count, old.dry_um, old.note)
        self.plan_changed.emit()

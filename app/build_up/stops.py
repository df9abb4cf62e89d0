"""What comes in between, in its order from the metal up: coats of a product or a kind, and times outdoors."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from app.build_up.ordered_list import OrderDeeds, OrderedList, Row
from app.buildup_words import weeks_words
from app.naming.book import NameBook
from app.naming.field import NameField
from app.naming.figures import FigureField
from app.theme.text_size import fix_height, fix_width
from app.theme.theme import GRID, Theme, set_look
from app.verdict_words import party_words
from store.planning.finder import Stop
from store.records import ProductRecord
from store.rules.names import KindName
from store.rules.reach import party_of


class StopsEditor(QWidget):
    """Signals: stops_changed()."""

    stops_changed = Signal()

    def __init__(self, book: NameBook, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._stops: list[Stop] = []
        self.field = NameField(
            book, self.tr("A coat in between"), hint=self.tr("a filler, a seam sealer …"), parent=self
        )
        self.weeks = FigureField(
            self.tr("Weeks outdoors at this stage"), self.tr("weeks"), 0.1, 520,
            empty_words=self.tr("weeks"), first=1, counted="week", parent=self,
        )  # fmt: skip
        fix_width(self.weeks, 13 * GRID)
        self.outdoors = QPushButton(self.tr("Stands outdoors"), self)
        set_look(self.outdoors, "deed")
        self.outdoors.setToolTip(
            self.tr("Adds the weeks to the last entry, or as an entry of their own where there is none yet.")
        )
        self.list = OrderedList(theme, self.tr("What comes in between, the first coat on top"), self)
        fix_height(self.list, 11 * GRID)
        self.deeds = OrderDeeds(
            self.list, self.tr("Move it earlier: nearer the metal"), self.tr("Move it later: nearer the finish"), self
        )
        self._order = QLabel(self.tr("In the order of the work."), self)
        set_look(self._order, "quiet")
        row = QHBoxLayout()
        row.setSpacing(GRID)
        row.addWidget(self.weeks)
        row.addWidget(self.outdoors)
        row.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(self.field)
        column.addLayout(row)
        column.addWidget(self.list)
        column.addWidget(self._order)
        column.addWidget(self.deeds)
        self.field.meaning_changed.connect(self._on_named)
        self.outdoors.clicked.connect(self._on_outdoors)
        self.weeks.returnPressed.connect(self._on_outdoors)
        self.list.move_wanted.connect(self._on_move_wanted)
        self.list.taking_out_wanted.connect(self._on_taking_out_wanted)
        self._show(0)

    @property
    def stops(self) -> tuple[Stop, ...]:
        return tuple(self._stops)

    def set_stops(self, stops: tuple[Stop, ...]) -> None:
        """Show these; says nothing to anybody."""
        self._stops = list(stops)
        self._show(0)

    def _on_named(self, meaning: object) -> None:
        if isinstance(meaning, ProductRecord | KindName):
            self._stops.append(Stop(party_of(meaning)))
            self.field.set_meaning(None)
            self._changed(len(self._stops) - 1)

    def _on_outdoors(self) -> None:
        # The words are taken first: the button is pressed with the figure still being typed.
        weeks = self.weeks.value
        if weeks is None:
            self.weeks.setFocus()
            return
        if self._stops and not self._stops[-1].weeks_outdoors:
            self._stops[-1] = replace(self._stops[-1], weeks_outdoors=weeks)
        else:
            self._stops.append(Stop(None, weeks))
        self.weeks.set_value(None)
        self._changed(len(self._stops) - 1)

    def _on_move_wanted(self, row: int, to: int) -> None:
        self._stops.insert(to, self._stops.pop(row))
        self._changed(to)

    def _on_taking_out_wanted(self, row: int) -> None:
        if 0 <= row < len(self._stops):
            del self._stops[row]
            self._changed(max(row - 1, 0))

    def _changed(self, chosen: int) -> None:
        self._show(chosen)
        self.stops_changed.emit()

    def _show(self, chosen: int) -> None:
        self.list.show_rows([Row(self._words(stop)) for stop in self._stops], chosen)
        for widget in (self.list, self._order, self.deeds):
            widget.setVisible(bool(self._stops))
        self.deeds.look()

    def _words(self, stop: Stop) -> str:
        outdoors = self.tr("{weeks} outdoors").format(weeks=weeks_words(stop.weeks_outdoors))
        if stop.party is None:
            return outdoors
        return f"{party_words(stop.party)}, {outdoors}" if stop.weeks_outdoors else party_words(stop.party)

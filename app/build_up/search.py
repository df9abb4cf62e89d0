"""The search for build-ups, away from the window and from the library's thread; it can be left at any time."""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, Signal

from app.jobs import LibraryDesk, Runner
from extract.claims import Topic
from store.planning.buildup_sheets import Sheets
from store.planning.finder import FindResult, Wanted, find
from store.planning.finder_shelf import on_the_shelf
from store.records import ProductRecord, Proposal, Rule
from store.rules.answers import Answer
from store.rules.reach import Party, ProductParty

if TYPE_CHECKING:
    from store.library import Library

_EVERY = 25


class SearchLeft(Exception):
    """The person does not wait for it any longer."""


class WatchedSheets(Sheets):
    """Sheets that count the contacts asked about, and end the search once it is left."""

    def __init__(self, left: threading.Event, judged: Callable[[int], None], *sources: Any) -> None:
        """sources are those of Sheets."""
        super().__init__(*sources)
        self._left, self._judged, self._count = left, judged, 0

    def said(self, party: Party, topic: Topic, property_: str | None = None) -> list[Rule]:
        if self._left.is_set():
            raise SearchLeft
        return super().said(party, topic, property_)

    def waiting(self, party: Party, topic: Topic, property_: str | None = None) -> list[Proposal]:
        if self._left.is_set():
            raise SearchLeft
        return super().waiting(party, topic, property_)

    def answer(self, lower: Party, upper: Party, at_c: float | None = None) -> Answer:
        self._count += 1
        if self._count % _EVERY == 0:
            self._judged(self._count)
        return super().answer(lower, upper, at_c)


@dataclass(frozen=True, slots=True)
class Asked:
    """What is looked for, and where: on the shelf alone, or in all that is filed."""

    wanted: Wanted
    shelf: bool


class BuildUpSearch(QObject):
    """One search at a time; another one asked for takes the place of the one that runs.

    Signals: contacts_judged(count) on the way; found(FindResult); shelf_bare() where no tin is on the shelf;
    trouble_came(error).
    """

    contacts_judged = Signal(int)
    found = Signal(object)
    shelf_bare = Signal()
    trouble_came = Signal(object)
    _judged = Signal(int, int)

    def __init__(self, desk: LibraryDesk, runner: Runner, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._runner = runner
        self._number = 0
        self._left = threading.Event()
        self.running = False
        self._judged.connect(self._on_judged)

    def start(self, asked: Asked) -> None:
        self.leave()
        self._number += 1
        number, left = self._number, threading.Event()
        self._left = left
        self.running = True

        def fetched(source: tuple[tuple[ProductRecord, ...], tuple[Any, ...]]) -> None:
            candidates, sources = source
            if number != self._number or left.is_set():
                return
            if not candidates:
                self.running = False
                self.shelf_bare.emit()
                return

            def work() -> FindResult:
                sheets = WatchedSheets(left, lambda count: self._judged.emit(number, count), *sources)
                return find(asked.wanted, candidates, sheets)

            self._runner.run(work, lambda result: self._on_found(number, result), lambda e: self._on_failed(number, e))

        self._desk.read(lambda library: _source(library, asked), fetched, lambda e: self._on_failed(number, e))

    def leave(self) -> None:
        """End the search that runs; nothing more comes of it."""
        self._left.set()
        self._number += 1
        self.running = False

    def _on_judged(self, number: int, count: int) -> None:
        if number == self._number:
            self.contacts_judged.emit(count)

    def _on_found(self, number: int, result: FindResult) -> None:
        if number == self._number:
            self.running = False
            self.found.emit(result)

    def _on_failed(self, number: int, error: BaseException) -> None:
        if number == self._number:
            self.running = False
            self.trouble_came.emit(error)


def _source(library: Library, asked: Asked) -> tuple[tuple[ProductRecord, ...], tuple[Any, ...]]:
    """The candidates, and what Sheets is made of. Runs on the library's thread."""
    products = library.products()
    candidates = on_the_shelf(library.tins(), products) if asked.shelf else products
    wanted = asked.wanted
    parties = [wanted.surface, wanted.finish, *(stop.party for stop in wanted.between)]
    named = [party.product.id for party in parties if isinstance(party, ProductParty)]
    ids = sorted({product.id for product in candidates} | set(named))
    rules = library.rules(ids) if asked.shelf and ids else library.rules()
    proposals = library.proposals(ids) if asked.shelf and ids else library.proposals()
    return tuple(candidates), (rules, proposals, library.own_rules(), products)

"""Decisions on their way to the library, and what each left: records, progress, what can be undone. No widget."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from app.jobs import LibraryChange, LibraryDesk
from extract.claims import Claim
from store.records import ClaimRecord, Progress

if TYPE_CHECKING:
    from store.library import Library


@dataclass(frozen=True, slots=True)
class Standing:
    """How things stand after a decision (or before the first). records are those that it changed."""

    records: tuple[ClaimRecord, ...]
    library: Progress
    can_undo: bool
    can_redo: bool
    undone: bool = False


class Decisions(QObject):
    """Each method is one step of the library's undo history.

    Signals: decided(Standing); decision_failed(error): the screen must look again, the library kept its old state.
    """

    decided = Signal(object)
    decision_failed = Signal(object)

    def __init__(self, desk: LibraryDesk, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._desk = desk

    def look(self) -> None:
        """Ask how things stand without changing anything; decided follows with no records."""
        self._desk.read(lambda library: _standing(library, ()), self.decided.emit)

    def confirm(self, ids: Sequence[int]) -> None:
        self._write(lambda library: library.confirm(ids))

    def reject(self, ids: Sequence[int]) -> None:
        self._write(lambda library: library.reject(ids))

    def correct(self, claim_id: int, claim: Claim) -> None:
        self._write(lambda library: library.correct(claim_id, claim))

    def add(self, sheet_id: int, claim: Claim) -> None:
        self._write(lambda library: library.add_claim(sheet_id, claim))

    def undo(self) -> None:
        self._write(lambda library: library.undo(), undone=True)

    def redo(self) -> None:
        self._write(lambda library: library.redo(), undone=True)

    def _write(self, work: Callable[[Library], tuple[ClaimRecord, ...]], *, undone: bool = False) -> None:
        self._desk.write(
            lambda library: _standing(library, work(library), undone=undone),
            lambda standing: LibraryChange(sheets=frozenset(r.sheet_id for r in standing.records), initiator=self),
            self.decided.emit,
            self._on_failed,
        )

    def _on_failed(self, error: BaseException) -> None:
        self._desk.trouble_came.emit(error)
        self.decision_failed.emit(error)


def _standing(library: Library, records: tuple[ClaimRecord, ...], *, undone: bool = False) -> Standing:
    return Standing(records, library.progress(), library.can_undo(), library.can_redo(), undone)

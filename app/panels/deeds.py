"""What is done to panels and their logs: each a change that the library keeps and undo takes back."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, Signal

from app.jobs import LibraryChange, LibraryDesk
from app.messages import message_for
from app.now import Now
from app.panels.coat_form import CoatToLog
from store.errors import WrongEntry
from store.job_records import (
    CoatRecord,
    OutdoorSpell,
    Panel,
    PanelRecord,
    Preparation,
    PreparationKind,
    PreparationRecord,
    SpellRecord,
)

if TYPE_CHECKING:
    from store.library import Library

Say = Callable[[str], None]
LogRecord = CoatRecord | PreparationRecord | SpellRecord


class PanelDeeds(QObject):
    """What comes out of a form says what is wrong through the form's own `say`; anything else goes to the desk.

    Signals: kept(panel id) once what a form held is in the library.
    """

    kept = Signal(int)

    def __init__(self, desk: LibraryDesk, now: Now, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._desk, self._now = desk, now

    # --- out of a form

    def keep_panel(self, panel_id: int | None, panel: Panel, say: Say) -> None:
        """None for a new one."""

        def work(library: Library) -> PanelRecord:
            return library.add_panel(panel) if panel_id is None else library.change_panel(panel_id, panel)

        self._keep(work, say)

    def keep_coat(self, wanted: CoatToLog, say: Say) -> None:
        def work(library: Library) -> PanelRecord:
            photos = [library.keep_photo(path.read_bytes(), path.name).id for path in wanted.photos]
            coat = replace(wanted.coat, photo_ids=(*wanted.coat.photo_ids, *photos))
            if wanted.coat_id is not None:
                return library.change_coat(wanted.coat_id, coat)
            return library.log_coat(wanted.panel_id, coat)

        self._keep(work, say)

    def keep_preparation(self, number: int, done: Preparation, say: Say) -> None:
        self._keep(lambda library: library.change_preparation(number, done), say)

    def keep_spell(self, number: int, spell: OutdoorSpell, say: Say) -> None:
        self._keep(lambda library: library.change_spell(number, spell), say)

    # --- at once

    def prepare(self, panel: PanelRecord, kind: PreparationKind, grit: int | None) -> None:
        done = Preparation(self._now(), kind, grit)
        self._write(lambda library: library.log_preparation(panel.id, done))

    def put_out_or_take_in(self, panel: PanelRecord) -> None:
        now = self._now()
        if panel.outdoors is not None:
            self._write(lambda library: library.take_in(panel.id, now))
        else:
            self._write(lambda library: library.put_outdoors(panel.id, OutdoorSpell(now)))

    def finish_or_reopen(self, panel: PanelRecord) -> None:
        if panel.finished_at is None:
            self._write(lambda library: library.finish_panel(panel.id))
        else:
            self._write(lambda library: library.reopen_panel(panel.id))

    def remove(self, panel: PanelRecord) -> None:
        self._write(lambda library: library.remove_panel(panel.id))

    def remove_entry(self, record: LogRecord) -> None:
        if isinstance(record, CoatRecord):
            self._write(lambda library: library.remove_coat(record.id))
        elif isinstance(record, PreparationRecord):
            self._write(lambda library: library.remove_preparation(record.id))
        else:
            self._write(lambda library: library.remove_spell(record.id))

    # --- inside

    def _write(self, work: Callable[[Library], Any]) -> None:
        self._desk.write(work, LibraryChange(job=True))

    def _keep(self, work: Callable[[Library], PanelRecord], say: Say) -> None:
        def failed(error: BaseException) -> None:
            if isinstance(error, (WrongEntry, OSError)):
                say(message_for(error).sentence)
            else:
                self._desk.trouble_came.emit(error)

        self._desk.write(work, LibraryChange(job=True), lambda record: self.kept.emit(record.id), failed)

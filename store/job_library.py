"""The facade's job side: panels, logs, photos, tins, and taking sheets out. Library inherits it.

As on Library, every method is one transaction. Values that cannot be raise WrongEntry; unknown ids UnknownRecord.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from pathlib import Path

from store import journal, keeping, panels, photos, removing, shelf
from store.database import Database
from store.errors import PhotoMissing
from store.job_records import (
    ChangeRecord,
    ChangeScope,
    Coat,
    OutdoorSpell,
    Panel,
    PanelRecord,
    Photo,
    Preparation,
    Tin,
    TinRecord,
)
from store.records import SheetRecord

_RAISED = "alerts raised"


class JobLibrary:
    """Not for use by itself: Library sets its fields."""

    folder: Path
    _database: Database
    _who: str

    # Panels and their logs

    def panels(self, finished: bool = False) -> tuple[PanelRecord, ...]:
        """Those in work, each with its log; with finished those that are done too."""
        with self._database.reading() as connection:
            return panels.panels(connection, finished=finished)

    def removed_panels(self) -> tuple[PanelRecord, ...]:
        with self._database.reading() as connection:
            return panels.panels(connection, finished=True, removed=True)

    def panel(self, panel_id: int) -> PanelRecord:
        with self._database.reading() as connection:
            return panels.panel(connection, panel_id)

    def add_panel(self, panel: Panel) -> PanelRecord:
        with self._database.writing() as connection:
            return panels.add_panel(connection, panel, self._who)

    def change_panel(self, panel_id: int, panel: Panel) -> PanelRecord:
        with self._database.writing() as connection:
            return panels.change_panel(connection, panel_id, panel, self._who)

    def finish_panel(self, panel_id: int) -> PanelRecord:
        """The panel is done: it no longer shows among those in work, and nothing falls due on it."""
        with self._database.writing() as connection:
            return panels.finish_panel(connection, panel_id, self._who)

    def reopen_panel(self, panel_id: int) -> PanelRecord:
        with self._database.writing() as connection:
            return panels.reopen_panel(connection, panel_id, self._who)

    def remove_panel(self, panel_id: int) -> None:
        with self._database.writing() as connection:
            panels.remove_panel(connection, panel_id, self._who)

    def restore_panel(self, panel_id: int) -> PanelRecord:
        with self._database.writing() as connection:
            return panels.restore_panel(connection, panel_id, self._who)

    def log_coat(self, panel_id: int, coat: Coat) -> PanelRecord:
        """Log a coat; its tins give what it took. A tin that holds less is emptied, never below nothing."""
        with self._database.writing() as connection:
            return panels.log_coat(connection, panel_id, coat, self._who)

    def change_coat(self, coat_id: int, coat: Coat) -> PanelRecord:
        with self._database.writing() as connection:
            return panels.change_coat(connection, coat_id, coat, self._who)

    def remove_coat(self, coat_id: int) -> PanelRecord:
        """Hide a coat and give back to its tins what it took."""
        with self._database.writing() as connection:
            return panels.remove_coat(connection, coat_id, self._who)

    def log_preparation(self, panel_id: int, preparation: Preparation) -> PanelRecord:
        with self._database.writing() as connection:
            return panels.log_preparation(connection, panel_id, preparation, self._who)

    def change_preparation(self, preparation_id: int, preparation: Preparation) -> PanelRecord:
        with self._database.writing() as connection:
            return panels.change_preparation(connection, preparation_id, preparation, self._who)

    def remove_preparation(self, preparation_id: int) -> PanelRecord:
        with self._database.writing() as connection:
            return panels.remove_preparation(connection, preparation_id, self._who)

    def put_outdoors(self, panel_id: int, spell: OutdoorSpell) -> PanelRecord:
        """The panel stands outdoors, until take_in or the spell's own end."""
        with self._database.writing() as connection:
            return panels.put_outdoors(connection, panel_id, spell, self._who)

    def take_in(self, panel_id: int, at: datetime) -> PanelRecord:
        with self._database.writing() as connection:
            return panels.take_in(connection, panel_id, at, self._who)

    def change_spell(self, spell_id: int, spell: OutdoorSpell) -> PanelRecord:
        with self._database.writing() as connection:
            return panels.change_spell(connection, spell_id, spell, self._who)

    def remove_spell(self, spell_id: int) -> PanelRecord:
        with self._database.writing() as connection:
            return panels.remove_spell(connection, spell_id, self._who)

    # Photos

    def keep_photo(self, content: bytes, file_name: str) -> Photo:
        """Keep a picture by its content; its id goes into Coat.photo_ids. The same content again is the same photo."""
        with self._database.writing() as connection:
            return photos.keep(connection, self.folder, content, file_name)

    def photo_path(self, photo_id: int) -> Path:
        """Where the photo lies. Raises PhotoMissing where somebody took it away."""
        with self._database.reading() as connection:
            photo = photos.photo(connection, photo_id)
        path = photos.path_of(self.folder, photo)
        if not path.exists():
            raise PhotoMissing(photo.name, str(path))
        return path

    # The shelf

    def tins(self) -> tuple[TinRecord, ...]:
        with self._database.reading() as connection:
            return shelf.tins(connection)

    def removed_tins(self) -> tuple[TinRecord, ...]:
        with self._database.reading() as connection:
            return shelf.tins(connection, removed=True)

    def tin(self, tin_id: int) -> TinRecord:
        with self._database.reading() as connection:
            return shelf.tin(connection, tin_id)

    def add_tin(self, tin: Tin) -> TinRecord:
        with self._database.writing() as connection:
            return shelf.add_tin(connection, tin, self._who)

    def change_tin(self, tin_id: int, tin: Tin) -> TinRecord:
        with self._database.writing() as connection:
            return shelf.change_tin(connection, tin_id, tin, self._who)

    def remove_tin(self, tin_id: int) -> None:
        with self._database.writing() as connection:
            shelf.remove_tin(connection, tin_id, self._who)

    def restore_tin(self, tin_id: int) -> TinRecord:
        with self._database.writing() as connection:
            return shelf.restore_tin(connection, tin_id, self._who)

    # Undo of the job, and what was alerted to

    def undo_change(self, scope: ChangeScope = ChangeScope.JOB) -> ChangeRecord | None:
        """Take back the scope's last change, in this session or an earlier one; None where there is none."""
        with self._database.writing() as connection:
            if scope is ChangeScope.SHEETS:
                return removing.replay(connection, back=True)
            return journal.undo(connection, scope)

    def redo_change(self, scope: ChangeScope = ChangeScope.JOB) -> ChangeRecord | None:
        with self._database.writing() as connection:
            if scope is ChangeScope.SHEETS:
                return removing.replay(connection, back=False)
            return journal.redo(connection, scope)

    def next_undo(self, scope: ChangeScope = ChangeScope.JOB) -> ChangeRecord | None:
        """What undo_change would take back: for the words of the menu."""
        with self._database.reading() as connection:
            return journal.next_to_undo(connection, scope)

    def next_redo(self, scope: ChangeScope = ChangeScope.JOB) -> ChangeRecord | None:
        with self._database.reading() as connection:
            return journal.next_to_redo(connection, scope)

    def alerts_raised(self) -> frozenset[str]:
        """Keys of the alerts that were shown already."""
        with self._database.reading() as connection:
            return frozenset(keeping.setting(connection, _RAISED, []))

    def remember_alerts(self, keys: Iterable[str], still_due: Iterable[str]) -> None:
        """Keep that these alerts were shown; keys that are neither among these nor still due are forgotten."""
        with self._database.writing() as connection:
            before = frozenset(keeping.setting(connection, _RAISED, []))
            keeping.set_setting(connection, _RAISED, sorted((before & frozenset(still_due)) | frozenset(keys)))

    # Sheets

    def remove_sheet(self, sheet_id: int) -> None:
        """Take a sheet out: hidden from rules, lists and search, kept with its decisions.

        undo_change(ChangeScope.SHEETS) or restore_sheet brings it back. An older issue that it had taken the place
        of counts again.
        """
        with self._database.writing() as connection:
            removing.remove_sheet(connection, sheet_id, self._who)

    def removed_sheets(self) -> tuple[SheetRecord, ...]:
        """The last removed first."""
        with self._database.reading() as connection:
            return removing.removed_sheets(connection)

    def restore_sheet(self, sheet_id: int) -> SheetRecord:
        with self._database.writing() as connection:
            return removing.restore_sheet(connection, sheet_id, self._who)

"""What the bar of kept build-ups asks of the library: to keep one, to forget it, to make it a panel's plan."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from app.build_up.kept_bar import KeptBar
from app.jobs import LibraryChange, LibraryDesk
from store.build_ups import KeptBuildUp, forget, keep, keep_again, kept
from store.job_records import Panel, PanelRecord
from store.planning.buildup import BuildUp
from store.planning.plans import plan_of

if TYPE_CHECKING:
    from store.library import Library


class Keeping(QObject):
    """Signals: planned(panel id) once a panel has the build-up for its plan."""

    planned = Signal(int)

    def __init__(
        self, desk: LibraryDesk, bar: KeptBar, build_up: Callable[[], BuildUp], parent: QObject | None = None
    ) -> None:
        """build_up gives the one that stands there now."""
        super().__init__(parent)
        self._desk = desk
        self._bar = bar
        self._build_up = build_up
        bar.keeping_wanted.connect(self._on_keeping_wanted)
        bar.forgetting_wanted.connect(self._on_forgetting_wanted)
        bar.taking_back_wanted.connect(self._on_taking_back_wanted)
        bar.planning_wanted.connect(self._on_planning_wanted)

    def read(self) -> None:
        """Show what the library keeps."""
        self._desk.read(kept, self._bar.show_kept)
        self.read_panels()

    def read_panels(self) -> None:
        self._desk.read(lambda library: library.panels(), self._bar.show_panels)

    # --- inside

    def _on_keeping_wanted(self, name: str) -> None:
        build_up = self._build_up()
        self._write(lambda library: keep(library, name, build_up), self.tr("“{name}” is kept.").format(name=name))

    def _on_forgetting_wanted(self, one: KeptBuildUp) -> None:
        self._write(lambda library: forget(library, one.name), self.tr("“{name}” is forgotten.").format(name=one.name))

    def _on_taking_back_wanted(self, one: KeptBuildUp) -> None:
        self._write(lambda library: keep_again(library, one), self.tr("“{name}” is back.").format(name=one.name))

    def _write(self, work: Callable[[Library], tuple[KeptBuildUp, ...]], words: str) -> None:
        def done(found: tuple[KeptBuildUp, ...]) -> None:
            self._bar.show_kept(found)
            self._bar.say(words)

        self._desk.write(work, LibraryChange(initiator=self), done)

    def _on_planning_wanted(self, panel_id: int | None) -> None:
        layers = self._build_up().layers
        if len(layers) < 2:
            self._bar.say(self.tr("Lay one layer on another first."))
            return
        surface, plan = plan_of(layers)
        named = self._bar.name.text().strip() or self.tr("New panel")

        def work(library: Library) -> PanelRecord:
            if panel_id is None:
                return library.add_panel(Panel(named, surface=surface, plan=plan))
            panel = library.panel(panel_id).panel
            return library.change_panel(panel_id, replace(panel, surface=surface or panel.surface, plan=plan))

        self._desk.write(work, LibraryChange(job=True, initiator=self), self._on_planned)

    def _on_planned(self, record: PanelRecord) -> None:
        self._bar.say(self.tr("It is the plan of “{name}” now.").format(name=record.panel.name))
        self.planned.emit(record.id)

"""A panel's history onto paper, into a PDF or into a table."""

from __future__ import annotations

from datetime import datetime

from PySide6.QtWidgets import QWidget

from app.panels.held import Held, PanelNow
from app.printing.comparison_sheet import foot
from app.printing.outlets import Outlets
from app.printing.panel_history import history_csv, history_table, title_of
from app.printing.paper import print_table, printer_for, write_pdf, write_text


def put_out(parent: QWidget, outlets: Outlets, how: str, panel: PanelNow, held: Held, now: datetime) -> None:
    """how: 'print', 'pdf' or 'csv'. Nothing happens where the person leaves the dialog. Raises OSError."""
    if how == "print":
        printer = outlets.printer(parent, printer_for(landscape=False))
        if printer is not None:
            print_table(printer, history_table(panel, held, now), foot())
        return
    path = outlets.file(parent, f"{title_of(panel)}.{how}".replace("/", "-"), how)
    if path is None:
        return
    if how == "csv":
        write_text(path, history_csv(panel, held))
    else:
        write_pdf(path, history_table(panel, held, now), foot(), landscape=False, title=title_of(panel))

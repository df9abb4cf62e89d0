"""A window over a confirmed library, and hands for the places that answer."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot
from window_kit import ETCH, KEEPER, PreparedReader, claim, reading, window

from app.naming.field import NameField
from app.wiring import Wiring
from extract.claims import Stance, Topic

FILLER = reading(
    "Brockle Fill",
    [
        claim("May go over cured 2K epoxy primer, sanded P120.", object_="primer.epoxy.2k"),
        claim("Not over etch primers.", stance=Stance.FORBIDS, object_="primer.etch"),
        claim("Mix 100:2 by weight.", Topic.MIXING, "ratio", Stance.STATES, parts=(100.0, 2.0), basis="weight"),
    ],
    maker="Ferrow Works",
    kind="filler.polyester",
)
RIVAL = reading(
    "Morrow Etch",
    [
        claim("Polyester filler may go straight onto it.", Topic.TOPPED_BY, object_="filler.polyester"),
        claim("For bare steel.", object_="surface.steel"),
    ],
    maker="Ashgrove Coatings",
    kind="primer.etch.1k",
)
SHEETS = {"keeper.pdf": KEEPER, "etch.pdf": ETCH, "filler.pdf": FILLER, "rival.pdf": RIVAL}


class Outlets:
    """Stands in for the system's dialogs; file None is a person who thought better of it."""

    def __init__(self) -> None:
        self.path: Path | None = None
        self.prints_to: Path | None = None
        self.asked: list[str] = []

    def file(self, parent: QWidget, name: str, kind: str) -> Path | None:
        self.asked.append(name)
        return self.path

    def printer(self, parent: QWidget, printer: QPrinter) -> QPrinter | None:
        self.asked.append("printer")
        if self.prints_to is None:
            return None
        printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        printer.setOutputFileName(str(self.prints_to))
        return printer


@contextmanager
def filed(folder: Path, *, but: tuple[str, ...] = (), outlets: Outlets | None = None) -> Iterator[Wiring]:
    """The window with four sheets filed and confirmed, but for those of the files named in `but`."""
    for name in SHEETS:
        (folder / name).write_bytes(name.encode())
    with window(folder, PreparedReader(SHEETS), outlets=outlets) as wiring:
        wiring.filing.add([folder / name for name in SHEETS])
        confirm(wiring, but)
        yield wiring


def confirm(wiring: Wiring, but: tuple[str, ...] = ()) -> None:
    """Confirm every claim of the sheets whose file is not in `but`, as the confirming place would."""
    from app.jobs import LibraryChange  # noqa: PLC0415

    def work(library: object) -> None:
        for sheet in library.sheets():  # type: ignore[attr-defined]
            if sheet.file_name not in but:
                library.confirm([record.id for record in library.claims(sheet.id)])  # type: ignore[attr-defined]

    wiring.desk.write(work, LibraryChange(everything=True))


def name_it(qtbot: QtBot, field: NameField, letters: str, *, down: int = 0) -> None:
    """Type letters, go to the first offer where they are no whole name and `down` further, press Enter."""
    field.line.setFocus()
    field.line.selectAll()
    qtbot.keyClicks(field.line, letters)
    if field.line.offers.isVisible() and field.line.offers.current is None:
        qtbot.keyClick(field.line, Qt.Key.Key_Down)
    for _ in range(down):
        qtbot.keyClick(field.line, Qt.Key.Key_Down)
    qtbot.keyClick(field.line, Qt.Key.Key_Return)

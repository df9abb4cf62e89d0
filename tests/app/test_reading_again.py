"""Sheets that an older reader read: the offer, the reading again, and what it came to."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot
from window_kit import PreparedReader, window
from window_states import ETCH, KEEPER

from app.__main__ import main
from app.demo import FIXTURES
from app.reading_again.matching import paired
from app.wiring import Wiring
from extract.version import READER_VERSION
from store.library import Library
from store.records import ClaimStatus, SheetRecord

OLD = "1"
NAME = "kestrel.pdf"


def older() -> PreparedReader:
    return PreparedReader({NAME: replace(KEEPER, reader=OLD)})


def filed(wiring: Wiring, folder: Path) -> SheetRecord:
    (folder / NAME).write_bytes(b"kestrel")
    wiring.filing.add([folder / NAME])
    found: list[SheetRecord] = []
    wiring.desk.read(lambda library: library.sheets(), found.extend)
    return found[0]


def test_the_offer_is_made_taken_up_and_answered_in_words(qtbot: QtBot, tmp_path: Path) -> None:
    with window(tmp_path, older()) as wiring:
        sheet = filed(wiring, tmp_path)
        wiring.desk.read(lambda library: library.confirm([c.id for c in library.claims(sheet.id)]), lambda _: None)
    fewer = replace(KEEPER, claims=(*KEEPER.claims[1:], ETCH.claims[-1]))
    reader = PreparedReader({NAME: fewer})
    with window(tmp_path, reader) as wiring:
        bar = wiring.filing.again_bar
        assert bar.isVisible() and "1 of these sheets" in bar.words
        qtbot.mouseClick(bar.read_button, Qt.MouseButton.LeftButton)
        told = bar.found.toPlainText()
        assert "decisions kept" in told and len(told.splitlines()) >= 2
        assert not bar.read_button.isVisible()
        records: list[ClaimStatus] = []
        wiring.desk.read(lambda library: [c.status for c in library.claims(sheet.id)], records.extend)
        # What was decided stands, found again or not; what is new waits.
        assert records.count(ClaimStatus.CONFIRMED) == len(KEEPER.claims)
        assert records.count(ClaimStatus.PROPOSED) == 1
        qtbot.mouseClick(bar.away_button, Qt.MouseButton.LeftButton)
        assert not bar.isVisible()
    with window(tmp_path, reader) as wiring:
        assert not wiring.filing.again_bar.isVisible()


def test_a_sheet_of_this_reader_is_not_offered(qtbot: QtBot, tmp_path: Path) -> None:
    with window(tmp_path, PreparedReader({NAME: KEEPER})) as wiring:
        filed(wiring, tmp_path)
    with window(tmp_path, PreparedReader({NAME: KEEPER})) as wiring:
        assert not wiring.filing.again_bar.isVisible()


def test_a_pdf_that_is_gone_is_said_and_what_was_read_stands(qtbot: QtBot, tmp_path: Path) -> None:
    with window(tmp_path, older()) as wiring:
        sheet = filed(wiring, tmp_path)
        paths: list[Path] = []
        wiring.desk.read(lambda library: [library.pdf_path(sheet.id)], paths.extend)
        paths[0].unlink()
        wiring.reading_again.look()
        qtbot.mouseClick(wiring.filing.again_bar.read_button, Qt.MouseButton.LeftButton)
        assert "no longer in the library's folder" in wiring.filing.again_bar.found.toPlainText()
        count: list[int] = []
        wiring.desk.read(lambda library: [len(library.claims(sheet.id))], count.extend)
        assert count == [len(KEEPER.claims)]


def test_readings_of_several_products_go_to_their_own_sheets(qtbot: QtBot, tmp_path: Path) -> None:
    sheets: list[SheetRecord] = []
    with window(tmp_path, PreparedReader({"a.pdf": KEEPER, "b.pdf": ETCH})) as wiring:
        for name in ("a.pdf", "b.pdf"):
            (tmp_path / name).write_bytes(name.encode())
            wiring.filing.add([tmp_path / name])
        wiring.desk.read(lambda library: library.sheets(), sheets.extend)
    found = paired(sheets, (ETCH, KEEPER))
    assert [(sheet.product.name, reading.header.product) for sheet, reading in found] == [
        (sheet.product.name, sheet.product.name) for sheet in sheets
    ]
    assert [sheet.product.name for sheet, _ in paired(sheets, (ETCH,))] == [str(ETCH.header.product)]
    renamed = replace(ETCH, header=replace(ETCH.header, product="Otherwise"))
    assert len(paired(sheets[:1], (renamed,))) == 1
    assert paired(sheets, (renamed,)) == ()


def test_read_again_on_the_command_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    library = ["--library", str(tmp_path / "library")]
    assert main([*library, "import", str(FIXTURES / "quern-lane-biter.pdf"), "--confirm-all"]) == 0
    with Library.open(tmp_path / "library") as opened:
        (sheet,) = opened.sheets()
        assert opened.reader_of(sheet.id) == READER_VERSION
        assert opened.read_by_others(READER_VERSION) == ()
        assert [s.id for s in opened.read_by_others("older")] == [sheet.id]
    capsys.readouterr()
    assert main([*library, "read-again"]) == 0
    assert "Every sheet" in capsys.readouterr().out
    assert main([*library, "read-again", "--all", "--json"]) == 0
    (one,) = json.loads(capsys.readouterr().out)
    assert one["product"] == "Biter" and one["differences"] == [] and one["decisions_kept"] > 20
    assert main([*library, "read-again", "--all"]) == 0
    assert "Biter: it says the same" in capsys.readouterr().out

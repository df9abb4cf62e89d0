"""What the window remembers comes back, and never onto a screen that is gone."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QRect, Qt
from PySide6.QtWidgets import QSplitter, QTableWidget, QWidget
from pytestqt.qtbot import QtBot

from app.settings import Settings, on_a_screen


def test_texts_numbers_and_lists_come_back_from_the_file(tmp_path: Path) -> None:
    path = tmp_path / "ü ñ 漆" / "window.ini"
    settings = Settings(path)
    settings.set_text("pair/lower", 'Quarz 5, "grau"')
    settings.set_number("ask/at_c", 12.5)
    settings.set_texts("find/recent", ("one", "two, three"))
    settings.set_texts("find/single", ("only",))
    settings.flush()
    again = Settings(path)
    assert path.is_file()
    assert again.text("pair/lower") == 'Quarz 5, "grau"'
    assert again.number("ask/at_c", 20.0) == 12.5
    assert again.texts("find/recent") == ("one", "two, three")
    assert again.texts("find/single") == ("only",)
    assert again.texts("nothing") == ()
    assert again.text("nothing", "otherwise") == "otherwise"


def test_a_value_of_another_kind_counts_as_none(tmp_path: Path) -> None:
    path = tmp_path / "window.ini"
    path.write_text("[ask]\nat_c=warm\n[window]\ngeometry=nonsense\n", encoding="utf-8")
    settings = Settings(path)
    assert settings.number("ask/at_c", 20.0) == 20.0


def test_window_splitter_and_columns(qtbot: QtBot, tmp_path: Path) -> None:
    settings = Settings(tmp_path / "window.ini")
    window = QWidget()
    qtbot.addWidget(window)
    assert not settings.restore_window(window)
    window.setGeometry(20, 40, 500, 300)
    settings.keep_window(window)
    other = QWidget()
    qtbot.addWidget(other)
    assert settings.restore_window(other)
    assert (other.width(), other.height()) == (500, 300)

    def split() -> QSplitter:
        made = QSplitter(Qt.Orientation.Horizontal)
        qtbot.addWidget(made)
        made.addWidget(QWidget())
        made.addWidget(QWidget())
        made.resize(600, 100)
        return made

    first = split()
    first.setSizes([100, 494])
    settings.keep_splitter("sheets", first)
    second = split()
    assert settings.restore_splitter("sheets", second)
    assert second.sizes() == first.sizes()

    table, again = QTableWidget(1, 3), QTableWidget(1, 3)
    for one in (table, again):
        qtbot.addWidget(one)
    table.setColumnWidth(1, 222)
    settings.keep_columns("sheets", table.horizontalHeader())
    assert settings.restore_columns("sheets", again.horizontalHeader())
    assert again.columnWidth(1) == 222


def test_a_frame_beyond_every_screen_is_not_used(qtbot: QtBot) -> None:
    assert on_a_screen(QRect(10, 10, 400, 300))
    assert not on_a_screen(QRect(100_000, 10, 400, 300))
    assert not on_a_screen(QRect(10, -5_000, 400, 300))

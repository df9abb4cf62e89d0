"""The demo library comes from the real import, is made once, and is shown in words where no window can open."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from app.demo import FIXTURES, DemoSheetsMissing, demo_folder, show_without_screen
from app.screen import no_screen
from app.window import run
from store.library import Library

TWO = ("quern-lane-biter.pdf", "quern-lane-carriage-gloss.pdf")


@pytest.fixture
def fixtures(tmp_path: Path) -> Path:
    folder = tmp_path / "fixtures"
    folder.mkdir()
    for name in TWO:
        shutil.copy(FIXTURES / name, folder)
    return folder


def test_it_is_made_once_with_answers_and_with_work_left(fixtures: Path, tmp_path: Path) -> None:
    home = tmp_path / "home"
    folder = demo_folder(fixtures, home)
    made_at = folder.stat().st_mtime_ns
    with Library.open(folder, read_only=True) as library:
        sheets = {s.file_name: s for s in library.sheets()}
        assert set(sheets) == set(TWO)
        assert sheets["quern-lane-biter.pdf"].decided > 10
        assert sheets["quern-lane-carriage-gloss.pdf"].waiting > 10
        assert library.rules()
    assert demo_folder(fixtures, home) == folder
    assert folder.stat().st_mtime_ns == made_at
    assert [p.name for p in home.iterdir()] == [folder.name]


def test_other_sheets_make_another_library(fixtures: Path, tmp_path: Path) -> None:
    home = tmp_path / "home"
    first = demo_folder(fixtures, home)
    (fixtures / TWO[1]).unlink()
    second = demo_folder(fixtures, home)
    assert second != first
    with Library.open(second, read_only=True) as library:
        assert len(library.sheets()) == 1


def test_without_its_sheets_it_says_so(tmp_path: Path) -> None:
    with pytest.raises(DemoSheetsMissing):
        demo_folder(tmp_path / "nothing", tmp_path)
    assert not list(tmp_path.glob("demo-*"))


def test_without_a_screen_it_speaks(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("app.demo.user_data_path", lambda *_, **__: tmp_path)
    assert show_without_screen() == 0
    said = capsys.readouterr().out
    assert said.startswith("This machine has no screen")
    assert "9 sheets of invented makers" in said
    assert "NO. Planor must not go straight onto Biter." in said
    assert "YES, IF. Planor may go straight onto Keeper" in said


@pytest.mark.parametrize(
    ("platform", "environment", "without"),
    [
        ("linux", {}, True),
        ("linux", {"DISPLAY": ":0"}, False),
        ("linux", {"WAYLAND_DISPLAY": "wayland-0"}, False),
        ("linux", {"QT_QPA_PLATFORM": "offscreen"}, False),
        ("win32", {}, False),
        ("darwin", {}, False),
    ],
)
def test_where_a_window_can_open(
    monkeypatch: pytest.MonkeyPatch, platform: str, environment: dict[str, str], without: bool
) -> None:
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)
    for name, value in environment.items():
        monkeypatch.setenv(name, value)
    monkeypatch.setattr("sys.platform", platform)
    assert no_screen() is without


def test_without_a_screen_the_window_says_so_instead_of_dying(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("app.window.no_screen", lambda: True)
    assert run(tmp_path, demo=False) == 1
    assert "no screen" in capsys.readouterr().err


def test_a_job_is_under_way_in_it(tmp_path: Path) -> None:
    with Library.open(demo_folder(beside=tmp_path), read_only=True) as library:
        assert [panel.panel.name for panel in library.panels()] == ["left door", "right sill"]
        assert all(panel.coats for panel in library.panels())
        left = {(tin.product, tin.tin.component.value): tin.tin.left for tin in library.tins()}
    assert left["Keeper", "base"] == 1000 - 280 - 160
    assert left["Keeper", "hardener"] == 250 - 70 - 40


def test_where_a_product_of_the_job_is_missing_no_job_is_laid_out(fixtures: Path, tmp_path: Path) -> None:
    with Library.open(demo_folder(fixtures, tmp_path / "home"), read_only=True) as library:
        assert not library.panels() and not library.tins()

"""The set-up's decisions, each made from plain values, so that every kind of machine can be tried on one."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

from app import set_up

ROOT = Path(__file__).resolve().parent.parent


def test_uses_the_standard_library_only() -> None:
    tree = ast.parse((ROOT / "app" / "set_up.py").read_text(encoding="utf-8"))
    named = {
        alias.name.split(".")[0] for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names
    }
    named |= {node.module.split(".")[0] for node in ast.walk(tree) if isinstance(node, ast.ImportFrom) and node.module}
    assert named - set(sys.stdlib_module_names) == set()


def test_an_older_python_still_parses_it_and_is_told_so() -> None:
    source = (ROOT / "app" / "set_up.py").read_text(encoding="utf-8")
    assert isinstance(ast.parse(source, feature_version=(3, 7)), ast.Module)
    with pytest.raises(set_up.SetUpFailed, match=r"3\.11 or newer is needed and this is Python 3\.9"):
        set_up.check_python((3, 9))
    set_up.check_python((3, 11))
    set_up.check_python((4, 0))


@pytest.mark.parametrize(
    ("libc", "fails"),
    [(("glibc", "2.31"), True), (("glibc", "2.36"), False), (("glibc", "2.4"), True), (("", ""), False)],
)
def test_says_where_the_linux_is_too_old_for_qt(libc: tuple[str, str], fails: bool) -> None:
    if fails:
        with pytest.raises(set_up.SetUpFailed, match=libc[1]):
            set_up.check_system("Linux", libc)
    else:
        set_up.check_system("Linux", libc)
    set_up.check_system("Darwin", libc)


def test_full_disk_is_said_before_anything_is_fetched(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    set_up.check_folder(tmp_path)
    monkeypatch.setattr(set_up, "SPACE_NEEDED", 10**18)
    with pytest.raises(set_up.SetUpFailed, match="GB are needed"):
        set_up.check_folder(tmp_path)
    (tmp_path / ".venv").mkdir()
    set_up.check_folder(tmp_path)  # what is there already needs no room


def test_missing_libraries_are_named_by_their_debian_packages(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(set_up, "loads", lambda library: library not in {"libEGL.so.1", "libxcb-cursor.so.0"})
    monkeypatch.setattr(set_up, "has_a_font", lambda: False)
    assert set_up.missing_packages(on_screen=False) == ["libegl1", "fonts-dejavu-core"]
    assert set_up.missing_packages(on_screen=True) == ["libegl1", "libxcb-cursor0", "fonts-dejavu-core"]


def test_a_debian_python_without_venv_names_its_package(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(set_up, "loads", lambda _library: True)
    monkeypatch.setattr(set_up, "has_a_font", lambda: True)
    monkeypatch.setattr(set_up, "in_venv", lambda name: tmp_path / name)
    assert set_up.missing_packages(on_screen=True) == []
    monkeypatch.setattr(set_up.importlib.util, "find_spec", lambda _name: None)
    assert set_up.missing_packages(on_screen=True) == ["python3-venv"]


def test_loading_tells_a_library_that_is_there_from_one_that_is_not() -> None:
    assert not set_up.loads("libnobody-makes-this.so.7")


def test_looks_for_a_font_in_every_folder(tmp_path: Path) -> None:
    empty, full = tmp_path / "empty", tmp_path / "full"
    empty.mkdir()
    (full / "truetype").mkdir(parents=True)
    (full / "truetype" / "plain.TTF").write_bytes(b"")
    assert not set_up.has_a_font((str(empty), str(tmp_path / "absent")))
    assert set_up.has_a_font((str(empty), str(full)))


@pytest.mark.parametrize(
    ("as_root", "has_sudo", "terminal", "command"),
    [
        (True, False, False, ["apt-get"]),
        (True, True, True, ["apt-get"]),
        (False, True, True, ["sudo", "apt-get"]),
        (False, True, False, ["sudo", "-n", "apt-get"]),
        (False, False, True, None),
    ],
)
def test_never_waits_for_a_password_nobody_can_type(
    as_root: bool, has_sudo: bool, terminal: bool, command: list[str] | None
) -> None:
    assert set_up.apt_command(as_root, has_sudo, terminal) == command


def test_packages_that_cannot_be_installed_are_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(set_up.shutil, "which", lambda _name: None)
    with pytest.raises(set_up.SetUpFailed, match="apt-get install libegl1 python3-venv"):
        set_up.install_packages(["libegl1", "python3-venv"])


def test_a_venv_left_half_made_does_not_count(tmp_path: Path) -> None:
    half = tmp_path / "python"
    assert not set_up.works(half)
    half.write_bytes(b"")
    half.chmod(0o755)
    assert not set_up.works(half)
    assert set_up.works(Path(sys.executable))


def test_what_is_installed_is_what_the_lock_pins() -> None:
    assert "--locked" in set_up.sync_command(development=True)
    assert "--no-dev" in set_up.sync_command(development=False)
    assert "--no-dev" not in set_up.sync_command(development=True)
    # Without --inexact uv would take itself, and the tests' packages, out of .venv again.
    assert "--inexact" in set_up.sync_command(development=False)
    assert set_up.sync_command(development=False, scans=True)[-3:] == ["--extra", "scans", "--no-dev"]
    assert "--extra" not in set_up.sync_command(development=False)


def test_trusts_the_certificates_that_the_system_trusts() -> None:
    before = {"VIRTUAL_ENV": "/elsewhere", "LANG": "C"}
    assert set_up.sync_environment(before, certificates=True)["UV_SYSTEM_CERTS"] == "true"
    assert "UV_SYSTEM_CERTS" not in set_up.sync_environment(before, certificates=False)
    assert set_up.sync_environment({"UV_SYSTEM_CERTS": "false"}, certificates=True)["UV_SYSTEM_CERTS"] == "false"
    assert "VIRTUAL_ENV" not in set_up.sync_environment(before, certificates=True)


def test_programs_stand_where_each_system_keeps_them(tmp_path: Path) -> None:
    assert set_up.in_venv("uv", tmp_path, windows=False) == tmp_path / ".venv" / "bin" / "uv"
    assert set_up.in_venv("uv", tmp_path, windows=True) == tmp_path / ".venv" / "Scripts" / "uv.exe"


@pytest.mark.parametrize(
    ("environment", "system", "screen"),
    [
        ({}, "Linux", False),
        ({"DISPLAY": ":0"}, "Linux", True),
        ({"WAYLAND_DISPLAY": "wayland-0"}, "Linux", True),
        ({"DISPLAY": ":0", "QT_QPA_PLATFORM": "offscreen"}, "Linux", False),
        ({"QT_QPA_PLATFORM": "xcb"}, "Linux", True),
        ({}, "Darwin", True),
        ({}, "Windows", True),
    ],
)
def test_knows_a_machine_without_a_screen(environment: dict[str, str], system: str, screen: bool) -> None:
    assert set_up.has_screen(environment, system) is screen


def test_a_failure_is_a_sentence_and_exit_status_1(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def fail(development: bool, on_screen: bool, scans: bool) -> None:
        raise set_up.SetUpFailed("no room.")

    monkeypatch.setattr(set_up, "set_up", fail)
    assert set_up.main(["--test"]) == 1
    assert capsys.readouterr().out == "set-up: stopped: no room.\n"


def test_help_is_shown_by_any_python() -> None:
    shown = subprocess.run(
        [sys.executable, "-S", str(ROOT / "app" / "set_up.py"), "--help"], capture_output=True, text=True, check=True
    )
    assert "--demo" in shown.stdout
    assert "--test" in shown.stdout

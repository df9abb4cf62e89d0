"""Sets the program up on a machine that has only Python, then runs it: what the README's two commands call.

Standard library only, and run by whatever Python 3 the machine has: everything else arrives in .venv.

    python3 app/set_up.py --demo     set up, then open the program on the demo library
    python3 app/set_up.py --test     set up, then run the tests
    python3 app/set_up.py            set up only
    python3 app/set_up.py --scans    set up with what reads pictures of pages (scans); also beside --demo

Further words go to the program or to pytest as they stand. Exit status: that of what was run; 1 where the
set-up itself could not be finished, with a sentence that says what is missing.
"""

from __future__ import annotations

import argparse
import ctypes
import importlib.util
import os
import platform
import shutil
import ssl
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
OLDEST_PYTHON = (3, 11)
OLDEST_GLIBC = (2, 34)
UV = "uv>=0.13.9,<1"
SPACE_NEEDED = 1_500_000_000
"""Bytes: Qt alone takes about 250 MB, twice that while it is unpacked; the rest and the package cache as much again."""

DRAWING_LIBRARIES = {
    "libstdc++.so.6": "libstdc++6",
    "libglib-2.0.so.0": "libglib2.0-0",
    "libzstd.so.1": "libzstd1",
    "libEGL.so.1": "libegl1",
    "libGL.so.1": "libgl1",
    "libfontconfig.so.1": "libfontconfig1",
    "libfreetype.so.6": "libfreetype6",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libX11.so.6": "libx11-6",
    "libdbus-1.so.3": "libdbus-1-3",
    "libgssapi_krb5.so.2": "libgssapi-krb5-2",
}
"""What Qt needs even to draw unseen: the file that is loaded, and the Debian package that brings it."""

SCREEN_LIBRARIES = {
    "libX11-xcb.so.1": "libx11-xcb1",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-image.so.0": "libxcb-image0",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-randr.so.0": "libxcb-randr0",
    "libxcb-render-util.so.0": "libxcb-render-util0",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxcb-sync.so.1": "libxcb-sync1",
    "libxcb-xfixes.so.0": "libxcb-xfixes0",
    "libxcb-xkb.so.1": "libxcb-xkb1",
    "libwayland-client.so.0": "libwayland-client0",
    "libwayland-cursor.so.0": "libwayland-cursor0",
}
"""What Qt needs besides to show a window on an X11 or Wayland screen."""

FONT_PACKAGE = "fonts-dejavu-core"
FONT_FOLDERS = ("/usr/share/fonts", "/usr/local/share/fonts", "~/.fonts", "~/.local/share/fonts")


class SetUpFailed(Exception):
    """The set-up cannot go on; the text is the sentence for the user."""


def say(words: str) -> None:
    print(f"set-up: {words}", flush=True)


def run(command: list[str], environment: dict[str, str] | None = None, quiet: bool = False, ask: bool = False) -> int:
    """Runs a program in the project's folder; gives its exit status. ask leaves it the keyboard, for a password."""
    return subprocess.run(  # noqa: S603 - every command is spelt out in this file
        command,
        check=False,
        cwd=ROOT,
        env=environment,
        stdin=None if ask else subprocess.DEVNULL,
        stdout=subprocess.DEVNULL if quiet else None,
        stderr=subprocess.DEVNULL if quiet else None,
    ).returncode


def in_venv(name: str, root: Path = ROOT, windows: bool = os.name == "nt") -> Path:
    """Where .venv keeps a program of that name."""
    return root / ".venv" / ("Scripts" if windows else "bin") / (name + (".exe" if windows else ""))


# What the machine lacks


def check_python(version: tuple[int, int]) -> None:
    if version < OLDEST_PYTHON:
        raise SetUpFailed(
            f"Python {OLDEST_PYTHON[0]}.{OLDEST_PYTHON[1]} or newer is needed and this is Python "
            f"{version[0]}.{version[1]}. Install a newer one and run the same command with it."
        )


def check_system(system: str, libc: tuple[str, str]) -> None:
    """Qt's packages for Linux are built against one glibc; an older one gives only a puzzling message from uv."""
    if system != "Linux" or libc[0] != "glibc":
        return
    found = tuple(int(part) for part in libc[1].split(".")[:2] if part.isdigit())
    if found < OLDEST_GLIBC:
        raise SetUpFailed(
            f"this Linux has glibc {libc[1]} and Qt needs 2.34 or newer (Debian 12, Ubuntu 22.04 or later have it)."
        )


def check_folder(root: Path) -> None:
    if not os.access(root, os.W_OK):
        raise SetUpFailed(f"the folder {root} cannot be written to. Copy it to a place of your own and run it there.")
    if (root / ".venv").exists():
        return
    free = shutil.disk_usage(root).free
    if free < SPACE_NEEDED:
        raise SetUpFailed(
            f"about {SPACE_NEEDED / 1e9:.1f} GB are needed on the disk of {root} and {free / 1e9:.1f} GB are free."
        )


def loads(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def has_a_font(folders: tuple[str, ...] = FONT_FOLDERS) -> bool:
    endings = {".ttf", ".otf", ".ttc", ".pfb", ".pcf", ".gz"}
    return any(
        path.suffix.lower() in endings
        for folder in folders
        for path in Path(folder).expanduser().rglob("*")
        if path.is_file()
    )


def missing_packages(on_screen: bool) -> list[str]:
    """Debian's names of the packages that this Linux lacks: Python's venv, Qt's libraries, a font."""
    wanted = {**DRAWING_LIBRARIES, **(SCREEN_LIBRARIES if on_screen else {})}
    missing = [package for library, package in wanted.items() if not loads(library)]
    if not has_a_font():
        missing.append(FONT_PACKAGE)
    if importlib.util.find_spec("ensurepip") is None and not in_venv("python").exists():
        missing.append("python3-venv")
    return missing


def apt_command(as_root: bool, has_sudo: bool, terminal: bool) -> list[str] | None:
    """What stands before apt-get's own words, or None where packages can't be installed from here."""
    if as_root:
        return ["apt-get"]
    if has_sudo:
        # Without a terminal sudo must not wait for a password that nobody can type.
        return ["sudo", "apt-get"] if terminal else ["sudo", "-n", "apt-get"]
    return None


def ask_for(packages: list[str]) -> str:
    names = " ".join(packages)
    return (
        f"system packages are missing and could not be installed from here, for want of the right or of a network: "
        f"{names}. On Debian or Ubuntu have an administrator run 'apt-get install {names}', then run the same command "
        "again; on another Linux install the packages that hold the same libraries."
    )


def install_packages(packages: list[str]) -> None:
    as_root = os.geteuid() == 0 if hasattr(os, "geteuid") else False
    apt = apt_command(as_root, shutil.which("sudo") is not None, sys.stdin.isatty())
    if shutil.which("apt-get") is None or apt is None:
        raise SetUpFailed(ask_for(packages))
    say(f"installing system packages: {' '.join(packages)}")
    environment = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    install = [*apt, "install", "-y", "--no-install-recommends", *packages]
    # A new machine has no package lists at all; an old one's may name files that are gone.
    steps = ([*apt, "update", "-q"], install)
    for step in steps:
        if run(step, environment, ask=sys.stdin.isatty()):
            raise SetUpFailed(ask_for(packages))


# What goes into .venv


def works(python: Path) -> bool:
    """Whether .venv's Python runs and is new enough: a set-up that was killed half-way leaves one that does not."""
    if not python.exists():
        return False
    probe = f"import sys; sys.exit(sys.version_info < {OLDEST_PYTHON})"
    try:
        return run([str(python), "-c", probe], quiet=True) == 0
    except OSError:
        return False


def make_venv() -> None:
    python = in_venv("python")
    if works(python) and in_venv("uv").exists():
        return
    if not works(python) or run([str(python), "-m", "pip", "--version"], quiet=True):
        say("making .venv")
        if run([sys.executable, "-m", "venv", "--clear", str(ROOT / ".venv")]):
            raise SetUpFailed("Python could not make .venv; its own words stand above.")
    say("fetching uv, which fetches the rest")
    fetch = [str(python), "-m", "pip", "install", "--quiet", "--disable-pip-version-check", UV]
    if run(fetch):
        raise SetUpFailed(
            "uv could not be fetched from the Python package index. Check the network (and the proxy settings, if "
            "there is a proxy) and run the same command again; pip's own words stand above."
        )


def sync_command(development: bool, scans: bool = False) -> list[str]:
    """uv's words: exactly what uv.lock pins, by the Python in .venv, leaving what is there besides where it is.

    Development has what reads scans with it: its tests need it.
    """
    command = [str(in_venv("uv")), "sync", "--locked", "--inexact", "--python", str(in_venv("python"))]
    if scans:
        command += ["--extra", "scans"]
    return command if development else [*command, "--no-dev"]


def sync_environment(environment: dict[str, str], certificates: bool) -> dict[str, str]:
    """What uv is told besides. certificates: the system has its own, to which workplaces add their proxy's."""
    told = {**environment, "UV_PROJECT_ENVIRONMENT": str(ROOT / ".venv"), "UV_PYTHON_DOWNLOADS": "never"}
    told.pop("VIRTUAL_ENV", None)
    if certificates:
        told.setdefault("UV_SYSTEM_CERTS", "true")
    return told


def has_certificates() -> bool:
    if platform.system() != "Linux":
        return True
    paths = ssl.get_default_verify_paths()
    return paths.cafile is not None or (paths.capath is not None and any(Path(paths.capath).glob("*")))


def sync(development: bool, scans: bool) -> None:
    environment = sync_environment(dict(os.environ), has_certificates())
    if run(sync_command(development, scans), environment):
        raise SetUpFailed(
            "the packages that uv.lock names could not be installed. Check the network and the room on the disk and "
            "run the same command again; uv's own words stand above."
        )


def set_up(development: bool, on_screen: bool, scans: bool = False) -> None:
    """Everything up to a .venv that can run the program; quick where it was done before."""
    check_python(sys.version_info[:2])
    check_system(platform.system(), platform.libc_ver())
    check_folder(ROOT)
    if platform.system() == "Linux":
        missing = missing_packages(on_screen)
        if missing:
            install_packages(missing)
    make_venv()
    sync(development, scans)


# What is run


def has_screen(environment: dict[str, str], system: str) -> bool:
    if environment.get("QT_QPA_PLATFORM"):
        return environment["QT_QPA_PLATFORM"].split(":")[0] not in {"offscreen", "minimal", "vnc"}
    return system != "Linux" or bool(environment.get("DISPLAY") or environment.get("WAYLAND_DISPLAY"))


def main(arguments: list[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description="Set up Tinsheet, and run it.", allow_abbrev=False)
    what = parser.add_mutually_exclusive_group()
    what.add_argument("--demo", action="store_true", help="then open the program on the demo library")
    what.add_argument("--test", action="store_true", help="then run the tests")
    parser.add_argument("--scans", action="store_true", help="also fetch what reads pages that are pictures (375 MB)")
    wanted, further = parser.parse_known_args(arguments)
    environment = dict(os.environ)
    on_screen = wanted.demo and has_screen(environment, platform.system())
    try:
        set_up(development=not (wanted.demo or wanted.scans), on_screen=on_screen, scans=wanted.scans)
    except SetUpFailed as failed:
        say(f"stopped: {failed}")
        return 1
    except OSError as failed:
        say(f"stopped: the system refused: {failed}.")
        return 1
    if wanted.demo:
        # Without a screen the program says so itself, and shows the demo in words.
        command = ["-m", "app", "--demo", *further]
    elif wanted.test:
        environment["QT_QPA_PLATFORM"] = "offscreen"
        command = ["-m", "pytest", *further]
    else:
        say(f"ready: {in_venv('tinsheet')}")
        return 0
    try:
        return run([str(in_venv("python")), *command], environment, ask=True)
    except KeyboardInterrupt:
        return 130


if __name__ == "__main__":
    sys.exit(main())

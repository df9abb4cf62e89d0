"""Draws every place of the window to PNGs, to be looked at by a person: 1x and 2x, light and dark, empty and full.

.venv/bin/python tests/looks/render.py FOLDER [--size 1280x800] [--text 200] [--only full-light-1x]
"""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

STATES = ("empty", "full", "long", "demo")
SHADES = ("light", "dark")
RATIOS = ("1", "2")


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--size", default="1280x800")
    parser.add_argument("--text", type=int, default=100, help="the size of all text in percent")
    parser.add_argument("--only", default="")
    arguments = parser.parse_args()
    arguments.folder.mkdir(parents=True, exist_ok=True)
    if arguments.only:
        state, shade, ratio = arguments.only.split("-")
        draw(arguments.folder, arguments.size, state, shade, ratio, arguments.text)
        return 0
    for state in STATES:
        for shade in SHADES:
            for ratio in RATIOS:
                # A process each: the sharpness of the screen is fixed once Qt has started.
                subprocess.run(
                    [sys.executable, __file__, str(arguments.folder), "--size", arguments.size,
                     "--text", str(arguments.text), "--only", f"{state}-{shade}-{ratio}x"],
                    check=True,
                    env={**os.environ, "QT_SCALE_FACTOR": ratio},
                )  # fmt: skip
    return 0


def draw(folder: Path, size: str, state: str, shade: str, ratio: str, percent: int) -> None:
    """One state of the window in one shade: a PNG for each place."""
    from PySide6.QtCore import QEventLoop, QTimer  # noqa: PLC0415 - after the environment is set
    from PySide6.QtWidgets import QApplication  # noqa: PLC0415
    from window_kit import PreparedReader, window  # noqa: PLC0415
    from window_states import fill, prepared  # noqa: PLC0415

    from app.demo import demo_folder  # noqa: PLC0415
    from app.page_pane.drawer import ChildPageDrawer  # noqa: PLC0415
    from app.wiring import Wiring  # noqa: PLC0415

    application = QApplication(sys.argv[:1])
    demo = state == "demo"

    def settle() -> None:
        loop = QEventLoop()
        QTimer.singleShot(1500 if demo else 120, loop.quit)
        loop.exec()
        application.processEvents()

    width, height = (int(side) for side in size.split("x"))

    def draw_window(wiring: Wiring, temporary: Path) -> None:
        wiring.text_menu.choose(percent)
        wiring.window.resize(width, height)
        for name, show in fill(wiring, state, temporary):
            show()
            settle()
            path = folder / f"{name}-{state}-{shade}-{ratio}.png"
            wiring.window.grab().save(str(path))
            print(path)

    with tempfile.TemporaryDirectory() as temporary:
        if demo:
            shutil.copytree(demo_folder(), Path(temporary) / "library")
        drawer = ChildPageDrawer({}) if demo else None
        with window(Path(temporary), PreparedReader(prepared(state)), drawer=drawer, dark=shade == "dark") as wiring:
            draw_window(wiring, Path(temporary))


if __name__ == "__main__":
    sys.exit(main())

"""From starting the process to the first paint: the program's window against an empty Qt window, in turn."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time

WATCHED = """
import sys, time
from pathlib import Path
from PySide6.QtCore import QEvent, QObject, QTimer
from PySide6.QtWidgets import QApplication, QMainWindow

class Watcher(QObject):
    seen = False
    def eventFilter(self, watched, event):
        painted = event.type() == QEvent.Type.Paint and watched.isWidgetType() and watched.window().isVisible()
        if painted and not self.seen:
            self.seen = True
            print(time.monotonic(), flush=True)
            QTimer.singleShot(0, QApplication.quit)
        return False

class Watched(QApplication):
    def __init__(self, *arguments):
        super().__init__(*arguments)
        self.watcher = Watcher()
        self.installEventFilter(self.watcher)
"""
EMPTY = WATCHED + "\napplication = Watched(sys.argv[:1])\nwindow = QMainWindow()\nwindow.show()\napplication.exec()\n"
PROGRAM = (
    WATCHED + "\nimport app.window\napp.window.QApplication = Watched\napp.window.run(Path(sys.argv[1]), demo=False)\n"
)


def first_paint(script: str, folder: str) -> float:
    """Seconds to the first paint. Raises CalledProcessError where the window did not come up."""
    environment = {**os.environ, "QT_QPA_PLATFORM": "offscreen"}
    start = time.monotonic()
    done = subprocess.run(
        [sys.executable, "-c", script, folder], capture_output=True, text=True, env=environment, check=True, timeout=60
    )
    return float(done.stdout.split()[0]) - start


def report(rounds: int = 15) -> str:
    with tempfile.TemporaryDirectory() as scratch:
        first_paint(EMPTY, scratch)
        first_paint(PROGRAM, scratch)
        pairs = [(first_paint(PROGRAM, scratch), first_paint(EMPTY, scratch)) for _ in range(rounds)]
    program, empty = (statistics.median(pair[n] for pair in pairs) for n in (0, 1))
    ratio = statistics.median(a / b for a, b in pairs)
    return (
        f"window painted     {1000 * program:7.1f} ms   an empty Qt window       {1000 * empty:7.1f} ms   "
        f"ratio {ratio:.2f} (median of {rounds} pairs)"
    )

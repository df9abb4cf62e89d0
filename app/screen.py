"""Whether there is a screen to open a window on, asked before Qt would end the process for want of one."""

from __future__ import annotations

import os
import sys

NO_SCREEN = (
    "There is no screen here to open a window on. Run tinsheet on a desktop, or use it by words: tinsheet --help tells "
    "which."
)


def no_screen() -> bool:
    """Whether this is a Linux machine where no window can open."""
    return sys.platform == "linux" and not any(
        os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
    )

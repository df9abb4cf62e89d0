"""The present moment as something that is handed in, so that clocks can be tried without waiting."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime

Now = Callable[[], datetime]


def now_here() -> datetime:
    """This moment by the clock on the wall, with its zone's difference from UTC."""
    return datetime.now(UTC).astimezone()

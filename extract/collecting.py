"""How often Python's collector looks for rings of values: reading makes many values and hardly a ring."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager

ROUND_AFTER = 50_000
"""Values made and not yet freed, after which the collector looks for rings while a sheet is read."""


@contextmanager
def seldom_collected() -> Iterator[None]:
    """Let the collector rest between rounds of ROUND_AFTER values; what was set before holds again afterwards."""
    youngest, *older = gc.get_threshold()
    if not 0 < youngest < ROUND_AFTER:
        yield
        return
    gc.set_threshold(ROUND_AFTER, *older)
    try:
        yield
    finally:
        gc.set_threshold(youngest, *older)

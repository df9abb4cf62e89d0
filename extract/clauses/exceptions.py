"""What 'except', 'other than' and 'anything but' take out of a list."""

from __future__ import annotations

import re
from dataclasses import replace

from extract.clauses.cues import Cues
from extract.clauses.frames import Clause, Found, Frame


def excepted(c: Cues, text: str, clause: Clause, found: list[Found], said: Frame) -> list[Found]:
    """Turn round what an 'except' takes out of the list."""
    exclusive = c.exclusive.search(text)
    if exclusive is not None:
        at = clause.start + exclusive.start()
        return [
            replace(f, forbids=not f.forbids, only=True, pattern="nothing but that")
            for f in found
            if f.mention.start >= at
        ]
    cut = c.exception.search(text)
    if cut is not None and not (said.forbids and cut.group().removeprefix("and ").startswith("not")):
        at = clause.start + cut.start()
        # "No etch primers other than X" frees X from this rule and permits it no further.
        freed = said.forbids and re.match(r"other than|apart from|aside from", cut.group())
        return [
            replace(f, forbids=not f.forbids, only=False, pattern="except") if f.mention.start >= at else f
            for f in found
            if not (freed and f.mention.start >= at)
        ]
    return found

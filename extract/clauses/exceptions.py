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
    if cut is not None and not (said.forbids and cut.group().removeprefix("and ").startswith(("not", "never"))):
        at = clause.start + cut.start()
        # "No etch primers other than X" frees X from this rule and permits it no further.
        # "Except A, every B may be coated": the exception ends where the rule begins.
        leading = re.match(r"[^,;:]*,", text[cut.end() :]) if not text[: cut.start()].strip() else None
        ends = at + len(cut.group()) + leading.end() if leading is not None else clause.end
        freed = said.forbids and re.match(r"other than|apart from|aside from", cut.group())
        return [
            replace(f, forbids=not f.forbids, only=False, pattern="except") if at <= f.mention.start < ends else f
            for f in found
            if not (freed and f.mention.start >= at)
        ]
    return found

"""What 'except', 'other than' and 'anything but' take out of a list."""

from __future__ import annotations

import re
from dataclasses import replace

from extract.clauses.cues import Cues
from extract.clauses.frames import Clause, Found, Frame
from extract.clauses.polarity import negates


def excepted(c: Cues, text: str, clause: Clause, found: list[Found], said: Frame) -> list[Found]:
    """Turn round what an 'except' takes out of the list."""
    behind = _taken_out_behind(c, text, clause, found)
    if behind is not None:
        return behind
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
        # "Not on old paintwork, except on stoved old paintwork" narrows a ban in words that no kind can hold.
        banned = {f.mention.object for f in found if f.forbids and f.mention.start < at}
        return [
            replace(f, forbids=not f.forbids, only=False, pattern="except") if at <= f.mention.start < ends else f
            for f in found
            if not (f.mention.start >= at and (freed or f.mention.object in banned))
        ]
    return found


_LAST_PART = re.compile(r"(?:,| -|\() ?(?:with |but )?(?P<out>[^,()]*)$")
_ANY = re.compile(r"\b(?:all|any|every|each|most)\b")


def _taken_out_behind(c: Cues, text: str, clause: Clause, found: list[Found]) -> list[Found] | None:
    """'Under all topcoats, seam sealers excluded': the last part of the list is taken out, and the rest stands."""
    last = max(c.exception_behind.finditer(text), key=lambda m: m.end(), default=None)
    if last is None or re.search(r"\w", text[last.end() :]):
        return None
    part = _LAST_PART.search(text, 0, last.start())
    if part is None:
        return None
    at = clause.start + part.start("out")
    kept = [f for f in found if f.mention.start < at]
    out = [f for f in found if f.mention.start >= at]
    rest = text[: part.start()]
    # 'Zinc, brass excluded' may exclude both; a list that speaks of any or goes with a verb stands by itself.
    if not kept or not out or not (_ANY.search(rest) or c.apply_verb.search(rest)):
        return None
    if negates(c, rest):
        # 'Not under topcoats, sealers excepted' frees sealers from this rule and permits them no further.
        return [replace(f, forbids=True) for f in kept]
    return [
        *(replace(f, forbids=False, pattern=f"{f.pattern}, except") for f in kept),
        *(replace(f, forbids=True, only=False, pattern="except") for f in out),
    ]

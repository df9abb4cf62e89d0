"""The last look at a permission: does anything near it speak against it?

Written apart from the reader that made the permission, with words of its own (vocabulary/<language>/guard.toml), so
that a slip in the one is caught by the other. A wrong yes is the costliest error there is; a permission withheld costs
a line that the user adds by hand.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib import resources


@dataclass(frozen=True, slots=True)
class _Words:
    against: re.Pattern[str]
    harmless: re.Pattern[str]
    conditional: re.Pattern[str]
    conditional_harmless: re.Pattern[str]


@cache
def _words(language: str) -> _Words | None:
    path = resources.files("extract.vocabulary").joinpath(language, "guard.toml")
    if not path.is_file():
        return None
    raw: dict[str, list[str]] = tomllib.loads(path.read_text("utf-8"))

    def compiled(name: str) -> re.Pattern[str]:
        words = sorted(raw[name], key=len, reverse=True)
        return re.compile(r"(?<![\w-])(?:" + "|".join(words) + r")(?![\w])")

    return _Words(*(compiled(n) for n in ("against", "harmless", "conditional", "conditional_harmless")))


_PARTS = re.compile(
    r"[;!?]|(?<!e\.g)(?<!i\.e)(?<!max)(?<!min)(?<!approx)(?<!hrs)(?<!\bhr)\.(?= |$)"
    r"|,? but (?!not\b|never\b|also\b)|(?<=excluded), |(?<=excepted), |,? whereas |,? while |,? however,? |,? although "
    r"|,? and (?=it (?:must|should|may|can|is|will|does|goes)\b)"
    r"|,? and (?=only (?:with|by|over|on|under)\b)"
    r"|,? and (?=(?:must|should|may|can) not (?:be )?(?:\w+ )?(?:top|over|re)[- ]?coat)"
)
_TURN = re.compile(
    r"[,(]? ?(?:and |but )?\b(?:not|never|no|nor|except|excepting|excluding|other than|apart from|bar|save for|"
    r"with the exception of|(?:must|may|should|can|is|are|do|does) not|cannot|don't|avoid)\b"
)
"""Where a clause turns against what comes behind it; what stands before is left in peace."""


_CLOSED = re.compile(r"\bonly (?:be )?(?:\w+ )?(?:with|to|by|over|on|upon|under)\b")
"""'Only with X' of a closed list is no condition."""
_REASON = re.compile(r",? (?:since|because|as (?:otherwise|else|the|it)|otherwise|or else|for fear)\b")
"""Where a condition's reason begins: what would happen without it."""


_CLINGS = re.compile(
    r"(?:only|just|at|not|never|with|under|then|after|if|when|once|in|on condition|subject|provided|we|this|it is|"
    r"they are|always|first|needs?|must|requires?|should|as long as|strictly|exclusively|for)\b"
)
"""How a turn goes on that narrows what was said before it: '..., but only in spots'."""


def scope(folded: str, start: int, end: int, others: Sequence[int] = ()) -> tuple[int, int]:
    """The clause of a sentence that the words from start to end belong to.

    A 'but' that names no other coat (others are their places) and narrows what stands before it ends no clause.
    """
    left, right = 0, len(folded)
    parts = list(_PARTS.finditer(folded))
    for n, match in enumerate(parts):
        if match.end() <= start:
            left = match.end()
        elif match.start() >= end:
            until = parts[n + 1].start() if n + 1 < len(parts) else len(folded)
            narrows = match.group().strip(" ,") in ("but", "although", "however") and _CLINGS.match(folded, match.end())
            if narrows and not any(match.end() <= at < until for at in others):
                continue
            right = match.start()
            break
    return left, right


@lru_cache(maxsize=2048)
def speaks_against(folded: str, language: str = "en") -> bool:
    """True where a heading, a lead-in, a cell or a clause holds a word that speaks against what it is about."""
    words = _words(language)
    if words is None:
        return False
    return words.against.search(words.harmless.sub(lambda m: " " * len(m.group()), folded)) is not None


def withheld(
    folded: str,
    mention: tuple[int, int],
    others: list[int],
    *,
    conditions: bool,
    only: bool = False,
    language: str = "en",
) -> str | None:
    """The word for which a permission on the coat at mention has to be withheld; None where nothing speaks against it.

    others are the places of the sentence's further coats; conditions tells whether the permission carries any,
    only whether it closes a list.
    """
    words = _words(language)
    if words is None:
        return None
    left, right = scope(folded, *mention, others)
    for turn in _TURN.finditer(folded, mention[1], right):
        if re.match(r" (?:over|under|beneath|on|below|on top|above)\b(?! \d)", folded[turn.end() :]):
            right = turn.start()
            break
        if any(turn.end() <= at < right for at in others) and re.search(
            r"[,(]| and | or | but ", folded[mention[1] : turn.end()]
        ):
            right = turn.start()
            break
    reason = _REASON.search(folded, mention[1], right)
    if reason is not None and conditions:
        right = reason.start()
    part = folded[left:right]
    plain = words.harmless.sub(lambda m: " " * len(m.group()), part)
    against = words.against.search(plain)
    if against is not None:
        return against.group()
    if not conditions:
        if only:
            part = _CLOSED.sub(lambda m: " " * len(m.group()), part)
        clear = words.conditional_harmless.sub(lambda m: " " * len(m.group()), part)
        condition = words.conditional.search(clear)
        if condition is not None:
            return condition.group()
    return None

"""Words around a figure that bound it or make it approximate: 'not below', 'max.', 'or more', 'about'."""

from __future__ import annotations

import re
from enum import StrEnum


class Bound(StrEnum):
    NONE = ""
    LEAST = "least"
    """'at least 10', 'not below 10', '10 or more': only low is set."""
    MOST = "most"
    """'max. 10', 'up to 10', 'not above 10': only high is set."""


_NOT = (
    r"(?:not|never|no|nor|n't)(?:\s+be)?(?:\s+(?:to|fall|falls|drop|drops|go|goes|rise|rises|build|allow|let|apply))?"
)
_MOST_WORDS = (
    rf"{_NOT}\s+(?:more|longer|later|greater|higher|thicker|hotter|wider|over|above|exceed(?:ing)?|beyond|past|after)"
    r"(?:\s+than)?|less\s+than|(?:lower|colder|cooler|drier)\s+than|at\s+(?:the\s+)?most|up\s+to|max(?:imum|imal)?\.?|below|under|beneath|within"
    r"|(?:^|\s)to\s+max\.?|inside|no\s+more\s+than|limited\s+to|cannot\s+exceed|[<≤]\s?=?|fewer\s+than|upper\s+limit"
)
_LEAST_WORDS = (
    rf"{_NOT}\s+(?:less|lower|below|under|shorter|fewer|thinner|beneath|colder|sooner|earlier)(?:\s+than)?|more\s+than"
    r"|greater\s+than|(?:higher|hotter|warmer)\s+than|longer\s+than|at\s+(?:the\s+)?least|at\s+(?:a\s+)?minimum|min(?:imum|imal)?\.?|above"
    r"|over|exceed(?:s|ing)?|beyond|in\s+excess\s+of|upwards\s+of|no\s+less\s+than|[>≥]\s?=?|lower\s+limit|past"
)
_TAIL = r"\s*(?:of|is|are|:|=|a|the|about|approx\.?)?\s*(?:of|is|:)?\s*$"
_MOST_BEFORE = re.compile(rf"(?:(?<![a-z])|(?=[<≤]))(?:{_MOST_WORDS}){_TAIL}")
_LEAST_BEFORE = re.compile(rf"(?:(?<![a-z])|(?=[>≥]))(?:{_LEAST_WORDS}){_TAIL}")
_APPROX_BEFORE = re.compile(
    r"(?:\b(?:approx(?:imately|\.)?|about|around|roughly|circa|ca\.?|nearly|almost|some|typically|nominally|say|"
    r"c\.)|[~≈±]|\+/-)\s*$"
)
_OF_ITS_OWN = (
    r"(?!\s*(?:of\s+|is\s+|:\s*)?(?:\d|un(?:limited|restricted)|indefinite|no\b|none\b|n\.?/?a\b|extended|open\b|see\b"
    r"|[-–]))"
)
_OF_ANOTHER = _OF_ITS_OWN + r"(?![a-z \-]{1,30}:? ?\d+(?![\d\s]*°))"
"""'4 h. Max. recoat 3 d': behind a stop or a comma the bound may have words and a figure of its own."""
"""'8 h (max. 3 d)': a bound in brackets with a figure of its own is not that of the figure before it."""
_MOST_AFTER = re.compile(
    rf"(?:\s*max(?:imum)?\b\.?\)?|\s*\(max(?:imum)?\b\.?+{_OF_ITS_OWN}\)?"
    rf"|[.,]\s*max(?:imum)?\b\.?+{_OF_ANOTHER}"
    r"|\.?\s*or\s+(?:less|below|under|lower|thinner|cooler"
    r"|colder)\b|\s*at\s+(?:the\s+)?most\b"
    r"|\s*and\s+(?:below|under)\b(?!\s*-?\d))"
)
_LEAST_AFTER = re.compile(
    rf"(?:\s*min(?:imum)?\b\.?\)?|\s*\(min(?:imum)?\b\.?+{_OF_ITS_OWN}\)?"
    rf"|[.,]\s*min(?:imum)?\b\.?+{_OF_ANOTHER}"
    r"|\.?\s*or\s+(?:more|above|over|higher|warmer"
    r"|longer|greater|thicker)\b"
    r"|\s*at\s+(?:the\s+)?least\b|\s*upwards?\b|\s*and\s+(?:above|over|more|up|upwards?|higher|longer)\b(?!\s*-?\d)"
    r"|\s*\+(?!\s?/?\s?[\d-]))"
)


def bound_around(text: str, start: int, end: int, after: int) -> tuple[Bound, bool, int, int]:
    """The bound on the figure at text[start:end]: which, whether approximate, and where its words begin and end.

    Words before position after belong to an earlier figure. Words before the figure win over words behind it.
    """
    before = text[max(after, start - 60) : start]
    offset = start - len(before)
    approximate, lead = False, start
    m = _APPROX_BEFORE.search(before)
    if m:
        approximate, lead, before = True, offset + m.start(), before[: m.start()]
    most, least = _MOST_BEFORE.search(before), _LEAST_BEFORE.search(before)
    hit = min((h for h in (most, least) if h), key=lambda h: h.start(), default=None)
    if hit is not None:
        return (Bound.MOST if hit is most else Bound.LEAST), approximate, offset + hit.start(), end
    if behind := _MOST_AFTER.match(text, end):
        return Bound.MOST, approximate, lead, behind.end()
    if behind := _LEAST_AFTER.match(text, end):
        return Bound.LEAST, approximate, lead, behind.end()
    return Bound.NONE, approximate, lead, end

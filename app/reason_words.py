"""Why a time or a date is not known, as the reasoning gives it, in the language of the window. No Qt.

store/planning gives its reasons in plain English; here they are known again and said. A test asks for every one.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from app.translating import QT_TRANSLATE_NOOP, translate

REASONS = (
    QT_TRANSLATE_NOOP("reasons", "the sheet gives no window"),
    QT_TRANSLATE_NOOP("reasons", "the sheet gives no earliest time"),
    QT_TRANSLATE_NOOP("reasons", "the sheet gives no latest time"),
    QT_TRANSLATE_NOOP("reasons", "the sheet gives no earliest time below {degrees} °C"),
    QT_TRANSLATE_NOOP("reasons", "the sheet gives no latest time above {degrees} °C"),
    QT_TRANSLATE_NOOP("reasons", "the sheet gives no longest wait after preparing"),
    QT_TRANSLATE_NOOP("reasons", "no temperature is known"),
    QT_TRANSLATE_NOOP("reasons", "no sheet gives an earliest time for the coat above"),
    QT_TRANSLATE_NOOP("reasons", "from the day it was made"),
    QT_TRANSLATE_NOOP("reasons", "from the day it was bought"),
    QT_TRANSLATE_NOOP("reasons", "from the day it was opened"),
    QT_TRANSLATE_NOOP("reasons", "no shelf life on the sheet"),
    QT_TRANSLATE_NOOP("reasons", "no date made or bought"),
    QT_TRANSLATE_NOOP("reasons", "no day of opening"),
)
_PATTERNS: Mapping[str, re.Pattern[str]] = {
    reason: re.compile(re.escape(reason).replace(r"\{degrees\}", r"(?P<degrees>-?\d+)")) for reason in REASONS
}


def reason_words(reason: str) -> str:
    """One reason, or several parted by '; '. Words that are none of REASONS stand as they are."""
    return "; ".join(_one(part) for part in reason.split("; ")) if reason else ""


def _one(reason: str) -> str:
    for known, pattern in _PATTERNS.items():
        found = pattern.fullmatch(reason)
        if found is not None:
            return translate("reasons", known).format(**found.groupdict())
    return reason

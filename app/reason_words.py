"""Why a time is not known, or a value cannot be kept, as the store gives it, in the language of the window. No Qt.

store/ gives its reasons in plain English; here they are known again and said. A test asks for every one.
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
    QT_TRANSLATE_NOOP("reasons", "an amount taken from a tin cannot be below nothing"),
    QT_TRANSLATE_NOOP("reasons", "what is left in a tin cannot be below nothing"),
    QT_TRANSLATE_NOOP("reasons", "a tin's size must be above nothing"),
    QT_TRANSLATE_NOOP("reasons", "more is left than the tin holds"),
    QT_TRANSLATE_NOOP("reasons", "a price cannot be below nothing"),
    QT_TRANSLATE_NOOP("reasons", "the tin was opened before it was made"),
    QT_TRANSLATE_NOOP("reasons", "{name} is not a picture"),
    QT_TRANSLATE_NOOP("reasons", "{name} is empty"),
    QT_TRANSLATE_NOOP("reasons", "the panel does not stand outdoors"),
    QT_TRANSLATE_NOOP("reasons", "it was taken in before it was put out"),
    QT_TRANSLATE_NOOP("reasons", "a panel needs a name"),
    QT_TRANSLATE_NOOP("reasons", "{name} is no surface that the program knows"),
    QT_TRANSLATE_NOOP("reasons", "each layer is a product or a kind"),
    QT_TRANSLATE_NOOP("reasons", "at least one coat was put on"),
    QT_TRANSLATE_NOOP("reasons", "a grit goes with abrading, and is above nothing"),
    QT_TRANSLATE_NOOP("reasons", "the panel stood outdoors then already"),
    QT_TRANSLATE_NOOP("reasons", "a time needs its time zone"),
    QT_TRANSLATE_NOOP("reasons", "{what} lies outside {low} to {high}"),
)
_WHAT = (
    QT_TRANSLATE_NOOP("reasons", "the air temperature"),
    QT_TRANSLATE_NOOP("reasons", "the panel's temperature"),
    QT_TRANSLATE_NOOP("reasons", "the humidity"),
    QT_TRANSLATE_NOOP("reasons", "the wet film"),
    QT_TRANSLATE_NOOP("reasons", "the dry film"),
)
_PATTERNS: Mapping[str, re.Pattern[str]] = {
    reason: re.compile(re.sub(r"\\{(\w+)\\}", r"(?P<\1>.+)", re.escape(reason))) for reason in REASONS
}


def reason_words(reason: str) -> str:
    """One reason, or several parted by '; '. Words that are none of REASONS stand as they are."""
    return "; ".join(_one(part) for part in reason.split("; ")) if reason else ""


def _one(reason: str) -> str:
    for known, pattern in _PATTERNS.items():
        found = pattern.fullmatch(reason)
        if found is not None:
            said = {
                name: translate("reasons", words) if words in _WHAT else words
                for name, words in found.groupdict().items()
            }
            return translate("reasons", known).format(**said)
    return reason

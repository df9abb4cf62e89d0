"""The times to the next coat as a painter says them, and why one is withheld. No Qt: the command line uses it too."""

from __future__ import annotations

from app.translating import translate
from app.wording import (
    claim_words,
    conditions_joined,
    duration_words,
    joined,
    range_words,
    temperature_words,
    times_words,
)
from store.rules.answers import Reading, Window


def window_words(window: Window) -> str:
    """'Earliest next coat 1 h, latest 3 days, at 20 °C', and what to know of how it was had; each of several."""
    words = _one(window)
    for other in window.also:
        further = _one(other)
        words = translate("verdicts", "{one}; or: {other}").format(one=words, other=further[:1].lower() + further[1:])
    return words


def times_short(window: Window) -> str:
    """'1 h – 3 days at 20 °C', several parted by 'or'; empty where no figure stands."""
    found = [times for one in window.each if (times := _short(one))]
    return translate("verdicts", " or ").join(found)


def times_large(window: Window) -> str:
    """The figures alone, empty where there are none to go by."""
    found = [figures for one in window.each if (figures := _large(one))]
    return translate("verdicts", " or ").join(found)


def past_words(window: Window) -> str:
    """What to do when the latest time has gone by; empty where the sheet does not say."""
    return claim_words(window.past.claim, window.past.sheet.product) if window.past is not None else ""


def _short(window: Window) -> str:
    if window.reading is Reading.OUTSIDE:
        return ""
    times = range_words(window.low, window.high, "min")
    if not times or window.at_c is None:
        return times
    return translate("verdicts", "{times} at {temperature}").format(
        times=times, temperature=temperature_words(window.at_c)
    )


def _large(window: Window) -> str:
    if window.reading is Reading.OUTSIDE or window.closed:
        return ""
    if window.unlimited and window.high is None:
        earliest = range_words(window.low, window.low, "min") if window.low is not None else ""
        if earliest:
            return translate("answer", "from {time} on").format(time=earliest)
        return translate("answer", "no latest time")
    return range_words(window.low, window.high, "min")


def _one(window: Window) -> str:
    if window.reading is Reading.OUTSIDE:
        return _beyond(window)
    table = joined([temperature_words(at_c) for at_c in _rows_used(window)])
    if window.closed:
        return _closed(window, table)
    words = times_words(window.low, window.high, window.unlimited, window.at_c)
    words = words[:1].upper() + words[1:]
    if window.reading is Reading.BETWEEN:
        words = translate(
            "verdicts", "{words} (between the sheet's rows for {table}: the longer earliest, the shorter latest)"
        ).format(words=words, table=table)
    elif window.reading is Reading.UNTEMPERED:
        words = translate("verdicts", "{words} (the sheet names no temperature)").format(words=words)
    return _with_conditions(words, window)


def _closed(window: Window, table: str) -> str:
    if window.reading is Reading.BETWEEN:
        return translate(
            "verdicts",
            "Between {table} no moment suits both rows of the sheet: the earliest time of one "
            "lies past the latest of the other",
        ).format(table=table)
    return translate(
        "verdicts",
        "No moment suits all that is said of it: the earliest time of one sentence lies past another's latest",
    )


def _beyond(window: Window) -> str:
    """Colder or hotter than the table: the end that holds all the same, why the other is withheld, what to do."""
    if window.at_c is None or not window.stated:
        return translate("verdicts", "The sheet gives no time for that temperature")
    cold = window.at_c < window.stated[0]
    nearest = window.stated[0] if cold else window.stated[-1]
    parts = [
        translate("verdicts", "The sheet gives times for {table} only, not for {asked}").format(
            table=joined([temperature_words(at_c) for at_c in window.stated]), asked=temperature_words(window.at_c)
        )
    ]
    withheld = _withheld(window, nearest)
    if withheld:
        parts.append(withheld)
    known = _with_conditions(times_words(window.low, window.high, window.unlimited, None), window)
    if window.low is not None or window.high is not None or window.unlimited:
        holds = (
            translate("verdicts", "{times}: so it says for {nearest}, and colder it is no shorter")
            if cold
            else translate("verdicts", "{times}: so it says for {nearest}, and hotter it is no longer")
        )
        parts.append(holds.format(times=known, nearest=temperature_words(nearest)))
    if withheld:
        parts.append(
            translate("verdicts", "keep it at {nearest}, or ask the maker").format(nearest=temperature_words(nearest))
        )
    return "; ".join(parts)


def _withheld(window: Window, nearest: float) -> str:
    """Which way the time that is not read differs from the one that the sheet gives nearest to it."""
    if window.no_low:
        figures = [r.claim.low for r in window.citations if r.claim.low is not None and r.claim.at_c == nearest]
        words = translate(
            "verdicts", "the earliest is later than the {time} stated for {nearest}, how much it does not say"
        )
        found = max(figures, default=None)
    elif window.no_high:
        ends = [r.claim.high for r in window.citations if r.claim.high is not None and r.claim.at_c == nearest]
        words = translate(
            "verdicts", "the latest is sooner than the {time} stated for {nearest}, how much it does not say"
        )
        found = min(ends, default=None)
    else:
        return ""
    if found is None:
        return translate("verdicts", "nothing is read beyond that")
    return words.format(time=duration_words(found), nearest=temperature_words(nearest))


def _with_conditions(words: str, window: Window) -> str:
    return f"{words}, {conditions_joined(window.conditions)}" if window.conditions else words


def _rows_used(window: Window) -> tuple[float, ...]:
    """The two rows about the temperature where it lies between, else every row of the table."""
    at_c = window.at_c
    if window.reading is not Reading.BETWEEN or at_c is None:
        return window.stated
    below = [stated for stated in window.stated if stated < at_c]
    above = [stated for stated in window.stated if stated > at_c]
    return (*below[-1:], *above[:1])

"""What is due, short and large: the time of day, then what is left, each with a shape and its word. No Qt.

The whole sentences are job_words'; here is what can be read from across the shop.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, tzinfo

from app.figure_words import date_words, day_of_year_words, rough_words, weekday_words
from app.job_words import stood_words
from app.translating import QT_TRANSLATE_NOOP, translate
from store.planning.due import DueItem, DueKind
from store.planning.next_steps import Step, StepKind, Timing
from store.planning.outdoors import Bare, BareState

_NO_LEAVE = frozenset({"no", "disputed"})


@dataclass(frozen=True, slots=True)
class Short:
    """large is the time of day, left how long until or since; shape is one of theme.verdict_shape, word says it."""

    shape: str
    word: str
    large: str
    left: str = ""

    @property
    def said(self) -> str:
        return ", ".join(part for part in (self.word, self.large, self.left) if part)


def clock_words(at: datetime, now: datetime, zone: tzinfo | None = None) -> str:
    """'14:05' today, 'tomorrow 14:05', 'Thu 14:05' within a week, '30 March 2026' further off."""
    local, today = at.astimezone(zone), now.astimezone(zone)
    days = (local.date() - today.date()).days
    if days == 0:
        return f"{local:%H:%M}"
    if days in (1, -1):
        day = translate("due", "tomorrow") if days == 1 else translate("due", "yesterday")
        return f"{day} {local:%H:%M}"
    if -7 < days < 7:
        return f"{weekday_words(local)} {local:%H:%M}"
    if local.year == today.year:
        return f"{day_of_year_words(local)}, {local:%H:%M}"
    return f"{date_words(local.date().isoformat())}"


def until_words(at: datetime, now: datetime) -> str:
    """'in 2 h 30' or '2 h 30 ago'; rounded up, so that nobody begins too early or thinks it was less."""
    span = rough_words(at - now, up=True)
    return (translate("due", "in {span}") if at >= now else translate("due", "{span} ago")).format(span=span)


def left_words(at: datetime, now: datetime) -> str:
    """'2 h 30 left', never more than there is."""
    return translate("due", "{span} left").format(span=rough_words(at - now, up=False))


def step_short(step: Step, now: datetime, zone: tzinfo | None = None) -> Short:
    """A step at a glance. What is not allowed or not said never reads as leave."""
    at = step.moments
    if step.answer is not None and step.answer.word in _NO_LEAVE:
        word = translate("due", "Not allowed") if step.answer.word == "no" else translate("due", "Disputed")
        return Short(step.answer.word, word, translate("due", "not onto this"))
    if step.timing is Timing.NEVER:
        return Short("no", translate("due", "No moment fits"), translate("due", "not at these temperatures"))
    if step.timing is Timing.PASSED and at.latest is not None:
        return Short(
            "no",
            translate("due", "Too late"),
            translate("due", "was {time}").format(time=clock_words(at.latest, now, zone)),
            until_words(at.latest, now),
        )
    if step.timing is Timing.REOPENED:
        return Short("yes_if", translate("due", "Open again"), translate("due", "now"), translate("due", "abraded"))
    if step.timing is Timing.TOO_EARLY and at.earliest is not None:
        return Short(
            "wait",
            translate("due", "Not yet"),
            translate("due", "from {time}").format(time=clock_words(at.earliest, now, zone)),
            until_words(at.earliest, now),
        )
    if step.timing is Timing.UNKNOWN:
        # A latest time alone is no leave: from when on it may happen is not known.
        left = ""
        if at.latest is not None:
            left = translate("due", "latest {time}").format(time=clock_words(at.latest, now, zone))
        if at.earliest is not None:
            # So warm that the sheet's latest time does not hold.
            return Short("silent", translate("due", "Latest not known"), translate("due", "sheet doesn't say"), left)
        return Short("silent", translate("due", "Earliest not known"), translate("due", "sheet doesn't say"), left)
    if at.latest is not None:
        shape, word = _leave(step, translate("due", "Time runs"))
        return Short(
            shape,
            word,
            translate("due", "by {time}").format(time=clock_words(at.latest, now, zone)),
            left_words(at.latest, now),
        )
    if step.timing is Timing.OPEN:
        if step.kind is StepKind.STAGE:
            since = clock_words(at.earliest, now, zone) if at.earliest is not None else ""
            return Short("yes", translate("due", "Reached"), translate("due", "since {time}").format(time=since))
        shape, word = _leave(step, translate("due", "Time has come"))
        left = translate("due", "no latest time") if at.unlimited else translate("due", "sheet doesn't say until when")
        if step.kind is StepKind.FIRST:
            left = translate("due", "sheet doesn't say how soon")
        return Short(shape, word, translate("due", "now"), left)
    return Short("silent", translate("due", "Time not known"), translate("due", "sheet doesn't say"))


def _leave(step: Step, otherwise: str) -> tuple[str, str]:
    """The verdict's own shape: a time that has come is no yes where the sheets don't say so."""
    word = step.answer.word if step.answer is not None else ""
    if word == "silent":
        return "silent", translate("due", "Sheets don't say whether")
    if word == "unconfirmed":
        return "unconfirmed", translate("due", "Confirm it first")
    if word == "yes_if" or step.moments.conditions:
        return "yes_if", translate("due", "Allowed on conditions")
    return ("yes" if word == "yes" else "yes_if"), otherwise


_BARE: Mapping[BareState, tuple[str, str]] = {
    BareState.BARE_METAL: ("no", QT_TRANSLATE_NOOP("due", "Bare metal outdoors")),
    BareState.FORBIDDEN: ("no", QT_TRANSLATE_NOOP("due", "Not outdoors")),
    BareState.WITHIN: ("yes_if", QT_TRANSLATE_NOOP("due", "Within its time outdoors")),
    BareState.OVER: ("no", QT_TRANSLATE_NOOP("due", "Too long outdoors")),
    BareState.UNLIMITED: ("yes", QT_TRANSLATE_NOOP("due", "No limit outdoors")),
    BareState.NO_TIME: ("silent", QT_TRANSLATE_NOOP("due", "Sheet doesn't say how long")),
    BareState.SILENT: ("silent", QT_TRANSLATE_NOOP("due", "Sheet doesn't say")),
    BareState.UNCONFIRMED: ("unconfirmed", QT_TRANSLATE_NOOP("due", "Confirm it first")),
}


def bare_short(bare: Bare, now: datetime, zone: tzinfo | None = None) -> Short:
    shape, word = _BARE[bare.state]
    stood = translate("due", "{span} outdoors").format(span=stood_words(bare.stood))
    if bare.until is not None and bare.state is BareState.WITHIN:
        by = translate("due", "by {time}").format(time=clock_words(bare.until, now, zone))
        return Short(shape, translate("due", word), by, left_words(bare.until, now))
    return Short(shape, translate("due", word), stood)


def due_short(item: DueItem, now: datetime, zone: tzinfo | None = None) -> Short:
    if item.bare is not None:
        return bare_short(item.bare, now, zone)
    if item.step is not None and item.kind is not DueKind.PRIMING_PASSED:
        return step_short(item.step, now, zone)
    at = item.at or now
    large = translate("due", "was {time}").format(time=clock_words(at, now, zone))
    return Short("no", translate("due", "Too late"), large, until_words(at, now))

"""Rows and cells of a comparison, and needs, as words. No Qt."""

from __future__ import annotations

from collections.abc import Mapping

from app.figure_words import counted_words
from app.translating import QT_TRANSLATE_NOOP, translate
from app.verdict_words import conditions_words, party_words, verdict_words
from app.window_words import window_words
from app.wording import claim_words, duration_words, object_words, property_words
from extract.claims import Topic
from store.rules.answers import Silent
from store.rules.comparison import Cell, Row, Said
from store.rules.needs import Met, Need, NeedCell, NeedKind

_MINUTES_A_WEEK = 10080

UNSAID = QT_TRANSLATE_NOOP("comparison", "sheet doesn't say")
UNCONFIRMED = QT_TRANSLATE_NOOP("comparison", "not yet confirmed")

_MET: Mapping[Met, str] = {
    Met.MET: QT_TRANSLATE_NOOP("comparison", "Met"),
    Met.MET_IF: QT_TRANSLATE_NOOP("comparison", "Met, if"),
    Met.NOT_MET: QT_TRANSLATE_NOOP("comparison", "Not met"),
    Met.UNSAID: QT_TRANSLATE_NOOP("comparison", "Sheet doesn't say"),
    Met.UNCONFIRMED: QT_TRANSLATE_NOOP("comparison", "Not yet confirmed"),
}


def row_words(row: Row) -> str:
    """What a row is about, for its head."""
    if row.topic in {Topic.GOES_OVER, Topic.TOPPED_BY}:
        return _capital(object_words(row.object, plural=True))
    if row.topic is Topic.OVERCOAT_WINDOW and row.property == "window":
        return (
            translate("comparison", "Next coat: {object}").format(object=object_words(row.object, plural=True))
            if row.object
            else translate("comparison", "Next coat")
        )
    words = _capital(property_words(row.property)) if row.property else ""
    return f"{words}: {object_words(row.object, plural=True)}" if row.object else words


def cell_words(cell: Cell) -> str:
    """What a cell says, alternatives on lines of their own."""
    if cell.said is Said.UNSAID:
        return translate("comparison", UNSAID)
    if cell.answer is not None and not isinstance(cell.answer, Silent) and cell.said is Said.SAID:
        return "\n".join([verdict_words(cell.answer.word), *conditions_words(cell.answer)])
    if cell.window is not None:
        return window_words(cell.window)
    lines = list(dict.fromkeys(claim_words(source.claim, source.sheet.product) for source in cell.sources))
    if cell.said is Said.UNCONFIRMED:
        lines.append(f"({translate('comparison', UNCONFIRMED)})")
    return "\n".join(lines)


def need_words(need: Need) -> str:
    """What the job asks, for the row's head."""
    other = party_words(need.other) if need.other is not None else ""
    if need.kind is NeedKind.OVER:
        return translate("comparison", "Goes straight onto {other}").format(other=other)
    if need.kind is NeedKind.UNDER:
        return translate("comparison", "Takes {other} straight on top").format(other=other)
    if need.kind is NeedKind.OUTDOORS:
        return translate("comparison", "Stands outdoors for {weeks} without a further coat").format(
            weeks=_weeks_words(need.minutes or 0)
        )
    return (
        translate("comparison", "Keeps water out")
        if need.kind is NeedKind.WATERPROOF
        else translate("comparison", "May be wet-sanded")
    )


def _weeks_words(minutes: float) -> str:
    """Time outdoors is asked in weeks, so it is said in weeks."""
    weeks, rest = divmod(minutes, _MINUTES_A_WEEK)
    return duration_words(minutes) if rest or not weeks else counted_words(round(weeks), "week")


def met_words(cell: NeedCell) -> str:
    """Whether the need is met, with the conditions."""
    conditions = conditions_words(cell.answer) if cell.answer is not None else ()
    return "\n".join([translate("comparison", _MET[cell.met]), *conditions])


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]

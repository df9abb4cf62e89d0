"""The order in which claims are looked through: by topic, the most doubtful first within each. No Qt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from app.translating import QT_TRANSLATE_NOOP, translate
from extract.claims import Topic
from store.records import ClaimRecord, ClaimStatus, SheetRecord

DOUBTFUL_BELOW = 0.7
"""A claim read with less confidence than this is shown as doubtful."""


@dataclass(frozen=True, slots=True)
class Head:
    """A line that heads the claims of one topic."""

    topic: Topic


Row = Head | ClaimRecord


def in_order(claims: Sequence[ClaimRecord]) -> tuple[Row, ...]:
    """Heads and claims in the order of the screen. Deciding a claim never moves it."""
    rows: list[Row] = []
    for topic in Topic:
        group = [c for c in claims if c.claim.topic is topic]
        if group:
            rows.append(Head(topic))
            group.sort(key=_key)
            rows.extend(group)
    return tuple(rows)


def _key(record: ClaimRecord) -> tuple[float, int, float, int]:
    evidence = record.printed.evidence
    top = evidence.boxes[0][1] if evidence.boxes else 0.0
    return (round(record.printed.confidence, 2), evidence.page, top, record.id)


def doubtful(record: ClaimRecord) -> bool:
    """Whether the reader itself was not sure, or read it from a picture."""
    return record.status is ClaimStatus.PROPOSED and (
        record.claim.confidence < DOUBTFUL_BELOW or record.claim.from_picture
    )


def next_waiting(rows: Sequence[Row], after: int) -> int | None:
    """The next row that waits after row `after`, going round to the top; None once none waits."""
    order = [*range(after + 1, len(rows)), *range(0, max(after + 1, 0))]
    return next((i for i in order if _waits(rows[i])), None)


def next_sheet(sheets: Sequence[SheetRecord], here: int | None) -> SheetRecord | None:
    """The next sheet with something to confirm after the one `here`, going round; None where no other waits."""
    at = next((place for place, sheet in enumerate(sheets) if sheet.id == here), -1)
    order = (*sheets[at + 1 :], *sheets[: max(at, 0)])
    return next((sheet for sheet in order if sheet.waiting), None)


def rest_of_group(rows: Sequence[Row], at: int) -> tuple[int, ...]:
    """Ids of the claims that wait in the topic of row `at`, in order, but for those read off a picture.

    What was read off a picture is never certain, and is confirmed one by one.
    """
    row = rows[at]
    topic = row.topic if isinstance(row, Head) else row.claim.topic
    return tuple(
        r.id
        for r in rows
        if isinstance(r, ClaimRecord) and r.claim.topic is topic and _waits(r) and not r.claim.from_picture
    )


def _waits(row: Row) -> bool:
    return isinstance(row, ClaimRecord) and row.status is ClaimStatus.PROPOSED


STATUS_WORDS = {
    ClaimStatus.PROPOSED: QT_TRANSLATE_NOOP("confirming", "waits"),
    ClaimStatus.CONFIRMED: QT_TRANSLATE_NOOP("confirming", "confirmed"),
    ClaimStatus.CORRECTED: QT_TRANSLATE_NOOP("confirming", "corrected"),
    ClaimStatus.REJECTED: QT_TRANSLATE_NOOP("confirming", "rejected"),
}


def status_words(record: ClaimRecord) -> str:
    """The state of a claim in words."""
    if record.added_by_user:
        return (
            translate("confirming", "rejected")
            if record.status is ClaimStatus.REJECTED
            else translate("confirming", "read out by you")
        )
    if record.status is ClaimStatus.CORRECTED:
        return translate("confirming", "corrected by you")
    if record.claim.from_picture and record.status is ClaimStatus.PROPOSED:
        return translate("confirming", "waits, read from a picture")
    if doubtful(record):
        return translate("confirming", "waits, doubtful")
    return translate("confirming", STATUS_WORDS[record.status])


def shape_name(record: ClaimRecord) -> str:
    """The verdict shape of a claim's state."""
    if record.added_by_user and record.status is not ClaimStatus.REJECTED:
        return "own"
    return record.status.value

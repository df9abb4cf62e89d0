"""The order of looking through, and where the next waiting claim is."""

from __future__ import annotations

from datetime import UTC, datetime

from app.confirming.order import (
    Head,
    doubtful,
    in_order,
    next_sheet,
    next_waiting,
    rest_of_group,
    shape_name,
    status_words,
)
from extract.claims import Claim, Evidence, Stance, Topic
from store.records import ClaimRecord, ClaimStatus, ProductRecord, SheetRecord


def record(
    number: int,
    topic: Topic,
    confidence: float,
    status: ClaimStatus = ClaimStatus.PROPOSED,
    *,
    page: int = 1,
    added: bool = False,
    picture: bool = False,
) -> ClaimRecord:
    evidence = Evidence(page, "words", ((0, 10, 20, 20),))
    claim = Claim(topic, None, Stance.PERMITS, evidence, confidence=confidence, from_picture=picture)
    return ClaimRecord(number, 1, claim, claim, status, added_by_user=added)


CLAIMS = (
    record(1, Topic.SAFETY, 0.2),
    record(2, Topic.GOES_OVER, 0.95),
    record(3, Topic.GOES_OVER, 0.4),
    record(4, Topic.GOES_OVER, 0.95, page=2),
    record(5, Topic.MIXING, 0.8),
)


def ids(claims: object) -> list[object]:
    return [row.topic if isinstance(row, Head) else row.id for row in in_order(claims)]  # type: ignore[arg-type]


def test_topics_in_the_order_of_the_job_the_most_doubtful_first_within() -> None:
    assert ids(CLAIMS) == [Topic.GOES_OVER, 3, 2, 4, Topic.MIXING, 5, Topic.SAFETY, 1]


def test_deciding_moves_nothing() -> None:
    decided = tuple(
        record(c.id, c.claim.topic, c.claim.confidence, ClaimStatus.CONFIRMED, page=c.claim.evidence.page)
        for c in CLAIMS
    )
    assert ids(decided) == ids(CLAIMS)


def test_the_next_waiting_goes_round_to_the_top() -> None:
    rows = in_order([*CLAIMS[1:4], record(9, Topic.MIXING, 0.5, ClaimStatus.CONFIRMED)])
    assert next_waiting(rows, -1) == 1
    assert next_waiting(rows, 1) == 2
    assert next_waiting(rows, 3) == 1
    assert next_waiting(in_order([record(9, Topic.MIXING, 0.5, ClaimStatus.REJECTED)]), -1) is None
    assert next_waiting((), -1) is None


def test_the_rest_of_a_group_is_what_waits_in_its_topic() -> None:
    rows = in_order([*CLAIMS, record(8, Topic.GOES_OVER, 0.1, ClaimStatus.REJECTED)])
    assert rest_of_group(rows, 1) == (3, 2, 4)
    assert rest_of_group(rows, 0) == (3, 2, 4)


def test_what_was_read_off_a_picture_is_not_confirmed_with_the_rest() -> None:
    rows = in_order([*CLAIMS, record(8, Topic.GOES_OVER, 0.1, picture=True)])
    assert 8 not in rest_of_group(rows, 0)
    assert rest_of_group(in_order([record(8, Topic.FILM, 0.1, picture=True)]), 0) == ()


def test_states_are_words_and_shapes() -> None:
    assert status_words(record(1, Topic.FILM, 0.9)) == "waits"
    assert status_words(record(1, Topic.FILM, 0.3)) == "waits, doubtful"
    assert status_words(record(1, Topic.FILM, 0.9, picture=True)) == "waits, read from a picture"
    assert status_words(record(1, Topic.FILM, 0.3, ClaimStatus.CORRECTED)) == "corrected by you"
    assert status_words(record(1, Topic.FILM, 1.0, ClaimStatus.CONFIRMED, added=True)) == "read out by you"
    assert shape_name(record(1, Topic.FILM, 1.0, ClaimStatus.CONFIRMED, added=True)) == "own"
    assert shape_name(record(1, Topic.FILM, 1.0, ClaimStatus.REJECTED, added=True)) == "rejected"
    assert not doubtful(record(1, Topic.FILM, 0.3, ClaimStatus.CONFIRMED))


def sheet(number: int, waiting: int) -> SheetRecord:
    product = ProductRecord(number, f"Product {number}", "Maker", None, None)
    filed = datetime(2026, 3, 1, tzinfo=UTC)
    return SheetRecord(number, product, "a.pdf", "0", 1, None, None, "en", False, filed, waiting=waiting)


def test_the_next_sheet_goes_on_in_order_and_round_and_never_back_to_one_that_is_done() -> None:
    sheets = [sheet(1, 0), sheet(2, 4), sheet(3, 2), sheet(4, 0)]
    found = [next_sheet(sheets, here) for here in (1, 2, 3, 4, None)]
    assert [one.id if one else None for one in found] == [2, 3, 2, 2, 2]
    assert next_sheet([sheet(1, 5)], 1) is None

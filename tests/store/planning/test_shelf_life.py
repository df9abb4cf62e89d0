"""Shelf dates; the arithmetic is common practice, no source."""

from datetime import date

import pytest

from store.planning.shelf_life import TinState, mix_until, months_later, state, use_by


@pytest.mark.parametrize(
    ("start", "months", "end"),
    [
        (date(2025, 2, 28), 12, date(2026, 2, 28)),
        (date(2024, 2, 29), 12, date(2025, 2, 28)),
        (date(2025, 8, 31), 6, date(2026, 2, 28)),
        (date(2023, 8, 31), 6, date(2024, 2, 29)),
        (date(2025, 12, 31), 2, date(2026, 2, 28)),
        (date(2025, 1, 15), 0, date(2025, 1, 15)),
    ],
)
def test_months_are_calendar_months(start: date, months: int, end: date) -> None:
    assert months_later(start, months) == end


def test_from_the_day_made_before_the_day_bought() -> None:
    dates = use_by(made=date(2025, 1, 1), bought=date(2025, 6, 1), opened=None, life_months=12)
    assert dates.until == date(2026, 1, 1)
    assert "made" in dates.why


def test_an_opened_tin_may_end_sooner() -> None:
    dates = use_by(made=date(2025, 1, 1), bought=None, opened=date(2025, 3, 1), life_months=12, opened_months=1.5)
    assert dates.until == date(2025, 4, 16)
    assert "opened" in dates.why


def test_nothing_is_guessed() -> None:
    assert use_by(made=None, bought=None, opened=None, life_months=12).until is None
    assert use_by(made=date(2025, 1, 1), bought=None, opened=None, life_months=None).until is None


def test_states() -> None:
    until = date(2026, 6, 30)
    assert state(until, date(2026, 1, 1)) is TinState.GOOD
    assert state(until, date(2026, 6, 1)) is TinState.SOON
    assert state(until, until) is TinState.SOON
    assert state(until, date(2026, 7, 1)) is TinState.PAST
    assert state(None, until) is TinState.UNKNOWN


def test_the_earliest_component_rules_the_mix() -> None:
    assert mix_until([date(2026, 1, 1), date(2025, 9, 1)]) == date(2025, 9, 1)
    assert mix_until([date(2026, 1, 1), None]) is None

"""A window read at a temperature: worked examples, and what must hold of every table."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.rules.window_table import SAME_C, WindowRow, read_at

H = 60.0
# Computed: 10, 20 and 30 degC, 16/8/4 h and 168/96/48 h.
THREE = tuple(WindowRow(t, low * H, high * H) for t, low, high in [(10, 16, 168), (20, 8, 96), (30, 4, 48)])
# Made up, no product: falling both ways.
SEVEN = tuple(
    WindowRow(t, low * H, days * 24 * H)
    for t, low, days in [(5, 36, 30), (10, 20, 21), (15, 12, 14), (20, 8, 7), (25, 6, 5), (30, 4, 3), (35, 3, 2)]
)


@pytest.mark.parametrize(
    ("at_c", "low", "low_line", "low_curve", "high", "high_line", "high_curve"),
    # Computed: the step read here, the straight line between the rows, and the curve through them.
    [
        (12, 16, 14.40, 13.93, 96, 153.6, 150.2),
        (14, 16, 12.80, 12.13, 96, 139.2, 134.3),
        (17, 16, 10.40, 9.85, 96, 117.6, 113.5),
        (22, 8, 7.20, 6.96, 48, 86.4, 83.6),
    ],
)
def test_the_step_lies_on_the_careful_side_of_line_and_curve(
    at_c: float, low: float, low_line: float, low_curve: float, high: float, high_line: float, high_curve: float
) -> None:
    at = read_at(THREE, at_c)
    assert (at.low, at.high) == (low * H, high * H)
    assert low_curve < low_line < low
    assert high < high_curve < high_line


@pytest.mark.parametrize("q10", [2.0, 3.0])
@given(at_c=st.floats(5, 35))
def test_no_time_is_kinder_than_the_curve_between_two_rows(q10: float, at_c: float) -> None:
    """Times that fall by q10 each 10 K, tabled every 10 K: the step is never below the earliest nor above the latest.

    Twofold: a trade text's rule of experience; threefold: 16 to 72 h from 20 to 10 degC, a site work instruction.
    """
    rows = [WindowRow(t, 480 * q10 ** ((20 - t) / 10), 5760 * q10 ** ((20 - t) / 10)) for t in (5, 15, 25, 35)]
    at = read_at(rows, at_c)
    assert at.low is not None
    assert at.high is not None
    # Within the tolerance of a thermometer the nearest row counts as it stands.
    slack = q10 ** (SAME_C / 10)
    assert at.low * slack >= 480 * q10 ** ((20 - at_c) / 10) * (1 - 1e-9)
    assert at.high / slack <= 5760 * q10 ** ((20 - at_c) / 10) * (1 + 1e-9)


TIMES = st.none() | st.floats(1, 1e5)


@st.composite
def tables(draw: st.DrawFn) -> tuple[WindowRow, ...]:
    """Any table, not even a sensible one."""
    at = draw(st.lists(st.sampled_from([0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0]), min_size=1, max_size=6))
    return tuple(WindowRow(t, draw(TIMES), high := draw(TIMES), high is None and draw(st.booleans())) for t in at)


@given(tables(), st.floats(-10, 45))
def test_no_figure_is_made_up_and_beyond_the_table_only_the_careful_end_is_read(
    rows: tuple[WindowRow, ...], at_c: float
) -> None:
    at = read_at(rows, at_c)
    assert at.low is None or at.low in {row.low for row in rows}
    assert at.high is None or at.high in {row.high for row in rows}
    lows = [row.at_c for row in rows if row.low is not None and row.at_c is not None]
    highs = [row.at_c for row in rows if (row.high is not None or row.unlimited) and row.at_c is not None]
    if not lows or at_c < min(lows) - SAME_C:
        assert at.low is None
        assert at.no_low
    else:
        assert at.low is not None
        assert not at.no_low
    if not highs or at_c > max(highs) + SAME_C:
        assert at.high is None
        assert not at.unlimited
        assert at.no_high
    else:
        assert at.unlimited or at.high is not None


@given(tables(), st.floats(-10, 45), TIMES, TIMES)
def test_a_further_row_never_loosens_what_is_read_at_its_own_temperature(
    rows: tuple[WindowRow, ...], at_c: float, low: float | None, high: float | None
) -> None:
    before, after = read_at(rows, at_c), read_at((*rows, WindowRow(at_c, low, high)), at_c)
    if low is not None and before.low is not None and any(r.at_c == at_c and r.low is not None for r in rows):
        assert after.low is not None
        assert after.low >= before.low
    if high is not None and any(r.at_c == at_c and r.high is not None for r in rows):
        assert before.high is not None
        assert after.high is not None
        assert after.high <= before.high


@given(st.floats(5, 35), st.floats(5, 35))
def test_warmer_never_gives_a_longer_time_in_a_falling_table(one: float, other: float) -> None:
    cold, warm = (read_at(SEVEN, at_c) for at_c in sorted((one, other)))
    assert (warm.low or math.inf) <= (cold.low or 0.0)
    assert (warm.high or math.inf) <= (cold.high or 0.0)


@pytest.mark.parametrize(("at_c", "low", "days"), [(5, 36, 30), (20, 8, 7), (35, 3, 2), (22.5, 8, 5), (7, 36, 21)])
def test_a_made_up_table_of_seven_rows(at_c: float, low: float, days: float) -> None:
    at = read_at(SEVEN, at_c)
    assert (at.low, at.high) == (low * H, days * 24 * H)

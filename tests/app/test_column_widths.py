"""Columns of the list of sheets: what is whole, what gives way."""

from __future__ import annotations

import pytest

from app.filing.column_widths import NARROWEST, left_out, shared_widths


def test_with_room_to_spare_every_cell_is_whole_and_the_rest_is_dealt_out() -> None:
    widths = shared_widths((100, 200, 150, 120, 110), 980, firm=(3, 4))
    assert widths == [200, 300, 250, 120, 110]


def test_without_room_the_widest_give_way_first_and_the_firm_stay_whole() -> None:
    widths = shared_widths((100, 200, 150, 120, 110), 580, firm=(3, 4))
    assert widths == [100, 125, 125, 120, 110]


def test_nothing_vanishes_on_a_tiny_window() -> None:
    widths = shared_widths((100, 200, 150, 120, 110), 200, firm=(3, 4))
    assert widths == [NARROWEST, NARROWEST, NARROWEST, 120, 110]


@pytest.mark.parametrize("room", range(430, 1400, 97))
def test_what_is_dealt_out_never_exceeds_the_room(room: int) -> None:
    widths = shared_widths((100, 200, 150, 120, 110), room, firm=(3, 4))
    assert sum(widths) <= room


def test_columns_go_one_by_one_until_the_others_are_whole() -> None:
    wanted = (100, 200, 150, 120, 110)
    assert left_out(wanted, 680, (3, 1)) == frozenset()
    assert left_out(wanted, 679, (3, 1)) == {3}
    assert left_out(wanted, 559, (3, 1)) == {3, 1}
    assert left_out(wanted, 50, (3, 1)) == {3, 1}

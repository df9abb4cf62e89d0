"""The collector of rings rests while a sheet is read, and only then."""

import gc
from collections.abc import Iterator

import pytest

from extract.collecting import ROUND_AFTER, seldom_collected


@pytest.fixture(autouse=True)
def _kept() -> Iterator[None]:
    before = gc.get_threshold()
    yield
    gc.set_threshold(*before)


def test_it_rests_within_and_is_as_before_after_an_error() -> None:
    gc.set_threshold(700, 11, 12)
    with pytest.raises(KeyError), seldom_collected():
        assert gc.get_threshold() == (ROUND_AFTER, 11, 12)
        raise KeyError
    assert gc.get_threshold() == (700, 11, 12)


@pytest.mark.parametrize("youngest", [0, 2 * ROUND_AFTER])
def test_what_rests_as_much_already_is_left_alone(youngest: int) -> None:
    gc.set_threshold(youngest, 10, 10)
    with seldom_collected():
        assert gc.get_threshold() == (youngest, 10, 10)

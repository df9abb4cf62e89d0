"""However a sheet's facts are set, the same claims come out."""

from collections import Counter

import pytest

from extract.claims import Claim
from extract.pipeline import read_sheet
from tests.extract.facts_set_otherwise import GRID, WAYS, plain, under_headings


def said(pdf: bytes) -> set[tuple[object, ...]]:
    readings = read_sheet(pdf, "hobnail.pdf")
    return {_key(claim) for reading in readings for claim in reading.claims if claim.property != "method"}


def _key(c: Claim) -> tuple[object, ...]:
    figures = (c.low, c.high, c.unlimited, c.at_c, c.parts, c.text)
    return (c.topic.value, c.property, c.stance.value, c.object, c.conditions, *figures)


@pytest.fixture(scope="module")
def in_a_grid() -> set[tuple[object, ...]]:
    return said(under_headings(lambda rows: plain(rows, GRID)))


def test_a_plain_grid_is_read_in_full(in_a_grid: set[tuple[object, ...]]) -> None:
    topics = Counter(key[0] for key in in_a_grid)
    assert topics["goes_over"] == 6
    assert topics["topped_by"] == 6
    assert topics["overcoat_window"] == 5
    assert topics["drying"] == 11
    assert topics["mixing"] == 3
    assert topics["film"] == 3


@pytest.mark.parametrize("way", WAYS)
def test_the_same_facts_set_otherwise(way: str, in_a_grid: set[tuple[object, ...]]) -> None:
    found = said(WAYS[way]())
    assert sorted(map(str, in_a_grid - found)) == []
    assert sorted(map(str, found - in_a_grid)) == []

from __future__ import annotations

import pytest
from made_sheets import reading

from store.issues import compare_issues


@pytest.mark.parametrize(
    ("a", "b", "order"),
    [
        (("2024-01-01", None), ("2023-12-31", None), 1),
        (("2023-01-01", "9"), ("2024-01-01", "1"), -1),
        (("2023-01-01", "Rev. 10"), ("2023-01-01", "rev 9"), 1),
        (("2023-01-01", "B"), ("2023-01-01", "A"), 1),
        ((None, "2.1"), (None, "2"), 1),
        ((None, "Version 2.1"), ("2023-01-01", "2.2"), -1),
        ((None, "03/2021"), (None, "11.2020"), 1),
        (("2023-01-01", "3"), ("2023-01-01", "3"), 0),
        (("2023-01-01", None), ("2023-01-01", None), 0),
        (("2023-01-01", "3"), ("2023-01-01", None), None),
        ((None, None), (None, None), None),
        ((None, None), ("2023-01-01", None), None),
        ((None, "A"), (None, "3"), None),
    ],
)
def test_the_later_issue(a: tuple[str | None, str | None], b: tuple[str | None, str | None], order: int | None) -> None:
    one, other = (reading(issued=issued, revision=revision).header for issued, revision in (a, b))
    assert compare_issues(one, other) == order
    assert compare_issues(other, one) == (None if order is None else -order)

"""Which of two sheets of one product is the later issue, as far as the sheets themselves say."""

from __future__ import annotations

import re
from typing import Protocol

_LABELS = frozenset({"rev", "revision", "version", "v", "issue", "no", "nr"})


class Issue(Protocol):
    @property
    def language(self) -> str | None: ...
    @property
    def issued(self) -> str | None: ...
    @property
    def revision(self) -> str | None: ...


def compare_issues(a: Issue, b: Issue) -> int | None:
    """1 where a is later than b, -1 where it is earlier, 0 where both say the same, None where nothing tells.

    The date decides; on the same date, or where one of them has none, the revision.
    """
    if a.issued and b.issued and a.issued != b.issued:
        return 1 if a.issued > b.issued else -1
    by_revision = _compare_revisions(a.revision, b.revision)
    if by_revision is not None:
        return by_revision
    if a.issued and a.issued == b.issued and not a.revision and not b.revision:
        return 0
    return None


def same_language(a: Issue, b: Issue) -> bool:
    """Only issues in one language can take each other's place; one that does not say may be in any."""
    return not a.language or not b.language or a.language == b.language


def _compare_revisions(a: str | None, b: str | None) -> int | None:
    if not a or not b:
        return None
    key_a, key_b = _revision_key(a), _revision_key(b)
    if key_a == key_b:
        return 0
    for part_a, part_b in zip(key_a, key_b, strict=False):
        if type(part_a) is not type(part_b):
            return None
        if part_a != part_b:
            return 1 if (part_a > part_b) else -1  # type: ignore[operator]
    return 1 if len(key_a) > len(key_b) else -1


def _revision_key(revision: str) -> list[int | str]:
    parts = re.findall(r"\d+|[a-z]+", revision.casefold())
    key: list[int | str] = [int(p) if p.isdigit() else p for p in parts if p not in _LABELS]
    if key and isinstance(key[-1], int) and key[-1] >= 1900:
        key.reverse()  # A revision that is a date, printed day or month first.
    return key

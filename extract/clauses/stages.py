"""The order in which coats go on, where words name coats and not the side on which they lie."""

from __future__ import annotations

from collections.abc import Sequence

from extract.claims import Topic

_STAGES = ("primer.etch", "primer", "surfacer", "sealer", "topcoat.base", "topcoat")
"""The order in which coats go on a car: common practice, no source. Fillers and sealants come in anywhere."""


def _stage(kind: str | None) -> int | None:
    return next((n for n, stage in enumerate(_STAGES) if kind == stage or (kind or "").startswith(f"{stage}.")), None)


def by_stage(named: Sequence[str], own: str | None) -> Topic | None:
    """The side on which coats lie that are named without a side; None where the order of coats doesn't tell."""
    here, there = _stage(own), {_stage(kind) for kind in named}
    known = {stage for stage in there if stage is not None}
    if here is None and named and all(kind.startswith(("topcoat", "family.water")) for kind in named):
        return Topic.TOPPED_BY
    if here is None or len(known) != len(there):
        return None
    if all(stage < here for stage in known):
        return Topic.GOES_OVER
    return Topic.TOPPED_BY if all(stage > here for stage in known) else None

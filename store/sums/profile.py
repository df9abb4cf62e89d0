"""A blast profile: its ISO 8503 grade, and what film it asks for. Heights um."""

from __future__ import annotations

from collections.abc import Mapping

from store.sums.result import COMMON_PRACTICE, Result, within

SEGMENTS: Mapping[str, tuple[float, float, float, float]] = {"grit": (25, 60, 100, 150), "shot": (25, 40, 70, 100)}
"""Nominal heights of the comparators' segments 1 to 4: ISO 8503-1, from memory."""
_GRADES = ("finer than fine", "fine", "medium", "coarse", "coarser than coarse")
_OVER_PEAKS = 25.0


def grade(height: float, comparator: str) -> Result:
    """word is the grade; value the height. Mixed shot and grit go by the grit comparator."""
    within("profile", height, 0, 300, "µm")
    segments = SEGMENTS[comparator]
    reached = sum(height >= segment for segment in segments)
    fine, medium, coarse, end = segments
    steps = f"fine from {fine:g}, medium from {medium:g}, coarse from {coarse:g} to below {end:g} µm"
    return Result(
        height,
        "µm",
        f"{height:g} µm by comparator {comparator[0].upper()}: {steps}",
        "grades as an instrument manual quotes ISO 8503-2; heights of the segments ISO 8503-1, from memory",
        "steel blasted to Sa 2½ or Sa 3; shot and grit mixed: by the grit comparator (ISO 8503-2, 5.1)",
        word=_GRADES[reached],
    )


def least_film(height: float) -> Result:
    """The least total dry film over a profile: three times its height, and 25 um over the peaks."""
    within("profile", height, 0, 300, "µm")
    value = max(3 * height, height + _OVER_PEAKS)
    return Result(
        value,
        "µm",
        f"the greater of 3 × {height:g} and {height:g} + {_OVER_PEAKS:g} = {value:g}",
        f"profile no more than a third of the film, 25 µm of primer over the peaks ({COMMON_PRACTICE})",
        "profiles 0 to 300 µm; a sheet's own figure wins",
    )

"""Abrasive grades: FEPA P (ISO 6344), US CAMI, and grain size in um.

P12 to P120: a units encyclopaedia's table; P150 to P2000: a wood finisher's comparison chart and a general reference;
the figures of P240 and finer with their tolerances are those of ISO 6344-3, from memory.
"""

from __future__ import annotations

from collections.abc import Mapping

from store.sums.result import OutOfRange, Result, within

P_MICRONS: Mapping[int, float] = {
    12: 1815, 16: 1324, 20: 1000, 24: 764, 30: 642, 36: 538, 40: 425, 50: 336, 60: 269, 80: 201, 100: 162, 120: 125,
    150: 100, 180: 82, 220: 68, 240: 58.5, 280: 52.2, 320: 46.2, 360: 40.5, 400: 35.0, 500: 30.2, 600: 25.8,
    800: 21.8, 1000: 18.3, 1200: 15.3, 1500: 12.6, 2000: 10.3, 2500: 8.4,
}  # fmt: skip

CAMI_MICRONS: Mapping[int, float] = {
    24: 715, 30: 638, 36: 535, 40: 428, 50: 351, 60: 268, 80: 192, 100: 141, 120: 116, 150: 93, 180: 82, 220: 68,
    240: 53, 280: 43, 320: 36, 360: 28, 400: 23, 500: 19, 600: 15.5, 800: 12, 1000: 10.3,
}  # fmt: skip
"""Middles where sources give a range (from 240 up they do)."""

_SOURCE = "FEPA 43 / ISO 6344 grain sizes; CAMI sizes from public comparison charts"


def microns(scale: str, grade: int) -> Result:
    """Mean grain size in um of a grade on scale 'P' or 'CAMI'. Raises OutOfRange on a grade not in the table."""
    table = {"P": P_MICRONS, "CAMI": CAMI_MICRONS}[scale]
    if grade not in table:
        raise OutOfRange(f"{scale} grade", grade, min(table), max(table), "")
    value = table[grade]
    return Result(value, "µm", f"{scale}{' ' if scale == 'CAMI' else ''}{grade} = {value:g} µm", _SOURCE, _range(table))


def p_from_cami(grade: int) -> Result:
    """The P grade nearest in grain size to a US CAMI grade. Up to 220 the numbers agree; from 240 up they do not."""
    size = microns("CAMI", grade).value
    nearest = grade if grade <= 220 and grade in P_MICRONS else _nearest(size)
    return Result(
        nearest,
        "P",
        f"CAMI {grade} ≈ {size:g} µm ≈ P{nearest}",
        _SOURCE,
        "approximate; keep the scale that the sheet prints",
    )


def p_from_microns(size: float) -> Result:
    """The P grade nearest to a grain size in um (by ratio)."""
    within("grain size", size, min(P_MICRONS.values()), max(P_MICRONS.values()), "µm")
    nearest = _nearest(size)
    return Result(nearest, "P", f"{size:g} µm ≈ P{nearest} ({P_MICRONS[nearest]:g} µm)", _SOURCE, _range(P_MICRONS))


def _nearest(size: float) -> int:
    return min(P_MICRONS, key=lambda p: (abs(P_MICRONS[p] - size) / P_MICRONS[p], p))


def _range(table: Mapping[int, float]) -> str:
    return f"grades {min(table)} to {max(table)}"

"""The cross-cut test: how far apart to cut, and the class of what comes off (ISO 2409, ASTM D3359)."""

from __future__ import annotations

from store.sums.result import Result, within

_SHARES = (0.0, 5.0, 15.0, 35.0, 65.0)
"""The most that comes off in classes 0 to 4, in % of the lattice."""


def spacing(film: float, ground: str) -> Result:
    """Millimetres between the cuts for a dry film in um on 'hard' or 'soft' ground."""
    within("dry film", film, 1, 250, "µm")
    value = 1 if film <= 60 and ground == "hard" else 2 if film <= 120 else 3
    return Result(
        value,
        "mm",
        f"{film:g} µm on {ground} ground: {value} mm, six cuts each way",
        "ISO 2409, as instrument makers' pages give it: 1 mm to 60 µm on hard ground, 2 mm on soft and to 120 µm, 3 mm "
        "to 250 µm",
        "dry films to 250 µm",
    )


def iso_class(flaked: float) -> Result:
    """The ISO 2409 class, 0 the best, for the share of the lattice that came off in %."""
    within("flaked", flaked, 0, 100, "%")
    value = next((number for number, share in enumerate(_SHARES) if flaked <= share), 5)
    return Result(
        value,
        "ISO 2409",
        f"{flaked:g} % came off: class {value} of 0 (best) to 5 (worst)",
        "ISO 2409 and ASTM D3359, as instrument makers' pages set them side by side",
        "0 nothing, 1 to 5 %, 2 to 15 %, 3 to 35 %, 4 to 65 %, 5 more",
    )


def astm_class(flaked: float) -> Result:
    """The same on the ASTM D3359 scale, which runs the other way: 5B is the best."""
    iso = iso_class(flaked)
    value = 5 - iso.value
    return Result(
        value, "B", f"5 − {iso.value:g} = {value:g}: {value:g}B", iso.source, "the scales run in opposite ways"
    )

"""How much solvent a vehicle refinishing product may give off in the EU: 2004/42/EC annex II B, from memory."""

from __future__ import annotations

from collections.abc import Mapping

from store.sums.result import Result

LIMITS: Mapping[str, float] = {
    "preparatory": 850, "body filler": 250, "primer": 540, "wash primer": 780, "topcoat": 420, "special finish": 840,
}  # fmt: skip
"""g/l ready to use."""


def against_limit(solvent: float, product: str) -> Result:
    """word is 'within the limit' or 'above the limit'; value is the limit in g/l."""
    limit = LIMITS[product]
    return Result(
        limit,
        "g/l",
        f"{solvent:.0f} against {limit:g} g/l ({product})",
        "2004/42/EC annex II B, from memory",
        "ready to use, in the EU; a US figure 'less water and exempt solvents' is another quantity",
        word="within the limit" if solvent <= limit else "above the limit",
    )

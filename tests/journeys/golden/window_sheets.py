"""Tiny sheets of invented makers that carry published window tables and limits, in words of our own.

The figures' sources stand beside the checks in test_published_windows.py.
"""

from __future__ import annotations

from golden_sheets import ON_TOP, OVER, PREPARE, TIMES, USE, Paper

VIADUCT = Paper("Stanmoor Ironcoat", "Viaduct T", "2K epoxy primer", (
    (ON_TOP, ("Overcoat with 2K polyurethane topcoat.",)),
    (TIMES, ([
        ["Surface temperature", "21 °C", "27 °C", "32 °C", "38 °C", "43 °C", "49 °C"],
        ["Minimum overcoating time", "24 h", "24 h", "16 h", "12 h", "10 h", "8 h"],
        ["Maximum overcoating time", "96 h", "72 h", "48 h", "36 h", "24 h", "16 h"],
    ],)),
))  # fmt: skip
CONDUIT = Paper("Stanmoor Ironcoat", "Conduit F", "2K epoxy primer", (
    (ON_TOP, ("May be overcoated with itself.",)),
    (TIMES, ([
        ["Temperature", "Minimum overcoating time", "Maximum overcoating time"],
        ["4 °C", "170 min", "360 min"],
        ["10 °C", "100 min", "235 min"],
        ["16 °C", "57 min", "150 min"],
        ["21 °C", "47 min", "116 min"],
        ["27 °C", "25 min", "75 min"],
        ["32 °C", "20 min", "58 min"],
        ["38 °C", "15 min", "37 min"],
        ["43 °C", "13 min", "31 min"],
    ],)),
))  # fmt: skip
GANTRY = Paper("Fennimoor Works", "Gantry E", "2K epoxy primer", (
    (ON_TOP, ("Overcoat with 2K polyurethane topcoat.",)),
    (TIMES, ([
        ["", "68 °F", "86 °F"],
        ["Minimum overcoating time", "8 hours", "4 hours"],
        ["Maximum overcoating time", "4 days", "12 hours"],
    ],)),
))  # fmt: skip
SPELTER = Paper("Fennimoor Works", "Spelter D", "Zinc-rich primer, one-component", (
    (ON_TOP, ("Overcoat with 2K topcoat.",)),
    (TIMES, ("Allow 12 hours to dry before overcoating; overcoat within 24 hours.",)),
))  # fmt: skip
LINSEED = Paper("Fennimoor Works", "Linseed M", "Alkyd primer, one-component", (
    (ON_TOP, ("Overcoat with synthetic enamel.",)),
    (TIMES, ("Overcoat after 36 hours.",)),
))  # fmt: skip
TACKLE = Paper("Grindle Tidewater", "Tackle 4", "2K epoxy primer", (
    (ON_TOP, ("Overcoat with 2K polyurethane topcoat.",)),
    (TIMES, ("Overcoat within 4 days.",)),
))  # fmt: skip
PARAPET = Paper("Marrowby House Colours", "Parapet W", "2K epoxy primer, waterborne", (
    (ON_TOP, ("May be overcoated with itself.",)),
    (TIMES, ([
        ["Temperature", "10 °C", "20 °C"],
        ["Minimum overcoating time", "72 h", "16 h"],
        ["Maximum overcoating time", "7 days", "7 days"],
    ],)),
))  # fmt: skip
STRAKE = Paper("Grindle Tidewater", "Strake 1", "Primer, one-component", (
    (USE, ("Apply at 10 to 25 °C and at most 85 % relative humidity.",)),
))  # fmt: skip
TRANSOM = Paper("Grindle Tidewater", "Transom 2K", "2K polyurethane topcoat", (
    (USE, ("Apply at 12 to 25 °C and at most 70 % relative humidity.",)),
    (OVER, ("May be applied over 2K epoxy primer.",)),
))  # fmt: skip
LONGERON = Paper("Vantrask Air Works", "Longeron T", "2K epoxy primer", (
    (ON_TOP, ("Overcoat with the tie coat Nacelle C.",)),
    (TIMES, ("Nacelle C: after 2 hours and within 8 hours at 24 °C.",)),
))  # fmt: skip
ROTOR = Paper("Vantrask Air Works", "Rotor C", "Epoxy primer, two-component", (
    (OVER, ("Suitable for bare steel.",)),
    (PREPARE, ("Rusted steel: clean, dry and prime within 1 hour.",)),
))  # fmt: skip
MANTLE = Paper("Osmundel Field Finishes", "Mantle C", "2K polyurethane topcoat", (
    (OVER, (
        "May be applied over 2K epoxy primer.",
        "Do not apply over rubber, lacquer or vinyl coatings.",
    )),
))  # fmt: skip
FENDER = Paper("Osmundel Field Finishes", "Fender H", "Chlorinated rubber primer, one-component", (
    (OVER, ("May be applied over synthetic enamel after testing on a small area.",)),
))  # fmt: skip

PAPERS = (
    VIADUCT, CONDUIT, GANTRY, SPELTER, LINSEED, TACKLE, PARAPET, STRAKE, TRANSOM, LONGERON, ROTOR, MANTLE, FENDER,
)  # fmt: skip

"""Tables that stand on other sides: temperatures or ends by rows, two sides of the coat by columns, ways by columns."""

from __future__ import annotations

import pytest

from extract.document import Table
from tests.extract.build import table
from tests.extract.finders.test_coats_tables import claims as coats_of
from tests.extract.finders.test_windows_tables import claims as windows_of

COATS = [
    (
        table(
            ["Substrate", "Suitability", "Remarks"],
            [
                ("Mild steel", "Suitable", "Blast to Sa 2½"),
                ("Galvanised steel", "Suitable", "Only with Marlgrit 20 between"),
                ("Aluminium", "Not suitable", ""),
                ("Wood", "On request", ""),
            ],
            "Substrates",
        ),
        {
            "goes_over permits surface.steel",
            "goes_over permits surface.zinc if isolated via product:Marlgrit 20",
            "goes_over forbids surface.aluminium",
        },
    ),
    (
        table(
            ["Surface", "Hobnail 3", "Kelpstone 55 HS"],
            [("Steel", "+", "+"), ("Zinc", "−", "+"), ("GRP", "(+)", "+")],
            "Suitability",
        ),
        {"goes_over permits surface.steel", "goes_over forbids surface.zinc"},
    ),
    (
        table(
            ["Paint", "Below Hobnail 3", "Above Hobnail 3"],
            [("Epoxy primer", "yes", "yes"), ("Etch primer", "no", "no"), ("Polyester filler", "yes, sanded", "no")],
            "Compatibility",
        ),
        {
            "goes_over permits primer.epoxy",
            "topped_by permits primer.epoxy",
            "goes_over forbids primer.etch",
            "topped_by forbids primer.etch",
            "goes_over permits filler.polyester if abraded",
            "topped_by forbids filler.polyester",
        },
    ),
    (
        table(
            ["Product group", "direct", "after sanding P500"],
            [("Hobnail 3", "x (20 min to 8 h)", "x"), ("2K topcoats", "", "x")],
            "Subsequent coats",
        ),
        {
            "topped_by permits self if within_window",
            "topped_by permits self if abraded",
            "topped_by permits topcoat.solid.2k if abraded",
        },
    ),
    (
        table(
            ["Support", "Apt"],
            [("Zinc", "x 1)"), ("GRP", "✓")],
            "Supports",
            legend=["x = suitable"],
            notes=["1) Only for small areas."],
        ),
        {"goes_over permits surface.zinc if spot_only", "goes_over permits surface.grp"},
    ),
    (table(["Product", "Use", "Recoat"], [("Kelpstone 55 HS", "wash primer", "2 h")], "Other products"), set()),
]
WINDOWS = [
    (
        table(
            [
                "Surface temperature",
                "To touch",
                "Recoat min. itself, urethane",
                "Recoat max. itself",
                "Recoat max. urethane",
            ],
            [("10 °C", "8 h", "18 h", "1 year", "30 days")],
            "Drying and recoating",
        ),
        {"window self 1080..525600 @10", "window topcoat.solid.2k 1080..43200 @10"},
    ),
    (
        table(
            ["Temperature", "Minimum overcoat", "Maximum overcoat"],
            [("10 °C", "12 hours", "6 months"), ("23 °C", "4 hours", "3 months")],
            "Overcoating intervals with Kelpstone 55 HS",
        ),
        {"window product:Kelpstone 55 HS 720..259200 @10", "window product:Kelpstone 55 HS 240..129600 @23"},
    ),
    (
        table(
            ["", "5°C", "25°C"],
            [
                ("Min. with epoxies", "24 h", "5 h"),
                ("Max. with epoxies", "Unlimited", "Unlimited"),
                ("Min. with polyurethanes", "36 h", "8 h"),
                ("Max. with polyurethanes", "30 days", "10 days"),
            ],
            "Overcoating data",
        ),
        {
            "window primer.epoxy 1440..unlimited @5",
            "window primer.epoxy 300..unlimited @25",
            "window topcoat.solid.2k 2160..43200 @5",
            "window topcoat.solid.2k 480..14400 @25",
        },
    ),
    (
        table(
            ["Overcoat with", "10°C", "20°C"],
            [("Itself", "16 h - 14 d", "8 h - 7 d"), ("Alkyds", "24 h - 7 d", "12 h - 4 d")],
            "Overcoating",
        ),
        {
            "window self 960..20160 @10",
            "window self 480..10080 @20",
            "window topcoat.alkyd 1440..10080 @10",
            "window topcoat.alkyd 720..5760 @20",
        },
    ),
    (
        table(["Next coat", "Wet-on-wet", "Sanded"], [("2K topcoat", "20 min - 8 h", "after 3 h")], "Next coats"),
        {"window topcoat.solid.2k 20..480", "window topcoat.solid.2k 180.. if abraded"},
    ),
    (table(["Product", "Dry to touch", "Recoat"], [("Kelpstone 55 HS", "20 min", "2 h")], "Other products"), set()),
]


@pytest.mark.parametrize(("block", "found"), COATS)
def test_coats(block: Table, found: set[str]) -> None:
    assert coats_of(block) == found


@pytest.mark.parametrize(("block", "found"), WINDOWS)
def test_windows(block: Table, found: set[str]) -> None:
    assert windows_of(block) == found

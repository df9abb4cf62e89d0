"""One invented sheet's facts, set in as many ways as makers set them: with rules, bars, stripes, margins or nothing."""

from __future__ import annotations

import io
from collections.abc import Callable, Sequence
from typing import Any

from reportlab.lib import colors
from reportlab.lib.pagesizes import A4
from reportlab.lib.styles import ParagraphStyle, getSampleStyleSheet
from reportlab.platypus import Flowable, Paragraph, SimpleDocTemplate, Spacer, Table

Rows = Sequence[Sequence[str]]

GROUNDS = [
    ("Substrate", "Suitable", "Preparation"),
    ("Bare steel", "yes", "P120, degrease"),
    ("Galvanised steel", "yes", "red scuff pad"),
    ("Aluminium", "yes", "P180"),
    ("Old paintwork, fully cured", "yes", "P320"),
    ("Etch primer", "no", "the acid stops the cure"),
    ("Thermoplastic acrylic", "no", "remove"),
]
PARTS = [
    ("", "Sanding", "Wet on wet"),
    ("Hobnail 3", "4 parts", "4 parts"),
    ("Hardener H4", "1 part", "1 part"),
    ("Thinner T9", "½ part", "1 part"),
]
SPRAYING = [
    ("Pot life", "6 h at 20 °C"),
    ("Spray gun", "gravity, 1.6-1.8 mm nozzle"),
    ("Air pressure", "2.0-2.2 bar"),
    ("Number of coats", "2"),
    ("Dry film", "60-80 µm"),
    ("Coverage", "9 m²/l at 50 µm"),
    ("Relative humidity", "max. 75 %"),
]
DRYING = [
    ("", "10 °C", "20 °C", "60 °C"),
    ("Dust dry", "60 min", "25 min", "5 min"),
    ("Dry to handle", "16 h", "6 h", "30 min"),
    ("Sandable", "36 h", "16 h", "45 min"),
    ("Full cure", "14 days", "7 days", "-"),
]
NEXT = [
    ("Next coat", "Earliest", "Latest"),
    ("Hobnail 3", "30 min", "5 days"),
    ("2K surfacer", "1 h", "72 h"),
    ("Waterborne basecoat", "45 min", "24 h"),
    ("2K solid colour", "45 min", "24 h"),
    ("Polyester filler", "16 h", "no limit"),
    ("Synthetic enamel", "not permitted", "not permitted"),
]
CHAPTERS: list[tuple[str, Rows]] = [
    ("Substrates", GROUNDS),
    ("Mixing by volume", PARTS),
    ("Application", SPRAYING),
    ("Drying", DRYING),
    ("Overcoating at 20 °C", NEXT),
]
STORING = "24 months in the closed tin at 5 to 30 °C."

_STYLES = getSampleStyleSheet()
_BODY = ParagraphStyle("body", parent=_STYLES["BodyText"], fontSize=9, leading=11)
_HEAD = ParagraphStyle("head", parent=_STYLES["Heading2"], fontSize=11, spaceBefore=6, spaceAfter=2)
_TIGHT: list[tuple[Any, ...]] = [
    ("FONTSIZE", (0, 0), (-1, -1), 9),
    ("TOPPADDING", (0, 0), (-1, -1), 2),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 2),
]


def words(text: str, style: ParagraphStyle = _BODY) -> Paragraph:
    return Paragraph(text, style)


def plain(rows: Rows, *style: tuple[Any, ...], wide: bool = False, bold: bool = True, **more: Any) -> Table:
    """The rows as a table; its first one bold where it holds heads."""
    if bold and rows is not SPRAYING:
        style = (("FONTNAME", (0, 0), (-1, 0), "Helvetica-Bold"), *style)
    if wide:
        more["colWidths"] = [500 / len(rows[0])] * len(rows[0])
    return Table([list(r) for r in rows], style=[*_TIGHT, *style], hAlign="LEFT", **more)


def sheet(chapters: Sequence[Flowable]) -> bytes:
    out = io.BytesIO()
    opening = [words("Hobnail 3", _STYLES["Title"]), words("Two-pack epoxy primer")]
    document = SimpleDocTemplate(out, pagesize=A4, leftMargin=45, rightMargin=45, topMargin=40, bottomMargin=40)
    document.build([*opening, *chapters])
    return out.getvalue()


def under_headings(set_table: Callable[[Rows], Flowable], over: Callable[[Rows], float] = lambda _rows: 0) -> bytes:
    """Each table under its heading, over(rows) points further down."""
    story: list[Flowable] = []
    for name, rows in CHAPTERS:
        story += [Spacer(1, over(rows)), words(name, _HEAD), set_table(rows)]
    return sheet([*story, words("Storage", _HEAD), words(STORING)])


def beside_labels(set_table: Callable[[Rows], Flowable], *style: tuple[Any, ...]) -> bytes:
    """Each table beside the name of its chapter."""
    rows: list[list[Any]] = [[words(f"<b>{name}</b>"), set_table(table)] for name, table in CHAPTERS]
    rows.append([words("<b>Storage</b>"), words("Two years in the closed tin. " + STORING)])
    return sheet([Table(rows, colWidths=[110, 400], style=[("VALIGN", (0, 0), (-1, -1), "TOP"), *style])])


def under_bars() -> bytes:
    """Each table under a dark bar as wide as itself, its labels shaded."""

    def bar(name: str) -> Table:
        look = (
            ("BACKGROUND", (0, 0), (-1, -1), colors.darkgreen),
            ("TEXTCOLOR", (0, 0), (-1, -1), colors.white),
            ("FONTSIZE", (0, 0), (-1, -1), 8),
        )
        return plain([[name.upper()]], *look, colWidths=[500])

    shaded = (("BACKGROUND", (0, 0), (0, -1), colors.whitesmoke), ("FONTNAME", (0, 0), (0, -1), "Helvetica-Bold"))
    story: list[Flowable] = []
    for name, rows in CHAPTERS:
        story += [bar(name), plain(rows, RULED_BELOW, *shaded, wide=True)]
    return sheet([*story, bar("Storage"), words(STORING)])


def with_group(rows: Rows) -> Flowable:
    """The table of next coats with a shaded line that heads all of its rows."""
    if rows is not NEXT:
        return plain(rows, RULED_BELOW)
    grouped = [rows[0], ("Over a sound film", "", ""), *rows[1:]]
    return plain(grouped, RULED_BELOW, ("SPAN", (0, 1), (-1, 1)), ("BACKGROUND", (0, 1), (-1, 1), colors.lightgrey))


def striped(rows: Rows) -> Flowable:
    stripes = [("BACKGROUND", (0, n), (-1, n), colors.whitesmoke) for n in range(0, len(rows), 2)]
    return plain(rows, *stripes, wide=True)


def wrapped(*style: tuple[Any, ...]) -> Callable[[Rows], Flowable]:
    """Narrow cells of several lines about their row's middle."""

    def made(rows: Rows) -> Flowable:
        cells = [[words(c) for c in row] for row in rows]
        widths = [110, *[80] * (len(rows[0]) - 1)]
        middle = (("VALIGN", (0, 0), (-1, -1), "MIDDLE"), ("BOTTOMPADDING", (0, 0), (-1, -1), 5))
        return Table(cells, style=[*middle, *style], colWidths=widths, hAlign="LEFT")

    return made


GRID = ("GRID", (0, 0), (-1, -1), 0.5, colors.black)
RULED_BELOW = ("LINEBELOW", (0, 0), (-1, -1), 0.4, colors.grey)

WAYS: dict[str, Callable[[], bytes]] = {
    "a rule under each row": lambda: under_headings(lambda r: plain(r, RULED_BELOW, wide=True)),
    "stripes": lambda: under_headings(striped),
    "blanks alone": lambda: under_headings(lambda r: plain(r, wide=True, bold=False)),
    "narrow blanks": lambda: under_headings(plain),
    "figures to the right": lambda: under_headings(lambda r: plain(r, ("ALIGN", (1, 0), (-1, -1), "RIGHT"), wide=True)),
    "rules between cells": lambda: under_headings(
        lambda r: plain(r, ("INNERGRID", (0, 0), (-1, -1), 0.4, colors.grey))
    ),
    "wrapped cells": lambda: under_headings(wrapped()),
    "wrapped cells in a grid": lambda: under_headings(wrapped(GRID)),
    "a group's line": lambda: under_headings(with_group),
    "bars": under_bars,
    "labels in the margin": lambda: beside_labels(plain),
    "a form": lambda: beside_labels(lambda r: plain(r, GRID), GRID),
    "a form without inner rules": lambda: beside_labels(plain, ("LINEBELOW", (0, 0), (-1, -1), 0.5, colors.black)),
    "over pages": lambda: under_headings(lambda r: plain(r, GRID), lambda r: 500 if r is NEXT else 0),
    "over pages without rules": lambda: under_headings(plain, lambda r: 180 if r is NEXT else 0),
}

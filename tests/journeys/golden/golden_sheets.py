"""Tiny sheets of invented makers that carry the facts of public standards and agency guides, in words of our own.

The facts' sources stand beside the checks in test_golden_build_ups.py.
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.lib import colors
from reportlab.lib.pagesizes import A4
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, Paragraph, SimpleDocTemplate, Spacer, Table, TableStyle

_BODY = ParagraphStyle("body", fontName="Helvetica", fontSize=10, leading=13, spaceAfter=5)
_HEADING = ParagraphStyle("heading", parent=_BODY, fontName="Helvetica-Bold", fontSize=12, leading=15, spaceBefore=8)
_TITLE = ParagraphStyle("title", parent=_BODY, fontName="Helvetica-Bold", fontSize=22, leading=26)
_WHAT = ParagraphStyle("what", parent=_BODY, fontSize=12, leading=15, spaceAfter=8)

Grid = Sequence[Sequence[str]]


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet: under each heading sentences, each a paragraph, or a table."""

    maker: str
    product: str
    what: str
    sections: tuple[tuple[str, tuple[str | Grid, ...]], ...]

    def pdf(self) -> bytes:
        story: list[Flowable] = [Paragraph(self.product, _TITLE), Paragraph(self.what, _WHAT)]
        for heading, parts in self.sections:
            story.append(Paragraph(heading, _HEADING))
            for part in parts:
                story += [Paragraph(part, _BODY)] if isinstance(part, str) else [_table(part), Spacer(1, 5)]
        out = io.BytesIO()
        page = SimpleDocTemplate(
            out, pagesize=A4, leftMargin=60, rightMargin=60, topMargin=70, bottomMargin=60,
            title=self.product, author=self.maker, invariant=1,
        )  # fmt: skip
        page.build(story, onFirstPage=self._edges, onLaterPages=self._edges)
        return out.getvalue()

    def _edges(self, canvas: object, _document: object) -> None:
        draw = canvas.drawString  # type: ignore[attr-defined]
        canvas.setFont("Helvetica", 8)  # type: ignore[attr-defined]
        draw(60, A4[1] - 40, f"{self.maker} · Technical data sheet")
        draw(60, 36, f"{self.maker} · Issued 4 May 2024")


def _table(rows: Grid) -> Table:
    style = TableStyle([("GRID", (0, 0), (-1, -1), 0.5, colors.black), ("FONTSIZE", (0, 0), (-1, -1), 9)])
    return Table([list(row) for row in rows], style=style, hAlign="LEFT")


OVER, ON_TOP, TIMES = "Suitable substrates", "May be overcoated with", "Overcoating"
FILM, USE, OUT = "Film thickness", "Application conditions", "Exposure"
PREPARE = "Surface preparation"

PRELUDE = Paper("Osmundel Field Finishes", "Prelude W", "Wash primer, two-component", (
    (OVER, ("Suitable for bare steel.", "Does not adhere to steel treated with metal conditioner or rust converter.")),
    (ON_TOP, ("Overcoat with epoxy primer.",)),
    (TIMES, ("Allow 30 minutes to dry; overcoat the same day, within 24 hours.",)),
    (FILM, ("Apply 0.3 to 0.5 mil dry; a thicker film may peel.",)),
))  # fmt: skip
BULWARK = Paper("Osmundel Field Finishes", "Bulwark E", "Epoxy primer, two-component", (
    (OVER, ("May be applied over wash primer.",)),
    (ON_TOP, ("Overcoat with 2K polyurethane topcoat.",)),
))  # fmt: skip
CANOPY = Paper("Osmundel Field Finishes", "Canopy U", "2K polyurethane topcoat", (
    (OVER, (
        "May be applied over 2K epoxy primer.",
        "May be applied over synthetic enamel and old paintwork, provided these are clean and sound.",
        "Do not apply over lacquer, even if the lacquer is covered with alkyd enamel.",
    )),
))  # fmt: skip
MEADOW = Paper("Osmundel Field Finishes", "Meadow S", "Synthetic enamel", (
    (OVER, ("May be applied over cellulose.",)),
    (ON_TOP, ("Overcoat with 2K polyurethane topcoat.",)),
))  # fmt: skip

GRAVIS = Paper("Pellarin Atelier", "Gravis 5", "Etch primer, one-component", (
    (OVER, ("Suitable for bare steel.", "May be applied over polyester filler once it is cured and sanded.",)),
    (ON_TOP, (
        "Overcoat with 2K primer surfacer only.",
        "Do not overcoat with polyester filler, epoxy primer or topcoat.",
    )),
))  # fmt: skip
MASTEL = Paper("Pellarin Atelier", "Mastel 40", "Polyester body filler", (
    (OVER, ("Suitable for bare steel.", "May be applied over 2K epoxy primer once it is fully cured and sanded.")),
    (ON_TOP, ("May be overcoated with etch primer once cured and sanded.",)),
    (TIMES, ("Leave 90 minutes at 20 °C before priming.",)),
    (USE, ("Surface temperature at least 18 °C.",)),
))  # fmt: skip
PONCE = Paper("Pellarin Atelier", "Ponce 2K", "2K primer surfacer", (
    (OVER, ("May be applied over etch primer.",)),
    (ON_TOP, ("Overcoat with 2K topcoat.",)),
))  # fmt: skip
TEINTE = Paper("Pellarin Atelier", "Teinte 9", "2K solid colour topcoat", (
    (OVER, ("May be applied over 2K primer surfacer.",)),
))  # fmt: skip
COTERIE = Paper("Pellarin Atelier", "Coterie E", "2K epoxy primer", (
    (OVER, ("Suitable for bare steel.",)),
))  # fmt: skip

AILERON = Paper("Vantrask Air Works", "Aileron P", "2K epoxy primer", (
    (ON_TOP, ("Overcoat with 2K polyurethane topcoat.",)),
    (TIMES, (
        "Overcoat after 5 hours and within 8 hours at 24 °C.",
        "From 8 to 24 hours at 24 °C: overcoat once wiped clean with solvent.",
        "After 24 hours the film must be sanded with P320–P400 before overcoating.",
    )),
))  # fmt: skip
SPOILER = Paper("Vantrask Air Works", "Spoiler T", "2K polyurethane topcoat", (
    (OVER, ("May be applied over 2K epoxy primer.",)),
    (TIMES, ()),
))  # fmt: skip
NACELLE = Paper("Vantrask Air Works", "Nacelle B", "Primer, tie coat, chromate-free", (
    (OVER, ("May be applied over 2K epoxy primer.", "Must not be used directly on bare metal.")),
))  # fmt: skip

KEELSON = Paper("Grindle Tidewater", "Keelson 2", "2K epoxy primer", (
    (ON_TOP, ("May be overcoated with itself.",)),
    (TIMES, (
        "Overcoat within 7 days at 20 °C.",
        "After 7 days wash, rinse and dry the film and spray a thin tack coat first.",
    )),
))  # fmt: skip
BILGE = Paper("Grindle Tidewater", "Bilge E", "2K epoxy primer", (
    (ON_TOP, ("Polyester filler may be applied once the epoxy is fully cured and sanded with P80.",)),
    ("Drying", ("Full cure takes 5 to 7 days at 20 °C.",)),
    (PREPARE, ("Wash the cured film with soap and water before sanding.",)),
))  # fmt: skip
FAIRING = Paper("Grindle Tidewater", "Fairing P", "Polyester body filler", (
    (PREPARE, ("Degrease the surface.",)),
))  # fmt: skip
GIRDER = Paper("Stanmoor Ironcoat", "Girder U", "2K polyurethane topcoat", (
    (ON_TOP, ("May be overcoated with itself.",)),
    (TIMES, ([
        ["Temperature", "21 °C", "27 °C", "32 °C", "38 °C", "43 °C", "49 °C"],
        ["Minimum overcoating time", "8 h", "6 h", "4 h", "3 h", "2 h", "1 h"],
        ["Maximum overcoating time", "48 h", "48 h", "36 h", "24 h", "12 h", "2 h"],
    ],)),
))  # fmt: skip
SPAN = Paper("Stanmoor Ironcoat", "Span 3", "2K epoxy primer", (
    (OVER, ("Suitable for blasted steel.",)),
    (PREPARE, ("Blast steel to Sa 2½ and prime within 8 hours.",)),
))  # fmt: skip
RUBRIN = Paper("Stanmoor Ironcoat", "Rubrin 7", "Chlorinated rubber primer, one-component", (
    (OVER, ("Suitable for bare steel.",)),
    (OUT, ("Shop primed steel may stand in the open for up to 60 days.",)),
))  # fmt: skip

PAPERS = (
    PRELUDE, BULWARK, CANOPY, MEADOW, GRAVIS, MASTEL, PONCE, TEINTE, COTERIE, AILERON, SPOILER, NACELLE, KEELSON,
    BILGE, FAIRING, GIRDER, SPAN, RUBRIN,
)  # fmt: skip

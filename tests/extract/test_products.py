"""A PDF that covers several products becomes several readings."""

from __future__ import annotations

import io
from dataclasses import replace

from reportlab.lib.pagesizes import A4
from reportlab.pdfgen.canvas import Canvas

from extract.claims import Topic
from extract.pipeline import read_sheet
from extract.products import split_products
from tests.extract.build import document, passage, statement


def two_sheets(second_title: str = "Korvo 20") -> bytes:
    """Two pages, a product each, in one house style."""
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=A4)
    for title, kind, life, months in (
        ("Korvo 10", "2K epoxy primer", "6 h", "24"), (second_title, "Polyester body filler", "5 min", "12"),
    ):  # fmt: skip
        canvas.setFont("Helvetica-Bold", 22)
        canvas.drawString(60, 780, title)
        canvas.setFont("Helvetica", 12)
        canvas.drawString(60, 755, kind)
        y = 715.0
        for head, text in (
            ("Mixing", f"Pot life of the mixture is {life} at 20 °C. Stir it well before use."),
            ("Application", "Apply at an air temperature of 10 to 30 °C and away from damp walls."),
            ("Storage", f"Shelf life {months} months in the closed tin. Keep it away from frost."),
        ):
            canvas.setFont("Helvetica-Bold", 12)
            canvas.drawString(60, y, head)
            canvas.setFont("Helvetica", 10)
            canvas.drawString(60, y - 18, text)
            y -= 60
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def test_each_product_has_its_own_reading() -> None:
    first, second = read_sheet(two_sheets(), "range.pdf")
    assert (first.header.product, first.header.kind) == ("Korvo 10", "primer.epoxy.2k")
    assert (second.header.product, second.header.kind) == ("Korvo 20", "filler.polyester")
    assert first.header.sha256 == second.header.sha256
    for reading, life, months, page in ((first, 360, 24, 1), (second, 5, 12, 2)):
        said = {(c.topic, c.property): c for c in reading.claims}
        assert said[Topic.MIXING, "pot_life"].low == life
        assert said[Topic.STORAGE, "shelf_life"].low == months
        assert {c.evidence.page for c in reading.claims} == {page}
        assert {c.subject for c in reading.claims} == {reading.header.product}


def test_two_chapters_of_one_sheet_stay_one_reading() -> None:
    doc = document(
        statement("Pot life 6 h.", ("Working with it", "Mixing")),
        statement("Touch dry 1 h.", ("Working with it", "Drying")),
        statement("Keep it cool.", ("After work", "Storage")),
        statement("Flammable.", ("After work", "Safety")),
    )
    assert split_products(doc) == (doc,)


def test_titles_of_unlike_size_are_not_two_products() -> None:
    def part(title: str, size: float) -> list[object]:
        head = replace(passage(title), size=size)
        out = []
        for sub in ("Mixing", "Drying", "Storage"):
            block = statement("Something stands here.", (title, sub))
            out.append(replace(block, section=replace(block.section, headings=(head, block.section.headings[1]))))
        return out

    same = document(*part("Korvo 10", 20), *part("Korvo 20", 20))  # type: ignore[arg-type]
    unlike = document(*part("Korvo 10", 20), *part("Korvo 20", 11))  # type: ignore[arg-type]
    assert len(split_products(same)) == 2
    assert len(split_products(unlike)) == 1

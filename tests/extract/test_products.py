"""A PDF that covers several products becomes several readings."""

from __future__ import annotations

import io
from dataclasses import replace

import pytest
from reportlab.lib.pagesizes import A4
from reportlab.pdfgen.canvas import Canvas

from extract.claims import SheetReading, Stance, Topic
from extract.document import Document, StatementKind
from extract.pipeline import read_document, read_sheet
from extract.products import split_products
from tests.extract.build import document, passage, statement, table

BULLET = StatementKind.BULLET


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


FOREIGN = {
    "de": (
        ("Korvo 10", "2K-Epoxidgrundierung", "6 Stunden", "24"), ("Korvo 20", "Polyesterspachtel", "5 Minuten", "12"),
        ("Mischung", "Topfzeit des Gemisches {life} bei 20 °C. Vor dem Gebrauch gut aufrühren."),
        ("Verarbeitung", "Bei einer Temperatur zwischen 10 °C und 30 °C verarbeiten, nicht in feuchten Räumen."),
        ("Lagerung", "Im geschlossenen Gebinde {months} Monate haltbar. Vor Frost schützen."),
    ),
    "fr": (
        ("Korvo 10", "Primaire époxy 2K", "6 heures", "24"), ("Korvo 20", "Mastic polyester", "5 minutes", "12"),
        ("Mélange", "Durée de vie du mélange : {life} à 20 °C. Bien remuer le produit avant emploi."),
        ("Mise en œuvre", "Appliquer à une température de 10 à 30 °C, dans un local sec et bien ventilé."),
        ("Stockage", "Se conserve {months} mois en emballage d'origine fermé, à l'abri du gel."),
    ),
    "es": (
        ("Korvo 10", "Imprimación epoxi 2K", "6 horas", "24"), ("Korvo 20", "Masilla de poliéster", "5 minutos", "12"),
        ("Mezcla", "Vida de la mezcla: {life} a 20 °C. Remover bien el producto antes de usar."),
        ("Aplicación", "Aplicar a una temperatura de 10 a 30 °C en un local seco y bien ventilado."),
        ("Almacenamiento", "Se conserva {months} meses en envase original cerrado, en lugar seco."),
    ),
    "nl": (
        ("Korvo 10", "2K epoxyprimer", "6 uur", "24"), ("Korvo 20", "Polyesterplamuur", "5 minuten", "12"),
        ("Mengen", "De verwerkingstijd van het mengsel is {life} bij 20 °C. Voor gebruik goed roeren."),
        ("Verwerking", "Verwerken bij een temperatuur van 10 tot 30 °C in een droge en geventileerde ruimte."),
        ("Opslag", "In gesloten verpakking {months} maanden houdbaar. De verpakking vorstvrij bewaren."),
    ),
}  # fmt: skip


def foreign_sheets(language: str, *, on_one_page: bool) -> bytes:
    """Two products, each with its chapters, in another language."""
    first, second, *chapters = FOREIGN[language]
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=A4)
    y = 780.0
    for title, kind, life, months in (first, second):
        canvas.setFont("Helvetica-Bold", 22)
        canvas.drawString(60, y, title)
        canvas.setFont("Helvetica", 12)
        canvas.drawString(60, y - 25, kind)
        y -= 65
        for head, text in chapters:
            canvas.setFont("Helvetica-Bold", 12)
            canvas.drawString(60, y, head)
            canvas.setFont("Helvetica", 10)
            canvas.drawString(60, y - 18, text.format(life=life, months=months))
            y -= 60
        if not on_one_page:
            canvas.showPage()
            y = 780.0
    canvas.save()
    return out.getvalue()


@pytest.mark.parametrize("on_one_page", [False, True])
@pytest.mark.parametrize("language", sorted(FOREIGN))
def test_products_under_chapters_of_another_language_have_a_reading_each(language: str, on_one_page: bool) -> None:
    first, second = read_sheet(foreign_sheets(language, on_one_page=on_one_page), "range.pdf")
    assert (first.header.product, first.header.kind) == ("Korvo 10", "primer.epoxy.2k")
    assert (second.header.product, second.header.kind) == ("Korvo 20", "filler.polyester")
    for reading, life, months in ((first, 360, 24), (second, 5, 12)):
        said = {(c.topic, c.property): c for c in reading.claims}
        assert said[Topic.MIXING, "pot_life"].low == life
        assert said[Topic.STORAGE, "shelf_life"].low == months
        assert {c.subject for c in reading.claims} == {reading.header.product}


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


def under_names(*names: str) -> tuple[Document, ...]:
    """A sheet with a title, and under it a chapter for each name with the same sections in each."""
    blocks = [statement("Flammable.", ("Korvo fillers",))]
    for i, name in enumerate(names, 1):
        blocks += [
            statement(f"Pot life {i} h.", ("Korvo fillers", name, "Mixing")),
            statement(f"Touch dry {i} h.", ("Korvo fillers", name, "Drying")),
            statement(f"Shelf life {i} years.", ("Korvo fillers", name, "Storage")),
        ]
    return split_products(document(*blocks))


def test_chapters_that_bear_names_of_one_family_are_products() -> None:
    parts = under_names("Korvo Fine", "Korvo Coarse")
    readings = [read_document(d, "sheet.pdf", "0" * 64, 1) for d in parts]
    assert [r.header.product for r in readings] == ["Korvo Fine", "Korvo Coarse"]
    assert [{c.low for c in r.claims if c.topic is Topic.MIXING} for r in readings] == [{60.0}, {120.0}]
    assert all(any(c.property == "flammable" for c in r.claims) for r in readings)


def test_chapters_of_a_family_stand_under_a_letterhead_and_beside_a_chapter_for_all() -> None:
    blocks = [statement("Sheet 44.", ("ASHBY",))]
    for i, name in enumerate(("Korvo 10", "Korvo 20 HS"), 1):
        blocks += [
            statement(f"Pot life {i} h.", ("Korvo fillers", name, "Mixing")),
            statement(f"Touch dry {i} h.", ("Korvo fillers", name, "Drying")),
        ]
    blocks.append(statement("Flammable.", ("Korvo fillers", "Safety")))
    first, second = (read_document(d, "sheet.pdf", "0" * 64, 1) for d in split_products(document(*blocks)))
    assert {c.low for c in first.claims if c.topic is Topic.MIXING} == {60.0}
    assert {c.low for c in second.claims if c.topic is Topic.MIXING} == {120.0}
    assert all(any(c.property == "flammable" for c in r.claims) for r in (first, second))


@pytest.mark.parametrize(
    "names",
    [
        ("Steel", "Plastics"),
        ("For the gun", "For the brush"),
        ("Fast hardener", "Fast thinner"),
        ("WHAT FOR", "WHAT IT STICKS TO"),
        ("Surface One", "Surface Two"),
    ],
)
def test_chapters_that_bear_no_names_are_one_sheet(names: tuple[str, ...]) -> None:
    assert len(under_names(*names)) == 1


# --- products side by side ---------------------------------------------------------------------------------------

HEADS = ["", "KORVO FINE", "KORVO COARSE"]
ROWS = [
    ["Pot life at 20 °C", "5 min", "8 min"],
    ["Sandable at 20 °C", "20 min", "35 min"],
    ["Shelf life", "12 months", "18 months"],
]
SURFACES = [["bare steel", "✓", "✓"], ["galvanised steel", "✓", "✗"], ["GRP", "✗", "✓"]]


def beside(
    title: str, *blocks: object, heads: list[str] | None = None, rows: list[list[str]] | None = None
) -> tuple[SheetReading, ...]:
    """The readings of a sheet of this title with a table of figures and these blocks."""
    figures = table(heads or HEADS, rows or ROWS, ("Technical data",))
    doc = replace(document(figures, *blocks), titles=(replace(passage(title), size=20.0),))  # type: ignore[arg-type]
    return tuple(read_document(d, "sheet.pdf", "0" * 64, 1) for d in split_products(doc))


def said(reading: SheetReading) -> set[tuple[str, str | None, str, str | None, float | None]]:
    return {(c.topic.value, c.property, c.stance.value, c.object, c.low) for c in reading.claims}


def test_products_that_head_columns_have_a_reading_each() -> None:
    surfaces = table(["Substrate", "KORVO FINE", "KORVO COARSE"], SURFACES, ("Substrates",))
    fine, coarse = beside("KORVO FINE · KORVO COARSE", surfaces)
    assert (fine.header.product, coarse.header.product) == ("Korvo Fine", "Korvo Coarse")
    for reading, life, sand, months in ((fine, 5, 20, 12), (coarse, 8, 35, 18)):
        assert ("mixing", "pot_life", "states", None, life) in said(reading)
        assert ("drying", "sand", "states", None, sand) in said(reading)
        assert ("storage", "shelf_life", "states", None, months) in said(reading)
    assert ("goes_over", None, "permits", "surface.zinc", None) in said(fine)
    assert ("goes_over", None, "forbids", "surface.zinc", None) in said(coarse)
    assert ("goes_over", None, "forbids", "surface.grp", None) in said(fine)
    assert ("goes_over", None, "permits", "surface.grp", None) in said(coarse)


def test_each_of_two_products_is_of_the_kind_that_its_name_says() -> None:
    base, clear = beside("LACRIMEX BASECOAT · LACRIMEX CLEAR", heads=["", "LACRIMEX BASECOAT", "LACRIMEX CLEAR"])
    assert (base.header.kind, clear.header.kind) == ("topcoat.base", "topcoat.clear")


def test_no_figure_crosses_from_one_product_to_its_neighbour() -> None:
    fine, coarse = beside("KORVO FINE · KORVO COARSE")
    numbers = {"fine": {5.0, 20.0, 12.0}, "coarse": {8.0, 35.0, 18.0}}
    assert {c.low for c in fine.claims} == numbers["fine"]
    assert {c.low for c in coarse.claims} == numbers["coarse"]


def test_products_that_label_rows_have_a_reading_each() -> None:
    heads = ["Product", "Pot life at 20 °C", "Shelf life"]
    rows = [["KORVO FINE", "5 min", "12 months"], ["KORVO COARSE", "8 min", "18 months"]]
    fine, coarse = beside("KORVO FINE, KORVO COARSE", heads=heads, rows=rows)
    assert {c.low for c in fine.claims} == {5.0, 12.0}
    assert {c.low for c in coarse.claims} == {8.0, 18.0}


def test_a_part_of_the_name_is_enough_over_a_column() -> None:
    fine, coarse = beside("KORVO FINE (grey) · KORVO COARSE (green)", heads=["", "FINE", "COARSE"])
    assert ("mixing", "pot_life", "states", None, 5.0) in said(fine)
    assert ("mixing", "pot_life", "states", None, 8.0) in said(coarse)


def test_a_range_that_names_its_products_only_in_the_table() -> None:
    first, second = beside("KORVO", heads=["", "Korvo 10", "Korvo 20"])
    assert (first.header.product, second.header.product) == ("Korvo 10", "Korvo 20")


def test_what_is_said_of_all_stands_in_every_reading() -> None:
    common = statement("Apply at an air temperature of 10 to 30 °C.", "Application")
    for reading in beside("KORVO FINE · KORVO COARSE", common):
        assert ("application", "air_temp", "states", None, 10.0) in said(reading)


def test_a_sentence_about_one_product_stands_in_its_reading_alone() -> None:
    alone = statement("KORVO COARSE may be applied over galvanised steel.", "Substrates")
    fine, coarse = beside("KORVO FINE · KORVO COARSE", alone)
    assert ("goes_over", None, "permits", "surface.zinc", None) in said(coarse)
    assert not [c for c in fine.claims if c.topic is Topic.GOES_OVER]


def test_a_sentence_about_both_in_turn_is_cut_between_them() -> None:
    turn = statement("KORVO FINE may be applied over steel, KORVO COARSE may be applied over GRP.", "Substrates")
    fine, coarse = beside("KORVO FINE · KORVO COARSE", turn)
    over = [{c.object for c in r.claims if c.topic is Topic.GOES_OVER} for r in (fine, coarse)]
    assert over == [{"surface.steel"}, {"surface.grp"}]


def test_a_prohibition_of_both_together_stands_in_both() -> None:
    both = statement("KORVO FINE and KORVO COARSE must not be applied over etch primer.", "Substrates")
    for reading in beside("KORVO FINE · KORVO COARSE", both):
        assert ("goes_over", None, "forbids", "primer.etch", None) in said(reading)


def test_a_bullet_under_a_heading_of_one_product_is_that_products() -> None:
    own = statement("Galvanised steel", ("KORVO FINE · KORVO COARSE", "KORVO COARSE may be applied over"), kind=BULLET)
    fine, _ = beside("KORVO FINE · KORVO COARSE", own)
    assert not [c for c in fine.claims if c.topic is Topic.GOES_OVER and c.stance is Stance.PERMITS]


def test_another_product_of_the_family_lends_its_figures_to_none() -> None:
    third = statement("KORVO SPRAY is thinned with 5 % and has a pot life of 45 min.", "Mixing")
    for reading in beside("KORVO FINE · KORVO COARSE", third):
        assert 45.0 not in {c.low for c in reading.claims}
        assert not [c for c in reading.claims if c.property == "thinner"]


@pytest.mark.parametrize(
    ("title", "heads"),
    [
        ("Korvo 10", ["", "Hardener H1", "Hardener H2"]),
        ("Korvo 10", ["", "Korvo Hardener A", "Korvo Hardener B"]),
        ("Korvo 10", ["", "White", "Grey"]),
        ("Korvo White · Grey", ["", "White", "Grey"]),
        ("Korvo 10", ["", "1 l", "5 l"]),
        ("Korvo 10", ["", "10 °C", "20 °C"]),
        ("Korvo 10", ["", "Korvo 10", "Korvo 20"]),
        ("Korvo 10", ["", "Standard", "Rapid"]),
        ("Korvo 10", ["", "HVLP", "Airless"]),
        ("Korvo 10 with Korvo H5 hardener", ["", "Korvo 10", "Korvo H5 hardener"]),
        ("Korvo 10 and Korvo Thinner", ["", "Korvo 10", "Korvo Thinner"]),
        ("Korvo 10 · Korvo Grey 1 kg", ["", "Korvo 10", "Korvo Grey 1 kg"]),
        ("KORVO", ["", "Solid colours", "Metallic colours"]),
        ("Korvo epoxy · Korvo primer", ["", "Epoxy", "Primer"]),
    ],
)
def test_hardeners_colours_packs_and_temperatures_are_no_products(title: str, heads: list[str]) -> None:
    assert len(beside(title, heads=heads)) == 1

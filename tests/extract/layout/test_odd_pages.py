"""Pages that makers set in their own way: facts in the margin, lists side by side, captions under icons, leaflets."""

from __future__ import annotations

import io
from collections.abc import Callable, Sequence

from reportlab.lib.pagesizes import A5
from reportlab.pdfgen.canvas import Canvas

from extract.document import Document, Statement
from extract.layout import build
from extract.reading.pages import open_sheet
from tests.extract.layout.sheets import drawn, grid, heads, said, tables

PROSE = (
    "Closes laps and seams of bodies, cabs and trailers.",
    "It stays soft for years and takes the shakes of the road",
    "without coming loose. It is no glue for windscreens, nor",
    "for anything that has to bear a load of its own.",
)


def lines(canvas: Canvas, x: float, y: float, words: Sequence[str], step: float = 12, font: str = "Helvetica") -> float:
    canvas.setFont(font, 9)
    for n, word in enumerate(words):
        canvas.drawString(x, y - n * step, word)
    return y - len(words) * step


def sections(document: Document) -> dict[str, list[str]]:
    """What each innermost heading heads: sentences, items and fields."""
    out: dict[str, list[str]] = {}
    for block in document.blocks:
        if isinstance(block, Statement):
            label = f"{block.label.text}: " if block.label is not None else ""
            out.setdefault(block.section.title.text, []).append(f"{label}{block.passage.text}")
    return out


def several(size: tuple[float, float], *pages: Callable[[Canvas], None]) -> Document:
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=size)
    for page in pages:
        page(canvas)
        canvas.showPage()
    canvas.save()
    return build(open_sheet(out.getvalue()))


def test_facts_in_the_margin_stand_beside_a_flow_with_a_table() -> None:
    def draw(c: Canvas) -> None:
        y = 760.0
        facts = (("Kind", "1K sealant"), ("Skin", "45 min"), ("Bead", "8 mm"), ("Heat", "90 C"), ("Keeps", "15 months"))
        for name, value in facts:
            c.setFont("Helvetica-Bold", 8)
            c.drawString(40, y, name)
            c.setFont("Helvetica", 8)
            c.drawString(40, y - 9.5, value)
            y -= 23
        c.setFont("Helvetica-Bold", 10)
        c.drawString(180, 761, "WHAT FOR")
        y = lines(c, 180, 745, PROSE)
        c.setFont("Helvetica-Bold", 10)
        c.drawString(180, y - 8, "PAINTING")
        y -= 22
        for n, row in enumerate(
            (
                ("Coat on top", "Wet, 0-1 h", "Cured, over 48 h"),
                ("2K surfacer", "no", "yes"),
                ("Base coat", "no", "yes, matt first"),
                ("Cellulose", "no", "no"),
            )
        ):
            for x, word in zip((185, 300, 400), row, strict=True):
                c.setFont("Helvetica", 8.5)
                c.drawString(x, y - n * 13, word)
        c.line(180, y - 4, 520, y - 4)
        lines(c, 180, y - 58, ("Do not paint while the skin forms: hard paint cracks where the joint moves.",))

    document = drawn(draw)
    (found,) = tables(document)
    assert found.corner.text == "Coat on top"
    assert heads(found) == [["Wet, 0-1 h"], ["Cured, over 48 h"]]
    assert grid(found) == [
        ["2K surfacer", "no", "yes"],
        ["Base coat", "no", "yes, matt first"],
        ["Cellulose", "no", "no"],
    ]
    assert found.section.title.text == "PAINTING"
    fields = {b.label.text: b.passage.text for b in document.blocks if isinstance(b, Statement) and b.label is not None}
    assert fields == {"Kind": "1K sealant", "Skin": "45 min", "Bead": "8 mm", "Heat": "90 C", "Keeps": "15 months"}
    assert "It stays soft for years and takes the shakes of the road without coming loose." in said(document)


def test_do_and_do_not_side_by_side_keep_their_items() -> None:
    def draw(c: Canvas) -> None:
        c.setFont("Helvetica-Bold", 11)
        c.drawString(50, 700, "Do")
        c.drawString(300, 700, "Do not")
        left = ("• sand the old paint with P320", "• wipe down before the first coat", "• keep the tin shut")
        right = ("• spray over wash primer", "• add thinner of another make", "• leave it out in the rain")
        lines(c, 50, 684, left)
        lines(c, 300, 684, right)

    assert sections(drawn(draw)) == {
        "Do": ["sand the old paint with P320", "wipe down before the first coat", "keep the tin shut"],
        "Do not": ["spray over wash primer", "add thinner of another make", "leave it out in the rain"],
    }


def test_captions_in_a_strip_of_icons_stay_whole() -> None:
    captions = (("2 coats", "40 µm each"), ("1.4 mm", "2 bar"), ("8 min", "between coats"), ("4 h", "at 20 °C"))

    def draw(c: Canvas) -> None:
        for n, (first, second) in enumerate(captions):
            x = 80 + 130 * n
            c.circle(x, 720, 14)
            c.setFont("Helvetica", 9)
            c.drawCentredString(x, 694, first)
            c.drawCentredString(x, 683, second)

    assert said(drawn(draw)) == [f"{first}\n{second}" for first, second in captions]


def test_a_small_leaflet_in_two_columns() -> None:
    def draw(c: Canvas) -> None:
        c.setFont("Helvetica-Bold", 12)
        c.drawString(30, 560, "Tarn 12 Filler")
        for x, name, words in (
            (30, "Use", ("For dents up to 5 mm on", "steel that was sanded to", "bright metal with P80.")),
            (220, "Mixing", ("Add 2 % of hardener by", "weight. Use up within", "five minutes at 20 °C.")),
        ):
            c.setFont("Helvetica-Bold", 9)
            c.drawString(x, 535, name)
            c.setFont("Helvetica", 8)
            for n, word in enumerate(words):
                c.drawString(x, 523 - 10 * n, word)

    assert sections(several(A5, draw)) == {
        "Use": ["For dents up to 5 mm on steel that was sanded to bright metal with P80."],
        "Mixing": ["Add 2 % of hardener by weight.", "Use up within five minutes at 20 °C."],
    }


def test_a_table_goes_on_at_the_head_of_the_next_page_with_its_heads_again() -> None:
    rows = (("Steel", "yes", "P120"), ("Zinc", "no", "etch first"))
    more = (("Old paint", "yes", "P320"), ("Bitumen", "no", "take off"))

    def page(body: Sequence[Sequence[str]], top: float) -> Callable[[Canvas], None]:
        def draw(c: Canvas) -> None:
            printed = [("Substrate", "Suitable", "Preparation"), *body]
            c.setFont("Helvetica", 9)
            for n, row in enumerate(printed):
                for x, word in zip((55, 205, 305), row, strict=True):
                    c.drawString(x, top - 14 * n, word)
            for n in range(len(printed) + 1):
                c.line(50, top + 10 - 14 * n, 450, top + 10 - 14 * n)
            for x in (50, 200, 300, 450):
                c.line(x, top + 10, x, top + 10 - 14 * len(printed))

        return draw

    (found,) = tables(several((595, 842), page(rows, 100), page(more, 780)))
    assert heads(found) == [["Suitable"], ["Preparation"]]
    assert grid(found) == [list(row) for row in (*rows, *more)]


def test_what_a_product_is_heads_nothing_but_its_title_does() -> None:
    def draw(c: Canvas) -> None:
        c.setFont("Helvetica-Bold", 20)
        c.drawString(50, 760, "Lowfell 90")
        c.setFont("Helvetica", 12)
        c.drawString(50, 742, "Two pack epoxy primer for bare steel")
        y = 720.0
        for name in ("Mixing", "Drying"):
            c.setFont("Helvetica-Bold", 9)
            c.drawString(50, y, name)
            y = lines(c, 50, y - 14, ("Stir the base well and add the hardener that belongs to it.", *PROSE)) - 10

    document = drawn(draw)
    trails = {tuple(h.text for h in b.section.headings) for b in document.blocks}
    assert trails == {("Lowfell 90",), ("Lowfell 90", "Mixing"), ("Lowfell 90", "Drying")}
    assert "Two pack epoxy primer for bare steel" in said(document)


def test_small_capitals_and_wide_letters_are_words() -> None:
    def draw(c: Canvas) -> None:
        x = 50.0
        for n, letter in enumerate("FIELD OF USE"):
            size = 11 if n in (0,) else 8.8
            c.setFont("Helvetica-Bold", size)
            c.drawString(x, 700, letter)
            x += c.stringWidth(letter, "Helvetica-Bold", size) + 1.6
        c.setFont("Helvetica-Bold", 16)
        c.drawString(50, 660, "H A R D C O A T   5 5 0 0")
        lines(c, 50, 640, PROSE)

    document = drawn(draw)
    trail = [h.text for b in document.blocks for h in b.section.headings]
    assert "HARDCOAT 5500" in trail
    assert any("FIELD OF USE" in words for words in (*trail, *said(document)))


def test_an_exponent_is_no_mark_and_a_measure_is_no_list() -> None:
    def draw(c: Canvas) -> None:
        c.setFont("Helvetica", 9)
        c.drawString(50, 700, "One litre covers 8 m")
        c.setFont("Helvetica", 6)
        c.drawString(50 + c.stringWidth("One litre covers 8 m", "Helvetica", 9), 703.5, "2")
        lines(c, 50, 670, ("The primer may be left out only on small spots of no more than 10", "× 10 cm in all."))

    assert said(drawn(draw)) == [
        "One litre covers 8 m2",
        "The primer may be left out only on small spots of no more than 10 × 10 cm in all.",
    ]


def test_a_frame_holds_its_flow_though_a_head_runs_over_its_side() -> None:
    def draw(c: Canvas) -> None:
        c.setFont("Helvetica-Bold", 10)
        c.drawString(50, 700, "MAY BE APPLIED TO")
        lines(c, 50, 686, ("• Clean steel, sanded or blasted to a", "  fine profile", "• Cured two pack finishes"), 12)
        c.rect(300, 560, 230, 155)
        c.setFont("Helvetica-Bold", 10)
        c.drawString(308, 700, "AT A GLANCE")
        for n, (name, value) in enumerate(
            (("Mix by volume", "6 : 1"), ("Pot life", "3 hours"), ("Wet film", "5 mils"))
        ):
            c.setFont("Helvetica", 9)
            c.drawString(308, 686 - 12 * n, name)
            c.drawRightString(522, 686 - 12 * n, value)
        c.setFont("Helvetica-Bold", 10)
        c.drawString(308, 638, "DRY TIMES")
        for n, row in enumerate(
            (("", "60 F", "75 F", "150 F bake"), ("Touch", "4 h", "2 h", "10 min"), ("Hard", "12 h", "6 h", "40 min"))
        ):
            c.setFont("Helvetica-Bold" if n == 0 else "Helvetica", 9)
            for x, word in zip((308, 380, 430, 488), row, strict=True):
                c.drawString(x, 624 - 12 * n, word)

    document = drawn(draw)
    (found,) = tables(document)
    assert found.section.title.text == "DRY TIMES"
    assert grid(found) == [["Touch", "4 h", "2 h", "10 min"], ["Hard", "12 h", "6 h", "40 min"]]
    by_section = sections(document)
    assert by_section["AT A GLANCE"] == ["Mix by volume: 6 : 1", "Pot life: 3 hours", "Wet film: 5 mils"]
    assert by_section["MAY BE APPLIED TO"] == [
        "Clean steel, sanded or blasted to a fine profile",
        "Cured two pack finishes",
    ]


def test_heads_side_by_side_beneath_a_side_box_stay_with_their_lists() -> None:
    def draw(c: Canvas) -> None:
        c.setFont("Helvetica-Bold", 10)
        c.drawString(50, 750, "USE")
        lines(c, 50, 736, PROSE)
        c.setFillGray(0.93)
        c.rect(360, 700, 180, 60, stroke=0, fill=1)
        c.setFillGray(0)
        lines(c, 368, 745, ("Volume solids", "54 %", "Shelf life", "24 months"), 10.5)
        c.setFont("Helvetica", 11)
        c.drawString(50, 660, "DO THIS")
        c.drawString(270, 664, "NOT THIS")
        lines(c, 50, 640, ("• stir well before use", "• sand dry only"))
        lines(c, 270, 644, ("• thin it above ten in a hundred parts", "• leave it in the rain"))

    by_section = sections(drawn(draw))
    assert by_section["DO THIS"] == ["stir well before use", "sand dry only"]
    assert by_section["NOT THIS"] == ["thin it above ten in a hundred parts", "leave it in the rain"]
    assert {"Volume solids: 54 %", "Shelf life: 24 months"} <= {text for found in by_section.values() for text in found}


def test_a_tick_behind_a_drawn_bullet_is_the_sign() -> None:
    def draw(c: Canvas) -> None:
        for n, (sign, name) in enumerate((("✔", "acrylic enamels"), ("✔", "base and clear"), ("✘", "cellulose"))):
            y = 700 - 14 * n
            c.circle(52, y + 3, 1.5, stroke=0, fill=1)
            c.setFont("ZapfDingbats", 9)
            c.drawString(60, y, sign)
            c.setFont("Helvetica", 9)
            c.drawString(72, y, name)

    found = [(b.mark, b.passage.text) for b in drawn(draw).blocks if isinstance(b, Statement)]
    assert found == [("✔", "acrylic enamels"), ("✔", "base and clear"), ("✘", "cellulose")]


def test_headings_in_rounded_bars_hung_lower_than_their_text() -> None:
    chapters = (
        (
            ["DESCRIPTION"],
            [
                "Two-component surfacer of high build, white or grey, for the",
                "filling of scratches. It is quick to sand.",
            ],
        ),
        (
            ["SUPPORTS"],
            [
                "Original paint in good state, sanded P320, polyester putties",
                "sanded P240 and epoxy primers within a day.",
            ],
        ),
        (
            ["MIXTURE AND", "APPLICATION"],
            [
                "Five parts to one by volume. Two to three coats are given with",
                "a gravity gun. Let each coat go matt.",
            ],
        ),
        (["STORAGE"], ["Two years in the closed tin between 5 and 35 °C. Keep the", "hardener dry."]),
    )

    def draw(c: Canvas) -> None:
        y = 760.0
        for labels, text_lines in chapters:
            below = lines(c, 180, y, text_lines)
            deep = 3 + 9 * len(labels)
            c.setFillColorRGB(0.1, 0.4, 0.3)
            c.roundRect(50, y - deep - 1, 90, deep + 4, 3, stroke=0, fill=1)
            c.setFillColorRGB(1, 1, 1)
            c.setFont("Helvetica-Bold", 8)
            for n, label in enumerate(labels):
                c.drawString(55, y - 4 - 9 * n, label)
            c.setFillColorRGB(0, 0, 0)
            y = below - 6

    found = sections(drawn(draw))
    assert list(found) == ["DESCRIPTION", "SUPPORTS", "MIXTURE AND APPLICATION", "STORAGE"]
    assert found["STORAGE"][-1] == "Keep the hardener dry."
    assert "Original paint in good state" in found["SUPPORTS"][0]

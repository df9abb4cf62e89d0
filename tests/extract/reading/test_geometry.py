"""Boxes land on the ink: one black square on an otherwise empty page, whatever its boxes and rotation."""

import io

from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from extract.drawing import OpenDocument
from extract.reading.geometry import displayed_size, drawn_size, from_drawn, to_displayed, to_drawn
from extract.reading.pages import open_sheet


def page_with(
    content: bytes, media: tuple[int, ...], crop: tuple[int, ...] | None, rotation: int, *, inherited: bool = False
) -> bytes:
    """A PDF of one page, written by hand so that every box is as asked."""
    boxes = f"/MediaBox [{' '.join(map(str, media))}] /Rotate {rotation}"
    if crop is not None:
        boxes += f" /CropBox [{' '.join(map(str, crop))}]"
    font = "/Resources << /Font << /F1 << /Type /Font /Subtype /Type1 /BaseFont /Helvetica >> >> >>"
    objects = [
        b"<< /Type /Catalog /Pages 2 0 R >>",
        f"<< /Type /Pages /Kids [3 0 R] /Count 1 {boxes if inherited else ''} >>".encode(),
        f"<< /Type /Page /Parent 2 0 R {'' if inherited else boxes} {font} /Contents 4 0 R >>".encode(),
        b"<< /Length %d >>\nstream\n%s\nendstream" % (len(content), content),
    ]
    out = io.BytesIO(b"")
    out.write(b"%PDF-1.7\n")
    places = []
    for number, body in enumerate(objects, 1):
        places.append(out.tell())
        out.write(b"%d 0 obj\n%s\nendobj\n" % (number, body))
    start = out.tell()
    out.write(b"xref\n0 5\n0000000000 65535 f \n" + b"".join(b"%010d 00000 n \n" % p for p in places))
    out.write(b"trailer << /Size 5 /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF" % start)
    return out.getvalue()


def ink_of(pdf: bytes, scale: float) -> tuple[tuple[int, int, int, int] | None, int, int]:
    picture = OpenDocument(pdf).draw(1, scale)
    dark = [
        (n // 4 % (picture.stride // 4), n // picture.stride)
        for n in range(0, len(picture.pixels), 4)
        if picture.pixels[n] < 128
    ]
    if not dark:
        return None, picture.width, picture.height
    xs, ys = [x for x, _ in dark], [y for _, y in dark]
    return (min(xs), min(ys), max(xs) + 1, max(ys) + 1), picture.width, picture.height


pages = st.fixed_dictionaries(
    {
        "origin": st.tuples(st.integers(-120, 120), st.integers(-120, 120)),
        "crop": st.one_of(st.none(), st.tuples(*[st.integers(0, 40)] * 4)),
        "rotation": st.sampled_from([0, 90, 180, 270]),
        "at": st.tuples(st.integers(50, 120), st.integers(50, 160)),
        "scale": st.sampled_from([1.0, 1.5, 2.0]),
    }
)


@settings(max_examples=60, deadline=None)
@given(pages)
def test_a_square_lies_where_its_box_says(page: dict) -> None:
    x, y = page["origin"]
    media = (x, y, x + 200, y + 260)
    crop = None
    if page["crop"] is not None:
        a, b, c, d = page["crop"]
        crop = (x + a, y + b, x + 200 - c, y + 260 - d)
    sx, sy = x + page["at"][0], y + page["at"][1]
    pdf = page_with(b"0 g %d %d 24 12 re f" % (sx, sy), media, crop, page["rotation"])
    sheet = open_sheet(pdf)
    geometry = sheet.pages[0].geometry
    drawn = to_drawn(to_displayed((sx, sy, sx + 24, sy + 12), geometry), geometry, page["scale"])
    ink, width, height = ink_of(pdf, page["scale"])
    assert ink is not None
    assert all(abs(a - b) <= 1.01 for a, b in zip(ink, drawn, strict=True))
    assert (width, height) == approx(drawn_size(geometry, page["scale"]), abs=1.01)
    panel = sheet.pages[0].marks.panels[0].box
    assert panel == approx(to_displayed((sx, sy, sx + 24, sy + 12), geometry), abs=0.01)


@settings(max_examples=40, deadline=None)
@given(pages)
def test_a_word_lies_where_its_box_says(page: dict) -> None:
    x, y = page["origin"]
    media = (x, y, x + 200, y + 260)
    crop = None
    if page["crop"] is not None:
        a, b, c, d = page["crop"]
        crop = (x + a, y + b, x + 200 - c, y + 260 - d)
    content = b"BT /F1 14 Tf 1 0 0 1 %d %d Tm (HHH) Tj ET" % (x + page["at"][0], y + page["at"][1])
    pdf = page_with(content, media, crop, page["rotation"])
    found = open_sheet(pdf).pages[0]
    word = found.lines[0].words[0]
    assert word.text == "HHH"
    box = to_drawn(word.box, found.geometry, page["scale"])
    ink, _, _ = ink_of(pdf, page["scale"])
    assert ink is not None
    assert box[0] - 1 <= ink[0] and box[1] - 1 <= ink[1] and ink[2] <= box[2] + 1 and ink[3] <= box[3] + 1
    back = from_drawn(box, found.geometry, page["scale"])
    assert back == approx(word.box, abs=0.001)
    width, height = displayed_size(found.geometry)
    assert (width, height) == ((260, 200) if page["rotation"] % 180 else (200, 260))


def test_boxes_inherited_from_the_page_tree() -> None:
    content = b"BT /F1 12 Tf 30 200 Td (Primer) Tj ET"
    own = open_sheet(page_with(content, (0, 0, 200, 260), (10, 20, 180, 240), 90)).pages[0]
    inherited = open_sheet(page_with(content, (0, 0, 200, 260), (10, 20, 180, 240), 90, inherited=True)).pages[0]
    assert inherited.geometry == own.geometry
    assert inherited.geometry.cropbox == (10, 20, 180, 240)


def test_a_file_with_wrong_offsets_is_read_all_the_same() -> None:
    whole = page_with(b"BT /F1 12 Tf 30 200 Td (Primer) Tj ET", (0, 0, 200, 260), None, 0)
    moved = whole.replace(b"/Count 1 ", b"/Count 1 /Note (the offsets below no longer hold)")
    sheet = open_sheet(moved)
    assert [w.text for line in sheet.pages[0].lines for w in line.words] == ["Primer"]


def test_an_empty_page_is_told_from_a_read_one() -> None:
    assert open_sheet(page_with(b"", (0, 0, 200, 260), None, 0)).scanned

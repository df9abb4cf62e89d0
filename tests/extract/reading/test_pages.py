"""What a PDF may do to its text, and what must be read all the same."""

import io
from collections.abc import Callable

import pdfplumber
import pikepdf
import pytest
from reportlab.pdfgen.canvas import Canvas

from extract.errors import DamagedPdf, NotAPdf, PasswordNeeded, TooLarge
from extract.reading.pages import LARGEST_FILE, Page, open_sheet
from extract.reading.symbols import decoded


def drawn(draw: Callable[[Canvas], None], size: tuple[int, int] = (400, 300)) -> bytes:
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=size)
    draw(canvas)
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def read(pdf: bytes) -> Page:
    return open_sheet(pdf).pages[0]


def texts(page: Page) -> list[str]:
    return [" ".join(w.text for w in line.words) for line in page.lines]


@pytest.mark.parametrize("rotation", [0, 90])
def test_words_stand_where_pdfplumber_finds_them(rotation: int) -> None:
    def draw(c: Canvas) -> None:
        c.setFont("Helvetica", 10)
        c.drawString(40, 250, "Prime bare steel within 4 h of blasting.")
        c.setFont("Times-Bold", 14)
        c.drawString(120, 100, "Pot life 6 h")

    turned = io.BytesIO()
    with pikepdf.open(io.BytesIO(drawn(draw))) as opened:
        opened.pages[0].rotate(rotation, relative=False)
        opened.save(turned)
    pdf = turned.getvalue()
    ours = {w.text: w.box for line in read(pdf).lines for w in line.words}
    with pdfplumber.open(io.BytesIO(pdf)) as opened:
        page = opened.pages[0]
        chars = page.chars
        assert (round(page.width), round(page.height)) == ((300, 400) if rotation else (400, 300))
    boxes = [(c["x0"], c["top"], c["x1"], c["bottom"]) for c in chars if c["text"] == "P"]
    prime = ours["Prime"]
    assert any(
        prime[0] - 2 <= (b[0] + b[2]) / 2 <= prime[2] + 2 and prime[1] - 2 <= (b[1] + b[3]) / 2 <= prime[3] + 2
        for b in boxes
    )


def test_text_printed_twice_is_read_once_and_bold() -> None:
    def draw(c: Canvas) -> None:
        c.drawString(40, 200, "Do not thin")
        c.drawString(40.4, 200, "Do not thin")

    page = read(drawn(draw))
    assert texts(page) == ["Do not thin"]


def test_old_words_under_new_ones_are_left_out() -> None:
    def draw(c: Canvas) -> None:
        c.drawString(40, 200, "Overcoating times")
        c.setFillGray(1)
        c.rect(30, 190, 200, 30, stroke=0, fill=1)
        c.setFillGray(0)
        c.drawString(42, 200, "Drying schedules")

    assert texts(read(drawn(draw))) == ["Drying schedules"]


def test_invisible_text_beside_visible_text_is_left_out() -> None:
    def draw(c: Canvas) -> None:
        c.drawString(40, 200, "The visible sentence of the page is here.")
        text = c.beginText(40, 100)
        text.setTextRenderMode(3)
        text.textOut("hidden")
        c.drawText(text)

    assert texts(read(drawn(draw))) == ["The visible sentence of the page is here."]


def test_spaced_out_letters_become_words() -> None:
    def draw(c: Canvas) -> None:
        c.setFont("Helvetica-Bold", 16)
        for n, letter in enumerate("EPOXY PRIMER"):
            c.drawString(40 + 18 * n, 200, letter)
        c.setFont("Helvetica", 10)
        c.drawString(40, 150, "A 2 K B")

    assert texts(read(drawn(draw))) == ["EPOXY PRIMER", "A 2 K B"]


def test_short_heads_are_spaced_out_like_the_long_ones() -> None:
    def draw(c: Canvas) -> None:
        c.setFont("Helvetica-Bold", 11)
        for y, words in ((260, "BENEATH"), (230, "USE"), (200, "DRYING AT 20°C")):
            for n, letter in enumerate(words):
                c.drawString(40 + 14 * n, y, letter)
        c.setFont("Helvetica", 10)
        for n, letter in enumerate("ABC"):
            c.drawString(40 + 14 * n, 150, letter)

    assert texts(read(drawn(draw))) == ["BENEATH", "USE", "DRYING AT 20°C", "A B C"]


def test_raised_marks_stay_with_their_line_and_are_known() -> None:
    def draw(c: Canvas) -> None:
        c.setFont("Helvetica", 10)
        c.drawString(40, 200, "Galvanised steel")
        c.setFont("Helvetica", 6)
        c.drawString(40 + c.stringWidth("Galvanised steel", "Helvetica", 10) + 1, 204, "1)")

    page = read(drawn(draw))
    assert len(page.lines) == 1
    raised = [c["text"] for w in page.lines[0].words for c in w.chars if c["raised"]]
    assert raised == ["1", ")"]


def test_turned_text_reads_in_its_own_direction() -> None:
    def draw(c: Canvas) -> None:
        c.drawString(40, 250, "Upright")
        c.saveState()
        c.translate(200, 60)
        c.rotate(90)
        c.drawString(0, 0, "Bare steel")
        c.restoreState()

    page = read(drawn(draw))
    assert texts(page) == ["Upright", "Bare steel"]
    assert page.lines[1].angle == 270
    box = page.lines[1].words[0].box
    assert box[3] - box[1] > box[2] - box[0]


def test_slanted_stamps_are_left_out() -> None:
    def draw(c: Canvas) -> None:
        c.drawString(40, 250, "Text")
        c.rotate(35)
        c.drawString(120, 60, "SPECIMEN")

    assert texts(read(drawn(draw))) == ["Text"]


@pytest.mark.parametrize(
    ("code", "table", "text"),
    [
        (0x7F, None, "•"),
        (0xF0FC, None, "✓"),
        (0xF0B7, None, "•"),
        (0x02, None, "-"),
        (0x41, None, "A"),
        (0x0B, None, ""),
    ],
)
def test_codes_without_letters(code: int, table: None, text: str) -> None:
    assert decoded(code, table) == text


def test_rules_and_boxes_of_a_form_are_placed_by_its_matrix() -> None:
    def draw(c: Canvas) -> None:
        c.beginForm("grid")
        c.line(0, 0, 50, 0)
        c.rect(0, 10, 50, 20)
        c.endForm()
        c.translate(100, 100)
        c.scale(2, 2)
        c.doForm("grid")

    page = read(drawn(draw))
    level = [r for r in page.marks.rules if r.level]
    assert any(abs(r.x0 - 100) < 0.1 and abs(r.x1 - 200) < 0.1 and abs(r.top - 200) < 0.1 for r in level)
    assert page.marks.panels[0].box == pytest.approx((100, 140, 200, 180), abs=0.1)


def test_a_locked_file_asks_for_its_password() -> None:
    locked = io.BytesIO()
    with pikepdf.open(io.BytesIO(drawn(lambda c: c.drawString(40, 200, "Secret primer")))) as opened:
        opened.save(locked, encryption=pikepdf.Encryption(owner="o", user="lacquer"))
    with pytest.raises(PasswordNeeded) as asked:
        open_sheet(locked.getvalue())
    assert not asked.value.wrong
    with pytest.raises(PasswordNeeded) as refused:
        open_sheet(locked.getvalue(), "varnish")
    assert refused.value.wrong
    assert texts(open_sheet(locked.getvalue(), "lacquer").pages[0]) == ["Secret primer"]


def test_what_is_no_pdf_says_so() -> None:
    for data in (b"", b"<html>", b"\x89PNG\r\n"):
        with pytest.raises(NotAPdf):
            open_sheet(data)
    with pytest.raises(DamagedPdf):
        open_sheet(b"%PDF-1.7\nnothing more")
    with pytest.raises(TooLarge) as error:
        open_sheet(b"%PDF-" + bytes(LARGEST_FILE))
    assert error.value.fields()["limit"] == LARGEST_FILE


def test_a_truncated_file_gives_what_is_left_or_says_that_it_is_damaged() -> None:
    whole = drawn(lambda c: c.drawString(40, 200, "Primer"))
    sheet = open_sheet(whole[: len(whole) - 200])
    assert texts(sheet.pages[0]) == ["Primer"]


def test_progress_is_told_page_by_page() -> None:
    out = io.BytesIO()
    canvas = Canvas(out)
    for n in range(3):
        canvas.drawString(40, 200, f"page {n}")
        canvas.showPage()
    canvas.save()
    told: list[tuple[int, int]] = []
    open_sheet(out.getvalue(), progress=lambda done, of: told.append((done, of)))
    assert told == [(1, 3), (2, 3), (3, 3)]

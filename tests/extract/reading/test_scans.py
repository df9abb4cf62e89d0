"""Sheets that are only pictures, made here from demo sheets: what they say is read, stands where the ink is, and is
never taken for certain.
"""

from __future__ import annotations

import io
import threading
from collections.abc import Iterable
from pathlib import Path

import pypdfium2
import pytest
from PIL import Image
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from app.workers import Limits, ReadingChildren
from extract.claims import Box, Claim, Pictures, SheetReading
from extract.pictured import MOST_SURE
from extract.pipeline import read_sheet
from extract.reading import scans
from extract.reading.pages import open_sheet
from extract.reading.recognised import plain

SHEET = (Path(__file__).parents[3] / "fixtures" / "cinder-mesa-bedrock.pdf").read_bytes()


def pictures_of(pdf: bytes, dots: int = 200, turned: float = 0.0) -> list[Image.Image]:
    """The pages as a scanner gives them: grey, and laid on askew by `turned` degrees."""
    out = []
    document = pypdfium2.PdfDocument(pdf)
    for page in document:
        picture = page.render(scale=dots / 72, grayscale=True).to_pil().convert("L")
        out.append(picture.rotate(turned, fillcolor=255, resample=Image.Resampling.BICUBIC))
        page.close()
    document.close()
    return out


def scanned(pages: Iterable[Image.Image], dots: int = 200) -> bytes:
    """A PDF of nothing but pictures, compressed as scanners do."""
    first, *more = pages
    out = io.BytesIO()
    first.save(out, "PDF", resolution=dots, save_all=True, append_images=more, quality=70)
    return out.getvalue()


def read(pdf: bytes, scan_limits: Limits | None = None) -> SheetReading:
    """As the program reads it: in child processes, the picture in one with more room."""
    children = ReadingChildren() if scan_limits is None else ReadingChildren(scan_limits=scan_limits)
    with children:
        (reading,) = children(pdf, "scan.pdf", progress=lambda _page, _pages: None, cancelled=threading.Event())
    return reading


def figures(claim: Claim) -> tuple[object, ...]:
    at = None if claim.at_c is None else round(claim.at_c, 2)
    return (claim.topic, claim.property, claim.stance, claim.object, claim.low, claim.high, claim.unit, at)


@pytest.fixture(scope="module")
def text() -> SheetReading:
    return read_sheet(SHEET, "text.pdf")[0]


@pytest.fixture(scope="module")
def picture() -> SheetReading:
    return read(scanned(pictures_of(SHEET)))


def test_a_picture_says_nearly_all_that_its_text_said(text: SheetReading, picture: SheetReading) -> None:
    wanted, found = {figures(c) for c in text.claims}, {figures(c) for c in picture.claims}
    assert len(wanted) > 40
    assert len(wanted & found) >= 0.9 * len(wanted)
    assert len(found - wanted) <= 0.05 * len(found)


def test_nothing_read_off_a_picture_turns_a_no_into_a_yes(text: SheetReading, picture: SheetReading) -> None:
    def said(reading: SheetReading, stance: str) -> set[tuple[object, ...]]:
        return {(c.topic, c.property, c.object) for c in reading.claims if c.stance.value == stance}

    assert said(text, "forbids")
    assert not said(text, "forbids") & (said(picture, "permits") - said(text, "permits"))


def test_a_picture_is_never_certain_and_says_so(text: SheetReading, picture: SheetReading) -> None:
    assert picture.header.scanned
    assert all(page.from_picture for page in picture.pages)
    assert all(c.from_picture and 0 < c.confidence <= MOST_SURE for c in picture.claims)
    assert any("read from a picture" in problem for problem in picture.problems)
    assert not text.header.scanned
    assert not any(c.from_picture for c in text.claims)
    assert max(c.confidence for c in text.claims) > MOST_SURE


def test_the_boxes_lie_on_the_words(text: SheetReading, picture: SheetReading) -> None:
    """Word by word against the places that the same page gave as text."""
    for printed, seen in zip(text.pages, picture.pages, strict=True):
        places: dict[str, list[Box]] = {}
        for word in printed.words:
            places.setdefault(word.text, []).append(word.box)
        known = [(word.box, places[word.text]) for word in seen.words if word.text in places]
        near = [box for box, at in known if any(_lies_on(box, other) for other in at)]
        assert len(known) > 0.85 * len(printed.words)
        assert len(near) >= 0.97 * len(known)


def _lies_on(box: Box, other: Box) -> bool:
    """Points: the edges by 5 at most to the sides, the middle by 3 up or down."""
    return (
        abs(box[0] - other[0]) < 5
        and abs(box[2] - other[2]) < 5
        and abs((box[1] + box[3]) / 2 - (other[1] + other[3]) / 2) < 3
    )


def test_a_page_laid_on_askew_is_read_and_its_boxes_lie_as_it_lies() -> None:
    turned = pictures_of(SHEET, turned=-1.5)[0]
    reading = read(scanned([turned]))
    assert {"waterproof", "pot_life"} & {str(c.property) for c in reading.claims}
    darkest = []
    for word in reading.pages[0].words:
        x0, top, x1, bottom = (v * 200 / 72 for v in word.box)
        darkest.append(turned.crop((int(x0), int(top), int(x1) + 1, int(bottom) + 1)).getextrema()[0])
    assert sum(1 for ink in darkest if isinstance(ink, int | float) and ink < 120) >= 0.97 * len(darkest)


def test_only_the_pages_that_are_pictures_are_doubted() -> None:
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(612, 792))
    canvas.drawString(72, 700, "Greywall 7 primer")
    canvas.drawString(72, 660, "The pot life is 6 hours at 20 °C.")
    canvas.showPage()
    canvas.drawImage(ImageReader(pictures_of(SHEET)[0].convert("RGB")), 0, 0, 612, 792)
    canvas.save()
    reading = read_sheet(out.getvalue(), "mixed.pdf", pictures=Pictures.READ)[0]
    assert [page.from_picture for page in reading.pages] == [False, True]
    assert not reading.header.scanned
    doubted = {c.evidence.page: c.from_picture for c in reading.claims}
    assert doubted == {1: False, 2: True}


def test_a_picture_that_takes_too_long_is_filed_unread() -> None:
    reading = read(scanned(pictures_of(SHEET)[:1]), Limits(seconds=0.05, silent_seconds=0.05))
    assert reading.claims == ()
    assert reading.header.scanned
    assert any("within the limits" in problem for problem in reading.problems)


def test_without_the_extra_a_picture_is_filed_and_a_sentence_names_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(scans, "installed", lambda: False)
    sheet = open_sheet(scanned(pictures_of(SHEET)[:1]), pictures=Pictures.REPORT)
    assert sheet.scanned
    assert any("set_up.py --scans" in problem for problem in sheet.problems)


@pytest.mark.parametrize(
    ("recognised", "spelled"),
    [
        ("8 hrs. @ 70°℉", "8 hrs. @ 70°F"),
        ("60℃", "60°C"),
        ("10 to 30 ℃.", "10 to 30 °C."),
        ("touch dry in10 minutes", "touch dry in 10 minutes"),
        ("5 to10 per cent", "5 to 10 per cent"),
        ("45per cent", "45 per cent"),
        ("below 10 °Cor above", "below 10 °C or above"),
        ("２：１ ｂｙ volume", "2:1 by volume"),
        ("P240", "P240"),
        ("CM-300, 2K", "CM-300, 2K"),
        ("200 ml", "200 ml"),
        ("1K", "1K"),
    ],
)
def test_the_recognisers_spelling_becomes_the_sheets(recognised: str, spelled: str) -> None:
    assert plain(recognised) == spelled

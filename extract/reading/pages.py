"""A PDF's bytes -> pages of lines, rules and pictures. The only door through which a PDF is read."""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import pypdfium2
import pypdfium2.raw as pdfium
from pypdfium2 import PdfiumError

from extract.claims import Box, PageGeometry, Pictures
from extract.errors import DamagedPdf, HoldsPictures, NoPages, NotAPdf, PasswordNeeded, TooLarge
from extract.reading import scans
from extract.reading.characters import MOST_CHARACTERS, read_characters
from extract.reading.geometry import displayed_size, is_sane, normalised
from extract.reading.marks import MOST_EDGES, Marks, read_marks
from extract.reading.words import PrintedLine, find_lines

if TYPE_CHECKING:
    from extract.reading.scans import PictureReader

LARGEST_FILE = 64 * 2**20
"""Bytes."""
MOST_PAGES = 200
"""What comes after is left out, and said."""
_HEADER_WITHIN = 1024
_ERR_PASSWORD = 4
_US_LETTER = (0.0, 0.0, 612.0, 792.0)

Progress = Callable[[int, int], None]
"""Called with pages done and pages in all."""


@dataclass(slots=True)
class Page:
    """One page in displayed coordinates. width and height are those of the displayed MediaBox.

    read_as_picture: its lines were recognised, not printed as text; sureness has their boxes, and 0..1 how sure.
    """

    number: int
    geometry: PageGeometry
    width: float
    height: float
    lines: list[PrintedLine] = field(default_factory=list)
    marks: Marks = field(default_factory=Marks)
    read_as_picture: bool = False
    sureness: list[tuple[Box, float]] = field(default_factory=list)

    @property
    def is_picture(self) -> bool:
        """No text to speak of, and a picture over a good part of the page."""
        if self.read_as_picture:
            return True
        if sum(len(w.text) for line in self.lines for w in line.words) > 20:
            return False
        area = sum((b[2] - b[0]) * (b[3] - b[1]) for b in self.marks.pictures)
        return area > 0.3 * self.width * self.height


@dataclass(slots=True)
class Sheet:
    """An opened PDF: its pages, its metadata, and plain sentences about what could not be read.

    page_count is the number of pages in the file, also where only the first MOST_PAGES were read.
    """

    pages: list[Page]
    page_count: int
    metadata: dict[str, str]
    problems: list[str]
    mended: bool = False

    @property
    def scanned(self) -> bool:
        """No page holds printed text: it has none, or all of it was read off pictures."""
        if any(page.read_as_picture for page in self.pages):
            return all(page.read_as_picture or not page.lines for page in self.pages)
        return all(not page.lines for page in self.pages) or (
            any(page.is_picture for page in self.pages)
            and sum(len(w.text) for p in self.pages for line in p.lines for w in line.words) < 40 * len(self.pages)
        )


def open_sheet(
    pdf: bytes,
    password: str | None = None,
    progress: Progress | None = None,
    pictures: Pictures = Pictures.LEAVE,
) -> Sheet:
    """Read all pages of a PDF.

    Raises NotAPdf, DamagedPdf, PasswordNeeded, TooLarge, NoPages or HoldsPictures of extract.errors. A page that
    cannot be read stays in place, empty, with a sentence in problems.
    """
    document, mended = open_document(pdf, password)
    try:
        return _read_all(document, pdf, password, mended, progress, pictures)
    finally:
        document.close()


def open_document(pdf: bytes, password: str | None = None) -> tuple[Any, bool]:
    """The PDF opened by PDFium, and whether it had to be mended first. Errors as for open_sheet."""
    if len(pdf) > LARGEST_FILE:
        raise TooLarge("bytes", len(pdf), LARGEST_FILE)
    if b"%PDF-" not in pdf[:_HEADER_WITHIN]:
        raise NotAPdf(len(pdf))
    try:
        return _opened(pdf, password), False
    except PdfiumError as error:
        if error.err_code == _ERR_PASSWORD:
            raise PasswordNeeded(wrong=password is not None) from error
        cause = str(error)
    except IndexError as error:
        raise NoPages from error
    whole = _mended(pdf, password, cause)
    try:
        return pypdfium2.PdfDocument(whole), True
    except PdfiumError as error:
        raise DamagedPdf(str(error)) from error


def _opened(pdf: bytes, password: str | None) -> Any:
    """The document, once its first page can be reached: a file may open though none of its pages can."""
    document = pypdfium2.PdfDocument(pdf, password=password)
    if len(document) == 0:
        raise IndexError("no page")
    document.get_page_size(0)
    return document


def _mended(pdf: bytes, password: str | None, cause: str) -> bytes:
    """The same PDF written anew by qpdf, which repairs what PDFium refuses."""
    import pikepdf  # noqa: PLC0415 - 90 ms, and only damaged files need it

    out = io.BytesIO()
    try:
        with pikepdf.open(io.BytesIO(pdf), password=password or "") as opened:
            if len(opened.pages) == 0:
                raise NoPages
            opened.save(out)
    except pikepdf.PasswordError as error:
        raise PasswordNeeded(wrong=password is not None) from error
    except (pikepdf.PdfError, RuntimeError, ValueError, TypeError, RecursionError) as error:
        raise DamagedPdf(str(error) or cause) from error
    return out.getvalue()


def _read_all(
    document: Any, pdf: bytes, password: str | None, mended: bool, progress: Progress | None, pictures: Pictures
) -> Sheet:
    count = len(document)
    if count == 0:
        raise NoPages
    sheet = Sheet([], count, _metadata(document), [], mended)
    if mended:
        sheet.problems.append("The file was damaged and had to be mended before it could be read.")
    if count > MOST_PAGES:
        sheet.problems.append(f"Only the first {MOST_PAGES} of {count} pages were read.")
    boxes = _InheritedBoxes(pdf, password)
    wanted = min(count, MOST_PAGES)
    reader = scans.PictureReader() if pictures is Pictures.READ and scans.installed() else None
    for index in range(wanted):
        sheet.pages.append(_read_page(document, index, boxes, sheet.problems, reader))
        if progress is not None:
            progress(index + 1, wanted)
    left = [page.number for page in sheet.pages if page.is_picture and not page.read_as_picture]
    if left and pictures is Pictures.REPORT and scans.installed():
        raise HoldsPictures(len(left), wanted)
    sheet.problems.extend(_about_pictures(sheet.pages, left))
    return sheet


def _about_pictures(pages: list[Page], left: list[int]) -> list[str]:
    said = []
    read = [page.number for page in pages if page.read_as_picture]
    if read:
        said.append(
            f"{_pages(read)} read from a picture: letters and figures may be wrong, so each statement waits for "
            "your own look at the page."
        )
    if left:
        said.append(
            f"{_pages(left)} not read: there are no words in the file, only a picture of them. "
            + (
                "The picture could not be read within the limits for time and memory."
                if scans.installed()
                else "To have pictures read, run 'python3 app/set_up.py --scans' in the program's folder and file "
                "the sheet again."
            )
        )
    return said


def _pages(numbers: list[int]) -> str:
    if len(numbers) == 1:
        return f"Page {numbers[0]} was"
    listed = ", ".join(str(n) for n in numbers[:-1][:20])
    return f"Pages {listed} and {numbers[-1]} were" if len(numbers) <= 21 else f"{len(numbers)} pages were"


def _read_page(
    document: Any, index: int, boxes: _InheritedBoxes, problems: list[str], reader: PictureReader | None = None
) -> Page:
    number = index + 1
    try:
        page = document[index]
    except PdfiumError:
        problems.append(f"Page {number} could not be opened.")
        return Page(number, PageGeometry(_US_LETTER, _US_LETTER, 0), 612.0, 792.0)
    try:
        geometry = page_geometry(page, index, boxes)
        width, height = displayed_size(geometry)
        if not is_sane(geometry.mediabox):
            problems.append(f"Page {number} has an absurd size and was not read.")
            return Page(number, PageGeometry(_US_LETTER, _US_LETTER, 0), 612.0, 792.0)
        result = Page(number, geometry, width, height)
        characters = read_characters(page, geometry)
        if characters.cut:
            problems.append(f"Page {number} holds more than {MOST_CHARACTERS} characters; the rest was left out.")
        result.lines = find_lines(characters.chars, width, height)
        result.marks = read_marks(page, geometry)
        if result.marks.cut:
            problems.append(f"Page {number} holds more than {MOST_EDGES} lines; its drawings were left out.")
        if reader is not None and result.is_picture:
            _read_picture(page, result, reader)
    except PdfiumError:
        problems.append(f"The text of page {number} could not be read.")
        return Page(number, PageGeometry(_US_LETTER, _US_LETTER, 0), 612.0, 792.0)
    else:
        return result
    finally:
        page.close()


def _read_picture(page: Any, result: Page, reader: PictureReader) -> None:
    read = reader.read(page, result.geometry)
    # The picture shows what little text there is besides.
    result.lines, result.sureness, result.read_as_picture = read.lines, read.sureness, True
    result.marks = Marks(read.marks.rules, read.marks.panels, result.marks.pictures)


def page_geometry(page: Any, index: int, boxes: _InheritedBoxes) -> PageGeometry:
    """The page's own or inherited MediaBox and CropBox, and its /Rotate.

    PDFium looks up inherited boxes for drawing but not for its box functions, so those are asked of qpdf.
    """
    media, crop = page.get_mediabox(fallback_ok=False), page.get_cropbox(fallback_ok=False)
    if media is None or crop is None:
        shown = pdfium.FS_RECTF()
        pdfium.FPDF_GetPageBoundingBox(page.raw, shown)
        drawn = (shown.left, shown.bottom, shown.right, shown.top)
        if media is not None and normalised(media) == drawn:
            crop = drawn
        else:
            media, crop = boxes.of(index, media, crop, drawn)
    return PageGeometry(normalised(media), normalised(crop), int(page.get_rotation()) % 360)


class _InheritedBoxes:
    """MediaBox and CropBox that a page has from its parents; the file is opened a second time only if asked."""

    def __init__(self, pdf: bytes, password: str | None) -> None:
        self._pdf = pdf
        self._password = password
        self._boxes: list[tuple[Any, Any]] | None = None

    def of(self, index: int, media: Any, crop: Any, drawn: Any) -> tuple[Any, Any]:
        if self._boxes is None:
            self._boxes = self._load()
        known = self._boxes[index] if index < len(self._boxes) else (None, None)
        media = media or known[0] or drawn
        crop = crop or known[1] or media
        return media, crop

    def _load(self) -> list[tuple[Any, Any]]:
        import pikepdf  # noqa: PLC0415 - 90 ms, and few files need it

        found: list[tuple[Any, Any]] = []
        try:
            with pikepdf.open(io.BytesIO(self._pdf), password=self._password or "") as opened:
                for page in opened.pages[:MOST_PAGES]:
                    found.append((_inherited(page.obj, "/MediaBox"), _inherited(page.obj, "/CropBox")))
        except (pikepdf.PdfError, RuntimeError, ValueError, TypeError, RecursionError):
            return found  # PDFium's own drawn box serves
        return found


def _inherited(node: Any, key: str) -> tuple[float, ...] | None:
    import pikepdf  # noqa: PLC0415 - loaded by who asks

    for _ in range(50):
        if not isinstance(node, pikepdf.Dictionary):
            return None
        value = node.get(key)
        if isinstance(value, pikepdf.Array) and len(value) == 4:
            return tuple(float(v) for v in value)
        node = node.get("/Parent")
    return None


def _metadata(document: Any) -> dict[str, str]:
    try:
        found = document.get_metadata_dict(skip_empty=True)
    except PdfiumError:
        return {}
    return {str(k): str(v)[:2000] for k, v in found.items()}

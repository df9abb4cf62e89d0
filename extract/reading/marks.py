"""What is drawn on a page beside its text: rules, boxes and pictures, form XObjects included, matrices applied."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from ctypes import byref, c_float, c_int, c_uint
from dataclasses import dataclass, field
from typing import Any

import pypdfium2.raw as pdfium

from extract.claims import Box, PageGeometry
from extract.reading.geometry import displayed_size, to_displayed

MOST_EDGES = 5_000
"""A page. Above it a page is a drawing, not a table."""
_MOST_OBJECTS = 60_000
_DEEPEST_FORM = 8
_MOST_SEGMENTS = 60
"""A path with more is an icon or a chart, no rule."""
_STRAIGHT = 0.6
_THIN = 3.0
"""Points: a filled rectangle no thicker is a rule."""

Matrix = tuple[float, float, float, float, float, float]
_SAME: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
Color = tuple[int, int, int]


@dataclass(frozen=True, slots=True)
class Rule:
    """A straight line as displayed, upright or level. soft: the border of a filled area that has no outline."""

    x0: float
    top: float
    x1: float
    bottom: float
    soft: bool = False

    @property
    def level(self) -> bool:
        return self.x1 - self.x0 >= self.bottom - self.top


@dataclass(frozen=True, slots=True)
class Panel:
    """A drawn rectangle as displayed: filled (its colour), outlined, or both."""

    box: Box
    fill: Color | None
    outlined: bool


@dataclass(slots=True)
class Marks:
    """cut: the page has more than MOST_EDGES rules; the rest is left out."""

    rules: list[Rule] = field(default_factory=list)
    panels: list[Panel] = field(default_factory=list)
    pictures: list[Box] = field(default_factory=list)
    dots: list[Box] = field(default_factory=list)
    """Small filled discs and squares: bullets that are drawn, not written."""
    cut: bool = False


def read_marks(page: Any, geometry: PageGeometry) -> Marks:
    """The rules, panels and pictures of a pypdfium2 page in displayed coordinates."""
    marks = Marks()
    width, height = displayed_size(geometry)
    for item, matrix in _objects(page.raw):
        kind = pdfium.FPDFPageObj_GetType(item)
        if kind == pdfium.FPDF_PAGEOBJ_PATH:
            _add_path(item, matrix, geometry, marks)
            if len(marks.rules) > MOST_EDGES:
                marks.cut = True
                del marks.rules[MOST_EDGES:]
                break
        elif kind == pdfium.FPDF_PAGEOBJ_IMAGE:
            box = _bounds(item, matrix, geometry)
            if box is not None:
                marks.pictures.append((max(box[0], 0), max(box[1], 0), min(box[2], width), min(box[3], height)))
    return marks


def _objects(page: Any) -> Iterator[tuple[Any, Matrix]]:
    """Paths and pictures of a page and of the forms that it draws, with the matrix that stands over each."""
    seen = 0
    stack: list[tuple[Any, int, Matrix, int]] = []
    for i in range(min(int(pdfium.FPDFPage_CountObjects(page)), _MOST_OBJECTS)):
        item = pdfium.FPDFPage_GetObject(page, i)
        kind = pdfium.FPDFPageObj_GetType(item)
        seen += 1
        if kind == pdfium.FPDF_PAGEOBJ_FORM:
            stack.append((item, kind, _SAME, 0))
            while stack and seen < _MOST_OBJECTS:
                form, _, above, depth = stack.pop()
                matrix = _times(_matrix(form), above)
                for j in range(max(int(pdfium.FPDFFormObj_CountObjects(form)), 0)):
                    seen += 1
                    if seen > _MOST_OBJECTS:
                        return
                    child = pdfium.FPDFFormObj_GetObject(form, j)
                    child_kind = pdfium.FPDFPageObj_GetType(child)
                    if child_kind == pdfium.FPDF_PAGEOBJ_FORM:
                        if depth < _DEEPEST_FORM:
                            stack.append((child, child_kind, matrix, depth + 1))
                    elif child_kind != pdfium.FPDF_PAGEOBJ_TEXT:
                        yield child, matrix
        elif kind != pdfium.FPDF_PAGEOBJ_TEXT:
            yield item, _SAME


def _add_path(item: Any, above: Matrix, geometry: PageGeometry, marks: Marks) -> None:
    count = int(pdfium.FPDFPath_CountSegments(item))
    if not 2 <= count <= _MOST_SEGMENTS:
        return
    fill_mode, stroke = c_int(), c_int()
    if not pdfium.FPDFPath_GetDrawMode(item, byref(fill_mode), byref(stroke)):
        return
    outlined, filled = bool(stroke.value), fill_mode.value != 0
    if not outlined and not filled:
        return
    fill = _color(item) if filled else None
    if fill is not None and min(fill) >= 253 and not outlined:
        return  # white on white paper shows nothing
    matrix = _times(_matrix(item), above)
    for points, straight in _subpaths(item, count, matrix, geometry):
        if straight:
            _add_straight(points, fill, outlined, marks)
            box = _around(points)
            if fill is not None and _is_dot(box):
                marks.dots.append(box)
        elif len(points) >= 8:
            box = _around(points)
            if fill is not None and _is_dot(box):
                marks.dots.append(box)
            if box[2] - box[0] > 60 and box[3] - box[1] > 20:
                marks.panels.append(Panel(box, fill, outlined))  # a box with round corners


def _is_dot(box: Box) -> bool:
    wide, tall = box[2] - box[0], box[3] - box[1]
    return 1.2 <= wide <= 8 and 1.2 <= tall <= 8 and abs(wide - tall) < 0.3 * max(wide, tall)


def _add_straight(points: list[tuple[float, float]], fill: Color | None, outlined: bool, marks: Marks) -> None:
    box = _around(points)
    wide, tall = box[2] - box[0], box[3] - box[1]
    closed = len(points) in (4, 5) and all(
        (abs(x - box[0]) < _STRAIGHT or abs(x - box[2]) < _STRAIGHT)
        and (abs(y - box[1]) < _STRAIGHT or abs(y - box[3]) < _STRAIGHT)
        for x, y in points
    )
    if closed and len(points) == 4 and fill is None and not outlined:
        return
    if closed and (fill is not None or len(points) == 5):
        if wide <= _THIN and tall <= _THIN:
            return
        if tall <= _THIN:
            middle = (box[1] + box[3]) / 2
            marks.rules.append(Rule(box[0], middle, box[2], middle))
            return
        if wide <= _THIN:
            middle = (box[0] + box[2]) / 2
            marks.rules.append(Rule(middle, box[1], middle, box[3]))
            return
        marks.panels.append(Panel(box, fill, outlined))
        soft = not outlined
        x0, top, x1, bottom = box
        marks.rules.extend(
            (
                Rule(x0, top, x1, top, soft),
                Rule(x0, bottom, x1, bottom, soft),
                Rule(x0, top, x0, bottom, soft),
                Rule(x1, top, x1, bottom, soft),
            )
        )
        return
    if not outlined:
        return
    for (ax, ay), (bx, by) in itertools.pairwise(points):
        if abs(ay - by) <= _STRAIGHT and abs(ax - bx) > _THIN:
            y = (ay + by) / 2
            marks.rules.append(Rule(min(ax, bx), y, max(ax, bx), y))
        elif abs(ax - bx) <= _STRAIGHT and abs(ay - by) > _THIN:
            x = (ax + bx) / 2
            marks.rules.append(Rule(x, min(ay, by), x, max(ay, by)))


def _subpaths(
    item: Any, count: int, matrix: Matrix, geometry: PageGeometry
) -> Iterator[tuple[list[tuple[float, float]], bool]]:
    points: list[tuple[float, float]] = []
    straight = True
    a, b, c, d, e, f = matrix
    px, py = c_float(), c_float()
    for i in range(count):
        segment = pdfium.FPDFPath_GetPathSegment(item, i)
        kind = pdfium.FPDFPathSegment_GetType(segment)
        pdfium.FPDFPathSegment_GetPoint(segment, byref(px), byref(py))
        x, y = a * px.value + c * py.value + e, b * px.value + d * py.value + f
        shown = to_displayed((x, y, x, y), geometry)
        if kind == pdfium.FPDF_SEGMENT_MOVETO:
            if len(points) > 1:
                yield points, straight
            points, straight = [], True
        elif kind == pdfium.FPDF_SEGMENT_BEZIERTO:
            straight = False
        points.append((shown[0], shown[1]))
        if pdfium.FPDFPathSegment_GetClose(segment) and len(points) > 1 and points[-1] != points[0]:
            points.append(points[0])
    if len(points) > 1:
        yield points, straight


def _around(points: list[tuple[float, float]]) -> Box:
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return (min(xs), min(ys), max(xs), max(ys))


def _matrix(item: Any) -> Matrix:
    m = pdfium.FS_MATRIX()
    if not pdfium.FPDFPageObj_GetMatrix(item, byref(m)):
        return _SAME
    return (m.a, m.b, m.c, m.d, m.e, m.f)


def _times(first: Matrix, then: Matrix) -> Matrix:
    if then == _SAME:
        return first
    a, b, c, d, e, f = first
    g, h, i, j, k, m = then
    return (a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k, e * h + f * j + m)


def _bounds(item: Any, above: Matrix, geometry: PageGeometry) -> Box | None:
    left, bottom, right, top = c_float(), c_float(), c_float(), c_float()
    if not pdfium.FPDFPageObj_GetBounds(item, byref(left), byref(bottom), byref(right), byref(top)):
        return None
    a, b, c, d, e, f = above
    corners = [(x, y) for x in (left.value, right.value) for y in (bottom.value, top.value)]
    xs = [a * x + c * y + e for x, y in corners]
    ys = [b * x + d * y + f for x, y in corners]
    return to_displayed((min(xs), min(ys), max(xs), max(ys)), geometry)


def _color(item: Any) -> Color:
    r, g, b, alpha = c_uint(), c_uint(), c_uint(), c_uint()
    pdfium.FPDFPageObj_GetFillColor(item, byref(r), byref(g), byref(b), byref(alpha))
    return (255, 255, 255) if alpha.value == 0 else (r.value, g.value, b.value)

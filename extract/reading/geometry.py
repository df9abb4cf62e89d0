"""The one place where PDF coordinates become ours.

PDF user space (origin bottom left, unrotated) -> points from the top left of the page as displayed
(MediaBox, /Rotate applied); and from there to the pixels of the drawn page, which shows the CropBox.
"""

from __future__ import annotations

from extract.claims import Box, PageGeometry

LARGEST_SIDE = 20_000.0
"""Points. A page with a longer side is not read."""


def is_sane(box: Box) -> bool:
    """Whether a page box has sides between 1 and LARGEST_SIDE points."""
    return 1.0 <= box[2] - box[0] <= LARGEST_SIDE and 1.0 <= box[3] - box[1] <= LARGEST_SIDE


def normalised(box: Box) -> Box:
    """The same box with x0 <= x1 and y0 <= y1 (a PDF may name any two opposite corners)."""
    x0, y0, x1, y1 = box
    if x0 > x1:
        x0, x1 = x1, x0
    if y0 > y1:
        y0, y1 = y1, y0
    return (x0, y0, x1, y1)


def shown_box(geometry: PageGeometry) -> Box:
    """The part of the MediaBox that viewers show, in user space; all of it where the CropBox is empty or outside."""
    m, c = normalised(geometry.mediabox), normalised(geometry.cropbox)
    cut = (max(m[0], c[0]), max(m[1], c[1]), min(m[2], c[2]), min(m[3], c[3]))
    return cut if cut[0] < cut[2] and cut[1] < cut[3] else m


def displayed_size(geometry: PageGeometry) -> tuple[float, float]:
    """Width and height in points of the displayed MediaBox."""
    x0, y0, x1, y1 = normalised(geometry.mediabox)
    return (y1 - y0, x1 - x0) if geometry.rotation % 180 else (x1 - x0, y1 - y0)


def drawn_size(geometry: PageGeometry, scale: float) -> tuple[float, float]:
    """Width and height in pixels of the drawn page at scale pixels a point."""
    x0, y0, x1, y1 = shown_box(geometry)
    width, height = (y1 - y0, x1 - x0) if geometry.rotation % 180 else (x1 - x0, y1 - y0)
    return (width * scale, height * scale)


def to_displayed(box: Box, geometry: PageGeometry) -> Box:
    """A user-space box (x0, y0, x1, y1; origin bottom left) as displayed (x0, top, x1, bottom)."""
    m = normalised(geometry.mediabox)
    left, right = box[0] - m[0], box[2] - m[0]
    top, bottom = m[3] - box[3], m[3] - box[1]
    width, height = m[2] - m[0], m[3] - m[1]
    match geometry.rotation % 360:
        case 90:
            return (height - bottom, left, height - top, right)
        case 180:
            return (width - right, height - bottom, width - left, height - top)
        case 270:
            return (top, width - right, bottom, width - left)
        case _:
            return (left, top, right, bottom)


def to_drawn(box: Box, geometry: PageGeometry, scale: float) -> Box:
    """A displayed box in pixels of the page drawn at scale (pixels a point): x0, top, x1, bottom."""
    origin = to_displayed(shown_box(geometry), geometry)
    return (
        (box[0] - origin[0]) * scale,
        (box[1] - origin[1]) * scale,
        (box[2] - origin[0]) * scale,
        (box[3] - origin[1]) * scale,
    )


def from_drawn(box: Box, geometry: PageGeometry, scale: float) -> Box:
    """Inverse of to_drawn: what was dragged over on the drawn page, in displayed points."""
    origin = to_displayed(shown_box(geometry), geometry)
    return (
        box[0] / scale + origin[0],
        box[1] / scale + origin[1],
        box[2] / scale + origin[0],
        box[3] / scale + origin[1],
    )

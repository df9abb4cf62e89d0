"""Filled bars that carry a heading, and drawn boxes that hold a flow of their own."""

from __future__ import annotations

from collections.abc import Sequence

from extract.claims import Box
from extract.layout.pieces import Boxed, Element, Grid, Segment, inside
from extract.reading.marks import Panel, Rule
from extract.reading.pages import Page

_OVERFLOW = 0.15
"""Share of its width by which text may stand over its box's right side."""
_NEAR = 40.0
"""Points: how close a table's next rule stands to the bar over it."""
_BESIDE = 12.0
"""Points."""
_NEXT_ROW = 2.8
"""Times the size: how far below its heads a table's first row stands."""
_PARTS = 2
_LONGEST_UNDERLINED = 6
"""Words."""
_BAR = 2.8
"""A panel no taller than so many times its text's size is a bar."""


def mark_bars(page: Page, segments: Sequence[Segment]) -> None:
    """Mark the segments that stand alone in a filled bar wider than they are."""
    for panel in page.marks.panels:
        within = _in_bar(panel, segments)
        if (
            within
            and not _is_cell(panel, page.marks.panels)
            and not _names_beside(panel, within[0], segments)
            and not _head_columns(within, segments)
        ):
            within[0].barred = True
            within[0].reach = (panel.box[0], panel.box[2])


def _head_columns(bar: Sequence[Segment], segments: Sequence[Segment]) -> bool:
    """Whether the two parts of a bar's line stand over columns: heads of a table."""
    near = [s for s in segments if 0 < s.base - bar[0].base < _NEXT_ROW * bar[0].size]
    return len(bar) == _PARTS and all(
        any(
            min(abs(s.x0 - part.x0), abs(s.x1 - part.x1), abs(s.x0 + s.x1 - part.x0 - part.x1) / 2) <= 1.5 for s in near
        )
        for part in bar
    )


def _names_beside(panel: Panel, label: Segment, segments: Sequence[Segment]) -> bool:
    """Whether a plain text begins close beside a panel, level with what stands in it: a shaded label, no bar."""
    right = panel.box[2]
    return any(
        abs(s.base - label.base) <= 0.2 * label.size and right - 1 <= s.x0 <= right + _BESIDE and not s.bold
        for s in segments
    )


def mark_underlined(page: Page, segments: Sequence[Segment]) -> None:
    """Mark short lines that stand alone and are underlined from end to end."""
    levels = [r for r in page.marks.rules if r.level]
    for segment in segments:
        if segment.angle or len(segment.words) > _LONGEST_UNDERLINED or segment.bullet or "." in segment.text:
            continue
        under = any(
            abs(r.x0 - segment.x0) <= 1.5
            and abs(r.x1 - segment.x1) <= 1.5
            and segment.base < r.top < segment.base + 0.35 * segment.size
            for r in levels
        )
        if under and not any(s is not segment and abs(s.base - segment.base) < 2 for s in segments):
            segment.barred = True


def free_bars(page: Page, segments: Sequence[Segment]) -> list[Box]:
    """The filled bars with a lone heading that no other level rule stands close beneath: they part no table's rows."""
    bars = [p.box for p in page.marks.panels if len(_in_bar(p, segments)) == 1 and not _is_cell(p, page.marks.panels)]
    rules = [r for r in page.marks.rules if r.level and not any(is_border_of(r, bar) for bar in bars)]
    return [
        bar
        for bar in bars
        if not any(bar[3] - 1 < r.top < bar[3] + _NEAR and r.x0 < bar[2] - 2 and r.x1 > bar[0] + 2 for r in rules)
    ]


def is_border_of(rule: Rule, box: Box) -> bool:
    """Whether a level rule is a box's upper or lower border."""
    level = abs(rule.top - box[1]) <= 1.5 or abs(rule.top - box[3]) <= 1.5
    return rule.level and level and abs(rule.x0 - box[0]) <= 1.5 and abs(rule.x1 - box[2]) <= 1.5


def _is_cell(panel: Panel, panels: Sequence[Panel]) -> bool:
    """Whether a panel of the same colour stands straight beside another: a head among a table's."""
    x0, top, x1, bottom = panel.box
    return any(
        p.fill == panel.fill
        and abs(p.box[1] - top) <= 1.5
        and abs(p.box[3] - bottom) <= 1.5
        and min(abs(p.box[0] - x1), abs(p.box[2] - x0)) <= 2
        for p in panels
        if p.box != panel.box
    )


def _in_bar(panel: Panel, segments: Sequence[Segment]) -> list[Segment]:
    """The heading in a filled panel that is a bar wider than its words, in one part or two; else nothing."""
    x0, top, x1, bottom = panel.box
    if panel.fill is None or bottom - top > 60 or x1 - x0 < 40:
        return []
    within = [s for s in segments if not s.angle and inside(s, panel.box, 0.0)]
    if not within or bottom - top > _BAR * within[0].size:
        return []
    bases = [s.base for s in within]
    if max(bases) - min(bases) > 2 or len(within) > 2 or not (within[0].bold or is_light(within[0])):
        return []
    return within if x1 - x0 > 1.15 * (within[-1].x1 - within[0].x0) else []


def is_light(segment: Segment) -> bool:
    """Whether type is nearly white: it stands on a dark ground."""
    return min(segment.color) >= 200


def gather_boxes(page: Page, grids: Sequence[Grid], segments: Sequence[Segment]) -> list[Element]:
    """The page's elements, those inside a drawn box gathered into it."""
    elements: list[Element] = [*grids, *segments]
    area = page.width * page.height
    panels = sorted({p.box: p for p in page.marks.panels}.values(), key=lambda p: _area(p.box))
    for panel in panels:
        box = panel.box
        if not 900 < _area(box) < 0.6 * area or box[3] - box[1] < 14:
            continue
        within = [e for e in elements if _within(e, box)]
        texts = [e for e in within if isinstance(e, Segment)]
        if len(within) == 1 and not (texts and panel.outlined and not texts[0].barred):
            continue
        if not within or any(_crosses(e, box) for e in elements if e not in within):
            continue
        if len({round(t.base) for t in texts}) < 2 and len(within) == len(texts) and not panel.outlined:
            continue
        kept = [e for e in elements if not any(e is w for w in within)]
        elements = [*kept, Boxed(page.number, box, within)]
    return elements


def _area(box: Box) -> float:
    return (box[2] - box[0]) * (box[3] - box[1])


def _within(element: Element, box: Box) -> bool:
    if isinstance(element, Segment):
        over = max(3.0, _OVERFLOW * (element.x1 - element.x0))  # text set a little too wide for its box
        return box[0] - 1 <= element.x0 and element.x1 <= box[2] + over and inside(element, box, 0.5)
    b = element.box
    return box[0] - 1.5 <= b[0] and b[2] <= box[2] + 1.5 and box[1] - 1.5 <= b[1] and b[3] <= box[3] + 1.5


def _crosses(element: Element, box: Box) -> bool:
    """Whether an element lies across the border of box: then the box is a backdrop, not a frame."""
    middle = (element.ink_top + element.ink_bottom) / 2
    return box[1] < middle < box[3] and element.x0 < box[2] - 3 and element.x1 > box[0] + 3

"""Rules and filled areas on a picture of a page, by its ink: what a table is told by."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import cv2

from extract.claims import Box
from extract.reading.marks import MOST_EDGES, Marks, Panel, Rule
from extract.reading.recognised import Picture, Shown

_LEAST_RULE = 14.0
"""Points: a shorter stroke is no rule."""
_LEAST_SIDE = 2.5
"""Points: how much of a filled area is left over and under the letters on it."""
_LEAST_AREA = 7.0
"""Points: a lower filled area is a rule."""
_DARK, _PAPER = 140, 247
_MOST_FOUND = 2000


def marks_of(picture: Picture, shown: Shown, points: float) -> Marks:
    """Rules and panels in displayed coordinates of the straightened page. points: how wide a pixel is."""
    filled = _filled(picture.grey, points)
    rules = _rules(picture, points, [box for box, dark in filled if dark])
    marks = Marks()
    for rule in rules[:MOST_EDGES]:
        x0, top, x1, bottom = shown((rule.x0, rule.top, rule.x1, rule.bottom))
        marks.rules.append(Rule(x0, top, x1, bottom))
    for box, dark in filled:
        x0, top, x1, bottom = area = shown(box)
        level = 70 if dark else 235
        marks.panels.append(Panel(area, (level, level, level), False))
        for edge in ((x0, top, x1, top), (x0, bottom, x1, bottom), (x0, top, x0, bottom), (x1, top, x1, bottom)):
            marks.rules.append(Rule(*edge, soft=True))
    marks.cut = len(rules) > MOST_EDGES
    return marks


def _kernel(wide: float, tall: float) -> Any:
    return cv2.getStructuringElement(cv2.MORPH_RECT, (max(int(wide), 1), max(int(tall), 1)))


def _boxes(mask: Any) -> list[tuple[int, int, int, int, int]]:
    """x, y, width, height and area in pixels of each patch."""
    count, _, stats, _ = cv2.connectedComponentsWithStats(mask, connectivity=8)
    return [(int(x), int(y), int(w), int(h), int(a)) for x, y, w, h, a in stats[1 : min(count, _MOST_FOUND)]]


def _filled(grey: Any, points: float) -> list[tuple[Box, bool]]:
    """Filled areas in pixels, and whether each is dark."""
    least = _LEAST_RULE / points
    found: list[tuple[Box, bool]] = []
    smooth = cv2.medianBlur(grey, 5)
    for dark in (True, False):
        mask = cv2.inRange(smooth, 0, _DARK) if dark else cv2.inRange(smooth, _DARK + 1, _PAPER)
        solid = cv2.morphologyEx(mask, cv2.MORPH_OPEN, _kernel(least, _LEAST_SIDE / points))
        solid = cv2.morphologyEx(solid, cv2.MORPH_CLOSE, _kernel(least, least / 2))
        for x, y, wide, tall, area in _boxes(solid):
            if tall * points >= _LEAST_AREA and area > 0.75 * wide * tall:
                found.append(((float(x), float(y), float(x + wide), float(y + tall)), dark))
    return found


def _rules(picture: Picture, points: float, bands: list[Box]) -> list[Rule]:
    """Rules in pixels. What crosses a line of text is a stroke of its letters; dark bands show none."""
    ink = cv2.adaptiveThreshold(picture.grey, 255, cv2.ADAPTIVE_THRESH_MEAN_C, cv2.THRESH_BINARY_INV, 41, 12)
    edge = 22
    for x0, top, x1, bottom in bands:
        ink[max(int(top) - 2, 0) : int(bottom) + 3, max(int(x0) - edge, 0) : int(x1) + edge] = 0
    least = int(_LEAST_RULE / points)
    texts = [line.around for line in picture.lines]
    rules = []
    for level in (True, False):
        kept = cv2.morphologyEx(ink, cv2.MORPH_OPEN, _kernel(least, 1) if level else _kernel(1, least))
        kept = cv2.morphologyEx(kept, cv2.MORPH_CLOSE, _kernel(least, 1) if level else _kernel(1, least))
        for x, y, wide, tall, _ in _boxes(kept):
            long, thick = (wide, tall) if level else (tall, wide)
            if thick > 0.4 * least or long < 4 * thick:
                continue
            middle = y + tall / 2 if level else x + wide / 2
            rule = Rule(x, middle, x + wide, middle) if level else Rule(middle, y, middle, y + tall)
            if not any(_within(rule, text) for text in texts):
                rules.append(rule)
    return [_through(rule, bands, 4 / points) for rule in rules]


def _within(rule: Rule, text: Box) -> bool:
    x0, top, x1, bottom = text
    tall = bottom - top
    if rule.level:
        return top + 0.15 * tall < rule.top < bottom - 0.15 * tall and min(rule.x1, x1) - max(rule.x0, x0) > 0.6 * (
            rule.x1 - rule.x0
        )
    return x0 + 2 < rule.x0 < x1 - 2 and min(rule.bottom, bottom) - max(rule.top, top) > 0.5 * (rule.bottom - rule.top)


def _through(rule: Rule, bands: list[Box], near: float) -> Rule:
    """An upright rule that ends at a dark band goes on through it: the band hides it."""
    if rule.level:
        return rule
    for x0, top, x1, bottom in bands:
        if x0 - near <= rule.x0 <= x1 + near:
            if abs(rule.top - bottom) <= near:
                rule = replace(rule, top=top)
            elif abs(rule.bottom - top) <= near:
                rule = replace(rule, bottom=bottom)
    return rule

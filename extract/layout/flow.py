"""Pages -> one sequence of paragraphs and tables in reading order, running heads left out, broken paragraphs joined."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from extract.layout.boxes import gather_boxes, mark_bars, mark_underlined
from extract.layout.carried import carried_row, carries_on, with_heads_left_behind
from extract.layout.cells import kind_of
from extract.layout.close_columns import cut_like_neighbours
from extract.layout.forms import as_heading, form_rows, is_form
from extract.layout.keys import join_keys
from extract.layout.led import find_led
from extract.layout.lists_beside import lists_beside
from extract.layout.narrow import find_narrow
from extract.layout.nested import nested_rows
from extract.layout.numbered import without_numbers
from extract.layout.order import Region, arrange
from extract.layout.paragraphs import Paragraph, ParagraphKind, Style, paragraphs_of, usual_style
from extract.layout.pieces import Boxed, Element, Grid, Segment, segments_of
from extract.layout.ruled import find_ruled
from extract.reading.pages import Page
from extract.reading.words import PrintedLine

_TERMINAL = re.compile(r"[.!?:]['\"”’)\]]*$")
_SENTENCES = re.compile(r"[a-z)]\.\s+[A-Z]")
_NARROW = 0.34
_SENTENCE = 6
"""Words: a short text of so many with a full stop is a sentence, no caption."""
_LONGEST_VALUE = 12
"""Words of what a label names; more, with a full stop, is text under a heading."""
_LEAST_PAIRS = 3
"""In a row: fewer small lines over larger ones are chance."""
_LONGEST_CELL = 700
"""Characters. A grid with a longer cell lays out a page; it is no table."""

Item = Paragraph | Grid


@dataclass(slots=True)
class Flow:
    items: list[Item]
    style: Style
    segments: list[Segment]


def flow_of(pages: Sequence[Page], text_lines: dict[int, list[PrintedLine]]) -> Flow:
    """All pages' items in reading order. Segments get the line numbers that their glyphs will carry."""
    per_page: list[tuple[Page, list[Segment]]] = []
    number = 0
    everything: list[Segment] = []
    for page in pages:
        segments = cut_like_neighbours(segments_of(page, text_lines[page.number]))
        for segment in segments:
            number += 1
            segment.line = number
        per_page.append((page, segments))
        everything.extend(segments)
    style = usual_style(everything)
    items: list[Item] = []
    for page, segments in per_page:
        grids, rest = find_ruled(page, segments)
        led, rest = find_led(rest)
        grids.extend(led)
        narrow, rest = find_narrow(rest)
        grids.extend(narrow)
        grids = [without_numbers(g) for g in grids]
        before = items[-1] if items and isinstance(items[-1], Grid) else None
        layouts = [g for g in grids if _is_layout(g) and not carries_on(before, g, rest)]
        grids = [g for g in grids if g not in layouts]
        if not grids:
            carried, rest = carried_row(before, page.number, rest)
            grids.extend([carried] if carried is not None else [])
        rest = join_keys(grids, rest)
        mark_bars(page, rest)
        mark_underlined(page, rest)
        elements = gather_boxes(page, grids, rest)
        for grid in layouts:
            elements.extend(Boxed(page.number, grid.box, list(cell.segments)) for cell in grid.cells if cell.segments)
        for region in arrange(page, [e for e in elements if not _is_turned(e)]):
            _add(page, region, style, items)
        _add_turned(page, [e for e in elements if isinstance(e, Segment) and e.angle], items)
    return Flow(_joined(with_heads_left_behind(items)), style, everything)


def _is_turned(element: Element) -> bool:
    return isinstance(element, Segment) and element.angle != 0


def _is_layout(grid: Grid) -> bool:
    """Whether a grid only places blocks of text beside one another."""
    if grid.rows == 1:
        return True
    return any(sum(len(s.text) for s in cell.segments) > _LONGEST_CELL for cell in grid.cells)


def _add_turned(page: Page, segments: Sequence[Segment], items: list[Item]) -> None:
    """Turned text outside tables, line by line, after the page's upright text."""
    for segment in segments:
        region = Region([segment], segment.x0, segment.x1, boxed=True)
        for paragraph in paragraphs_of(region, [segment], Style(segment.size)):
            paragraph.kind = ParagraphKind.TEXT
            items.append(paragraph)


def _add(page: Page, region: Region, style: Style, items: list[Item]) -> None:
    if len(region.elements) == 1 and isinstance(region.elements[0], Boxed):
        for inner in arrange(page, region.elements[0].content, boxed=True):
            _add(page, inner, style, items)
        _end(items)
        return
    run: list[Segment] = []
    narrow = region.x1 - region.x0 < _NARROW * page.width
    for element in [*region.elements, None]:
        if isinstance(element, Segment):
            run.append(element)
            continue
        made = paragraphs_of(region, run, style)
        for paragraph in made:
            paragraph.narrow = narrow
        if narrow or region.boxed or region.x1 - region.x0 < 0.45 * page.width:
            made = _with_labels(made)
        items.extend(_with_captions(made) if narrow else made)
        run = []
        if isinstance(element, Grid) and (parts := _parts_of(page, element, style)):
            for part in parts:
                part.scope = part.scope or len(items) + 1
            items.extend(parts)
        elif isinstance(element, Grid):
            element.boxed = region.boxed
            items.append(element)
        elif isinstance(element, Boxed):
            _add(page, Region([element], element.x0, element.x1, boxed=True), style, items)
    _end(items)


def _parts_of(page: Page, grid: Grid, style: Style) -> list[Item]:
    """The texts under heads that a table is read as, where it is lists side by side or a form; else empty."""
    out: list[Item] = []
    if lists := lists_beside(grid):
        for found in lists:
            out.extend(as_heading(found.head))
            for cell in found.cells:
                out.extend(_items_of(page, cell, style))
    elif nested := nested_rows(grid):
        for label, held in nested:
            if isinstance(held, Grid):
                out.extend([*as_heading(label), held])
            else:
                _add_form_row(page, label, held, style, out)
    elif is_form(grid):
        for label, content in form_rows(grid):
            _add_form_row(page, label, content, style, out)
    return out


def _items_of(page: Page, cell: list[Segment], style: Style) -> list[Item]:
    """What stands in a list's cell: its items, or one item where it has no signs."""
    made: list[Item] = []
    for region in arrange(page, cell):
        _add(page, region, style, made)
    for item in made:
        if isinstance(item, Paragraph) and item.kind is not ParagraphKind.BULLET:
            item.kind = ParagraphKind.BULLET
    return made


def _add_form_row(page: Page, label: list[Segment], content: list[Segment], style: Style, items: list[Item]) -> None:
    """A row of a form: its label heads what stands beside it."""
    heads = as_heading(label) if label else []
    items.extend(heads)
    made: list[Item] = []
    for region in arrange(page, content):
        _add(page, region, style, made)
    plain = [i for i in made if isinstance(i, Paragraph) and i.kind in (ParagraphKind.TEXT, ParagraphKind.CAPTION)]
    if heads and len(plain) == len(made):
        for paragraph in plain:
            paragraph.label = heads[0]
    items.extend(made)


def _end(items: list[Item]) -> None:
    if items and isinstance(items[-1], Paragraph):
        items[-1].ends_region = True


def _with_labels(made: list[Paragraph]) -> list[Paragraph]:
    """Short bold lines that each name the plain line below become its label, where several pairs stand together."""
    pairs = [n for n in range(len(made) - 1) if _is_pair(made[n], made[n + 1]) and not _goes_on(made, n + 1)]
    told = sum(1 for n in pairs if _tells(made[n + 1]))
    if len(pairs) < 2 or told > 0.5 * len(pairs):
        return _with_small_labels(made)
    out: list[Paragraph] = []
    for n, paragraph in enumerate(made):
        if n in pairs:
            continue
        if n - 1 in pairs:
            paragraph.label = made[n - 1]
        out.append(paragraph)
    return out


def _with_small_labels(made: list[Paragraph]) -> list[Paragraph]:
    """Small or coloured lines that by turns name the larger ones below become their labels, in runs of several."""
    pairs = [n for n in range(len(made) - 1) if _is_small_pair(made[n], made[n + 1])]
    runs: list[list[int]] = []
    for n in pairs:
        if runs and n - runs[-1][-1] == 2:
            runs[-1].append(n)
        elif not runs or n - runs[-1][-1] > 2:
            runs.append([n])
    named = {n for run in runs if len(run) >= _LEAST_PAIRS for n in run}
    out: list[Paragraph] = []
    for n, paragraph in enumerate(made):
        if n in named:
            continue
        if n - 1 in named:
            paragraph.label, paragraph.kind = made[n - 1], ParagraphKind.TEXT
        out.append(paragraph)
    return out


def _is_small_pair(above: Paragraph, below: Paragraph) -> bool:
    first, second = above.lines[0], below.lines[0]
    plain = above.kind is ParagraphKind.TEXT and below.kind in (ParagraphKind.TEXT, ParagraphKind.HEADING)
    set_off = above.size <= 0.92 * below.size or (
        first.first.color != second.first.color and abs(above.size - below.size) < 0.06 * below.size
    )
    return (
        plain
        and set_off
        and len(above.lines) == 1
        and len(above.text.split()) <= _SENTENCE
        and above.text[:1].isalpha()
        and not above.text.endswith(".")
        and len(below.lines) <= 2
        and not second.first.barred
        and len(below.text.split()) <= _LONGEST_VALUE
        and 0 < second.base - first.base < 1.9 * below.size
    )


def _tells(paragraph: Paragraph) -> bool:
    """Whether a paragraph is told in sentences rather than a figure or a few words."""
    words = len(paragraph.text.split())
    sentences = bool(_SENTENCES.search(paragraph.text))
    return paragraph.text.rstrip().endswith(".") and words > (_SENTENCE if sentences else _LONGEST_VALUE)


def _goes_on(made: Sequence[Paragraph], n: int) -> bool:
    """Whether another plain text follows straight under a paragraph: then what stands over both heads them."""
    if n + 1 >= len(made) or made[n + 1].bold or made[n + 1].kind is ParagraphKind.HEADING:
        return False
    above, below = made[n].lines[-1], made[n + 1].lines[0]
    return above.page == below.page and 0 < below.base - above.base < 1.5 * below.size


def _is_pair(above: Paragraph, below: Paragraph) -> bool:
    return (
        above.kind in (ParagraphKind.TEXT, ParagraphKind.HEADING)
        and above.bold
        and len(above.lines) == 1
        and not above.lines[0].first.barred
        and below.kind is ParagraphKind.TEXT
        and not below.bold
        and len(below.lines) <= 3
        and abs(above.size - below.size) < 0.06 * below.size
        and below.lines[0].base - above.lines[0].base < 1.7 * below.size
    )


def _with_captions(made: list[Paragraph]) -> list[Paragraph]:
    """In a narrow column, short plain lines that stand close together become one caption."""
    out: list[Paragraph] = []
    for paragraph in made:
        last = out[-1] if out else None
        if not _is_caption_line(paragraph):
            out.append(paragraph)
        elif last is not None and last.kind is ParagraphKind.CAPTION and _close(last, paragraph):
            last.lines.extend(paragraph.lines)
        else:
            paragraph.kind = ParagraphKind.CAPTION
            out.append(paragraph)
    return out


def _is_caption_line(paragraph: Paragraph) -> bool:
    text = paragraph.text
    if text.endswith(".") and (len(text.split()) >= _SENTENCE or not any(c.isdigit() for c in text)):
        return False
    short = all(len(line.text.split()) <= 7 for line in paragraph.lines) and not paragraph.text.endswith(":")
    return (
        paragraph.kind is ParagraphKind.TEXT
        and short
        and len(paragraph.lines) <= 3
        and (not paragraph.bold or kind_of(text) == "figure")
        and paragraph.label is None
    )


def _close(above: Paragraph, below: Paragraph) -> bool:
    a, b = above.lines[-1], below.lines[0]
    return a.page == b.page and 0 < b.base - a.base < 1.6 * b.size and abs(a.size - b.size) < 0.5


def _joined(items: list[Item]) -> list[Item]:
    """Paragraphs that break off at the end of a column or page get back what carries them on."""
    out: list[Item] = []
    for item in items:
        if isinstance(item, Paragraph) and item.kind is ParagraphKind.TEXT and not item.boxed:
            home = _broken_off(out, item)
            if home is not None:
                home.lines.extend(item.lines)
                home.ends_region = item.ends_region
                continue
        out.append(item)
    return out


def _broken_off(out: list[Item], item: Paragraph) -> Paragraph | None:
    first = item.text[:1]
    if not out or not (first.islower() or first.isdigit() or first in "(±≥≤"):
        return None
    for candidate in reversed(out[-5:]):
        if not isinstance(candidate, Paragraph) or candidate.kind is ParagraphKind.HEADING:
            return None
        if candidate.boxed or candidate.size < 0.93 * item.size:
            continue  # a side note or a footnote stands between
        if not candidate.ends_region or candidate.kind is ParagraphKind.CAPTION:
            return None
        text = candidate.text
        unfinished = not _TERMINAL.search(text) and (first.islower() or len(text) > 60)
        same = abs(candidate.size - item.size) < 0.06 * item.size and candidate.bold == item.bold
        return candidate if unfinished and same else None
    return None

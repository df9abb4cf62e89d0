"""Tables that are drawn with rules: pdfplumber's finder on PDFium's lines, open sides closed first."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from pdfplumber.table import cells_to_tables, edges_to_intersections, intersections_to_cells, merge_edges

from extract.claims import Box
from extract.layout.banded import grid_of_bands
from extract.layout.between import begins_anew
from extract.layout.boxes import free_bars, is_border_of
from extract.layout.capped import capped
from extract.layout.form_bands import form_of_bands
from extract.layout.level_rows import columned
from extract.layout.open_row import with_open_heads, with_open_row
from extract.layout.pieces import Grid, GridCell, Segment, gaps_between, inside
from extract.layout.printed_rows import with_printed_rows
from extract.layout.sides import SHORTEST, Edge, edge_of, missing_sides, parted_uprights, same_reach, underscores
from extract.layout.touching import stacked, steps
from extract.layout.turned import crowned, find_turned
from extract.reading.marks import Panel, Rule
from extract.reading.pages import Page

_MOST_CROSSINGS = 2_000
_SNAP = 2.5
_TALL = 45.0
"""Points: rows that are usually higher hold whole texts or tables."""
_HEAD_ROW = 22.0
"""Points: how far above the first rule a line of heads may stand."""


def find_ruled(page: Page, segments: Sequence[Segment]) -> tuple[list[Grid], list[Segment]]:
    """The drawn tables of a page and the segments outside them: first those closed by rules, then the open ones."""
    hard = [edge_of(r) for r in page.marks.rules if not r.soft and _long_enough(r)]
    merged: list[Edge] = merge_edges(hard, _SNAP, _SNAP, 3, 3) if hard else []
    broken = parted_uprights(hard, segments)
    merged = merge_edges(merged + broken, _SNAP, _SNAP, 3, 3) if broken else merged
    merged = merged + missing_sides(merged, segments)
    bars = free_bars(page, segments)
    soft = [
        edge_of(r)
        for r in page.marks.rules
        if r.soft and r.level and _long_enough(r) and not any(is_border_of(r, bar) for bar in bars)
    ]
    shades = [e for e in merge_edges(soft, _SNAP, _SNAP, 3, 3) if _between_sides(e, merged)] if soft else []
    grids, rest = _from_edges(
        page, merge_edges(merged + shades, _SNAP, _SNAP, 3, 3) if shades else merged, list(segments)
    )
    grids, rest = with_open_row(grids, [e for e in hard if e["orientation"] == "h"], rest)
    grids, rest = with_open_heads(grids, rest)
    grids, rest = capped(grids, page.marks.panels, rest)
    grids, rest = crowned(grids, rest)
    upright, rest = find_turned(page, rest)
    grids.extend(upright)
    levels = [e for e in merged if e["orientation"] == "h"] + soft
    levels = [e for e in levels if not any(_lies_in(e, g.box) for g in grids)]
    if levels:
        uprights = [e for e in merged if e["orientation"] == "v"]
        within = [edge for g in grids for edge in _ends_between(g, levels)]
        closed = _close_sides(merge_edges(levels + within, _SNAP, _SNAP, 3, 3), uprights, rest)
        more, rest = with_open_heads(*_from_edges(page, closed, rest))
        grids.extend(more)
    return grids, rest


def _between_sides(edge: Edge, merged: Sequence[Edge]) -> bool:
    """Whether the border of a shaded row runs from one upright rule to another: it parts rows like a rule."""

    def side(x: float) -> bool:
        return any(
            e["orientation"] == "v" and abs(e["x0"] - x) <= 3 and e["top"] - 2 <= edge["top"] <= e["bottom"] + 2
            for e in merged
        )

    return side(edge["x0"]) and side(edge["x1"])


def _from_edges(page: Page, edges: list[Edge], rest: list[Segment]) -> tuple[list[Grid], list[Segment]]:
    upright = sum(1 for e in edges if e["orientation"] == "v")
    if upright < 2 or upright * (len(edges) - upright) > 60 * _MOST_CROSSINGS:
        return [], rest
    crossings = edges_to_intersections(edges, 2, 2)
    if len(crossings) > _MOST_CROSSINGS:
        return [], rest
    grids: list[Grid] = []
    cells = intersections_to_cells(crossings)
    tables = cells_to_tables(cells)
    alone = set(cells).difference(*tables)
    page.marks.panels.extend(Panel(box, None, True) for box in sorted(alone))
    for table in tables:
        for boxes in stacked(table, rest):
            grid = _grid(page, boxes, rest)
            if grid is not None:
                grids.append(grid)
                rest = [s for s in rest if not inside(s, grid.box)]
    return grids, rest


def _ends_between(grid: Grid, levels: Sequence[Edge]) -> list[Edge]:
    """The head and foot of a table that stands among level rules of its own reach: it parts the rows round it."""
    ends = [edge_of(Rule(grid.x0, y, grid.x1, y)) for y in (grid.box[1], grid.box[3])]
    beside = [e["top"] for e in levels if same_reach(e, ends[0])]
    return ends if any(y < grid.box[1] for y in beside) and any(y > grid.box[3] for y in beside) else []


def _lies_in(edge: Edge, box: Box) -> bool:
    return bool(box[1] - 2 <= edge["top"] <= box[3] + 2 and edge["x0"] < box[2] - 2 and edge["x1"] > box[0] + 2)


def _long_enough(rule: Rule) -> bool:
    return rule.x1 - rule.x0 >= SHORTEST if rule.level else rule.bottom - rule.top >= 4.0


def _close_sides(levels: list[Edge], uprights: list[Edge], segments: Sequence[Segment]) -> list[Edge]:
    """The level rules that stack up with a table between them, their ends closed, and the upright rules among them."""
    out: list[Edge] = []
    left = sorted(levels, key=lambda e: (e["x0"], e["top"]))
    while left:
        first = left[0]
        stack = [e for e in left if same_reach(e, first)]
        ids = {id(e) for e in stack}
        left = [e for e in left if id(e) not in ids]
        stack.sort(key=lambda e: e["top"])
        heads = [underscores(e, levels, segments) for e in stack]
        for found in _table_runs(stack, segments, heads):
            run = _with_open_ends(found, segments)
            if len(found) == 2 and len(run) > 2 and _goes_on_below(run, segments):
                continue  # a shaded line of heads over rows that nothing parts
            top, bottom = run[0]["top"], run[-1]["top"]
            x0, x1 = min(e["x0"] for e in run), max(e["x1"] for e in run)
            for edge in run:
                edge["x0"], edge["x1"] = x0, x1
            inner = [
                e for e in uprights if x0 + 4 < e["x0"] < x1 - 4 and e["top"] < bottom - 3 and e["bottom"] > top + 3
            ]
            out.extend((*run, *inner, edge_of(Rule(x0, top, x0, bottom)), edge_of(Rule(x1, top, x1, bottom))))
    return out


def _table_runs(stack: list[Edge], segments: Sequence[Segment], heads: Sequence[bool]) -> list[list[Edge]]:
    """Runs of rules with rows of a table between each two: several cells a row, now and then a row of one.

    heads tells which rules underscore a heading: a run may begin with such a one, but never go on to it.
    """
    runs: list[list[Edge]] = []
    current: list[Edge] = []
    pending: list[Edge] = []
    lines = [_lines_between(a, b, segments) for a, b in itertools.pairwise(stack)]
    shares = columned([_upright_between(a, b, segments) for a, b in itertools.pairwise(stack)], _width(stack))
    for n, (above, below) in enumerate(itertools.pairwise(stack)):
        kind = "prose" if _holds_more(lines, n) else _between(above, below, segments)
        if kind != "several" and shares[n]:
            kind = "several"
        printed = _rows_between(above, below, segments)
        over = _rows_between(current[0], current[-1], segments) if current else []
        under = _rows_between(below, stack[n + 2], segments) if n + 2 < len(stack) else []
        if heads[n + 1] or begins_anew(printed, over, under):
            kind = "prose"
        if kind == "several":
            if not current:
                current = [*_headed_group(stack, n, segments), above]
            current.extend(pending)
            pending = []
            current.append(below)
        elif kind == "one" and not current and _is_head_alone(above, below, segments):
            current = [above, below]
        elif (kind == "one" and current) or (kind == "none" and current and below["top"] - above["top"] <= 4):
            pending.append(below)
        else:
            runs.append(current)
            current, pending = [], []
    runs.append(current)
    return [run for run in runs if len(run) >= 2]


def _headed_group(stack: Sequence[Edge], n: int, segments: Sequence[Segment]) -> list[Edge]:
    """The rule under a table's heads where a line that heads the first rows stands between it and the rule at n."""
    if n == 0 or stack[n]["top"] - stack[n - 1]["top"] > _HEAD_ROW:
        return []
    group = _rows_between(stack[n - 1], stack[n], segments)
    row = stack[n + 1]["top"] - stack[n]["top"]
    over = {**stack[n - 1], "top": stack[n - 1]["top"] - 1.2 * min(row, _HEAD_ROW)}
    heads = _rows_between(over, stack[n - 1], segments)
    lone = len(group) == 1 == len(group[0]) and not group[0][0].text.rstrip().endswith(".")
    return [stack[n - 1]] if lone and len(heads) == 1 < len(heads[0]) and all(s.bold for s in heads[0]) else []


def _width(stack: Sequence[Edge]) -> float:
    return float(stack[0]["x1"] - stack[0]["x0"]) if stack else 0.0


def _upright_between(above: Edge, below: Edge, segments: Sequence[Segment]) -> list[Segment]:
    box: Box = (above["x0"], above["top"], above["x1"], below["top"])
    return [s for s in segments if not s.angle and inside(s, box, 0.0)]


def _lines_between(above: Edge, below: Edge, segments: Sequence[Segment]) -> int:
    bases = sorted(s.base for s in _upright_between(above, below, segments))
    return sum(1 for n, base in enumerate(bases) if n == 0 or base - bases[n - 1] > 3)


def _holds_more(lines: Sequence[int], n: int) -> bool:
    """Whether rules that part single rows leave several lines between two of them: what stands between two tables."""

    def single(*places: int) -> bool:
        return all(0 <= i < len(lines) and 1 <= lines[i] <= 2 for i in places)

    return lines[n] >= 4 and (single(n - 1, n - 2) or single(n + 1, n + 2))


def _with_open_ends(run: list[Edge], segments: Sequence[Segment]) -> list[Edge]:
    """The run with a rule added where a row stands on beyond its first or last one (a shaded table's white row)."""
    heights = sorted(b["top"] - a["top"] for a, b in itertools.pairwise(run) if b["top"] - a["top"] > 6)
    if not heights:
        return run
    height = heights[len(heights) // 2]
    if height > _TALL and _is_form(run, segments):
        return [*_open_chapter(run, segments), *run]
    if len(run) == 2 and height > 1.6 * _HEAD_ROW and _lines_between(run[0], run[1], segments) < 3:
        return run  # a band over the page, no row
    height = min(height, _HEAD_ROW)
    last = _upright_between(run[-2], run[-1], segments)
    for end, step in ((run[-1], height), (run[0], -height)):
        edge = {**end, "top": end["top"] + step, "bottom": end["top"] + step}
        first, second = (end, edge) if step > 0 else (edge, end)
        reach = [s for s in segments if inside(s, (first["x0"], first["top"], first["x1"], second["top"]), 0.0)]
        if step > 0 and reach and all(s.bold for s in reach) and not all(s.bold for s in last):
            continue  # headings side by side of what follows
        if len({round(s.base) for s in reach}) == 1 and _between(first, second, segments) == "several":
            run = [*run, edge] if step > 0 else [edge, *run]
    return run


def _is_form(run: Sequence[Edge], segments: Sequence[Segment]) -> bool:
    groups = [g for a, b in itertools.pairwise(run) if (g := _upright_between(a, b, segments))]
    box: Box = (run[0]["x0"], run[0]["top"], run[0]["x1"], run[-1]["top"])
    return form_of_bands(0, box, groups) is not None


def _open_chapter(run: Sequence[Edge], segments: Sequence[Segment]) -> list[Edge]:
    """A rule over the first row of a form whose rules stand under its rows: over the bold label above the run."""
    inside_run = _upright_between(run[0], run[-1], segments)
    left = min((s.x0 for s in inside_run if s.bold), default=None)
    above = [s for s in segments if not s.angle and s.base < run[0]["top"] and run[0]["x0"] - 2 <= s.x0 < run[0]["x1"]]
    labels = [s for s in above if left is not None and abs(s.x0 - left) <= 2]
    first = max(labels, key=lambda s: s.base, default=None)
    if first is None or not first.bold:
        return []
    top = min(first.ink_top, *(s.ink_top for s in above if abs(s.base - first.base) < first.size)) - 2
    return [{**run[0], "top": top, "bottom": top}]


def _goes_on_below(run: list[Edge], segments: Sequence[Segment]) -> bool:
    """Whether one more row stands below the last rule, as high as the one above it."""
    last = run[-1]
    height = last["top"] - run[-2]["top"]
    edge = {**last, "top": last["top"] + 1.3 * height, "bottom": last["bottom"] + 1.3 * height}
    return _between(last, edge, segments) == "several"


def _is_head_alone(above: Edge, below: Edge, segments: Sequence[Segment]) -> bool:
    """Whether one line stands between two rules and away from the left: heads over columns set close together."""
    found = _upright_between(above, below, segments)
    aside = bool(found) and found[0].x0 > above["x0"] + 0.25 * (above["x1"] - above["x0"])
    return len(found) == 1 and aside and below["top"] - above["top"] <= _HEAD_ROW


def _between(above: Edge, below: Edge, segments: Sequence[Segment]) -> str:
    found = _upright_between(above, below, segments)
    if not found:
        return "none"
    rows = _rows_between(above, below, segments)
    lines = len(rows)
    size = max(s.size for s in found)
    if size - min(s.size for s in found) > 0.15 * size:
        return "prose"
    several = sum(1 for row in rows if len(row) > 1)
    if several and several >= 0.3 * lines:
        return "several"
    if below["top"] - above["top"] > (1.8 * lines + 1.0) * size:
        return "prose"
    if lines <= 4 and gaps_between([(s.x0, s.x1) for s in found], 9.0):
        return "several"  # a label of two lines beside a cell set between them
    if lines == 2 and _is_prose(rows, above["x1"] - above["x0"]):
        return "prose"
    return "one" if lines <= 2 else "prose"


def _is_prose(rows: Sequence[Sequence[Segment]], width: float) -> bool:
    """Whether a sentence fills its first line from side to side and goes on in the next: no row of a table."""
    first, second = rows[0][0], rows[-1][-1]
    filled = first.x1 - first.x0 >= 0.9 * width and not first.bold
    return filled and len(first.text.split()) >= 10 and second.text.rstrip().endswith(".")


def _rows_between(above: Edge, below: Edge, segments: Sequence[Segment]) -> list[list[Segment]]:
    """The printed lines between two rules, top to bottom."""
    rows: dict[int, list[Segment]] = {}
    for segment in _upright_between(above, below, segments):
        key = next((k for k in rows if abs(k - segment.base) <= 0.4 * segment.size), round(segment.base))
        rows.setdefault(key, []).append(segment)
    return [rows[key] for key in sorted(rows)]


def _grid(page: Page, boxes: list[Box], segments: Sequence[Segment]) -> Grid | None:
    xs = steps([v for b in boxes for v in (b[0], b[2])])
    ys = steps([v for b in boxes for v in (b[1], b[3])])
    if len(xs) < 2 or len(ys) < 2:
        return None
    box: Box = (xs[0], ys[0], xs[-1], ys[-1])
    within = [s for s in segments if inside(s, box)]
    if len(within) < 2:
        return None
    if len(xs) == 2:
        return grid_of_bands(page, box, ys, within)
    cells = []
    for b in boxes:
        column, column_end = _index(xs, b[0]), _index(xs, b[2])
        row, row_end = _index(ys, b[1]), _index(ys, b[3])
        if column < column_end and row < row_end:
            cells.append(GridCell(row, row_end, column, column_end, fill=_fill(page, b)))
    for segment in within:
        _home(segment, cells, xs, ys).segments.append(segment)
    if len([c for c in cells if not c.empty]) < 2:
        return None
    cells = [part for cell in cells for part in _by_columns(cell, xs)]
    grid = Grid(page.number, box, len(ys) - 1, len(xs) - 1, cells, True, tuple(xs))
    filled = _without_empty_lines(grid)
    return None if filled is None else with_printed_rows(filled)


def _by_columns(cell: GridCell, xs: list[float]) -> list[GridCell]:
    """A cell over several columns taken apart where its text stands in them, as in a head without upright rules."""
    if cell.column_end - cell.column < 2 or len(cell.segments) < 2:
        return [cell]
    homes: dict[int, list[Segment]] = {}
    for s in cell.segments:
        touched = [k for k in range(cell.column, cell.column_end) if s.x0 < xs[k + 1] - 2 and s.x1 > xs[k] + 2]
        if len(touched) != 1:
            return [cell]
        homes.setdefault(touched[0], []).append(s)
    if len(homes) < 2:
        return [cell]
    return [
        GridCell(cell.row, cell.row_end, k, k + 1, homes.get(k, []), cell.fill)
        for k in range(cell.column, cell.column_end)
    ]


def _home(segment: Segment, cells: Sequence[GridCell], xs: list[float], ys: list[float]) -> GridCell:
    """The first of the cells nearest to the segment's middle."""
    home, least = cells[0], float("inf")
    for cell in cells:
        far = _distance(segment, cell, xs, ys)
        if far < least:
            home, least = cell, far
            if far == 0:
                break
    return home


def _distance(segment: Segment, cell: GridCell, xs: list[float], ys: list[float]) -> float:
    x = (segment.x0 + segment.x1) / 2
    y = (segment.ink_top + segment.ink_bottom) / 2
    dx = max(xs[cell.column] - x, 0.0, x - xs[cell.column_end])
    dy = max(ys[cell.row] - y, 0.0, y - ys[cell.row_end])
    return dx + dy


def _index(steps: list[float], value: float) -> int:
    return min(range(len(steps)), key=lambda i: abs(steps[i] - value))


def _fill(page: Page, box: Box) -> tuple[int, int, int] | None:
    x, y = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
    found = None
    for panel in page.marks.panels:
        b = panel.box
        if panel.fill is not None and b[0] <= x <= b[2] and b[1] <= y <= b[3]:
            found = panel.fill
    return found


def _without_empty_lines(grid: Grid) -> Grid | None:
    """The grid without rows and columns in which nothing is printed (double rules, spacing columns)."""
    rows = [r for r in range(grid.rows) if any(not c.empty and c.row <= r < c.row_end for c in grid.cells)]
    columns = [k for k in range(grid.columns) if any(not c.empty and c.column <= k < c.column_end for c in grid.cells)]
    if len(columns) < 2:
        return None
    cells = []
    for c in grid.cells:
        inner_rows = [i for i, r in enumerate(rows) if c.row <= r < c.row_end]
        inner_columns = [i for i, k in enumerate(columns) if c.column <= k < c.column_end]
        if inner_rows and inner_columns:
            cells.append(
                GridCell(inner_rows[0], inner_rows[-1] + 1, inner_columns[0], inner_columns[-1] + 1, c.segments, c.fill)
            )
    edges = (*(grid.edges[k] for k in columns), grid.edges[-1])
    return Grid(grid.page, grid.box, len(rows), len(columns), cells, grid.ruled, edges)

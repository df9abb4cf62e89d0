"""Heads and feet that run over the pages, and page numbers: taken out of the text."""

from __future__ import annotations

import re
from collections import defaultdict

from extract.document import Passage
from extract.layout.ink import ink_of_line
from extract.reading.pages import Page
from extract.reading.words import PrintedLine

_HEAD, _FOOT = 0.22, 0.12
"""Shares of the page's height in which a repeated line may be a running head or foot."""
_PAGE_NUMBER = re.compile(
    r"^\W*(?:(?:page|seite|pagina|página|pag|pág|p|s|sheet|blad|blatt)\W{0,3})?\d{1,3}"
    r"(?:\s*(?:of|von|/|de|sur|van|-|\|)\s*\d{1,3})?\W*$",
    re.I,
)


def split_running(pages: list[Page]) -> tuple[dict[int, list[PrintedLine]], list[tuple[int, PrintedLine]]]:
    """The lines of each page that are its text, and the running ones with their page (each once, first page first)."""
    repeated = _repeated(pages) if len(pages) > 1 else {}
    text: dict[int, list[PrintedLine]] = {}
    running: list[tuple[int, PrintedLine]] = []
    said: set[str] = set()
    for page in pages:
        keep = []
        out_of_text = repeated.get(page.number, set())
        for line in page.lines:
            if id(line) in out_of_text or _is_page_number(line, page):
                keys = _keys(line, page.number)
                if not keys & said:
                    said |= keys
                    running.append((page.number, line))
            else:
                keep.append(line)
        text[page.number] = keep
    return text, running


def running_passage(page: int, line: PrintedLine, number: int) -> Passage:
    """A running line as a passage; number is its line number in the document."""
    return ink_of_line(line.words, page, number).passage()


def _keys(line: PrintedLine, page: int) -> set[str]:
    """The line's words, as they are and with the page's own number taken out, wherever it may stand.

    Other figures count: a table's rows differ in nothing else.
    """
    text = " ".join(w.text for w in line.words).lower()
    own = re.compile(rf"(?<!\d){page}(?!\d)")
    return {text, *(text[: m.start()] + "#" + text[m.end() :] for m in own.finditer(text))}


def _is_page_number(line: PrintedLine, page: Page) -> bool:
    if line.angle:
        return False
    at_edge = line.base > (1 - _FOOT) * page.height or line.base < 0.08 * page.height
    return at_edge and bool(_PAGE_NUMBER.match(" ".join(w.text for w in line.words)))


def _repeated(pages: list[Page]) -> dict[int, set[int]]:
    """Of each page the ids of lines that stand in the same place on another, with the same words but for figures."""
    places: dict[tuple[str, int], list[tuple[int, PrintedLine]]] = defaultdict(list)
    for page in pages:
        for line in page.lines:
            if _stands_in_grid(line, page):
                continue
            if line.angle and 0.1 * page.width < line.words[0].box[0] < 0.9 * page.width:
                continue
            where = line.base / page.height if not line.angle else 0.0
            if line.angle or where < _HEAD or where > 1 - _FOOT:
                for key in _keys(line, page.number):
                    places[(key, round(where * 200))].append((page.number, line))
    found: dict[int, set[int]] = defaultdict(set)
    for (words, at), homes in list(places.items()):
        nearby = homes + places.get((words, at + 1), []) + places.get((words, at - 1), [])
        least = 2 if len(pages) < 4 else max(2, len(pages) // 3)
        if len({number for number, _ in nearby}) >= least:
            for number, line in homes:
                found[number].add(id(line))
    return _only_at_edges(pages, found)


def _stands_in_grid(line: PrintedLine, page: Page) -> bool:
    """Whether upright rules run beside the line on both sides: then it is a table's row, repeated or not."""
    if line.angle:
        return False
    y = line.base - 0.3 * line.size
    x0, x1 = line.words[0].x0, line.words[-1].x1
    beside = [r.x0 for r in page.marks.rules if not r.level and not r.soft and r.top <= y <= r.bottom]
    return any(x < x0 + 1 for x in beside) and any(x > x1 - 1 for x in beside)


def _only_at_edges(pages: list[Page], found: dict[int, set[int]]) -> dict[int, set[int]]:
    """Keep repeated lines only as far as nothing unrepeated stands between them and the page's edge.

    A table's head that comes again on the next page in the same place is no running head.
    """
    out: dict[int, set[int]] = {}
    for page in pages:
        ids = found.get(page.number, set())
        upright = sorted((line for line in page.lines if not line.angle), key=lambda line: line.base)
        kept = {id(line) for line in page.lines if line.angle and id(line) in ids}
        head_limit = _HEAD * page.height
        for line in upright:
            if line.base > head_limit or id(line) not in ids:
                break
            kept.add(id(line))
        for line in reversed(upright):
            if line.base < page.height / 2 or id(line) not in ids:
                if _is_page_number(line, page):
                    continue
                break
            kept.add(id(line))
        out[page.number] = kept
    return out

"""Pages -> Document."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import replace

from extract.claims import PageText, PageWord
from extract.document import Block, Document, Passage, Section, Statement, StatementKind, Table
from extract.layout.carried import goes_on_plainly, with_heads_again
from extract.layout.flow import Flow, Item, flow_of
from extract.layout.folded import facts_of, is_ragged, sublabelled, unfolded, upended
from extract.layout.ink import Ink, join_lines, words_known
from extract.layout.keys import Key, Signs, read_key, signs_of
from extract.layout.language import language_of
from extract.layout.notes import Note, Notes, called_marks, split_legend, split_notes
from extract.layout.paragraphs import HeadingStyle, Paragraph, ParagraphKind
from extract.layout.pieces import Grid, Segment, segments_of
from extract.layout.running import running_passage, split_running
from extract.layout.sentences import split_sentences
from extract.layout.stacked import stacked_facts
from extract.layout.statements import (
    ListState,
    bullet_statement,
    captioned_fields,
    field_statement,
    lead_of,
    text_statements,
)
from extract.layout.tables import LaidTable, cell_ink, read_grid
from extract.layout.tabulate import continues, fields_of, is_fields, table_of
from extract.layout.tongues import with_languages
from extract.layout.trail import Trail
from extract.reading.pages import Page, Sheet
from extract.reading.words import PrintedLine

_TITLE = 1.25
"""A title's size against that of the running text."""
_IN_BAR = 2
"""A HeadingStyle's place."""
_MOST_TITLES = 8
_SMALL = 0.93
_OPENING = 8
"""Items among which a sheet's title stands."""
_LEAST_SUBTITLE = 3
"""Words."""
_KEY_REACH = 2
"""Paragraphs after a table among which the key to its signs may stand."""


def build(sheet: Sheet) -> Document:
    """The whole sheet laid out."""
    return build_pages(sheet.pages, sheet.metadata, scanned=sheet.scanned, problems=sheet.problems)


def build_pages(
    pages: Sequence[Page], metadata: Mapping[str, str], *, scanned: bool = False, problems: Sequence[str] = ()
) -> Document:
    """As build, from pages alone."""
    text_lines, running_lines = split_running(list(pages))
    flow = flow_of(pages, text_lines)
    known = words_known(" ".join(w.text for w in line.words) for page in pages for line in page.lines)
    last_number = max((s.line for s in flow.segments), default=0)
    running = tuple(running_passage(p, line, last_number + n + 1) for n, (p, line) in enumerate(running_lines))
    builder = _Builder(flow, known)
    builder.run()
    language = language_of(" ".join(p.text for p in builder.passages))
    return Document(
        blocks=tuple(with_languages(builder.blocks, language)),
        running=running,
        titles=_titles(pages, flow.style.size, last_number + len(running)),
        pages=tuple(page_text(page) for page in pages),
        metadata=tuple(sorted(metadata.items())),
        language=language,
        scanned=scanned,
        problems=tuple(problems),
    )


def page_text(page: Page) -> PageText:
    """The words of a page for search and for selecting on the page."""
    words: list[PageWord] = []
    for line in page.lines:
        # A recognised line may lie askew: there a word's own frame is not the box of its characters.
        upright = not line.angle and not page.read_as_picture
        for w in line.words:
            x0, top, x1, bottom = (w.x0, w.top, w.x1, w.bottom) if upright else w.box
            words.append(PageWord(w.text, (round(x0, 2), round(top, 2), round(x1, 2), round(bottom, 2))))
    return PageText(page.number, page.geometry, tuple(words), page.read_as_picture)


def _titles(pages: Sequence[Page], usual: float, number: int) -> tuple[Passage, ...]:
    if not pages:
        return ()
    large = _beside_large(pages[0].lines, _TITLE * usual)
    segments = [s for s in segments_of(pages[0], large) if s.size >= _TITLE * usual and not s.angle]
    segments = [s for s in segments if any(c.isalnum() for c in s.text)]
    segments.sort(key=lambda s: -round(s.size, 1))
    out = []
    for n, segment in enumerate(segments[:_MOST_TITLES]):
        segment.line = number + n + 1
        out.append(segment.ink().passage())
    return tuple(out)


def _beside_large(lines: Sequence[PrintedLine], least: float) -> list[PrintedLine]:
    """The lines that hold words of that size, and those near enough for a bullet of one to belong to the other."""
    large = [line for line in lines if any(w.size >= least for w in line.words)]
    spans = [
        (min(w.base for w in line.words) - reach, max(w.base for w in line.words) + reach)
        for line in large
        for reach in (max(w.size for w in line.words),)
    ]
    bases = [{w.base for w in line.words} for line in lines] if spans else []
    return [
        line
        for line, own in zip(lines, bases, strict=False)
        if any(low <= base <= high for base in own for low, high in spans)
    ]


class _Builder:
    """Walks the items in order and keeps what governs them: headings, leads, notes."""

    def __init__(self, flow: Flow, known: frozenset[str]) -> None:
        self.known = known
        self.size = flow.style.size
        self.items: list[Item] = flow.items
        self._called = called_marks(flow.segments)
        self.blocks: list[Block] = []
        self.passages: list[Passage] = []
        self.notes = Notes()
        self._inks: dict[int, Ink] = {}
        self._footnotes: dict[int, list[tuple[str, Ink]]] = {}
        self._legends: dict[int, tuple[Ink, ...]] = {}
        self._trail = Trail()
        self._list = ListState()
        self._ended = False
        """Whether the last list item was the last thing in its column."""
        self._above: Ink | None = None
        """The paragraph straight above, if it may introduce what comes."""
        self._number = 0
        self._last_table: tuple[int, LaidTable] | None = None
        self._since_table = 0
        self._calm_subtitles()
        self._ranks = self._rank_headings()

    def run(self) -> None:
        self._find_notes()
        for place, item in enumerate(self.items):
            if self._trail.ends(item, _TITLE * self.size):
                self._settle_heading(-1)
            self._trail.move_to(item, _TITLE * self.size)
            if isinstance(item, Grid):
                self._add_grid(item, place)
            else:
                self._add_paragraph(item, place)
        self._settle_heading(-1)

    def _calm_subtitles(self) -> None:
        """A line that says under the title what the product is, in a type of its own, heads nothing: it is text."""
        headings = [i for i in self.items if isinstance(i, Paragraph) and i.kind is ParagraphKind.HEADING]
        first = self.items[:_OPENING]
        for title, line in itertools.pairwise(first):
            if title not in headings or line not in headings or not isinstance(line, Paragraph):
                continue
            alone = sum(1 for h in headings if h.style == line.style) == 1
            below = isinstance(title, Paragraph) and title.size > 1.1 * line.size
            if below and alone and line.page == 1 and not line.bold and len(line.text.split()) >= _LEAST_SUBTITLE:
                line.kind = ParagraphKind.TEXT

    def _rank_headings(self) -> dict[HeadingStyle, int]:
        styles = {i.style for i in self.items if isinstance(i, Paragraph) and i.kind is ParagraphKind.HEADING}
        title = _TITLE * self.size

        def rank(style: HeadingStyle) -> tuple[bool, bool, float, int, bool, bool]:
            size, place, caps, bold = style
            return (size < title, size < title and place < _IN_BAR, -size, -place, not caps, not bold)

        return {style: n for n, style in enumerate(sorted(styles, key=rank))}

    def _find_notes(self) -> None:
        """Take the footnotes out of the paragraphs. Only then are their marks known everywhere else."""
        table = Signs(frozenset(), frozenset())
        since = _KEY_REACH
        for place, item in enumerate(self.items):
            if isinstance(item, Grid):
                table, since = signs_of(item), 0
            if not isinstance(item, Paragraph):
                continue
            since += 1
            key = self._key_of(item, table) if since <= _KEY_REACH else None
            if key is not None:
                since -= 1
                self._inks[place] = key.before
                self._legends[place] = key.signs
                self._footnotes[place] = list(key.notes)
                self.notes.found.extend(Note(mark, body, item.page, place) for mark, body in key.notes)
                continue
            ink = item.ink(self.known, "\n" if item.kind is ParagraphKind.CAPTION else " ")
            if item.kind in (ParagraphKind.TEXT, ParagraphKind.BULLET, ParagraphKind.CAPTION):
                whole = item.ink(self.known) if item.kind is ParagraphKind.CAPTION else ink
                small = item.size < _SMALL * self.size
                rest, notes = split_notes(whole, small, self._called)
                if item.kind is ParagraphKind.BULLET and item.mark == "*" and small:
                    rest, notes = Ink(), [("*", ink)]
                if notes:
                    ink = rest
                    self._footnotes[place] = notes
                    self.notes.found.extend(Note(key, body, item.page, place) for key, body in notes)
            self._inks[place] = ink

    def _key_of(self, item: Paragraph, table: Signs) -> Key | None:
        if item.kind is ParagraphKind.HEADING or not (table.signs or table.marks):
            return None
        return read_key(join_lines((line.ink() for line in item.lines), self.known), table)

    @property
    def section(self) -> Section:
        return self._trail.section

    def _settle_heading(self, level: int) -> None:
        """A heading that the next one replaces with nothing said under it was a sentence: file it as one."""
        passage = self._trail.settle(level, len(self.blocks))
        if passage is not None:
            self._number += 1
            self._emit(Statement(StatementKind.SENTENCE, passage, self.section, self._number))

    def _add_paragraph(self, item: Paragraph, place: int) -> None:
        ink = self._inks[place]
        if item.kind is ParagraphKind.HEADING:
            text, _ = self.notes.take(ink, item.page, place)
            self._trail.leave_section(_TITLE * self.size)
            # The heads of a table that is read as texts stand beneath the heading over it, whatever their type.
            level = self._ranks[item.style] + (len(self._ranks) if item.scope else 0)
            self._settle_heading(level)
            self._trail.push(item, level, text.passage(), len(self.blocks))
            self._list = ListState()
            self._above = None
            self._since_table += 1
            return
        self._trail.say()
        self._number += 1
        small = item.size < _SMALL * self.size
        if signs := self._legends.get(place):
            self._give_table(legend=tuple(sign.passage() for sign in signs))
        if ink.text:
            legend = split_legend(ink) if self._last_table is not None and self._since_table == 0 else []
            if legend:
                self._give_table(legend=tuple(part.passage() for part in legend))
            else:
                self._add_text(item, ink, place, small)
        for key, body in self._footnotes.get(place, ()):
            self._number += 1
            for statement in text_statements(body, item.page, self.section, self._number, Notes(), place):
                self._emit(replace(statement, mark=key))
        if not small and ink.text and place not in self._legends:
            self._since_table += 1

    def _add_text(self, item: Paragraph, ink: Ink, place: int, small: bool) -> None:
        if item.label is not None and not item.scope and item.label.style in self._ranks:
            self._settle_heading(self._ranks[item.label.style])
            self._trail.close(self._ranks[item.label.style])
        section = self.section
        if item.kind is ParagraphKind.BULLET:
            if not self._list.open:
                lead = lead_of(self._above) if self._above is not None else None
                self._list = ListState(lead, [], True)
            if self._ended:  # depths are told within a column
                self._list.parents.clear()
            self._ended = item.ends_region
            self._emit(bullet_statement(ink, item, section, self._number, self.notes, place, self._list))
            return
        self._list = ListState()
        if item.label is not None:
            label = item.label.ink(self.known)
            if len(split_sentences(ink)) == 1:
                self._emit(field_statement(label, ink, section, self._number, self.notes, place, item.page))
            else:
                for statement in text_statements(ink, item.page, section, self._number, self.notes, place):
                    self._emit(replace(statement, label=statement.label or label.passage()))
            self._above = _pointing_on(ink)
            return
        if item.kind is ParagraphKind.CAPTION and not self._footnotes.get(place):
            named = captioned_fields([line.ink() for line in item.lines])
            if named:
                for label, value in named:
                    self._emit(field_statement(label, value, section, self._number, self.notes, place, item.page))
                self._above = None
                return
            text, called = self.notes.take(ink, item.page, place)
            self._emit(Statement(StatementKind.FIELD, text.passage(), section, self._number, notes=called))
            self._above = None
            return
        made = list(text_statements(ink, item.page, section, self._number, self.notes, place))
        if small and self._last_table is not None and self._since_table == 0:
            self._give_table(notes=tuple(s.passage for s in made))
        for statement in made:
            self._emit(statement)
        self._above = None if small else ink

    def _emit(self, statement: Statement) -> None:
        if statement.passage.text and any(g is not None for g in statement.passage.origins):
            self.blocks.append(statement)
            self.passages.append(statement.passage)

    def _emit_fact(self, label: Ink, value: Ink, place: int, page: int, over: Sequence[Ink] = ()) -> None:
        """A label with its value; a row that is all label reads as a text of its own. over heads both."""
        heads = (self.notes.take(ink, page, place)[0].passage() for ink in over)
        section = Section((*self.section.headings, *heads))
        if value.text:
            self._emit(field_statement(label, value, section, self._number, self.notes, place, page))
            return
        for statement in text_statements(label, page, section, self._number, self.notes, place):
            self._emit(statement)

    def _give_table(self, *, legend: tuple[Passage, ...] = (), notes: tuple[Passage, ...] = ()) -> None:
        for index in range(len(self.blocks) - 1, -1, -1):
            table = self.blocks[index]
            if isinstance(table, Table):
                self.blocks[index] = replace(table, legend=table.legend + legend, notes=table.notes + notes)
                return

    def _add_grid(self, grid: Grid, place: int) -> None:
        self._number += 1
        self._list = ListState()
        lead = lead_of(self._above) if self._above is not None else None
        self._above = None
        if stacked := stacked_facts(grid, self.known):
            for label, value in stacked:
                self._emit_fact(label, value, place, grid.page)
            self._last_table = None
            return
        if self._carry_on(grid, place):
            return
        laid = upended(unfolded(read_grid(grid, self.known)))
        facts = sublabelled(laid)
        if not facts and (is_fields(laid) or is_ragged(laid)):
            facts = fields_of(laid) if laid.columns == 2 else facts_of(laid)
        if facts:
            for label, value, group in facts:
                over = [ink for ink in (laid.title, group) if ink is not None and ink.text]
                self._emit_fact(label, value, place, grid.page, over)
            self._above = _pointing_on(facts[-1][1])
            self._last_table = None
            return
        table = table_of(laid, self.section, self.notes, place, grid.page, self._number, lead)
        self.blocks.append(table)
        self.passages.extend(c.passage for row in table.rows for c in (row.label, *row.cells))
        self._last_table = (len(self.blocks) - 1, laid)
        self._since_table = 0

    def _carry_on(self, grid: Grid, place: int) -> bool:
        """Take a grid for the rest of the table straight before it, where it is that."""
        if self._last_table is None or self._since_table:
            return False
        at, above = self._last_table
        heads = above.heads
        again = with_heads_again(grid, heads, self._first_rows(grid, len(heads)))
        headless = bool(heads) and again is grid and goes_on_plainly(above.grid, grid)
        laid = read_grid(again, self.known, headless=headless)
        table = self.blocks[at]
        if not isinstance(table, Table) or not continues(above, laid):
            return False
        if not laid.heads or [[i.text for i in r] for r in laid.heads] == [[i.text for i in r] for r in heads]:
            laid.heads = heads
        more = table_of(laid, self.section, self.notes, place, grid.page, self._number)
        self.blocks[at] = replace(table, rows=table.rows + more.rows)
        self._last_table = (at, laid)
        self.passages.extend(c.passage for row in more.rows for c in row.cells)
        return True

    def _first_rows(self, grid: Grid, count: int) -> list[list[Ink]]:
        rows = range(min(count, grid.rows))
        cells = [[grid.at(r, c) for c in range(grid.columns)] for r in rows]
        return [[Ink() if c is None or c.empty else cell_ink(c, self.known) for c in row] for row in cells]


def _pointing_on(value: Ink) -> Ink | None:
    """A label's value that leads the list below it: 'Supports | May be applied over:'."""
    return value if value.text.rstrip().endswith(":") else None


__all__ = ["Segment", "build", "build_pages", "page_text"]

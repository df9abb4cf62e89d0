"""``python -m extract.layout FILE.pdf``: print a sheet's Document readably."""

from __future__ import annotations

import sys
from pathlib import Path

from extract.document import Cell, Document, Passage, Section, Statement, Table
from extract.layout.build import build
from extract.reading.pages import open_sheet


def _notes(notes: tuple[Passage, ...]) -> str:
    return "".join(f" [note: {n.text}]" for n in notes)


def _where(passage: Passage) -> str:
    pages = {g.page for g in passage.origins if g is not None}
    return "p" + "/".join(str(p) for p in sorted(pages))


def _cell(cell: Cell) -> str:
    return f"{cell.text}{_notes(cell.notes)}"


def _statement(s: Statement) -> str:
    out = f"  ({s.paragraph} {_where(s.passage)}) {s.kind.value}"
    if s.mark:
        out += f" {s.mark}"
    if s.lead is not None:
        out += f" lead={s.lead.text!r}"
    if s.label is not None:
        out += f" label={s.label.text!r}"
    return f"{out}: {s.passage.text!r}{_notes(s.notes)}"


def _table(t: Table) -> str:
    lines = [f"  ({t.paragraph}) table {t.title.text!r} corner={t.corner.text!r}"]
    if t.lead is not None:
        lines.append(f"      lead={t.lead.text!r}")
    lines.extend(f"      head {n}: " + " > ".join(_cell(c) for c in stack) for n, stack in enumerate(t.heads))
    for row in t.rows:
        group = f"<{row.group.text}> " if row.group.text else ""
        lines.append(f"      {group}{_cell(row.label)} | " + " | ".join(_cell(c) for c in row.cells))
    if t.legend:
        lines.append("      legend: " + " / ".join(p.text for p in t.legend))
    if t.notes:
        lines.append("      notes: " + " / ".join(p.text for p in t.notes))
    return "\n".join(lines)


def dump(document: Document) -> str:
    """The document as text, a line a statement."""
    lines = [
        f"language {document.language}, scanned {document.scanned}",
        "titles: " + " / ".join(p.text for p in document.titles),
        "running: " + " / ".join(p.text for p in document.running),
        *(f"problem: {p}" for p in document.problems),
    ]
    section: Section | None = None
    for block in document.blocks:
        if block.section != section:
            section = block.section
            lines.append("# " + " > ".join(h.text for h in section.headings))
        lines.append(_statement(block) if isinstance(block, Statement) else _table(block))
    return "\n".join(lines)


if __name__ == "__main__":
    for name in sys.argv[1:]:
        print(dump(build(open_sheet(Path(name).read_bytes()))))

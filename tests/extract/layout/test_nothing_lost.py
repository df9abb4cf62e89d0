"""Whatever stands where on a page: the layout ends, and every word is in the Document."""

from collections import Counter

from hypothesis import given, settings
from hypothesis import strategies as st
from reportlab.pdfgen.canvas import Canvas

from extract.document import Document, Statement
from tests.extract.layout.sheets import drawn

places = st.lists(
    st.tuples(st.integers(4, 50), st.integers(6, 70), st.sampled_from([8, 10, 14]), st.booleans()),
    min_size=1,
    max_size=40,
    unique_by=lambda p: (p[0] // 5, p[1]),
)


def words_of(document: Document) -> Counter[str]:
    passages = []
    for block in document.blocks:
        if isinstance(block, Statement):
            passages.append(block.passage)
            if block.label is not None:
                passages.append(block.label)
            passages.extend(block.section.headings)
        else:
            passages.extend([block.corner, block.title, *(c.passage for stack in block.heads for c in stack)])
            passages.extend([p for row in block.rows for p in (row.group, row.label.passage)])
            passages.extend(c.passage for row in block.rows for c in row.cells)
            passages.extend(block.section.headings)
    return Counter(w for p in passages for w in p.text.split())


@settings(max_examples=60, deadline=None)
@given(places)
def test_every_word_is_kept(where: list[tuple[int, int, int, bool]]) -> None:
    def draw(c: Canvas) -> None:
        for n, (x, y, size, bold) in enumerate(where):
            c.setFont("Helvetica-Bold" if bold else "Helvetica", size)
            c.drawString(x * 10, y * 11, f"w{n}q and so on it goes on.")

    document = drawn(draw)
    seen = words_of(document)
    printed = {w.text for p in document.pages for w in p.words if w.text.startswith("w") and w.text.endswith("q")}
    running = {w for p in document.running for w in p.text.split()}
    assert printed - running <= set(seen)

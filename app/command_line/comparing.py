"""`tinsheet compare`: two to six products side by side, as a table for reading or as CSV."""

from __future__ import annotations

import argparse
import csv
import sys
import textwrap
from collections.abc import Iterator, Sequence

from app.command_line.asking import unknown_words
from app.command_line.commands import MISUSED
from app.command_line.libraries import opened
from app.comparison_words import cell_words, row_words
from app.wording import topic_words
from extract.claims import Topic
from store.records import ProductRecord
from store.rules.comparison import Comparison, Material, compare
from store.rules.names import KindName, Unknown, resolve

_LEAST, _MOST = 2, 6
_LABEL, _WIDTH = 26, 30


def run(arguments: argparse.Namespace) -> int:
    if not _LEAST <= len(arguments.products) <= _MOST:
        print("Name two to six products.", file=sys.stderr)
        return MISUSED
    with opened(arguments, read_only=True) as library:
        every = library.products()
        chosen: list[ProductRecord] = []
        for text in arguments.products:
            meaning = resolve(text, every)
            if isinstance(meaning, Unknown):
                print(unknown_words(meaning), file=sys.stderr)
                return MISUSED
            if isinstance(meaning, KindName):
                print(f"“{text}” is a kind, not a product: products are compared.", file=sys.stderr)
                return MISUSED
            chosen.append(meaning)
        ids = [product.id for product in chosen]
        material = Material(library.rules(ids), library.proposals(ids), library.own_rules(), every)
    comparison = compare(chosen, material, arguments.at_c)
    if arguments.csv:
        csv.writer(sys.stdout).writerows(csv_rows(comparison))
    else:
        print("\n".join(_table(comparison)))
    return 0


def csv_rows(comparison: Comparison) -> Iterator[Sequence[str]]:
    """Head and rows: topic, what it is about, a column a product, and whether the sheets differ."""
    yield ["Topic", "What", *(product.name for product in comparison.products), "Differs"]
    for row in comparison.rows:
        cells = [cell_words(cell).replace("\n", "; ") for cell in row.cells]
        yield [topic_words(row.topic), row_words(row), *cells, "differs" if row.differs else ""]


def _table(comparison: Comparison) -> Iterator[str]:
    yield from _lines("", [product.name for product in comparison.products], " ")
    for topic in Topic:
        rows = comparison.of_topic(topic)
        if rows:
            yield ""
            yield topic_words(topic)
        for row in rows:
            yield from _lines(row_words(row), [cell_words(cell) for cell in row.cells], "≠" if row.differs else " ")


def _lines(label: str, cells: Sequence[str], mark: str) -> Iterator[str]:
    """One row wrapped into its columns; the mark stands before it where the sheets differ."""
    columns = [_wrapped(label, _LABEL), *(_wrapped(cell, _WIDTH) for cell in cells)]
    for number in range(max(len(column) for column in columns)):
        parts = [column[number] if number < len(column) else "" for column in columns]
        widths = [_LABEL, *[_WIDTH] * len(cells)]
        line = "  ".join(part.ljust(width) for part, width in zip(parts, widths, strict=True))
        yield f"{mark if number == 0 else ' '} {line}".rstrip()


def _wrapped(text: str, width: int) -> list[str]:
    return [line for part in text.split("\n") for line in (textwrap.wrap(part, width) or [""])]

"""`tinsheet sum`: the bench sums, each with its formula, its source and where it holds."""

from __future__ import annotations

import argparse
import json
import sys
import textwrap
from collections.abc import Iterator, Sequence
from typing import Any

from app.bench_sums.refusals import lacking_words, not_a_figure_words, refusal_words
from app.bench_sums.words import answer_words, figure_line, input_words, sum_hint, sum_title, unit_words
from app.command_line.commands import MISUSED
from app.typed_figures import NotAFigure, figure_text, read_quantities, read_quantity
from store.sums.catalogue import BY_NAME, SUMS
from store.sums.inputs import Asked, Choice, Given, Several, Sum, Worked
from store.sums.result import OutOfRange


def run(arguments: argparse.Namespace) -> int:
    if arguments.name is None:
        print("\n".join(_list()))
        return 0
    found = BY_NAME.get(arguments.name)
    if found is None:
        print(f"There is no sum called “{arguments.name}”. `tinsheet sum` lists them all.", file=sys.stderr)
        return MISUSED
    typed = sum_parser(found).parse_args(arguments.rest)
    try:
        given = _given(found, typed)
        lacking = found.lacking(given)
        if lacking:
            options = ", ".join(f"--{name}" for name in lacking)
            print(f"{lacking_words(lacking)} ({options})", file=sys.stderr)
            return MISUSED
        worked = found.work(given)
    except NotAFigure as fault:
        print(not_a_figure_words(fault.typed), file=sys.stderr)
        return MISUSED
    except OutOfRange as fault:
        print(refusal_words(fault), file=sys.stderr)
        return MISUSED
    except ValueError as fault:
        # Two units of different quantities.
        print(f"{fault}: one cannot be turned into the other.", file=sys.stderr)
        return MISUSED
    if typed.json:
        print(json.dumps(sum_to_json(found, given, worked), ensure_ascii=False, indent=2))
    else:
        print("\n".join(_lines(found, worked)))
    return 0


def sum_parser(one: Sum) -> argparse.ArgumentParser:
    """The options of one sum."""
    parser = argparse.ArgumentParser(
        prog=f"tinsheet sum {one.name}", description=f"{sum_title(one.name)}. {sum_hint(one.name)}", allow_abbrev=False
    )
    for item in one.inputs:
        words = input_words(item.name)
        if isinstance(item, Choice):
            options = ", ".join(item.options).replace("%", "%%")
            parser.add_argument(
                f"--{item.name}", choices=item.options, default=item.beginning, metavar="WHICH",
                help=f"{words}: {options} (default {item.beginning})",
            )  # fmt: skip
        elif isinstance(item, Several):
            parser.add_argument(
                f"--{item.name}",
                metavar="N",
                nargs="+",
                help=f"{words} in {unit_words(item.unit)}, one after the other",
            )
        else:
            parser.add_argument(f"--{item.name}", metavar="N", help=_help(item, words).replace("%", "%%"))
    parser.add_argument("--json", action="store_true", help="print the answer as JSON")
    return parser


def _help(asked: Asked, words: str) -> str:
    unit = f" in {unit_words(asked.unit)}" if asked.unit else ""
    return f"{words}{unit}{'' if asked.needed else ' (may be left out)'}"


def _given(one: Sum, typed: argparse.Namespace) -> Given:
    values = vars(typed)
    figures: dict[str, float] = {}
    for asked in one.asked():
        text = values[asked.name.replace("-", "_")]
        value = None if text is None else read_quantity(text, asked.unit)
        if value is not None:
            figures[asked.name] = value
    choices = {c.name: values[c.name.replace("-", "_")] for c in one.choices()}
    rows = {s.name: read_quantities(" ".join(values[s.name.replace("-", "_")] or ()), s.unit) for s in one.rows()}
    return Given(figures, choices, rows)


def sum_to_json(one: Sum, given: Given, worked: Sequence[Worked]) -> dict[str, Any]:
    """The answer with all that it rests on; figures unrounded."""
    return {
        "sum": one.name,
        "given": {**given.figures, **{name: list(row) for name, row in given.rows.items()}, **given.choices},
        "answers": [
            {
                "name": w.name,
                "value": w.result.value,
                "unit": w.result.unit,
                "word": w.result.word,
                "formula": w.result.formula,
                "source": w.result.source,
                "valid_for": w.result.valid_for,
                "notes": list(w.result.notes),
            }
            for w in worked
        ],
    }


def _lines(one: Sum, worked: Sequence[Worked]) -> Iterator[str]:
    first, *others = worked
    yield f"{figure_line(first)}  {answer_words(first.name)}"
    yield from (f"  {answer_words(w.name)}: {figure_line(w)}" for w in others)
    for label, said in (
        ("formula", [w.result.formula for w in worked]),
        ("source", [w.result.source for w in worked]),
        ("holds for", [w.result.valid_for for w in worked]),
        ("note", [note for w in worked for note in w.result.notes]),
    ):
        for words in dict.fromkeys(said):
            yield from textwrap.wrap(f"{label}: {words}", 100, initial_indent="  ", subsequent_indent="    ")


def _list() -> Iterator[str]:
    yield "tinsheet sum NAME --help says what a sum asks for."
    width = max(len(one.name) for one in SUMS)
    for one in SUMS:
        needed = " ".join(
            [*(f"--{s.name} N …" for s in one.rows()),
             *(f"--{a.name} {figure_text(a.first) if a.first else 'N'}" for a in one.asked() if a.needed)]
        )  # fmt: skip
        yield f"  {one.name.ljust(width)}  {sum_title(one.name)}  ({needed})"

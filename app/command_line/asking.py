"""`tinsheet ask`: one question, or a batch of them, answered from the library's confirmed rules."""

from __future__ import annotations

import argparse
import json
import sys
import textwrap
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from app.command_line.commands import FAULT, MISUSED
from app.command_line.libraries import opened
from app.verdict_words import (
    advice_text,
    answer_words,
    conditions_words,
    own_rule_words,
    part_words,
    question_words,
    quote_words,
    sheet_words,
    silence_words,
    standing_words,
    verdict_words,
    window_of,
)
from app.window_words import past_words, window_words
from store.library import Library
from store.records import ProductRecord
from store.rules.answers import Answer, Citation, Standing, Window
from store.rules.asking import ask
from store.rules.names import Unknown, resolve
from store.rules.reach import KindParty, Party, party_of


def run(arguments: argparse.Namespace) -> int:
    if arguments.batch is not None:
        if arguments.lower is not None:
            print("Give either two names or --batch, not both.", file=sys.stderr)
            return MISUSED
        return _batch(arguments)
    if arguments.lower is None or arguments.upper is None:
        print("Two names are needed: what is underneath, then what is to go on top.", file=sys.stderr)
        return MISUSED
    with opened(arguments, read_only=True) as library:
        products = library.products()
        parties = []
        for text in (arguments.lower, arguments.upper):
            meaning = resolve(text, products)
            if isinstance(meaning, Unknown):
                print(unknown_words(meaning), file=sys.stderr)
                return MISUSED
            parties.append(party_of(meaning))
        answer = ask(library, parties[0], parties[1], products, at_c=arguments.at_c)
    if arguments.json:
        print(json.dumps(answer_json(answer), ensure_ascii=False, indent=1))
    else:
        print(answer_text(answer))
    return 0


def unknown_words(unknown: Unknown) -> str:
    words = f"“{unknown.text}” is neither a product in the library nor a kind that the program knows."
    return f"{words} Did you mean {', '.join(unknown.nearest)}?" if unknown.nearest else words


def _batch(arguments: argparse.Namespace) -> int:
    """One JSON answer a line. A line that is no question answers with an error, and the status is then 1."""
    status = 0
    with opened(arguments, read_only=True) as library:
        products = library.products()
        for line in _lines(arguments.batch):
            try:
                question = json.loads(line)
                lower, upper = str(question["lower"]), str(question["upper"])
                given = question.get("at_c", arguments.at_c)
                at_c = None if given is None else float(given)
            except (ValueError, KeyError, TypeError, AttributeError):
                print(json.dumps({"verdict": "error", "error": "not a question", "line": line}, ensure_ascii=False))
                status = FAULT
                continue
            print(json.dumps(_batched(library, lower, upper, products, at_c), ensure_ascii=False))
    return status


def _lines(path: Path) -> list[str]:
    text = sys.stdin.read() if str(path) == "-" else path.read_text("utf-8-sig")
    return [line for line in text.splitlines() if line.strip()]


def _batched(
    library: Library, lower: str, upper: str, products: Sequence[ProductRecord], at_c: float | None
) -> dict[str, Any]:
    parties = []
    for text in (lower, upper):
        meaning = resolve(text, products)
        if isinstance(meaning, Unknown):
            return {"verdict": "unknown", "unknown": meaning.text, "nearest": list(meaning.nearest)}
        parties.append(party_of(meaning))
    return answer_json(ask(library, parties[0], parties[1], products, at_c=at_c))


def answer_json(answer: Answer) -> dict[str, Any]:
    """The answer for scripts; every reason carries its sentence and place."""
    window = window_of(answer)
    out: dict[str, Any] = {
        "lower": _name(answer.lower),
        "upper": _name(answer.upper),
        "verdict": answer.word,
        "reasons": [_reason(citation) for citation in (*answer.citations, *answer.pending)],
        "silent": [silence.name for silence in answer.silences],
        "conditions": list(conditions_words(answer)),
        "window": None if window is None else _window(window),
        "advice": advice_text(answer),
    }
    if answer.own:
        out["own"] = [{"words": rule.words, "source": rule.source, "forbids": rule.forbids} for rule in answer.own]
    return out


def _name(party: Party) -> str:
    return party.kind if isinstance(party, KindParty) else party.product.name


def _reason(citation: Citation) -> dict[str, Any]:
    claim = citation.claim
    reason: dict[str, Any] = {
        "sheet": citation.sheet.product,
        "page": claim.evidence.page,
        "quote": claim.evidence.quote,
        "boxes": [list(box) for box in claim.evidence.boxes],
        "topic": claim.topic.value,
        "stance": claim.stance.value,
        "object": claim.object,
        "conditions": [condition.value for condition in claim.conditions],
        "status": citation.standing.value,
    }
    if claim.via is not None:
        reason["via"] = claim.via
    if claim.only:
        reason["only"] = True
    return reason


def _window(window: Window) -> dict[str, Any]:
    """The first window, with the others in 'also'; 'words' has them all, and why a time is withheld."""
    out = _one_window(window)
    out["words"] = window_words(window)
    if window.also:
        out["also"] = [_one_window(other) for other in window.also]
    past = past_words(window)
    if past:
        out["past"] = past
    return out


def _one_window(window: Window) -> dict[str, Any]:
    out: dict[str, Any] = {
        "low": window.low,
        "high": window.high,
        "at_c": window.at_c,
        "quote": " … ".join(dict.fromkeys(rule.claim.evidence.quote for rule in window.citations)),
        "read": window.reading.value,
    }
    if window.unlimited:
        out["unlimited"] = True
    if window.stated:
        out["stated_c"] = list(window.stated)
    if window.conditions:
        out["conditions"] = [condition.value for condition in window.conditions]
    return out


def answer_text(answer: Answer) -> str:
    """The answer for reading: the word, what holds, then the sentences."""
    verdict = f"{verdict_words(answer.word).upper()}. {answer_words(answer)}"
    lines = [question_words(answer.lower, answer.upper), "", verdict]
    lines += [f"  · {condition}" for condition in conditions_words(answer)]
    lines += [f"  · {own_rule_words(rule)}" for rule in answer.own if rule.forbids]
    window = window_of(answer)
    if window is not None:
        lines += ["", f"{window_words(window)}."]
        past = past_words(window)
        if past:
            lines.append(f"{past}.")
    if answer.advice:
        lines += ["", *textwrap.wrap(advice_text(answer), 100)]
    if answer.citations:
        lines += ["", "What the sheets say"]
        lines += _citation_lines(answer.citations)
    if answer.pending:
        lines += ["", "Not settled yet"]
        lines += _citation_lines(answer.pending)
    lines += [f"{silence_words(silence)}." for silence in answer.silences]
    return "\n".join(lines)


def _citation_lines(citations: Sequence[Citation]) -> list[str]:
    """Each sentence once, even where it gave two claims."""
    lines: dict[str, None] = {}
    for citation in citations:
        standing = "" if citation.standing is Standing.CONFIRMED else f" ({standing_words(citation.standing)})"
        sheet = f"{sheet_words(citation.sheet)}: {part_words(citation.part)}{standing}"
        lines[f"  {quote_words(citation)}\n      {sheet}"] = None
    return list(lines)

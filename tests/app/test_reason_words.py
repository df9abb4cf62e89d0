"""Every reason that the store gives is known again, so that it can be said in another language."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from app import reason_words as module
from app.reason_words import REASONS, reason_words
from app.translating import translate

STORE = Path(__file__).parents[2] / "store"
_REASON = re.compile(
    r"the sheet gives no |no sheet gives |no (temperature is|shelf life|date|day) |from the day it was "
)


def given() -> Iterator[tuple[str, str]]:
    """Every reason in the sources with the place it stands at; figures and names in it become 7."""
    for path in sorted(STORE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            words = as_said(node)
            entry = isinstance(node, ast.Call) and getattr(node.func, "id", "") == "WrongEntry"
            if isinstance(node, ast.Call) and entry:
                yield f"{path.name}:{node.lineno}", as_said(node.args[1])
            elif (
                path.parent.name in {"planning", "rules"}
                and _REASON.match(words)
                and "\n" not in words
                and "." not in words
            ):
                yield f"{path.name}:{getattr(node, 'lineno', 0)}", words


def as_said(node: ast.AST) -> str:
    if isinstance(node, ast.JoinedStr):
        return "".join(as_said(part) for part in node.values)
    if isinstance(node, ast.FormattedValue):
        return "7"
    if isinstance(node, ast.BinOp) and isinstance(node.right, ast.IfExp):
        return as_said(node.left) + as_said(node.right.body)
    return node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else ""


FOUND = sorted({words for _, words in given() if words.strip() and not words.endswith((" ", "C below", "above"))})


@pytest.mark.parametrize("reason", FOUND)
def test_the_reason_is_known_and_stands_in_english_as_it_is(reason: str, monkeypatch: pytest.MonkeyPatch) -> None:
    assert reason_words(reason) == reason
    monkeypatch.setattr(module, "translate", lambda context, words: f"[{translate(context, words)}]")
    assert reason_words(reason).startswith("[")


def test_all_kinds_of_reasons_are_found_in_the_sources() -> None:
    assert len(FOUND) >= len(REASONS) - 3
    assert "the sheet gives no earliest time below 7 °C" in FOUND
    assert "7 lies outside 7 to 7" in FOUND


def test_several_reasons_and_what_is_unknown() -> None:
    assert reason_words("") == ""
    assert reason_words("no temperature is known; no day of opening") == "no temperature is known; no day of opening"
    assert reason_words("for no reason at all") == "for no reason at all"
    assert reason_words("the dry film lies outside 0 to 100000") == "the dry film lies outside 0 to 100000"

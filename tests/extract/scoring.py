"""Holds claims that were read against claims that a careful person wrote down: recall, precision, dangerous.

Claims and gold are plain dicts as `tinsheet extract --json` prints them. A gold claim may carry 'also' (other
objects that are as right) and 'optional' (costs nothing whether it is read or not). A claim is found when topic,
property, stance and object agree, its figures agree within 1 %, and its temperature and method agree where the
gold states them. Dangerous is what would mislead: a permission where the sheet forbids, a condition dropped, an
overcoat window wider than the printed one.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

Values = Mapping[str, Any]
CONTACT = ("goes_over", "topped_by")
NO_FIGURE = {("film", "layer"), ("preparation", "own_film"), ("preparation", "prime_within"), ("application", "method")}
"""Kinds of claim that careful people file in too many ways to hold one of them against another."""
EVERYDAY = {"clean", "sound"}
"""Conditions that any painter meets without being told."""


@dataclass(slots=True)
class Score:
    """Counts over any number of sheets; the lists name what to look at."""

    gold: int = 0
    found: int = 0
    read: int = 0
    right: int = 0
    missed: list[str] = field(default_factory=list)
    invented: list[str] = field(default_factory=list)
    dangerous: list[str] = field(default_factory=list)

    @property
    def recall(self) -> float:
        return self.found / self.gold if self.gold else 1.0

    @property
    def precision(self) -> float:
        return self.right / self.read if self.read else 1.0


def near(a: float | None, b: float | None) -> bool:
    if a is None or b is None:
        return a is b
    return math.isclose(a, b, rel_tol=0.01, abs_tol=1e-9)


def _object(value: object) -> object:
    if isinstance(value, str) and value.startswith("product:"):
        return re.sub(r"[^a-z0-9]+", "", value.lower())
    return value


def same_object(gold: Values, claim: Values) -> bool:
    return _object(claim.get("object")) in [_object(o) for o in (gold.get("object"), *gold.get("also", ()))]


def isolated(claim: Values) -> bool:
    return "isolated" in claim.get("conditions", ())


def stance(claim: Values) -> str:
    """'Not directly, but with X between' reads the same however it is filed."""
    return "permits" if claim["topic"] in CONTACT and isolated(claim) else str(claim["stance"])


def matches(gold: Values, claim: Values) -> bool:
    return (
        gold["topic"] == claim["topic"]
        and gold.get("property") == claim.get("property")
        and stance(gold) == stance(claim)
        and (isolated(claim) or not isolated(gold))
        and same_object(gold, claim)
        and all(gold.get(end) is None or near(gold[end], claim.get(end)) for end in ("low", "high", "at_c"))
        and (not gold.get("unlimited") or bool(claim.get("unlimited")))
        and (gold.get("method") is None or gold["method"] == claim.get("method", "air"))
        and (not gold.get("parts") or [float(p) for p in gold["parts"]] == [float(p) for p in claim.get("parts", ())])
        and (not gold.get("only") or bool(claim.get("only")))
    )


def _weighty(claim: Values) -> set[str]:
    return set(claim.get("conditions", ())) - EVERYDAY


def _widest(windows: Sequence[Values]) -> tuple[float, float]:
    highs = [math.inf if w.get("unlimited") or w.get("high") is None else float(w["high"]) for w in windows]
    return min(float(w.get("low") or 0) for w in windows), max(highs)


def danger(golds: Sequence[Values], claim: Values) -> str | None:
    """How the claim would mislead, or None."""
    topic, prop = claim["topic"], claim.get("property")
    alike = [g for g in golds if g["topic"] == topic and g.get("property") == prop and same_object(g, claim)]
    if topic in CONTACT and claim["stance"] == "permits" and not isolated(claim):
        permits = [g for g in alike if stance(g) == "permits"]
        if not permits and any(stance(g) == "forbids" for g in alike):
            return "permits what the sheet forbids"
        if permits and all(_weighty(g) for g in permits) and not _weighty(claim):
            return "drops the condition"
    if topic == "exposure" and claim["stance"] == "permits":
        stances = {g["stance"] for g in golds if g["topic"] == topic and g.get("property") == prop}
        if "forbids" in stances and "permits" not in stances:
            return "permits an exposure that the sheet forbids"
    if topic == "overcoat_window" and prop == "window":
        windows = [g for g in alike if g.get("at_c") is None or near(g["at_c"], claim.get("at_c"))]
        if windows and not any(matches(g, claim) for g in windows):
            low, high = _widest(windows)
            claim_high = math.inf if claim.get("unlimited") else claim.get("high")
            if claim_high is not None and claim_high > high * 1.01:
                return "window ends later than the sheet says"
            if claim.get("low") is not None and claim["low"] < low * 0.99:
                return "window opens earlier than the sheet says"
    return None


def _short(name: str, claim: Values) -> str:
    shown = {
        k: v for k, v in claim.items() if k not in {"evidence", "confidence", "also"} and v not in (None, [], False)
    }
    return f"{name}: {shown} <- {claim['evidence']['quote'][:90]!r}"


def score(sheets: Iterable[tuple[str, Sequence[Values], Sequence[Values]]]) -> Score:
    """sheets: name, gold claims, claims read."""
    total = Score()
    for name, every, claims in sheets:
        golds = [g for g in every if (g["topic"], g.get("property")) not in NO_FIGURE]
        owed = [g for g in golds if not g.get("optional")]
        told = [c for c in claims if (c["topic"], c.get("property")) not in NO_FIGURE]
        missed = [g for g in owed if not any(matches(g, c) for c in told)]
        counted = [c for c in told if any(matches(g, c) for g in owed) or not any(matches(g, c) for g in golds)]
        invented = [c for c in counted if not any(matches(g, c) for g in golds)]
        total.gold += len(owed)
        total.found += len(owed) - len(missed)
        total.read += len(counted)
        total.right += len(counted) - len(invented)
        total.missed += [_short(name, g) for g in missed]
        total.invented += [_short(name, c) for c in invented]
        misleading = ((danger(every, c), c) for c in claims)
        total.dangerous += [f"{why}: {_short(name, c)}" for why, c in misleading if why]
    return total


def quote_stands_inside(claim: Values, words: Sequence[tuple[str, tuple[float, float, float, float]]]) -> bool:
    """Whether at least nine tenths of the quote's letters are among the words whose middle lies in its boxes."""
    boxes = claim["evidence"]["boxes"]
    inside = "".join(
        text
        for text, (x0, top, x1, bottom) in words
        if any(b[0] - 2 <= (x0 + x1) / 2 <= b[2] + 2 and b[1] - 2 <= (top + bottom) / 2 <= b[3] + 2 for b in boxes)
    )
    letters = Counter(re.sub(r"[\W_]+", "", claim["evidence"]["quote"].lower()))
    there = Counter(re.sub(r"[\W_]+", "", inside.lower()))
    return bool(letters) and (letters - there).total() <= 0.1 * letters.total()

"""What stood in the build-up before, step by step, to be taken back and done again; it outlives a crash. No Qt."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace

from app.translating import translate
from app.verdict_words import party_words
from store.build_ups import decoded, encoded
from store.planning.buildup import BuildUp, Layer
from store.records import ProductRecord

_MOST = 40
"""Steps that are kept: an evening's work, and a few build-ups that were opened over one another."""


class Steps:
    """Whole build-ups as they stood, the latest last. A step whose temperature is None leaves the shop's as it is."""

    def __init__(self) -> None:
        self._back: list[BuildUp] = []
        self._on: list[BuildUp] = []

    def put(self, before: BuildUp) -> None:
        """Something else is about to stand there."""
        self._back = [*self._back, before][-_MOST:]
        self._on = []

    def take_back(self, now: BuildUp) -> BuildUp | None:
        """What stood there before `now`; None where nothing did."""
        if not self._back:
            return None
        before = self._back.pop()
        self._on.append(_like(before, now))
        return before

    def do_again(self, now: BuildUp) -> BuildUp | None:
        if not self._on:
            return None
        after = self._on.pop()
        self._back.append(_like(after, now))
        return after

    def words_back(self, now: BuildUp) -> str:
        """What taking back would undo: 'Planor added'. Empty where there is nothing."""
        return change_words(self._back[-1].layers, now.layers) if self._back else ""

    def words_on(self, now: BuildUp) -> str:
        return change_words(now.layers, self._on[-1].layers) if self._on else ""

    def clear(self) -> None:
        self._back, self._on = [], []

    def written(self) -> str:
        return json.dumps([encoded(one) for one in self._back]) if self._back else ""

    def read(self, text: str, products: Sequence[ProductRecord]) -> None:
        """Take up what written() gave; what cannot be read, or holds nothing any more, is left out."""
        try:
            raw = json.loads(text) if text else []
        except ValueError:
            raw = []
        found = [decoded(one, products)[0] for one in raw if isinstance(one, Mapping)] if isinstance(raw, list) else []
        self._back = [one for at, one in enumerate(found) if one.layers or at == 0][-_MOST:]
        self._on = []


def change_words(before: Sequence[Layer], after: Sequence[Layer]) -> str:
    """What was done between the two."""
    added = list((Counter(after) - Counter(before)).elements())
    gone = list((Counter(before) - Counter(after)).elements())
    if len(added) == 1 and not gone:
        return translate("build_up", "{name} added").format(name=party_words(added[0].party))
    if len(gone) == 1 and not added:
        return translate("build_up", "{name} taken out").format(name=party_words(gone[0].party))
    if not added and not gone:
        return translate("build_up", "put in another order")
    if len(added) == len(gone) == 1 and _same_place(before, after):
        return translate("build_up", "{name} changed").format(name=party_words(added[0].party))
    return translate("build_up", "another build-up opened")


def without_warmth(build_up: BuildUp) -> BuildUp:
    """For a step of a hand, which left the shop's temperature alone."""
    return replace(build_up, at_c=None)


def _like(other: BuildUp, now: BuildUp) -> BuildUp:
    """The temperature goes along both ways or neither."""
    return now if other.at_c is not None else without_warmth(now)


def _same_place(before: Sequence[Layer], after: Sequence[Layer]) -> bool:
    return sum(one != other for one, other in zip(before, after, strict=True)) == 1

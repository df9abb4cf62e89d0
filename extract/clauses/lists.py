"""Where a list of coats begins and ends, and which of its members is this product itself."""

from __future__ import annotations

import re

from extract.kinds import ancestors, families_of, is_known
from extract.speech import speech
from extract.terms import Mention


class Lists:
    """Reads the lists of a marked clause. own_kind is the kind of the sheet's own product."""

    def __init__(self, own_kind: str | None, language: str = "en") -> None:
        self._says = speech(language)
        known = own_kind is not None and is_known(own_kind)
        self.own = {own_kind, *ancestors(own_kind), *families_of(own_kind)} if own_kind and known else set()

    def run(self, text: str, offset: int, start: int, inside: list[Mention]) -> list[Mention]:
        """The list that begins at start: up to the word that opens another phrase."""
        out: list[Mention] = []
        edge = start
        for m in inside:
            at = m.start - offset
            if at < start:
                continue
            gap = self._says["bracketed"].sub("", text[edge:at])
            resumed = max(self._says["again_over"].finditer(gap), key=lambda g: g.end(), default=None) if out else None
            if self._says["break"].search(gap if resumed is None else gap[resumed.end() :]):
                break
            surfaces = out and out[-1].object.startswith("surface.") and not m.object.startswith("surface.")
            if surfaces and gap.startswith(" with "):
                break  # 'steel with 2K topcoats': what goes with a surface is no further ground
            out.append(m)
            edge = m.end - offset
        return out

    def members(self, text: str, offset: int, inside: list[Mention], *, listed: bool) -> list[Mention]:
        """The coats that a list consists of; 'the primer' in a remark is none of them."""
        able = [
            m
            for m in inside
            if not m.is_self
            or self._says["itself"].match(m.words)
            or (listed and not re.match(r"(?:the|this|our|it|a)\b(?!self)", m.words))
        ]
        if len(able) > 1 and self.own_like(able[0]) and text.startswith(" for ", able[0].end - offset):
            # "Filler for steel and aluminium": what this product is, and what for.
            able = able[1:]
        return [m for m in self.run(text, offset, able[0].start - offset, inside) if m in able] if able else []

    def own_like(self, mention: Mention) -> bool:
        """This product spoken of by its kind; 'other epoxy primers' are others."""
        return mention.object in self.own and not re.match(r"(?:other|any|all|another)\b", mention.words)

"""The program in another alphabet: whatever stays in ours came past its translation.

What may stay: what the person typed and filed, units and keys, and the formulas and sources of sums, which stand as
they were published.
"""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterable, Iterator
from pathlib import Path

from PySide6.QtWidgets import QLineEdit, QWidget
from words_in_sight import painted_words, said_words

from app.figure_words import true_minus
from app.naming.offers import OffersPopup
from app.wiring import Wiring
from store.library import Library

_LETTERS = {chr(ord("a") + at): chr(ord("а") + at) for at in range(26)}
_LETTERS |= {latin.upper(): other.upper() for latin, other in _LETTERS.items()}
_KEPT = re.compile(r"(\{[^}]*\}|<[^>]*>|&\w+;|%n|(?:Ctrl|Shift|Alt)\+\w+)")
"""Places for figures, tags and keys, which a translator keeps too."""

_SAME_EVERYWHERE = re.compile(
    r"\b(?:(?:Ctrl|Shift|Alt)\+[\w↑↓]*|Tinsheet|PDF|CSV|P\d+|[12]K|"
    r"min|ml|kB|MB|kg/l|kg|mm|mil|US|gal|fl|oz|ft|lb|yd|psi|bar|DIN|ISO|Ford|Zahn|AFNOR|CAMI|FEPA|HVLP)(?![A-Za-z])"
)
"""Units, keys, names of standards: written so in every language with this alphabet."""


def marked(words: str) -> str:
    """In the other alphabet."""
    parts = _KEPT.split(words)
    return "".join(part if at % 2 else "".join(_LETTERS.get(c, c) for c in part) for at, part in enumerate(parts))


class Owned:
    """The person's own words: what is in the library and what was typed."""

    def __init__(self, texts: Iterable[str]) -> None:
        whole = {" ".join(text.split()) for text in texts}
        self._whole = sorted((text for text in whole if len(text) > 1), key=len, reverse=True)
        self._all = "\n".join(self._whole)

    def strange(self, words: str, *, in_pieces: bool = False) -> str:
        """What of the words is nobody's and still in our alphabet; in_pieces where a line may break anywhere."""
        left = " ".join(words.split())
        for text in self._whole:
            # A short one ('yes') may stand in the middle of another word.
            left = left.replace(text, "·") if len(text) > 4 else re.sub(rf"\b{re.escape(text)}\b", "·", left)
        left = _SAME_EVERYWHERE.sub("·", left)
        strange = re.findall(r"[A-Za-z][A-Za-z' ,.]*[A-Za-z]", left)
        if in_pieces or "…" in words:
            strange = [part for part in strange if not self._holds_piece(words, part)]
        return " | ".join(strange)

    def _holds_piece(self, words: str, part: str) -> bool:
        piece = " ".join(words.split()).strip("“”… ·(),.:;")
        return piece in self._all or (part in self._all and len(part) > 3)


def texts_of(value: object) -> Iterator[str]:
    """Every text in a record, however deep."""
    if isinstance(value, str):
        yield value
    elif dataclasses.is_dataclass(value):
        for field in dataclasses.fields(value):
            yield from texts_of(getattr(value, field.name))
    elif isinstance(value, (tuple, list, frozenset)):
        for part in value:
            yield from texts_of(part)


def own_words(library: Library) -> list[str]:
    records: list[object] = [library.products(), library.tins(), library.panels(), library.own_rules()]
    records += [library.questions()]
    for product in library.products():
        records.append(library.notes(product.id))
    found = list(texts_of(tuple(records)))
    for sheet in library.sheets():
        found += [sheet.file_name, *texts_of(tuple(claim.claim.evidence.quote for claim in library.claims(sheet.id)))]
        for claim in library.claims(sheet.id):
            named = (claim.claim.object or "", claim.claim.via or "")
            found += [claim.claim.text or "", *(name.removeprefix("product:") for name in named)]
        found += [" ".join(word.text for word in page.words) for page in library.page_texts(sheet.id)]
    return found


TECHNICAL = ("no cross-reference table", "back-up damaged", "File is not a zip file")
"""Folded under a trouble's own sentence, for whoever mends the program."""

SOUGHT = "steel"
"""What the states type into Find."""


def owned(wiring: Wiring, folder: Path) -> Owned:
    words: list[str] = []
    wiring.desk.read(own_words, words.extend)
    for path in (folder, *folder.rglob("*")):
        words += [str(path), path.name]
    # Sums are shown with what is published; the reader's own words for a damaged file are for its maker.
    for worked in wiring.sums.card.worked:
        for published in (worked.result.formula, worked.result.source, worked.result.valid_for):
            words += [published, true_minus(published)]
    wiring.desk.read(lambda library: library.search(SOUGHT), lambda hits: words.extend(texts_of(hits)))
    for offers in wiring.window.findChildren(OffersPopup):
        words += [offer.other_name for offer in offers.offers]
    typed = [line.text() for line in wiring.window.findChildren(QLineEdit) if line.isModified()]
    return Owned([*words, *typed, *TECHNICAL])


def strange_words(wiring: Wiring, folder: Path, shown: QWidget | None = None) -> list[str]:
    """What stands untranslated in the window, or in a dialog that is shown beside it."""
    own = owned(wiring, folder)
    inside = shown or wiring.window
    found = [own.strange(words, in_pieces=True) for words in painted_words(inside)]
    found += [own.strange(words) for words in (*said_words(inside), inside.windowTitle()) if words != SOUGHT]
    return [words for words in found if words]

"""A passage of another language, glossed clause by clause: turns first, then words, what is left as it stands."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from extract.document import Glyph, Passage
from extract.gloss.signs import bare
from extract.gloss.words import Tongue, Turn

_BREAK = re.compile(
    r"\n|[;:!?]+(?= |$)|(?<![ .(]\w)(?<!\bca)(?<!\bmax)(?<!\bmin)(?<!\bbzw)(?<!\binkl)\.(?= +[A-ZÀ-Þ•]|$)"
)
"""Ends of clauses in printed text."""
_TOKEN = re.compile(r"[^\W_](?:[\w.]*\w)?|.", re.DOTALL)
CODED = re.compile(r"(?<!\w)[A-ZÀ-Þ][\w®\-]*[ -](?:[A-Z]{1,3}[ -]?\d{1,4}[A-Z]?|\d{2,4})(?!\w)(?! ?(?:%|°|mm|h\b|min))")
"""A capitalised word with a code behind it."""
_SAID = re.compile(r"\{(\w+)\}|<(\w+)>")
_DEEPEST = 8


@dataclass(frozen=True, slots=True)
class Piece:
    """English for text[start:end] of the passage. verbatim: it is that text, letter for letter."""

    english: str
    start: int
    end: int
    verbatim: bool = False


@dataclass(frozen=True, slots=True)
class Gloss:
    """A passage in English, and the stretches of the original that it did not understand."""

    passage: Passage
    doubts: tuple[tuple[int, int], ...] = ()
    unknown: tuple[tuple[int, int], ...] = ()


class Glosser:
    """Glosses texts of one language."""

    def __init__(self, tongue: Tongue, names: Sequence[str] = ()) -> None:
        """names are left as they stand."""
        self._tongue = tongue
        self._names = names

    def gloss(self, passage: Passage, *, head: bool = False, title: bool = False) -> Gloss:
        """The passage in English; as a head, first as a whole; in a title a word with a code behind it is a name.

        doubts are words of the original that deny, limit or condition and that no turn accounts for; unknown are
        words that the language's data has not.
        """
        whole = self._tongue.head(bare(passage.folded)) if head else None
        if whole is not None:
            return Gloss(_passage(passage, [Piece(whole, 0, len(passage.text))]))
        work = _Work(self._tongue, passage, self._names_in(passage.text, title=title))
        parts = list(clauses(passage.text))
        pieces = [p for start, end in parts for p in work.clause(start, end, 0)]
        unknown = tuple(dict.fromkeys(s for start, end in parts for s in work.unknown_in(start, end)))
        return Gloss(_passage(passage, pieces), tuple(work.doubts()), unknown)

    def is_understood(self, text: str) -> bool:
        """Whether a text is made of the language's own words alone."""
        work = _Work(self._tongue, Passage(text, (None,) * len(text)), {})
        return not any(p.verbatim and p.english.isalpha() for p in work.clause(0, len(text), 0))

    def _names_in(self, text: str, *, title: bool) -> dict[int, int]:
        """Where names begin and end in a text."""
        found = [m.span() for name in self._names for m in re.finditer(rf"(?<!\w){re.escape(name)}(?!\w)", text, re.I)]
        if title:
            found += [m.span() for m in CODED.finditer(text)]
        return dict(found)


def clauses(text: str) -> Iterator[tuple[int, int]]:
    """Limits of the clauses of a printed text; the mark that ends one belongs to it."""
    start = 0
    for match in _BREAK.finditer(text):
        yield start, match.end()
        start = match.end()
    if start < len(text):
        yield start, len(text)


class _Work:
    def __init__(self, tongue: Tongue, passage: Passage, names: Mapping[int, int]) -> None:
        self._tongue = tongue
        self._names = names
        self._text = passage.text
        self._folded = bare(passage.folded)
        self._understood = bytearray(len(self._text))
        self.unknown: list[tuple[int, int]] = []
        self._nouns: list[tuple[int, int]] = []

    def unknown_in(self, start: int, end: int) -> list[tuple[int, int]]:
        """Words of a clause that the data has not; a noun only where the clause limits ('nur mit Haftzusatz')."""
        limits = self._tongue.doubt.search(self._folded, start, end) is not None
        return [s for s in (*self.unknown, *(self._nouns if limits else ())) if start <= s[0] < end]

    def doubts(self) -> Iterator[tuple[int, int]]:
        for match in self._tongue.doubt.finditer(self._folded):
            if not all(self._understood[match.start() : match.end()]):
                yield match.span()

    def clause(self, start: int, end: int, depth: int) -> list[Piece]:
        """The pieces of text[start:end], a clause or a part of one."""
        if depth < _DEEPEST and self._folded[start:end].strip():
            for turn in self._tongue.turns:
                match = turn.pattern.search(self._folded[start:end])
                if match is not None:
                    return [
                        *self.clause(start, start + match.start(), depth + 1),
                        *self._turned(turn, match, start, depth),
                        *self.clause(start + match.end(), end, depth + 1),
                    ]
        return list(self._by_words(start, end))

    def _turned(self, turn: Turn, match: re.Match[str], offset: int, depth: int) -> Iterator[Piece]:
        groups = {name: match.span(name) for name, value in match.groupdict().items() if value is not None}
        slots = sorted(span for name, span in groups.items() if not name.startswith("verb_"))
        fixed = _outside(match.span(), slots)
        for a, b in fixed:
            self._understood[offset + a : offset + b] = b"\1" * (b - a)
        at = 0
        printed = [s for s in fixed if match.string[slice(*s)].strip(" ,")] or [match.span()]
        used = 0
        for sign in _SAID.finditer(turn.english + " "):
            yield from self._literal(turn.english[at : sign.start()], printed, used, offset)
            at = sign.end()
            if sign.group(2):
                verbs = (n for n in groups if n.rstrip("0123456789") == f"verb_{sign.group(2)}")
                span = groups[next(verbs)]
                yield Piece(
                    self._tongue.verb(sign.group(2), match.string[slice(*span)]), offset + span[0], offset + span[1]
                )
            elif sign.group(1) in groups:
                a, b = groups[sign.group(1)]
                yield from self.clause(offset + a, offset + b, depth + 1)
            used += 1
        yield from self._literal(turn.english[at:], printed, used, offset)

    def _literal(self, english: str, printed: list[tuple[int, int]], used: int, offset: int) -> Iterator[Piece]:
        if english.strip():
            start, end = printed[min(used, len(printed) - 1)]
            yield Piece(english.strip(), offset + start, offset + end)

    def _by_words(self, start: int, end: int) -> Iterator[Piece]:
        at = start
        while at < end:
            if self._names.get(at, end + 1) <= end:
                yield Piece(self._text[at : self._names[at]], at, self._names[at], verbatim=True)
                at = self._names[at]
                continue
            found = self._tongue.at(self._folded[:end], at) if self._begins_word(at) else None
            if found is not None and (behind := self._behind_article(at, found[1], end)):
                at = behind
                continue
            if found is not None:
                word, stop = found
                if word.several:
                    self._understood[at:stop] = b"\1" * (stop - at)
                if word.english:
                    yield Piece(word.english, at, stop)
                # 'Stahl-, Zink- und ...': the hyphen stands for the rest of a word that comes later.
                at = stop + (self._folded[stop : stop + 1] == "-" and not self._folded[stop + 1 : stop + 2].isalnum())
                continue
            token = _TOKEN.match(self._text, at, end)
            stop = token.end() if token is not None else end
            yield from self._unknown(at, stop)
            at = stop

    def _behind_article(self, start: int, stop: int, end: int) -> int | None:
        """Where the words behind an article begin that say more than with it: 'le mastic | polyester'."""
        blank = re.compile(r"\w+[ ']\s*").match(self._folded, start, end)
        if blank is None or blank.end() >= stop:
            return None
        article = self._tongue.at(self._folded[: blank.end()], start)
        longer = self._tongue.at(self._folded[:end], blank.end())
        if article is None or article[0].english or longer is None or longer[1] <= stop:
            return None
        return blank.end()

    def _begins_word(self, at: int) -> bool:
        return not self._folded[at].isspace() and (
            at == 0 or not self._folded[at - 1].isalnum() or not self._folded[at].isalnum()
        )

    def _unknown(self, start: int, end: int) -> Iterator[Piece]:
        printed = self._text[start:end]
        if not printed[0].isalpha():
            yield Piece(printed, start, end, verbatim=True)
            return
        if self._is_name(printed, end):
            yield Piece(printed, start, end, verbatim=True)
            return
        measures = len(printed) == 1 or (len(printed) <= 3 and self._text[:start].rstrip()[-1:].isdigit())
        if not measures:
            named = self._tongue.nouns_are_capital and not printed.islower()
            named = named and not self._tongue.conditioning.search(self._folded[:start])
            (self._nouns if named else self.unknown).append((start, end))
        yield Piece(printed.lower() if len(printed.lower()) == len(printed) else printed, start, end, verbatim=True)

    def _is_name(self, printed: str, end: int) -> bool:
        """A name or a code: capitals and figures, or a capitalised word with one behind it."""
        if any(c.isdigit() for c in printed) or (printed.isupper() and len(printed) <= 4):
            return True
        if not printed[0].isupper():
            return False
        if not self._tongue.nouns_are_capital:
            return True
        return (
            re.match(r"[ -](?:[A-Z]{1,3}|\d{1,4})\b(?! ?(?:%|°|Min|Std|mm|h\b|bar))", self._text[end : end + 6])
            is not None
        )


def _outside(span: tuple[int, int], slots: list[tuple[int, int]]) -> list[tuple[int, int]]:
    out: list[tuple[int, int]] = []
    at = span[0]
    for start, end in slots:
        out.append((at, start))
        at = end
    return [*out, (at, span[1])]


_NO_BLANK_BEFORE = frozenset(",.;:!?)%]")
_NO_BLANK_AFTER = frozenset("([")


def _passage(source: Passage, pieces: list[Piece]) -> Passage:
    """The pieces as one passage whose characters stand where the words that they gloss stand."""
    text: list[str] = []
    origins: list[Glyph | None] = []
    blank = False
    last: Piece | None = None
    for piece in pieces:
        if piece.english == "\n":
            text.append("\n")
            origins.append(None)
            continue
        if not piece.english.strip():
            blank = bool(text)
            continue
        joins = last is None or not (last.verbatim and piece.verbatim and last.end == piece.start)
        touches = last is not None and last.end == piece.start
        free = piece.english[0] not in _NO_BLANK_BEFORE and joins and not (text and text[-1] in _NO_BLANK_AFTER)
        if text and text[-1] != "\n" and (blank or free) and not (touches and _clings(text[-1], piece.english[0])):
            text.append(" ")
            origins.append(None)
        blank = False
        text.extend(piece.english)
        origins.extend(_spread(source, piece))
        last = piece
    return Passage("".join(text), tuple(origins), source.bold, source.size)


def _clings(before: str, after: str) -> bool:
    return not (before.isalnum() and after.isalnum()) and (before in "-/" or after in "-/")


def _spread(source: Passage, piece: Piece) -> list[Glyph | None]:
    """Glyphs for the letters of a piece, from the first to the last of the words that it stands for."""
    if piece.verbatim:
        return list(source.origins[piece.start : piece.end])
    wide, long = piece.end - piece.start - 1, max(1, len(piece.english) - 1)
    return [source.origins[piece.start + round(i * wide / long)] for i in range(len(piece.english))]

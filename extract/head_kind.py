"""What kind of coating a sheet says that its product is."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib import resources

from extract.dates import header_words
from extract.document import fold
from extract.head_product import descriptive
from extract.head_texts import HeadTexts, parts_of, places_of
from extract.kinds import is_known, kinds
from extract.phrases import Phrases, compile_phrases
from extract.terms import Vocabulary

_FIRST_SENTENCES = 14
_OPENING_SENTENCES = 5
_LONGEST = 120
_NEAREST = 6
"""How many of the first lines say more of the kind than the product's own name does."""
_TOLD = 3
"""How many of the first sentences are heard for the packs of a kind that the head names."""
_NEIGHBOURS = 8
"""How many lines of the head may tell the packs of a kind that another of them names."""
_VAGUE = frozenset({"primer", "primer.1k", "topcoat", "filler"})
"""Kinds that say little beyond the sort: another line of the head may know more."""
_TRADE = re.compile(
    r"\b(?:paints|coatings|finishes|lacquers|varnishes|refinishes|enamels)(?: (?:for|ltd|inc|gmbh)\b.*)?\W*$"
)
_CONVERTER = "treatment.converter"
"""The one kind that is found on a panel and also sold in a tin."""


@dataclass(frozen=True, slots=True)
class _Described:
    """A turn of speech that names a kind by itself."""

    kind: str
    pattern: Phrases
    unless: Phrases | None
    whole: bool

    def speaks(self, name: str, line: str) -> bool:
        text = line if self.whole else name
        return self.pattern.search(text) is not None and (self.unless is None or not self.unless.search(line))


@dataclass(frozen=True, slots=True)
class _Wordings:
    ends: re.Pattern[str]
    described: tuple[_Described, ...]
    finer: tuple[tuple[Phrases, Mapping[str, str]], ...]
    packs: tuple[tuple[str, Phrases], ...]


@cache
def head_wordings(language: str) -> _Wordings:
    """vocabulary/<language>/head.toml. Raises FileNotFoundError where a language has none."""
    raw = tomllib.loads(resources.files("extract.vocabulary").joinpath(language, "head.toml").read_text("utf-8"))
    ends = "|".join(re.escape(w) for w in sorted(raw["ends"]["words"], key=len, reverse=True))
    return _Wordings(
        re.compile(rf"[.;:]|(?<![\w-])(?:{ends})(?![\w-])"),
        tuple(
            _Described(
                entry["kind"],
                compile_phrases(tuple(entry["phrases"])),
                compile_phrases(tuple(entry["unless"])) if "unless" in entry else None,
                entry.get("whole", False),
            )
            for entry in raw["described"]
        ),
        tuple((compile_phrases(tuple(entry["phrases"])), entry["of"]) for entry in raw["finer"]),
        tuple((entry["id"], compile_phrases(tuple(entry["phrases"]))) for entry in raw["pack"]),
    )


def kind_of(texts: HeadTexts, product: str | None, vocabulary: Vocabulary) -> str | None:
    """The kind that the title's neighbours or the first sentences name; the most particular of equals."""
    nearest = _other_parts((*texts.titles, *texts.running, *texts.about[:_NEAREST]), product)
    lines = [
        *_labelled(texts),
        *_behind_the_name(texts, product),
        *nearest,
        product or "",
        *_other_parts(texts.about[_NEAREST:], product),
    ]
    reader = LineReader(vocabulary, head_wordings(vocabulary.language))
    unique = dict.fromkeys(" ".join(part.split()) for part in lines)
    body = [fold(sentence) for sentence in texts.body.split("\n")]
    whole = [line for line in unique if not _goes_on(line, body)]
    # 'Industrial & Automotive Paints' is the maker's trade; it is heard last.
    ordered = sorted(whole, key=lambda line: _TRADE.search(fold(line)) is not None)
    described = [k for line in ordered if _is_descriptor(line) and (k := reader.kind_in(line))]
    told = [*reader.sentences_about(texts, product)]
    said = next(reader.said_of(texts, product), None)
    if said and described and described[0].split(".")[0] != said.split(".")[0]:
        # Names mislead ('Mastic', 'Filler Coat'): what a sentence says of the product goes before its name alone.
        others = [line for line in ordered if fold(product or "") not in fold(line)]
        described = [k for line in others if _is_descriptor(line) and (k := reader.kind_in(line))]
    if described:
        best = reader.refined(described[0], " ".join(lines[:_NEIGHBOURS]))
        best = best if best.startswith(described[0] + ".") else described[0]
        # A later line or the sentence about the product may say more than the first one does.
        for other in (*described[1:4], *told[:1]):
            vague = best in _VAGUE and other not in _VAGUE and other.split(".")[0] == best.split(".")[0]
            best = other if vague or other.startswith(best + ".") else best
        # A letterhead may stand before the sentence that opens the sheet.
        best = next((k for k in told[1:_TOLD] if k in (f"{best}.1k", f"{best}.2k")), best)
        return _packed(best, told[:1])
    named = reader.kind_in(product or "")
    if told:
        return told[0]
    loose = [line for line in whole if _is_descriptor(line) and not line.rstrip().endswith(".")]
    return named or next((k for line in loose if (k := reader.loosely_in(line))), None)


def _goes_on(line: str, body: list[str]) -> bool:
    """Whether a printed line is the middle of a sentence, which names what it likes."""
    folded = fold(line)
    return line[:1].islower() and any(folded in said and not said.startswith(folded) for said in body)


def _labelled(texts: HeadTexts) -> list[str]:
    """The values of the head's labels for a kind ('Product type')."""
    labels = header_words()["words"]["kind_labels"]
    facts = [fact.split(": ", 1) for fact in (*texts.facts, *texts.opening) if ": " in fact]
    return [value for label, value in facts if fold(label).strip() in labels and len(value) < _LONGEST]


def _behind_the_name(texts: HeadTexts, product: str | None) -> list[str]:
    """What stands behind the name in its own line ('Stopgap 90 – two-pack epoxy primer'): it goes before the name."""
    named = [parts_of(text) for text in (*texts.titles, *texts.running, *texts.about)]
    lines = [parts for parts in named if parts and fold(parts[0]) == fold(product or "")]
    return [part for parts in lines for part in parts[1:] if len(part) < _LONGEST]


def _packed(kind: str, told: list[str]) -> str:
    """The kind with the packs that the sentence about the product knows of its sort ('a one-component primer')."""
    for other in told:
        sort, _, pack = other.partition(".")
        if pack in ("1k", "2k") and kind.partition(".")[0] == sort:
            return f"{kind}.{pack}" if is_known(f"{kind}.{pack}") else kind
    return kind


def kind_by_name(product: str, vocabulary: Vocabulary) -> str | None:
    """The kind that a product's name says by itself ('Lacrimex Clear'); None where it says none."""
    return LineReader(vocabulary, head_wordings(vocabulary.language)).kind_in(product)


def names_several_kinds(texts: HeadTexts, vocabulary: Vocabulary) -> bool:
    """Whether a line of the head names kinds of different products ('base coat and clear coat')."""
    reader = LineReader(vocabulary, head_wordings(vocabulary.language))
    lines = [part for text in texts.about[:_NEAREST] for part in parts_of(text) if _is_descriptor(part)]
    return any(len(reader.all_in(line)) > 1 for line in lines)


def _other_parts(texts: Iterable[str], product: str | None) -> list[str]:
    """The parts of these lines that are not the name itself, nor too long to say what it is."""
    parts = [part for text in texts for part in parts_of(text)]
    return [part for part in parts if fold(part) != fold(product or "") and len(part) < _LONGEST]


class LineReader:
    """Reads kinds out of single lines."""

    def __init__(self, vocabulary: Vocabulary, wordings: _Wordings) -> None:
        self._vocabulary = vocabulary
        self._wordings = wordings

    def kind_in(self, line: str) -> str | None:
        """The kind that a line under the name, or the beginning of a sentence, says the product is."""
        folded = _LABEL.sub("", _hyphened(fold(line)))
        end = self._wordings.ends.search(folded)
        name = folded[: end.start()] if end and end.start() > 0 else folded
        for turn in self._wordings.described:
            if turn.speaks(name, folded):
                return self.refined(turn.kind, folded)
        found = self._headed(name) or self._headed(folded)
        if not found:
            return None
        first = found[0]
        sort = first.split(".")[0] + "."
        if first.startswith(("sealant.", "topcoat.clear")) and len(found) > 1 and not found[1].startswith(sort):
            first = found[1]  # an 'epoxy mastic primer' is a primer, and so is a 'transparent etching primer'
        return self.refined(first, folded)

    def all_in(self, line: str) -> set[str]:
        """Every kind that a line names by a noun, as far as its sort ('topcoat.base')."""
        return {".".join(kind.split(".")[:2]) for kind in self._headed(line)}

    def loosely_in(self, line: str) -> str | None:
        """What the line's chemistry alone suggests ('1K polyurethane'), where nothing says more."""
        found = self._put_on(line)
        return self.refined(found[0], fold(line)) if found else None

    def refined(self, kind: str, line: str) -> str:
        """The kind with what the rest of its line adds: 'two-component' makes an epoxy primer a primer.epoxy.2k."""
        folded = fold(line)
        for pattern, finer in self._wordings.finer:
            if kind in finer and pattern.search(folded):
                kind = finer[kind]
                break
        for suffix, pattern in self._wordings.packs:
            if is_known(f"{kind}.{suffix}") and pattern.search(folded):
                return f"{kind}.{suffix}"
        return kind

    def sentences_about(self, texts: HeadTexts, product: str | None) -> Iterator[str]:
        """The kinds in 'NAME is a ... primer', then in 'A fast drying ... primer which', in order."""
        yield from self.said_of(texts, product)
        for sentence in [_hyphened(fold(s)) for s in texts.about if len(s.split()) > 4][:_OPENING_SENTENCES]:
            m = re.match(
                r"(?:[\w ]{0,30}:\s*)?(?:(?:this (?:product|material) is|it is|is)\s+)?(?:an?|the|our)?\s*", sentence
            )
            if kind := self._noun_phrase(sentence[m.end() if m else 0 :]):
                yield kind

    def said_of(self, texts: HeadTexts, product: str | None) -> Iterator[str]:
        """The kinds in sentences whose subject is the product: 'NAME is a ... primer'."""
        words = [w for w in (product or "").split() if fold(w) not in descriptive()]
        short = list((product or "").split())
        while len(short) > 1 and fold(short[-1]) in descriptive():
            short.pop()
        names = [fold(n) for n in dict.fromkeys(((product or ""), " ".join(short), *words)) if len(n) > 3]
        sentences = [_hyphened(fold(s).replace("®", "")) for s in texts.body.split("\n")[:_FIRST_SENTENCES]]
        for sentence in sentences:
            for name in names:
                said = (_IS_A.match(sentence, at + len(name)) for at in places_of(name, sentence))
                m = next((m for m in said if m), None)
                if m and (kind := self._noun_phrase(sentence[m.end() :])):
                    yield kind

    def _noun_phrase(self, text: str) -> str | None:
        """The kind that a text names before it says what it is for."""
        end = self._wordings.ends.search(text)
        name = text[: end.start()] if end else text
        for turn in self._wordings.described:
            if turn.speaks(name, text):
                return self.refined(turn.kind, name)
        found = self._headed(name)
        return self.refined(found[-1], name) if found else None

    def _headed(self, text: str) -> list[str]:
        """Kinds that a text names by a noun, not by an adjective left alone ('polyurethane', 'nitro')."""
        return self._put_on(text, headed=True)

    def _put_on(self, text: str, *, headed: bool = False) -> list[str]:
        return [
            m.object
            for m in self._vocabulary.mentions(text)
            if not (m.is_product or m.is_self or m.pronoun or m.object.startswith("family."))
            and is_known(m.object)
            and (kinds()[m.object].sort == "put_on" or m.object == _CONVERTER)
            and not (headed and not self._vocabulary.has_head(m.words))
        ]


@lru_cache(maxsize=1024)
def _hyphened(folded: str) -> str:
    """'Direct to metal' and 'wet on wet' as one word each: the small words in them end no name."""
    return _SMALL_WORDS.sub(r"\1-\2-\3", folded)


_SMALL_WORDS = re.compile(r"\b(direct|wet|\d|all)[ -](to|on|in)[ -](metal|wet|\d|one)\b")


def _is_descriptor(line: str) -> bool:
    """A line that could stand under a product's name: short, no sentence, no figure."""
    return (
        len(line.split()) <= 14
        and not line.rstrip().endswith((":", "?"))
        and not (line.rstrip().endswith(".") and _SAYS.search(fold(line)))
        and not re.search(r"\d\s?(?:°|%|bar|mm)", line)
        and not _TRADES.search(fold(line))
    )


_IS_A = re.compile(r"(?: [\w/+-]+){0,3}?\W{0,3}\s*(?:is|are)\s+(?:an?|the|our)\b")
"""Behind a product's name."""
_TRADES = re.compile(r"\b(?:makers?|manufactur\w+|boilers|grinders|suppliers?|specialists|merchants|factors)\b")
"""A line about the maker, whatever paints it names."""
_OPENS = re.compile(r"(?:[\w ]{0,30}:\s*)?(?:(?:this (?:product|material) is|it is|is)\s+)?(?:an?|the|our)?\s*")
"""What a sentence about the product may open with before it names the kind."""
_LABEL = re.compile(r"^[a-z ]{3,20}:\s+")
_SAYS = re.compile(
    r"^(?:it|this|they|these)\b|\b(?:is|are|can|may|must|should|has|have|was|be|apply|use|do|not|sand|spray|contains?)\b"
)

"""What a text tells one to do to what lies beneath: paper grades, pads, blasting, degreasing and so on.

Only what is to be done; extract/finders/preparation.py finds out to what.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from importlib import resources

from extract.document import Passage
from extract.grades import iso_blast_grade
from extract.patterns import PatternMatch, patterns_for
from extract.phrases import Phrase, Phrases, clause_around, compile_phrase, compile_phrases, keys_along, word_keys
from extract.quantities import find_quantities
from extract.units import Dimension


@dataclass(frozen=True, slots=True)
class Action:
    """One thing to do. start, end: its words in the text; figures in the unit of the property."""

    property: str
    start: int
    end: int
    low: float | None = None
    high: float | None = None
    unit: str | None = None
    text: str | None = None
    variant: str = ""
    """'dry' or 'wet', where the words beside the grade say so."""
    name: str = ""
    confidence: float = 0.85
    loose: bool = False
    """True where only loose rust comes off, so that what is coated is still rusty."""


@dataclass(frozen=True, slots=True)
class Wordings:
    general: Phrases
    later: Phrases
    but: Phrases
    pads: Phrase
    no_abrading: Phrases
    beneath: Phrases
    """Words for what is found there, where no heading tells whose surface is sanded."""
    cleaning: Phrases
    """A table's head over the cleaners to use."""
    treated: Phrases
    past: Phrases


@cache
def wordings(language: str) -> Wordings | None:
    """The word lists of vocabulary/<language>/preparation.toml; None where the language has none."""
    path = resources.files("extract.vocabulary") / language / "preparation.toml"
    if not path.is_file():
        return None
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    return Wordings(
        general=compile_phrases(tuple(data["general"]["words"])),
        later=compile_phrases(tuple(data["later"]["words"])),
        but=compile_phrases(tuple(data["later"]["but"])),
        pads=compile_phrase(data["pads"]["words"]),
        no_abrading=compile_phrases(tuple(data["no_abrading"]["words"])),
        beneath=compile_phrases(tuple(data["beneath"]["words"])),
        cleaning=compile_phrases(tuple(data["cleaning"]["heads"])),
        past=compile_phrases(tuple(data["past"]["words"])),
        treated=compile_phrases(tuple(data["treated"]["words"])),
    )


def actions(passage: Passage, language: str) -> tuple[Action, ...]:
    """Every action that the text asks for, in order."""
    folded = passage.folded
    found = [*_grades(folded, language), *_patterned(passage, folded, language)]
    return tuple(sorted(found, key=lambda a: (a.start, a.property)))


# --- paper -------------------------------------------------------------------------------------------------------

_BARE_GRADE = re.compile(
    r"\b(?:sand(?:ed|ing)?|scuff(?:ed|ing)?|finish(?:ed|ing)?|refined?|flat(?:ted|ting)?|abrad(?:e|ed|ing)|keyed|leave|"
    r"cut|block(?:ed)?|rub(?:bed)?(?: down)?|gr[ae]y or sanded)\s+(?:wet |dry )?(?:with |to |at |using |in )?"
    r"(?P<low>\d{2,4})(?:\s*(?:-|to|/)\s*(?P<high>\d{2,4}))?"
    r"(?=\s*(?:$|[,;:)]|\.(?!\d)|dry\b|wet\b|paper\b|disc|or\b|and\b|on\b|in\b|under\b|before\b|then\b))"
)
_PAPER = re.compile(
    r"(?<![a-z0-9.-])(?:no\.? ?)?(?P<low>\d{2,4})(?:\s*(?:-|to|/)\s*(?P<high>\d{2,4}))?"
    r"[ -](?:grade |grit )?(?:wet (?:and|or) dry |dry |wet )?paper\b"
)
_BRACKETED = re.compile(
    r"\b(?:sand(?:ed|ing)?|abraded|flatted|scuffed|keyed|ground)\b[^.;()]{0,30}"
    r"\((?P<low>\d{2,4})(?:\s*(?:-|to|/)\s*(?P<high>\d{2,4}))?\)"
)
"""'Sanded steel (120)'"""
_MARKED = re.compile(r"(?<![\w.-])(?P<low>\d{2,4})(?:\s?(?:-|to)\s?(?P<high>\d{2,4}))?\s?#(?!\s?\w)")
"""'600#'"""
_CHOICE = re.compile(r"(?<![\w.-])(?P<low>\d{2,4})\s?(?:or|and|/|then)\s?(?P<high>\d{2,4})[ -]?(?:grit|grade)\b")
"""'80 or 120 grit'"""
_TWO_DIGITS = re.compile(r"\d\d")
_FURTHER = re.compile(
    r"\s*(?:-|or|,|/|and|then)?\s*(?P<low>\d{3,4})(?:\s*(?:-|to|/)\s*(?P<high>\d{3,4}))?\s+(?P<how>dry|wet)\b"
)
_HOW_AFTER = re.compile(r"^[\s,]*(?:grit[\s,]*|paper[\s,]*)?(?:\()?(?P<how>dry|wet|with water)\b")
_HOW_BEFORE = re.compile(r"\b(?P<how>dry|wet)(?: sand(?:ed|ing)?| flat(?:ted|ting)?)?(?: with| to)?[\s:]*$")


@lru_cache(maxsize=512)
def _grades(folded: str, language: str) -> tuple[Action, ...]:
    return tuple(_graded(folded, language))


def _graded(folded: str, language: str) -> Iterator[Action]:
    words = wordings(language)
    if words is None or not (_TWO_DIGITS.search(folded) or words.pads.may_stand_in(word_keys(folded))):
        return
    figures = [q for q in find_quantities(folded) if q.dimension is Dimension.GRADE and q.low is not None]
    spans = [(q.start, q.end, _least(q.low, q.high), _most(q.low, q.high)) for q in figures]
    for m in _CHOICE.finditer(folded):
        spans = [s for s in spans if s[1] <= m.start("low") or m.end() <= s[0]]
        spans.append((m.start("low"), m.end(), float(m.group("low")), float(m.group("high"))))
    for regex in (_BARE_GRADE, _PAPER, _BRACKETED, _MARKED):
        for m in regex.finditer(folded):
            low, high = float(m.group("low")), float(m.group("high") or m.group("low"))
            fresh = not any(s < m.end() and m.start("low") < e for s, e, _, _ in spans)
            if fresh and _plausible_grade(low, high):
                spans.append((m.start("low"), m.end(), low, high))
    for _, end, _, _ in list(spans):
        further = _FURTHER.match(folded, end)
        if further and not any(s < further.end("how") and further.start("low") < e for s, e, _, _ in spans):
            low, high = float(further.group("low")), float(further.group("high") or further.group("low"))
            if _plausible_grade(low, high):
                spans.append((further.start("low"), further.start("how"), low, high))
    kept = [s for s in sorted(spans) if folded[s[0] : s[1]].endswith("#") or not _no_abrading(folded, *s[:2], words)]
    for start, end, low, high in kept:
        yield Action(
            "abrade",
            start,
            end,
            _least(low, high),
            _most(low, high),
            "P",
            None,
            _how(folded, start, end),
            "paper grade",
        )
    for m in words.pads.regex.finditer(folded) if words.pads.may_stand_along(keys_along(folded)) else ():
        begun = m.end() - len(m.group().lstrip(" -/()"))
        near = any(_same_choice(folded, begun, m.end(), s, e) for s, e, _, _ in kept)
        if not near and not _no_abrading(folded, begun, m.end(), words):
            yield Action("abrade", begun, m.end(), text=m.group().strip(" -/()"), name="abrasive pad", confidence=0.8)


def _least(low: float | None, high: float | None) -> float:
    return min(v for v in (low, high) if v is not None)


def _most(low: float | None, high: float | None) -> float:
    return max(v for v in (low, high) if v is not None)


def _plausible_grade(low: float, high: float) -> bool:
    return 24 <= low <= 5000 and 24 <= high <= 5000


def _how(folded: str, start: int, end: int) -> str:
    after = _HOW_AFTER.match(folded[end:])
    found = after or _HOW_BEFORE.search(folded[:start])
    return "" if found is None else "dry" if found.group("how") == "dry" else "wet"


def _no_abrading(folded: str, start: int, end: int, words: Wordings) -> bool:
    """'P180 scratches', 'do not sand coarser than P180', 'fills P120' ask for no sanding."""
    clause_start, clause_end = clause_around(folded, start, end)
    begin, stop = max(clause_start, start - 40), min(clause_end, end + 14)
    # 'Without sanding, or sanded with P320': what is offered instead counts.
    return any(_INSTEAD.match(folded, begin + m.end()) is None for m in words.no_abrading.finditer(folded[begin:stop]))


_INSTEAD = re.compile(r"\s*,?\s*or (?:else )?(?:sand|abrad|flat|scuff|key|rub)")


def _same_choice(folded: str, start: int, end: int, other_start: int, other_end: int) -> bool:
    """Whether two means are offered as one choice ('P320 or a grey pad')."""
    between = folded[end:other_start] if end <= other_start else folded[other_end:start]
    return len(between) < 25 and bool(re.search(r"\bor\b|/", between)) and not re.search(r"[.;:]\s", between)


_NO_MEANS = re.compile(r"\W*(?:n/?a|none|no|yes|x|not\b.*|-+|required|necessary)?\W*")


def cleaner_in_cell(passage: Passage) -> Action | None:
    """The cleaner that a cell names under a head such as 'Cleaning'; None for a dash, a tick or a whole sentence."""
    text = passage.text.strip()
    name = re.split(r"[,;(]|\.\s", text)[0].strip()
    if (
        _NO_MEANS.fullmatch(passage.folded)
        or len(name.split()) > 5
        or not (_CLEANER.search(name) or _NAMED.match(name))
    ):
        return None
    start = passage.text.find(name)
    return Action("degrease", start, start + len(name), text=name, name="cleaner in a table", confidence=0.8)


# --- the rest ----------------------------------------------------------------------------------------------------

_TEXT_ENDS = re.compile(
    r"[,.;:(\u2013]|\s-\s|\b(?:before|after|prior|first|right|then|and|until|at the|to remove|on|immediately|again|"
    r"just|when|if|or|in order|for|followed by)\b"
)
_WAX_AND_GREASE = re.compile(r"(?:[\w.&-]+ ){0,3}?wax (?:and|&|/) grease (?:remover|cleaner)", re.IGNORECASE)
_PAPER_NAMED = re.compile(r"(?i)p?\d{2,4}\b(?! [a-z]* ?(?:cleaner|remover|wipe|degreaser))")
"""'Clean and flat with P400': a paper is no cleaner."""
_ARTICLE = re.compile(r"^\s*(?:(?:an?|the|our|some|suitable|proper)\s+)+", re.IGNORECASE)
_CLEANER = re.compile(
    r"wipe|degreas|cleaner|remover|silicone|spirit|acetone|alcohol|isopropanol|solvent|thinner|detergent|wash\b|prep",
    re.IGNORECASE,
)
_NAMED = re.compile(r"^(?:[A-Z]{1,4}[ -]?\d|[A-Z][\w&-]*\s+[A-Z\d]|[A-Z]{4,})")
_BETWEEN = re.compile(
    r"\s*(?:(?:it|them|all|again|well|first|down|off|everything|carefully|\w+ly|the|any|surfaces?|substrates?|metal|"
    r"panels?|area|parts?|work)\s+)*"
)
"""What may stand between 'degrease' and 'with': no second verb."""
_BY_MEANS = re.compile(r"\b(?:with|using|by means of)\s+")


def _patterned(passage: Passage, folded: str, language: str) -> Iterator[Action]:
    blasts: dict[str, Action] = {}
    graded = bool(_grades(folded, language))
    for spec in patterns_for(language, "preparation", folded):
        for match in spec.find(folded):
            action = _action(passage, folded, match)
            if action is None:
                continue
            if action.property == "abrade" and graded:
                continue
            if action.property == "blast":
                # One grade under two names ('near-white (SSPC-SP 10)') is one thing to do; the standard's name counts.
                clause, _ = clause_around(folded, action.start, action.end)
                grade = f"{clause} {iso_blast_grade(action.text or '') or action.text}"
                if grade not in blasts or not _STANDARD.match(blasts[grade].text or ""):
                    blasts[grade] = action
                continue
            yield action
    yield from blasts.values()


_STANDARD = re.compile(r"(?:sa|st|sspc|nace|iso)\b|(?:sa|st)\d", re.IGNORECASE)


def _action(passage: Passage, folded: str, match: PatternMatch) -> Action | None:
    spec = match.spec
    plain = Action(
        spec.property or "", match.start, match.end, text=spec.text, name=spec.name, confidence=spec.confidence
    )
    match spec.property:
        case "degrease":
            return _degrease(passage, folded, plain, match)
        case "neutralise" | "rinse" | "own_film":
            span = match.captured.get("text")
            text = _means(passage.text, *span) if span else None
            end = span[0] + len(text) if span and text else match.end
            return replace(plain, text=text, end=max(end, match.start + 1))
        case "derust":
            to_metal = re.search(r"\bto\s+(?:\w+\s+)?(?:bright|clean|white|sound|shiny|bare)\s+(?:metal|steel)", folded)
            loose = re.search(r"\b(?:loose|flak|scal(?:y|ing))", folded[match.start : match.end]) is not None
            return replace(plain, text=to_metal.group() if to_metal else None, loose=loose)
        case "blast":
            return replace(plain, text=passage.text[match.start : match.end].strip(" ()"))
        case "profile" | "prime_within":
            return _figured(folded, plain, match)
        case _:
            return plain


def _degrease(passage: Passage, folded: str, plain: Action, match: PatternMatch) -> Action | None:
    span = match.captured.get("text")
    if span is not None:
        text = _means(passage.text, *span)
        if text is None or not (_CLEANER.search(text) or _NAMED.match(text)):
            return None
        return replace(plain, text=text, end=span[0] + len(text))
    _, clause_end = clause_around(folded, match.start, match.end)
    within = list(_BY_MEANS.finditer(folded, match.start, match.end))
    by = within[-1] if within else _BY_MEANS.search(folded, match.end, clause_end)
    if by is None or not _BETWEEN.fullmatch(folded[min(match.end, by.start()) : by.start()]):
        return plain
    text = _means(passage.text, by.end(), clause_end)
    return plain if text is None else replace(plain, text=text, end=max(plain.end, by.end() + len(text)))


def _means(text: str, start: int, end: int) -> str | None:
    """The name of a cleaner or wash, cut where the sentence goes on."""
    words = text[start:end]
    words = _ARTICLE.sub("", words)
    whole = _WAX_AND_GREASE.match(words)
    if whole is not None:
        return whole.group()
    cut = _TEXT_ENDS.search(words, 2)
    words = (words[: cut.start()] if cut else words).strip(" -)")
    return None if _PAPER_NAMED.match(words) else words or None


def _figured(folded: str, plain: Action, match: PatternMatch) -> Action | None:
    """The figure of a profile (nearest to its word) or of a time limit (first in the clause)."""
    clause_start, clause_end = clause_around(folded, match.start, match.end)
    inside = [q for q in find_quantities(folded) if clause_start <= q.start < clause_end]
    if plain.property == "profile":
        word = _PROFILE.search(folded, match.start, clause_end)
        depths = [q for q in inside if q.dimension is Dimension.LENGTH and q.printed_unit in ("um", "mil")]
        if word is None or not depths:
            return None
        found = min(depths, key=lambda q: max(q.start - word.end(), word.start() - q.end))
        if max(found.start - word.end(), word.start() - found.end) > _NEAR:
            return None
        return replace(plain, low=found.low, high=found.high, unit="um", end=max(match.start + 1, found.end))
    limits = [
        q for q in inside
        if q.dimension is Dimension.TIME and q.end > match.start and q.start <= match.end + _NEAR
    ]  # fmt: skip
    if not limits:
        return None
    # 'The same day, within 8 h of sanding': the shorter holds.
    limit = min(limits, key=lambda q: q.high if q.high is not None else q.low or 0.0)
    high = limit.high if limit.high is not None else limit.low
    return replace(plain, high=high, unit="min", end=max(match.start + 1, limit.end))


_PROFILE = re.compile(r"profile|roughness|pattern|\bry5|\brz")
_NEAR = 40
"""Characters between a word and its figure."""

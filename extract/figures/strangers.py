"""Whose figure it is: other products of the range stand in tables and sentences of a sheet, and are no claims of it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from itertools import zip_longest

from extract.claims import Topic
from extract.dates import header_words
from extract.document import Passage, fold
from extract.figures.bound import BoundFigure
from extract.figures.governing import method_of
from extract.mention import Mention
from extract.quantities import find_quantities
from extract.terms import Vocabulary
from extract.units import Dimension

_COMPONENT = re.compile(r"hardener|activator|catalyst|thinner|reducer|diluent|component|additive|\b\d+\.\d{3,}")
_RANGE = re.compile(
    r"\b(?:complements?|complementary|(?:other|related|associated|accompanying|companion|auxiliary|further|ancillary|"
    r"matching) (?:products?|materials?|items?)|(?:of|from|in) (?:the|our) (?:range|programme|program|line|family)|"
    r"product range|also available|goes with|to go with)\b"
)
_ONLY_FOR = re.compile(r"\((?:only|solely|exclusively) (?:for|with|in)\b")
"""'Hardener H 9 (only for F 20) contains isocyanates': not this sheet's product."""
_VERSION = re.compile(
    r"(?:our|the)\s+(?:[\w-]+\s+){1,2}(?:version|variant|sister product|counterpart|predecessor|formula)\b(?! of it)"
)
_DIFFERENT = re.compile(r"(?:our|the)\s[^.;:]{2,40}?\bis (?:a |an |quite )?(?:different|another)\b")
"""'Our Quell Gel is another thing: ...'"""
_NO_NAME = re.compile(
    r"(?:contains?|apply|use|mix|add|spray|dry|wait|after|within|at|for|from|dilute|thin|sand|bake|keep|store|wear|allow|"
    r"solids|coats?|hands?|minimum|maximum|approx|about|between|and|or)\b",
    re.IGNORECASE,
)
"""A capital at the beginning of a sentence and a figure behind it make no name ('Contains 55 %')."""
_OPENING = re.compile(r"(?:(?:the|our|for|with|an?)\s+|[\w-]+\s+){0,3}")
_VERB_AHEAD = re.compile(
    r"[\s,)®™]*(?:[a-z-]+\s+){0,2}?(?:is|are|has|have|wants?|needs?|takes?|can|may|must|should|will|contains?|requires?|"
    r"dries|cures|sands|flashes|works|gives|goes|does|uses)\b"
)
_NAME_AHEAD = re.compile(
    r"(?:(?:The|Our|For|With)\s+(?:[a-z]+\s+)?)?"
    r"(?P<name>[A-ZÀ-Þ][A-ZÀ-Þ\d-]{4,}(?:\s[A-Z\d][\w.-]*)*|[A-ZÀ-Þ][\w-]+(?:\s[A-Z\d][\w.-]*)+)\s+"
    r"(?P<verb>is|are|has|wants|needs|takes|can|may|must|should|will|requires|dries|cures|sands|flashes|gives|goes)\b"
)
_TRADE_WORDS = frozenset(header_words()["words"]["descriptive"]) | {
    "dry", "wet", "film", "spray", "gun", "minimum", "maximum", "relative", "air", "surface", "mixed", "mixing", "the",
    "flash", "pot", "life", "drying", "curing", "volume", "solids", "colours", "colors", "metallic", "pearl",
    "humidity", "temperature", "both", "all", "each", "object", "substrate", "dew", "point", "shelf", "spraying",
    "coats",
}  # fmt: skip


def is_of_another(figure: BoundFigure, vocabulary: Vocabulary) -> bool:
    """Whether a figure is another product's: by its row or column, its table, or its sentence's subject."""
    # Under 'Activator' the names are those of parts of the mix.
    parts = bool(figure.heads) and _COMPONENT.search(figure.about.split("|")[0]) is not None
    if not parts and any(_is_other_product(head, vocabulary) for head in figure.heads):
        return True
    if figure.heads:
        return is_range_table(figure.about) and not any(m.is_self for m in vocabulary.mentions(figure.heads[0]))
    mentions = vocabulary.mentions(figure.clause)
    if is_subject_another(figure.clause, mentions):
        return True
    if figure.label not in fold(figure.about[:40]) and opens_with_a_name(figure.about, vocabulary):
        return True
    if figure.spec.topic not in {Topic.DRYING, Topic.FILM}:
        return False
    before = figure.clause[: max(0, figure.clause.find(figure.label))]
    ahead = [m for m in mentions if m.end <= len(before)]
    if not ahead or any(m.is_self for m in mentions) or _COMPONENT.search(before):
        return False
    return ahead[-1].is_product and len(before) - ahead[-1].end < 20


def components_of(passages: Iterable[Passage], vocabulary: Vocabulary) -> frozenset[str]:
    """The objects of products that a sheet calls hardener, thinner and the like: parts of the mix, no strangers."""
    out: set[str] = set()
    for passage in passages:
        folded = passage.folded
        if _COMPONENT.search(folded) is None:
            continue
        for mention in vocabulary.mentions(passage.text):
            around = folded[max(0, mention.start - 14) : mention.start] + " " + folded[mention.end : mention.end + 12]
            if mention.is_product and _COMPONENT.search(around):
                out.add(mention.object)
    return frozenset(out)


def is_range_table(about: str) -> bool:
    """Whether a table's corner, title or heading (folded) says that its rows are other products of the maker."""
    return _RANGE.search(about) is not None


def _is_other_product(head: str, vocabulary: Vocabulary) -> bool:
    """Whether a row or a column is headed by the name of another product and by nothing else."""
    head = _without_temperature(head)
    mentions = vocabulary.mentions(head)
    if any(m.is_self for m in mentions) or _COMPONENT.search(fold(head)) or method_of(fold(head)) is not None:
        return False
    named = sum(m.end - m.start for m in mentions if m.is_product)
    return named > 0 and named >= 0.7 * len(re.sub(r"[()\s]+", " ", head).strip())


def _without_temperature(head: str) -> str:
    """'Handling 20 °C' is no product of that number."""
    found = [q for q in find_quantities(fold(head)) if q.dimension is Dimension.TEMPERATURE]
    for q in reversed(found):
        head = head[: q.start] + head[q.end :]
    return head.strip(" ()@,")


def is_about_another(passage: Passage, vocabulary: Vocabulary) -> bool:
    """Whether a sentence's subject is another product, by the sheet's terms or by the way that it is written."""
    return is_subject_another(passage.folded, vocabulary.mentions(passage.text)) or opens_with_a_name(
        passage.text, vocabulary
    )


def is_subject_another(folded: str, mentions: Sequence[Mention]) -> bool:
    """Whether a sentence is about another product, named before its verb: 'TR 12 is diluted 5 % and ...'."""
    if _VERSION.match(folded) or _DIFFERENT.match(folded):
        return True
    kept = [m for m in mentions if not (m.pronoun or (m.is_product and _NO_NAME.match(m.words)))]
    # 'The filler TR 12 is ...': the general word only leads up to the name.
    kept = [
        m
        for m, after in zip_longest(kept, kept[1:])
        if m is not None and not (m.is_self and after is not None and after.is_product and after.start - m.end <= 1)
    ]
    if not kept or any(m.is_self for m in kept):
        return False
    if is_only_for_another(folded, kept):
        return True
    first = kept[0]
    # A label may stand before the sentence ('Cautions.: TR 12 is ...').
    if not first.is_product or not _OPENING.fullmatch(folded[: first.start].rpartition(": ")[2]):
        return False
    about = folded[: first.end + 16]
    number = re.match(r"[.,\d]*", folded[first.end :])
    end = first.end + (number.end() if number else 0)
    return not _COMPONENT.search(about) and _VERB_AHEAD.match(folded, end) is not None


def is_only_for_another(folded: str, mentions: Sequence[Mention]) -> bool:
    """Whether what a sentence speaks of belongs to another product alone: 'Hardener H 9 (only for F 20) ...'."""
    m = _ONLY_FOR.search(folded)
    behind = [x for x in mentions if m is not None and 0 <= x.start - m.end() <= 12]
    return any(x.is_product and not x.is_self for x in behind)


def opens_with_a_name(text: str, vocabulary: Vocabulary) -> bool:
    """Whether a sentence's subject is written as a name that is neither the sheet's own nor words of the trade."""
    m = _NAME_AHEAD.match(text)
    if m is None or _COMPONENT.search(fold(m.group())):
        return False
    name = m.group("name")
    mentions = vocabulary.mentions(name)
    if any(x.is_self for x in mentions):
        return False
    kinds = [x for x in mentions if not x.is_product]
    rest = [w for w in re.finditer(r"\S+", name) if not any(k.start <= w.start() < k.end for k in kinds)]
    return any(fold(w.group()) not in _TRADE_WORDS for w in rest)

"""Making the product ready: ratio, thinner, pot life, induction, viscosity."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from extract.claims import Claim, Stance, Topic, Why
from extract.document import Document, Statement, StatementKind, Table, fold, join
from extract.figures.claims import claims_of
from extract.figures.cups import find_cup
from extract.figures.governing import head_temperature
from extract.figures.ratios import find_ratios
from extract.figures.reading import read_figures
from extract.finders import mixing_lists, mixing_tables
from extract.finders.mixing_parts import OTHER_COMPONENT, SKIPPED, ratio_claim, said_of_parts
from extract.quantities import find_quantities
from extract.sections import sense_of
from extract.terms import SubjectNames, Vocabulary
from extract.units import Dimension

_NO_THINNER = re.compile(
    r"\b(?:do not|don't|never|must not be|should not be|not to be|no need to|not)\s+(?:be\s+)?"
    r"(?:thin|reduce|dilute)(?:ned|d)?\b|\bno (?:thinning|reduction|dilution|thinner|reducer)\b"
    r"|\b(?:use[ds]?|apply|applied|sprayed|ready|supplied|brush\w*|roller?|spray)\W{0,3}(?:it )?"
    r"(?:undiluted|unthinned|unreduced|neat)\b"
    r"|\b(?:thinning|thin|reduce|reduction|reducing|dilution|dilute|thinner|reducer)\W{0,3}"
    r"(?:(?:is|are)\s)?(?:none|nil|not (?:usually |normally |generally )?(?:required|necessary|needed))\b|"
    r"\bnot (?:be )?(?:thinned|reduced|diluted)\b"
)
_SETTING = re.compile(
    r"\b(?:beg[iau]n\w*|start\w*) to (?:set|gel|thicken|cure|harden|stiffen)|\b(?:thickened|gelled|skinned|stiffened)\b"
)
"""A pot that is going off must not be let down again; that says nothing of a fresh mix."""
_HALF_THAT = re.compile(r"\b(?:half|twice|double) (?:that|this|as long|the time)\b")


def find(document: Document, subject: SubjectNames, vocabulary: Vocabulary) -> Iterator[Claim]:
    """Claims of the topic mixing."""
    for claim in claims_of(read_figures(document), Topic.MIXING, vocabulary):
        yield _with_cup(claim) if claim.property == "mixed_viscosity" else claim
    for block in document.blocks:
        if isinstance(block, Table):
            yield from mixing_tables.claims(block, subject, said_of_parts(document, block))
        elif _is_mixing_field(block) or not sense_of(block.section, document.language) & SKIPPED:
            yield from _ratios_in(block)
            yield from _no_thinner(block)
            yield from _halves(block)
    yield from mixing_lists.claims(document, subject)


def _is_mixing_field(statement: Statement) -> bool:
    """A field that says itself that it is about mixing, wherever its box stands."""
    label = statement.label
    return (
        statement.kind is StatementKind.FIELD
        and label is not None
        and bool(re.search(r"\bmix|ratio|thinn|dilut|reduc", label.folded))
    )


def _with_cup(claim: Claim) -> Claim:
    """The cup that the seconds belong to, as printed, before the variant's words."""
    if claim.why is None:
        return claim
    place = f"{claim.evidence.quote} {claim.why.cell}"
    span = find_cup(fold(place))
    if span is None:
        return claim
    cup = place[span[0] : span[1]].strip()
    return replace(claim, text=cup if not claim.text or fold(cup) in fold(claim.text) else f"{cup}, {claim.text}")


def _ratios_in(statement: Statement) -> Iterator[Claim]:
    passage = statement.passage
    if statement.label is not None and not fold(passage.text).startswith(fold(statement.label.text)):
        passage = join([statement.label, passage], ": ")
    context = " ".join(fold(h.text) for h in statement.section.headings)
    if statement.lead is not None:
        context += " " + statement.lead.folded
    folded = passage.folded
    bare = statement.kind is StatementKind.FIELD or len(folded) < 40
    for ratio in find_ratios(folded, context):
        around = folded[max(0, ratio.start - 30) : ratio.start]
        if re.search(r"\((?:[^)]*)$", around) and not OTHER_COMPONENT.search(folded) and "ratio" not in folded:
            continue  # 'volume solids of the mixture (4 : 1, unthinned)'
        end = ratio.end
        tail = re.match(r"\s*(?:by (?:volume|weight|vol\.?|wt\.?)|\(?vol\w*\.?\)?|\(?wt\.?\)?|v/v|w/w)", folded[end:])
        if tail:
            end += tail.end()
        if ratio.parts[0] == ratio.parts[-1] == 1 and not re.search(
            r"mix|hardener|catal|activat|ratio|part|by vol", folded + context
        ):
            continue
        yield ratio_claim(ratio, (passage.part(ratio.start, end),), None, 0.92 if bare else 0.82)


def _no_thinner(statement: Statement) -> Iterator[Claim]:
    passage = statement.passage
    if statement.label is not None and not fold(passage.text).startswith(fold(statement.label.text)):
        passage = join([statement.label, passage], ": ")
    folded = passage.folded
    m = _NO_THINNER.search(folded)
    if m is None or _SETTING.search(folded):
        return
    if re.search(
        r"\b(?:more|further|again|unless|except|with (?:lacquer|other)|film|gloss|beyond|over)\b",
        folded[m.start() : m.end() + 40],
    ):
        return
    yield Claim(
        topic=Topic.MIXING,
        property="thinner",
        stance=Stance.STATES,
        evidence=passage.evidence(m.start(), m.end()),
        low=0,
        high=0,
        unit="%",
        confidence=0.85,
        why=Why("mixing.no_thinner", (m.group(),)),
    )


def _halves(statement: Statement) -> Iterator[Claim]:
    """'45 minutes at 20 °C and half that at 30 °C'."""
    folded = statement.passage.folded
    m = _HALF_THAT.search(folded)
    if m is None or not re.search(r"pot[- ]?life|working life|usable", folded[: m.start()]):
        return
    times = [q for q in find_quantities(folded) if q.dimension is Dimension.TIME and q.end <= m.start()]
    at_c = head_temperature(folded[m.end() :])
    if len(times) != 1 or at_c is None or times[0].low is None:
        return
    factor = 0.5 if m.group().startswith("half") else 2.0
    end = len(folded.rstrip(" ."))
    yield Claim(
        topic=Topic.MIXING,
        property="pot_life",
        stance=Stance.STATES,
        evidence=statement.passage.evidence(times[0].start, end),
        low=times[0].low * factor,
        high=None if times[0].high is None else times[0].high * factor,
        unit="min",
        at_c=at_c,
        confidence=0.8,
        why=Why("mixing.half_that", (m.group(),)),
    )

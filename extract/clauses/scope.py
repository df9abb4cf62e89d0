"""Which of a sentence's conditions hold for which of its coats."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from extract.claims import Condition
from extract.clauses.assertions import firm
from extract.clauses.conditions import ConditionHit, tags, times_as_windows, via_of
from extract.clauses.cues import Cues
from extract.clauses.frames import Clause, Found, state_meant
from extract.terms import Mention


def tail_hits(
    clauses: list[Clause],
    n: int,
    hits: list[ConditionHit],
    mentions: Sequence[Mention],
    via_spans: list[tuple[int, int]],
    own_like: Callable[[Mention], bool],
) -> tuple[list[ConditionHit], int]:
    """Conditions in following clauses that name no coat of their own ('...: isolate first'), and their end."""
    out: list[ConditionHit] = []
    reach = clauses[n].end
    for clause in clauses[n + 1 :]:
        if clause.joint == "stop":
            break
        if any(
            clause.start <= m.start < clause.end
            and not (m.is_self or own_like(m))
            and (m.start, m.end) not in via_spans
            for m in mentions
        ):
            break
        out.extend(h for h in hits if clause.start <= h.start < clause.end)
        reach = clause.end
    return out, reach


def conditioned(
    c: Cues,
    folded: str,
    signs: str,
    clause: Clause,
    found: list[Found],
    own_hits: list[ConditionHit],
    tail: list[ConditionHit],
    reach: int,
    language: str = "en",
) -> Iterator[Found]:
    """The coats of a clause with the conditions that it and its tail set on each."""
    text = signs[clause.start : clause.end]
    unless = c.unless.search(text)
    window = [
        replace(h, start=h.start + clause.start, end=h.end + clause.start)
        for h in times_as_windows(folded[clause.start : reach])
    ]
    listed = [f.mention for f in found]
    for f in found:
        hits = [*items_hits(signs, listed, f.mention, [*own_hits, *window]), *tail]
        later = [h for h in hits if _afterwards(c, signs, h)]
        hits = [h for h in hits if h not in later] if any(h not in later for h in hits) else hits
        if not f.forbids:
            # "Without etch primer" in a permission says that none is needed.
            hits = [h for h in hits if not signs.startswith("without", h.start)]
        via = via_of(hits)
        end = max([f.end, *(h.end for h in hits)])
        if f.forbids and f.pattern in firm(language):
            yield f
            continue
        if f.forbids:
            freed = [h for h in hits if unless is not None and h.start >= clause.start + unless.start()]
            if via is not None and via.object != f.mention.object and not _denied(signs, clause, hits):
                yield replace(
                    f,
                    forbids=False,
                    only=False,
                    conditions=tags(hits),
                    via=via,
                    end=end,
                    pattern=f.pattern + ", isolated",
                )
            elif freed:
                yield replace(
                    f, forbids=False, only=False, conditions=tags(freed), end=end, pattern=f.pattern + ", unless"
                )
            else:
                yield _limited(f, signs, own_hits)
            continue
        yield from _ways(folded, replace(f, end=end), hits, via)


def _limited(f: Found, signs: str, hits: Sequence[ConditionHit]) -> Found:
    """'Not over wash primers that have been sanded' forbids them in that state only."""
    until = state_meant(signs, f.mention.end)
    state = tags([h for h in hits if f.mention.end <= h.start < until])
    return replace(f, conditions=state, only=False, pattern=f"{f.pattern}, in that state") if state else f


def _denied(signs: str, clause: Clause, hits: Sequence[ConditionHit]) -> bool:
    """'Must not be put on with X between': the negation holds for the very thing that goes between."""
    between = [h for h in hits if h.via is not None]
    plain = [h for h in between if clause.start <= h.start < clause.end and _STATES.match(signs, h.start)]
    if plain and plain == between and not _WAY_OUT.search(signs, clause.start, plain[0].end):
        return True
    return all(clause.start <= h.start < clause.end and _WITH.search(signs[: h.start + 5]) for h in between)


_STATES = re.compile("after |pre|prim|treat|\ue001")
_WAY_OUT = re.compile(r"\b(?:unless|until|till|without|only|except|if not|before)\b")
"""'Not over X primed with Y' forbids; 'not over X unless primed with Y' shows a way."""
_WITH = re.compile(r"(?<!only )(?<!but )(?<!just )(?<![-,:(] )\b(?:with|via)(?: (?:an? |the )?\S{0,5})?$")


def _afterwards(c: Cues, signs: str, hit: ConditionHit) -> bool:
    """True where the condition holds only once the time is past."""
    before = signs[max(0, hit.start - 60) : hit.start + 1]
    if re.search(
        r"\b(?:h|hours?|days?|weeks?|months?|min\w*)\b[^.;]{0,24}(?:,|\bor),? (?:otherwise|beyond)[ ,\w]{0,16}$",
        before[:-1],
    ):
        return False
    cut = max(before.rfind("; "), before.rfind(". "))
    behind = re.split(r"[;.](?: |$)", signs[hit.end : hit.end + 40])[0]
    return (
        c.afterwards.search(before[cut + 1 :]) is not None
        or re.search(r"\bthereafter\b|\bafterwards\b", behind) is not None
    )


def _ways(folded: str, f: Found, hits: Sequence[ConditionHit], via: Mention | None) -> Iterator[Found]:
    """'Within 72 hours, or sanded' is two permissions."""
    timed = [h for h in hits if h.condition is Condition.WITHIN_WINDOW]
    worked = [h for h in hits if h.condition is Condition.ABRADED]
    if timed and worked:
        first, second = (timed[0], worked[0]) if timed[0].start < worked[0].start else (worked[0], timed[0])
        if re.search(
            r"(?:, or|;? ?or|,? or else|,? otherwise|,? (?:or,? )?(?:beyond|later|thereafter|"
            r"past that)(?: that| this)?,?|,? after (?:that|which)(?: time)? (?:only )?)"
            r" ?(?:after |else |if |it has to be |must be |to be |to |be |has to be |well )?\W*$",
            folded[first.end : second.start],
        ):
            for group in (timed, worked):
                others = [h for h in hits if h not in timed and h not in worked]
                yield replace(f, conditions=tags([*group, *others]), via=via, pattern=f.pattern + ", either")
            return
    yield replace(f, conditions=tags(hits), via=via, only=f.only and via is None)


def _bracketed(signs: str, end: int, hit: ConditionHit) -> bool:
    """True for a condition in brackets right behind a member: it holds for that one alone."""
    return re.match(r" ?\([^()]*$", signs[end : hit.start]) is not None and ")" in signs[hit.end : hit.end + 60]


def _stands_between(signs: str, end: int, other: ConditionHit, hit: ConditionHit) -> bool:
    """True where another condition, not in brackets, stands between a member and this one."""
    inside = signs.count("(", end, other.start) > signs.count(")", end, other.start)
    return end <= other.start < hit.start and not inside


_JOINS = re.compile(r"\b(?:and|or),? (?:only |also )?(?:(?:for|on|over|onto|to) )?$")
_SAME = re.compile(r" ?\((?:the |as )?(?:same|ditto|likewise|above|before|idem|do\.)\b")
_SEPARATOR = re.compile(r",|;|/|\band\b|\bor\b|\bover\b|\bon\b")


def items_hits(
    signs: str, listed: Sequence[Mention], mention: Mention, hits: Sequence[ConditionHit]
) -> list[ConditionHit]:
    """The conditions that a list sets on one of its members.

    Words before a member hold for it and for those joined to it; words behind one for it and the members
    before it that have none of their own; words before or behind the whole list for all.
    """
    if len(listed) < 2:
        return list(hits)
    order = sorted(listed, key=lambda m: m.start)
    index = next(i for i, m in enumerate(order) if (m.start, m.object) == (mention.start, mention.object))
    before: list[list[ConditionHit]] = [[] for _ in order]
    behind: list[list[ConditionHit]] = [[] for _ in order]
    alone: list[list[ConditionHit]] = [[] for _ in order]
    general: list[ConditionHit] = []
    for hit in hits:
        slot = sum(m.start <= hit.start for m in order)
        if slot == 0:
            close = len(signs[hit.end : order[0].start].split()) <= 1 and not re.search(
                r"[,;]", signs[hit.end : order[0].start]
            )
            (before[0] if close else general).append(hit)
            continue
        previous = order[slot - 1]
        joined = _JOINS.search(signs[previous.end : hit.start]) is not None
        if slot < len(order) and joined and not any(_stands_between(signs, previous.end, h, hit) for h in hits):
            before[slot].append(hit)
            continue
        if slot < len(order) and _bracketed(signs, previous.end, hit):
            alone[slot - 1].append(hit)
            continue
        if hit.start < previous.end:
            comma = previous.words.find(",")
            trails = 0 <= comma < hit.start - previous.start
            (before if hit.end < previous.end and not trails else behind)[slot - 1].append(hit)
            continue
        if slot == len(order) and any(alone) and _bracketed(signs, previous.end, hit):
            alone[slot - 1].append(hit)
            continue
        if slot == len(order):
            behind[slot - 1].append(hit)
            continue
        parted = _SEPARATOR.search(signs[previous.end : hit.start])
        goes_on = _SEPARATOR.search(signs[hit.end : order[slot].start])
        (before[slot] if parted and not goes_on else behind[slot - 1]).append(hit)
    for i in range(1, len(order)):
        # "Aluminium (red pad) and zinc (same)".
        if not alone[i] and _SAME.match(signs, order[i].end):
            alone[i] = alone[i - 1] or behind[i - 1]
    out = [*general, *alone[index]]
    for i in range(index, -1, -1):
        if before[i]:
            joint = signs[order[i].end : order[index].start] if i < index else ""
            if not re.search(r";|\b(?:over|on|onto|upon)\b", joint):
                out.extend(before[i])
            break
    for i in range(index, len(order)):
        if behind[i]:
            joint = signs[order[index].end : order[i].start]
            apart = re.search(r"[,;] ?(?:and |or )?(?:over|on|onto|upon)\b", joint) is not None
            if ";" not in joint:
                out.extend(h for h in behind[i] if not apart or re.search(r"[,;]", signs[order[i].end : h.start]))
            break
    return out

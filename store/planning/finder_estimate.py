"""A quick lower bound of what a contact will cost, so that the search judges only the contacts that matter.

It weighs a sheet's sentences about kinds as store.rules.verdicts does, but leaves names, proposals and the user's own
rules aside, taking the kindest reading wherever they could have a say. It never answers: every contact of a sequence
that is handed out is judged by store.rules.verdicts.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from extract.claims import PRODUCT_PREFIX, SELF, Claim, Condition, Stance, Topic
from extract.kinds import ancestors, covers, families_of, is_known
from store.planning.buildup_sheets import Sheets
from store.records import ProductRecord, Rule
from store.rules.names import Likeness, likeness, tokens
from store.rules.reach import KindParty, Level, Party, ProductParty, Reach, sort_of_object, sort_of_party
from store.rules.window_table import SAME_C

MINUTES_LIMIT = 10**7
BLOCK, UNSAID, CONDITION, UNTIMED, MINUTE, COAT = 10**25, 10**21, 10**17, 10**13, 10**3, 1
"""Weights of a cost, so that it compares as (forbidden, unsaid, conditions, untimed, minutes, coats) would."""


@dataclass(frozen=True, slots=True)
class Likely:
    """At best: word is 'yes', 'no' or 'silent', with so many conditions and so many minutes to wait.

    untimed is True where no sentence can give that time.
    """

    word: str
    conditions: int = 0
    minutes: int = 0
    untimed: bool = False


_SILENT = Likely("silent")
_MAYBE = Likely("yes")
_NO = Likely("no")


class Estimate:
    """Lower bounds over the contacts between candidates."""

    def __init__(self, sheets: Sheets, candidates: Sequence[ProductRecord], at_c: float | None = None) -> None:
        self._sheets = sheets
        self._at_c = at_c
        self._by_word: dict[str, set[int]] = {}
        self._products = {product.id: product for product in candidates}
        for product in candidates:
            for word in {*tokens(f"{product.name} {product.code or ''}"), "".join(tokens(product.name))}:
                self._by_word.setdefault(word, set()).add(product.id)
        self._named: dict[tuple[int, Topic], frozenset[int]] = {}
        self._meant: dict[str, frozenset[int]] = {}
        self._halves: dict[tuple[int, Topic, str | None], Likely] = {}
        self._waits: dict[tuple[int, str | None], tuple[int, bool]] = {}
        self._timed: dict[int, frozenset[int]] = {}
        self._own_times: dict[tuple[int, Topic], bool] = {}

    def contact(self, lower: Party, upper: Party) -> Likely:
        """What upper on lower may come to at best."""
        above = self._half(upper, Topic.GOES_OVER, lower)
        below = self._half(lower, Topic.TOPPED_BY, upper)
        if "no" in {above.word, below.word}:
            return _NO
        if "yes" not in {above.word, below.word}:
            return _SILENT
        conditions = above.conditions + below.conditions
        minutes, untimed = self._wait(lower, upper)
        if untimed and (self._times(upper, Topic.GOES_OVER) or self._times(lower, Topic.TOPPED_BY)):
            return Likely("yes", conditions)
        return Likely("yes", conditions, minutes, untimed)

    def _times(self, party: Party, topic: Topic) -> bool:
        """Whether any permission of this sheet has an earliest time of its own."""
        if not isinstance(party, ProductParty):
            return False
        key = (party.product.id, topic)
        if key not in self._own_times:
            said = self._sheets.said(party, topic)
            self._own_times[key] = any(rule.claim.unit == "min" and rule.claim.low is not None for rule in said)
        return self._own_times[key]

    def _half(self, party: Party, topic: Topic, other: Party) -> Likely:
        if not isinstance(party, ProductParty):
            return _SILENT
        product_id = party.product.id
        named = self._named.get((product_id, topic))
        if named is None:
            named = self._names(product_id, party, topic)
        if named and isinstance(other, ProductParty) and other.product.id in named:
            return _MAYBE
        key = (product_id, topic, other.kind)
        known = self._halves.get(key)
        if known is None:
            known = self._judged(party, topic, other)
            self._halves[key] = known
        return known

    def _names(self, product_id: int, party: Party, topic: Topic) -> frozenset[int]:
        """The candidates that a sentence of this sheet may name."""
        names = {r.claim.object for r in self._sheets.said(party, topic) if r.claim.object is not None}
        found = {product_id} if SELF in names else set()
        for name in names:
            if name.startswith(PRODUCT_PREFIX):
                found |= self._called(name.removeprefix(PRODUCT_PREFIX))
        self._named[product_id, topic] = frozenset(found)
        return self._named[product_id, topic]

    def _called(self, name: str) -> frozenset[int]:
        if name not in self._meant:
            said = tokens(name)
            numbers = [self._by_word.get(word, set()) for word in said if word.isdigit()]
            words = {*said, "".join(said)}
            # Names that both carry digits mean the same product only where all digits are the same.
            near = set.intersection(*numbers) if numbers else set()
            near |= self._by_word.get("".join(said), set())
            if not numbers:
                near |= {product_id for word in words for product_id in self._by_word.get(word, ())}
            self._meant[name] = frozenset(i for i in near if likeness(name, self._products[i]) > Likeness.RELATED)
        return self._meant[name]

    def _judged(self, party: Party, topic: Topic, other: Party) -> Likely:
        said = self._sheets.said(party, topic)
        reached: list[tuple[Rule, Reach, bool]] = []
        for rule in said:
            against = rule.claim.stance is Stance.FORBIDS or Condition.ISOLATED in rule.claim.conditions
            how = _kind_reach(rule.claim.object, other.kind, against)
            if how is not None and rule.claim.stance is not Stance.STATES:
                reached.append((rule, how, against))
        best = [entry for entry in reached if not any(how.beats(entry[1]) for _, how, _ in reached)]
        permits = [rule for rule, _, against in best if not against]
        if not best:
            return self._left_out(party, topic, other, said)
        if len(permits) < len(best) and not any(Condition.SPOT_ONLY in rule.claim.conditions for rule in permits):
            return _NO
        return Likely("yes", min(len(rule.claim.conditions) for rule in permits)) if permits else _NO

    def _left_out(self, party: Party, topic: Topic, other: Party, said: Sequence[Rule]) -> Likely:
        """A closed list forbids what it leaves out, unless lines of it may still be confirmed."""
        if other.kind is None or self._sheets.waiting(party, topic):
            return _SILENT
        sort = sort_of_party(other)
        closed = any(
            rule.claim.only and rule.claim.stance is not Stance.FORBIDS and sort_of_object(rule.claim.object) == sort
            for rule in said
        )
        return _NO if closed else _SILENT

    def _wait(self, lower: Party, upper: Party) -> tuple[int, bool]:
        """The least earliest time of the rows that may govern, and whether none of them can give one."""
        if isinstance(lower, KindParty):
            return 0, True
        if lower == upper:
            return 0, False
        if isinstance(upper, ProductParty) and upper.product.id in self._timed_by_name(lower):
            # Rows for a named coat may be more particular than all that is weighed here.
            return 0, False
        key = (lower.product.id, upper.kind)
        known = self._waits.get(key)
        if known is None:
            known = self._waits[key] = self._least_wait(lower, upper)
        return known

    def _timed_by_name(self, lower: ProductParty) -> frozenset[int]:
        """The candidates that a row of this sheet may name."""
        known = self._timed.get(lower.product.id)
        if known is None:
            said = self._sheets.said(lower, Topic.OVERCOAT_WINDOW, "window")
            names = {rule.claim.object for rule in said if (rule.claim.object or "").startswith(PRODUCT_PREFIX)}
            met = (self._called(name.removeprefix(PRODUCT_PREFIX)) for name in names if name is not None)
            known = self._timed[lower.product.id] = frozenset().union(*met)
        return known

    def _least_wait(self, lower: ProductParty, upper: Party) -> tuple[int, bool]:
        rows: list[tuple[Reach, Claim]] = []
        for rule in self._sheets.said(lower, Topic.OVERCOAT_WINDOW, "window"):
            how = _kind_reach(rule.claim.object, upper.kind, forbidding=False)
            if how is not None:
                rows.append((how, rule.claim))
        best = [claim for how, claim in rows if not any(near.beats(how) for near, _ in rows)]
        least = min((claim.low if claim.low is not None else 0.0 for claim in best), default=0.0)
        untimed = self._unread([claim for _, claim in rows if claim.low is not None])
        if self._at_c is not None and all(claim.at_c is not None for claim in best):
            # Between rows the longer earliest holds, which is never shorter than a colder row's.
            colder = [c.low or 0.0 for c in best if c.at_c is not None and c.at_c <= self._at_c + SAME_C]
            least = min(colder, default=0.0)
        return 0 if untimed else min(int(least), MINUTES_LIMIT), untimed

    def _unread(self, earliest: Sequence[Claim]) -> bool:
        """Whether none of the rows with an earliest time gives it: there is none, or it is colder than all of them."""
        stated = [claim.at_c for claim in earliest if claim.at_c is not None]
        if self._at_c is None or len(stated) < len(earliest):
            return not earliest
        return not stated or self._at_c < min(stated) - SAME_C


@lru_cache(maxsize=65536)
def _kind_reach(object_: str | None, kind: str | None, forbidding: bool) -> Reach | None:
    """As store.rules.reach.reach has it for kinds; None for names."""
    if object_ is None:
        return Reach(Level.ANYTHING)
    if kind is None or not is_known(object_) or object_ == SELF or not covers(object_, kind, forbidding=forbidding):
        return None
    if object_ == kind:
        return Reach(Level.KIND)
    up = ancestors(kind)
    if object_ in up:
        return Reach(Level.WIDER, up.index(object_) + 1)
    return Reach(Level.WIDER, None if object_ in families_of(kind) else 0)

"""May UPPER be put straight onto LOWER? Judged from confirmed rules alone.

Whose word counts: the upper product's sheet about the lower one, its kind, the kind's ancestors and families; and the
lower product's sheet about the upper one likewise. A kind has no sheet of its own, so where both are kinds no sheet
speaks and the answer is silent: what one maker says of its own etch primer says nothing of etch primers at large,
and gathering it up from several sheets would be the very guess that this program is there to spare.

Within one sheet the more particular claim wins, and of equally particular ones forbids wins. One pair is no
contradiction: a prohibition beside a permission for small spots of the same thing ('rub-throughs up to 20 mm; larger
areas: no') is read as the two halves of one sentence, and gives yes_if, small spots only. Likewise a prohibition in one
state ('not over wash primers that have been sanded') narrows what the sheet permits of the same thing and stands beside
it; where the sheet permits nothing, it forbids. A closed list ('only over
...') forbids what it leaves out of its own sort, and yields to anything that the sheet says in particular.
A permission with another coat between is a no for the direct contact.

A prohibition of a product by a name that may be another maker's forbids nothing yet, but neither is it passed over:
what it would forbid is unconfirmed until the user has put the name right.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from extract.claims import Condition, Stance, Topic
from extract.kinds import ancestors, is_known
from store.records import OwnRule, ProductRecord, Proposal, Rule, RuleOrigin
from store.rules.advice import advice_for
from store.rules.answers import (
    Answer,
    Citation,
    Clause,
    Conditional,
    Disputed,
    Part,
    Permitted,
    Prohibited,
    Silence,
    Silent,
    Unconfirmed,
)
from store.rules.clauses import clauses_of
from store.rules.own import applying
from store.rules.reach import KindParty, Level, Party, ProductParty, Reach, reach, sort_of_object, sort_of_party
from store.rules.windows import governing_window


@dataclass(frozen=True, slots=True)
class _Saying:
    """One claim that speaks of the contact, and how particularly."""

    source: Rule | Proposal
    how: Reach
    part: Part

    @property
    def against(self) -> bool:
        return self.part is not Part.PERMITS

    def cited(self) -> Citation:
        return Citation.of(self.source, self.part, doubtful=not self.how.certain)


@dataclass(frozen=True, slots=True)
class _SheetWord:
    """What one sheet comes to: permits or forbids, and by which of its sentences."""

    permits: bool
    carried_by: tuple[_Saying, ...]
    beside: tuple[_Saying, ...] = ()


def judge(
    lower: Party,
    upper: Party,
    rules: Iterable[Rule],
    proposals: Iterable[Proposal] = (),
    own_rules: Iterable[OwnRule] = (),
    products: Sequence[ProductRecord] = (),
    at_c: float | None = None,
) -> Answer:
    """The answer, with everything that carries it.

    rules and proposals may be of any sheets: those that do not concern the two are left aside. products is the whole
    library, against which the names on sheets are read. at_c (degC) is for the window; None takes the sheet's own row.
    """
    rules = tuple(sorted(rules, key=lambda rule: (rule.sheet.sheet_id, rule.id)))
    proposals = tuple(sorted(proposals, key=lambda proposal: (proposal.sheet.sheet_id, proposal.id)))
    sayings = _sayings(lower, upper, [r for r in rules if r.origin is not RuleOrigin.OWN], products)
    waiting = _sayings(lower, upper, proposals, products)
    closing = [_closing(lower, upper, sources) for sources in (rules, proposals)]
    certain = [saying for saying in sayings if saying.how.certain]
    pending = [*(saying for saying in sayings if not saying.how.certain), *waiting]
    settled = [saying for saying in closing[0] if not _still_open(saying, pending)]
    words = _sheet_words([*certain, *settled])
    if any(word.permits for word in words):
        # A list with lines still to confirm is no answer by itself, but neither may it let another sheet's yes through.
        words = _sheet_words([*certain, *closing[0]])
    named = [replace(s, how=replace(s.how, certain=True)) for s in sayings if s.against and not s.how.certain]
    open_ban = bool(named) and any(not word.permits for word in _sheet_words([*certain, *closing[0], *named]))
    own = applying(lower, upper, own_rules, products)
    context = _Context(rules, proposals, tuple(products), at_c)
    return _answer(lower, upper, words, [*pending, *closing[1]], own, context, open_ban=open_ban)


@dataclass(frozen=True, slots=True)
class _Context:
    rules: tuple[Rule, ...]
    proposals: tuple[Proposal, ...]
    products: tuple[ProductRecord, ...]
    at_c: float | None


def _speaks(source: Rule | Proposal, lower: Party, upper: Party) -> Party | None:
    """The party that a claim's object is to be held against; None where the sheet has no say in this contact."""
    sheet = source.sheet
    if source.claim.topic is Topic.GOES_OVER and isinstance(upper, ProductParty):
        return lower if sheet.product_id == upper.product.id else None
    if source.claim.topic is Topic.TOPPED_BY and isinstance(lower, ProductParty):
        return upper if sheet.product_id == lower.product.id else None
    return None


def _part(source: Rule | Proposal) -> Part | None:
    claim = source.claim
    if claim.stance is Stance.FORBIDS:
        return Part.FORBIDS
    if claim.stance not in {Stance.PERMITS, Stance.REQUIRES}:
        return None
    return Part.ISOLATES if Condition.ISOLATED in claim.conditions else Part.PERMITS


def _sayings(
    lower: Party, upper: Party, sources: Iterable[Rule | Proposal], products: Sequence[ProductRecord]
) -> list[_Saying]:
    found = []
    for source in sources:
        party, part = _speaks(source, lower, upper), _part(source)
        if party is None or part is None:
            continue
        against = part is not Part.PERMITS
        how = reach(source, party, products, forbidding=against)
        if how is not None:
            found.append(_Saying(source, how, part))
    return found


def _closing(lower: Party, upper: Party, sources: Iterable[Rule | Proposal]) -> list[_Saying]:
    """The closed lists of the sort of what is asked, one saying a sheet and topic: they forbid what they leave out.

    A list closes nothing against a product of unknown kind, which might be on it under its kind.
    """
    found: dict[tuple[int, Topic], _Saying] = {}
    for source in sources:
        party = _speaks(source, lower, upper)
        if party is None or not source.claim.only or source.claim.stance is Stance.FORBIDS or party.kind is None:
            continue
        if isinstance(source, Rule) and source.origin is RuleOrigin.OWN:
            continue
        if sort_of_object(source.claim.object) == sort_of_party(party):
            found.setdefault(
                (source.sheet.sheet_id, source.claim.topic), _Saying(source, Reach(Level.ANYTHING), Part.CLOSES)
            )
    return list(found.values())


def _still_open(closed: _Saying, pending: Sequence[_Saying]) -> bool:
    """True where what is asked stands on the same list, but in a line that nobody has confirmed yet."""
    return any(
        saying.source.sheet.sheet_id == closed.source.sheet.sheet_id
        and saying.source.claim.topic is closed.source.claim.topic
        and saying.source.claim.only
        and saying.part is not Part.FORBIDS
        for saying in pending
    )


def _sheet_words(sayings: Sequence[_Saying]) -> list[_SheetWord]:
    """What each sheet comes to, in the sheets' order."""
    by_sheet: dict[int, list[_Saying]] = {}
    for saying in sayings:
        by_sheet.setdefault(saying.source.sheet.sheet_id, []).append(saying)
    words = (_sheet_word(by_sheet[sheet_id]) for sheet_id in sorted(by_sheet))
    return [word for word in words if word is not None]


def _sheet_word(said: Sequence[_Saying]) -> _SheetWord | None:
    """What one sheet's sentences come to; None where there are none."""
    limited = [saying for saying in said if saying.part is Part.FORBIDS and saying.source.claim.conditions]
    if limited:
        word = _sheet_word([saying for saying in said if saying not in limited])
        if word is None or not word.permits:
            return _SheetWord(False, (*(word.carried_by if word else ()), *limited))
        return _SheetWord(True, word.carried_by, (*word.beside, *limited))
    best = [saying for saying in said if not any(other.how.beats(saying.how) for other in said)]
    if not best:
        return None
    against = [saying for saying in best if saying.against]
    permits = [saying for saying in best if not saying.against]
    if not against:
        return _SheetWord(True, tuple(permits))
    spots = [
        saying
        for saying in permits
        if Condition.SPOT_ONLY in saying.source.claim.conditions
        and all(saying.source.claim.object == other.source.claim.object for other in against)
    ]
    if spots:
        return _SheetWord(True, tuple(spots), tuple(against))
    return _SheetWord(False, tuple(against))


def _answer(
    lower: Party,
    upper: Party,
    words: Sequence[_SheetWord],
    pending: Sequence[_Saying],
    own: tuple[OwnRule, ...],
    context: _Context,
    *,
    open_ban: bool,
) -> Answer:
    """open_ban is whether a prohibition holds if the product that it names is the one asked about."""
    citations = tuple(saying.cited() for word in words for saying in (*word.carried_by, *word.beside))
    waiting = tuple(saying.cited() for saying in pending)
    silences = _silences(lower, upper, words, context)
    permits = [word for word in words if word.permits]
    forbids = [word for word in words if not word.permits]
    common = (lower, upper, citations, silences, waiting, own)
    exceptions = _exceptions(lower, upper, context) if permits and not forbids else ()
    broad = _broad(lower, permits) if permits and not forbids else ()
    own_forbids = any(rule.forbids for rule in own)
    if own_forbids or (forbids and not permits):
        return Prohibited(*common, advice_for("no", *common))
    if forbids:
        return Disputed(*common, advice_for("disputed", *common))
    if not permits or open_ban:
        if waiting:
            return Unconfirmed(*common, advice_for("unconfirmed", *common))
        return Silent(*common, advice_for("silent", *common))
    carrying = [saying.source for word in permits for saying in word.carried_by]
    carrying_rules = [source for source in carrying if isinstance(source, Rule)]
    window = governing_window(lower, upper, context.rules, context.products, context.at_c, carrying_rules)
    clauses: tuple[Clause, ...] = clauses_of(carrying_rules, lower, upper, context.rules, context.products)
    if clauses or own:
        advice = advice_for("yes_if", *common, exceptions=exceptions, broad=broad)
        return Conditional(*common, advice, clauses=clauses, window=window)
    return Permitted(*common, advice_for("yes", *common, exceptions=exceptions, broad=broad), window=window)


def _silences(lower: Party, upper: Party, words: Sequence[_SheetWord], context: _Context) -> tuple[Silence, ...]:
    spoken = {saying.source.sheet.product_id for word in words for saying in word.carried_by}
    silent: dict[int, Silence] = {}
    for party in (lower, upper):
        if isinstance(party, ProductParty) and party.product.id not in spoken:
            product = party.product
            silent[product.id] = Silence(product.id, product.name, product.maker, product.has_sheet)
    return tuple(silent.values())


def _exceptions(lower: Party, upper: Party, context: _Context) -> tuple[Citation, ...]:
    """Prohibitions of a kind of what was asked: 'any primer' may be allowed, etch primers not."""
    found = []
    for rule in context.rules:
        party = _speaks(rule, lower, upper)
        object_ = rule.claim.object
        if (
            isinstance(party, KindParty)
            and rule.origin is not RuleOrigin.OWN
            and object_ is not None
            and _part(rule) in {Part.FORBIDS, Part.ISOLATES}
            and party.kind in _ancestors_of(object_)
        ):
            found.append(Citation.of(rule, _part(rule) or Part.FORBIDS))
    return tuple(found)


def _broad(lower: Party, permits: Sequence[_SheetWord]) -> tuple[Citation, ...]:
    """Permissions for a wider kind of surface than the one asked about: 'old paint' allowed, soft old paint not named.

    A rule on a parent speaks of its children, so the answer stands; but what is found under the gun differs more than
    two coats of one kind do, and the painter is told.
    """
    if sort_of_party(lower) != "found":
        return ()
    return tuple(
        saying.cited()
        for word in permits
        for saying in word.carried_by
        if saying.how.level is Level.WIDER and saying.source.claim.topic is Topic.GOES_OVER
    )


def _ancestors_of(object_: str) -> tuple[str, ...]:
    return ancestors(object_) if is_known(object_) else ()

"""Find a build-up: from the surface, over the work in between, to the finish, by what the sheets allow.

Best first: fewest contacts of which no sheet speaks, then fewest conditions, then least waiting, then fewest coats.
Fillers and sealants go in only where the job asks for them, a topcoat only as the finish (a base coat under a clear);
between them any primer, surfacer or sealer of the candidates may come.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from extract.kinds import covers, is_kind_of
from store.planning.buildup import BuildUp, Checked, Contact, Finding
from store.planning.buildup_check import check
from store.planning.buildup_sheets import Sheets
from store.planning.finder_estimate import Estimate
from store.planning.finder_search import Job, Mode, Place, Search
from store.records import ProductRecord
from store.rules.answers import Conditional, Permitted
from store.rules.reach import Party, ProductParty


@dataclass(frozen=True, slots=True)
class Stop:
    """Work in between: a coat of a product or a kind, time outdoors with what is then on top, or both in this order."""

    party: Party | None = None
    weeks_outdoors: float = 0.0


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is asked for. finish is a product or a kind; between runs from the metal up; most sequences are handed out.

    allow_unsaid also hands out sequences with contacts that no sheet speaks of, after all others.
    """

    surface: Party
    finish: Party
    between: tuple[Stop, ...] = ()
    at_c: float | None = None
    allow_unsaid: bool = False
    most: int = 5
    most_coats: int = 8


@dataclass(frozen=True, slots=True, order=True)
class Rank:
    """How good a sequence is: smaller is better, in this order.

    minutes sums the earliest times that sheets give; untimed counts the waits between coats for which they give none,
    which are no short waits.
    """

    unsaid: int
    conditions: int
    untimed: int
    minutes: float
    coats: int


@dataclass(frozen=True, slots=True)
class FoundBuildUp:
    """A sequence with its check."""

    checked: Checked
    rank: Rank

    @property
    def in_the_way(self) -> tuple[Contact | Finding, ...]:
        """Whatever keeps it from being allowed, in the order of the layers."""
        parts: list[Contact | Finding] = [c for c in self.checked.contacts if c.word not in _ALLOWS]
        parts += [f for f in self.checked.findings if f.word not in _ALLOWS]
        return tuple(sorted(parts, key=lambda part: part.upper if isinstance(part, Contact) else part.layer))


@dataclass(frozen=True, slots=True)
class FindResult:
    """allowed is best first. Where it is empty, nearest is the sequence with least in its way, if there is any.

    lacking are the parties of the job that no candidate answers to: without them nothing can be found. cut_short is
    True where so much was to be looked at that the search stopped before its end: there may be more.
    """

    wanted: Wanted
    allowed: tuple[FoundBuildUp, ...]
    nearest: FoundBuildUp | None = None
    lacking: tuple[Party, ...] = ()
    cut_short: bool = False


_ALLOWS = frozenset({"yes", "yes_if"})


def find(wanted: Wanted, candidates: Sequence[ProductRecord], sheets: Sheets) -> FindResult:
    """The allowed sequences out of the candidates (a shelf, or all that is filed)."""
    ordered = sorted(candidates, key=lambda product: product.id)
    job, lacking = _job(wanted, ordered, sheets)
    if lacking:
        return FindResult(wanted, (), None, lacking)
    estimate = Estimate(sheets, [*ordered, *_named(wanted)], wanted.at_c)
    found, cut_short = _checked(job, Mode.SAID, wanted, sheets, estimate)
    if cut_short and not found:
        found, _ = _checked(job, Mode.SAID, wanted, sheets, estimate, eager=True)
    if wanted.allow_unsaid and len(found) < wanted.most:
        known = {_names(one) for one in found}
        more, cut_too = _checked(job, Mode.UNSAID_TOO, wanted, sheets, estimate)
        found += [one for one in more if _names(one) not in known]
        cut_short = cut_short or cut_too
    if found:
        found.sort(key=lambda one: (one.rank, _names(one)))
        return FindResult(wanted, tuple(found[: wanted.most]), cut_short=cut_short)
    nearest, cut_too = _checked(job, Mode.ANY, wanted, sheets, estimate)
    return FindResult(wanted, (), nearest[0] if nearest else None, cut_short=cut_short or cut_too)


def _job(wanted: Wanted, candidates: Sequence[ProductRecord], sheets: Sheets) -> tuple[Job, tuple[Party, ...]]:
    """The job as places to fill, each with the candidates that may fill it."""
    places = []
    lacking: list[Party] = []
    for stop in wanted.between:
        fitting = None if stop.party is None else _fitting(stop.party, candidates)
        if stop.party is not None and not fitting:
            lacking.append(stop.party)
        places.append(Place(fitting, stop.weeks_outdoors))
    finishes = _fitting(wanted.finish, candidates)
    if not finishes:
        lacking.append(wanted.finish)
    clear = any(p.kind is not None and is_kind_of(p.kind, "topcoat.clear") for p in finishes)
    free = tuple(ProductParty(p) for p in candidates if _may_come_between(p, clear))
    job = Job(
        wanted.surface, tuple(places), finishes, free, tuple(candidates), wanted.at_c, max(1, wanted.most_coats)
    )  # fmt: skip
    return job, tuple(lacking)


def _named(wanted: Wanted) -> list[ProductRecord]:
    """Products that the job itself names: they are used whether or not they are among the candidates."""
    parties = [wanted.surface, wanted.finish, *(stop.party for stop in wanted.between)]
    return [party.product for party in parties if isinstance(party, ProductParty)]


def _fitting(party: Party, candidates: Sequence[ProductRecord]) -> tuple[ProductParty, ...]:
    if isinstance(party, ProductParty):
        return (party,)
    return tuple(
        here for here in map(ProductParty, candidates) if here.kind is not None and covers(party.kind, here.kind)
    )


_BETWEEN = ("primer", "surfacer", "sealer")


def _may_come_between(product: ProductRecord, under_clear: bool) -> bool:
    kind = ProductParty(product).kind
    if kind is None:
        return False
    return any(is_kind_of(kind, parent) for parent in _BETWEEN) or (under_clear and is_kind_of(kind, "topcoat.base"))


def _checked(
    job: Job, mode: Mode, wanted: Wanted, sheets: Sheets, estimate: Estimate, *, eager: bool = False
) -> tuple[list[FoundBuildUp], bool]:
    """Sequences of the search that the whole check allows too, and whether the search was cut short."""
    kept: list[FoundBuildUp] = []
    enough = 1 if mode is Mode.ANY else wanted.most
    search = Search(job, mode, sheets, estimate, eager=eager)
    for layers in search.run():
        one = weighed(check(BuildUp(layers, wanted.at_c), sheets))
        allowed = one.checked.word in _ALLOWS or (mode is Mode.UNSAID_TOO and one.checked.word == "silent")
        if mode is Mode.ANY or allowed:
            kept.append(one)
        if len(kept) >= enough:
            break
    return kept, search.cut_short


def weighed(checked: Checked) -> FoundBuildUp:
    parts: tuple[Contact | Finding, ...] = (*checked.contacts, *checked.findings)
    unsaid = sum(part.word == "silent" for part in parts)
    minutes, untimed = 0.0, 0
    for contact in checked.contacts[1:]:
        window = contact.answer.window if isinstance(contact.answer, Permitted | Conditional) else None
        soonest = None if window is None else window.soonest
        if soonest is None:
            untimed += 1
        else:
            minutes += soonest
    conditions = sum(conditions_of(contact) for contact in checked.contacts)
    conditions += sum(finding.word == "yes_if" for finding in checked.findings)
    return FoundBuildUp(checked, Rank(unsaid, conditions, untimed, minutes, len(checked.build_up.layers) - 1))


def conditions_of(contact: Contact) -> int:
    """How many conditions a contact has: of alternatives, the way with the fewest."""
    if not isinstance(contact.answer, Conditional):
        return 0
    own = sum(not rule.forbids for rule in contact.answer.own)
    return own + sum(min(len(way) for way in clause.ways) for clause in contact.answer.clauses)


def _names(one: FoundBuildUp) -> tuple[str, ...]:
    return tuple(layer.party.name for layer in one.checked.build_up.layers)

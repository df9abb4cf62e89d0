"""The search behind finder.py: A* over (coat on top, work done so far), judged contact by contact.

A contact is first taken at its lower bound and judged only when its turn comes. Rules that reach through layers make
a step's price depend on all that lies below, so a state may be entered several times, by different ways.
"""

from __future__ import annotations

import heapq
import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum

from store.planning.buildup import WEEK, BuildUp, Layer, worst
from store.planning.buildup_check import contact_at, day_findings
from store.planning.buildup_sheets import Sheets
from store.planning.buildup_weather import is_finish, stage, standing
from store.planning.finder_estimate import BLOCK, COAT, CONDITION, MINUTE, MINUTES_LIMIT, UNSAID, UNTIMED, Estimate
from store.planning.reach_through import through
from store.records import ProductRecord
from store.rules.answers import Answer, Conditional, Permitted
from store.rules.reach import Party, ProductParty


class Mode(Enum):
    SAID = "said"
    """Only contacts that the sheets allow."""
    UNSAID_TOO = "unsaid_too"
    ANY = "any"
    """Everything, what is forbidden last: for the nearest sequence where none is allowed."""


@dataclass(frozen=True, slots=True)
class Place:
    """A coat out of fitting (None: no coat), then so many weeks outdoors with what is on top."""

    fitting: tuple[ProductParty, ...] | None
    weeks: float


@dataclass(frozen=True, slots=True)
class Job:
    """free are the coats that may come anywhere between."""

    surface: Party
    places: tuple[Place, ...]
    finishes: tuple[ProductParty, ...]
    free: tuple[ProductParty, ...]
    candidates: tuple[ProductRecord, ...]
    at_c: float | None
    most_coats: int


_WAYS_A_STATE = 24
_MOST_JUDGED = 2000
"""A bound on the work, in contacts judged."""

State = tuple[int, int]
"""Id of the product on top (0: the surface) and how many places are done; a finished sequence has one more."""


@dataclass(frozen=True, slots=True)
class _Way:
    """A sequence so far with its real price; pending is the price of its last step as estimated, not yet judged."""

    layers: tuple[Layer, ...]
    place: int
    price: int
    pending: int
    done: bool = False
    coated: bool = True
    """False where the last step was time outdoors alone."""


class Search:
    """run() gives complete sequences, cheapest first by the prices of their contacts; the whole check is the caller's.

    eager gives some sequence soon instead of the cheapest first: for where the search in order would be too long.
    cut_short is True once the bound on the work has ended the search before everything was looked at.
    """

    def __init__(self, job: Job, mode: Mode, sheets: Sheets, estimate: Estimate, *, eager: bool = False) -> None:
        self._job, self._mode, self._sheets = job, mode, sheets
        self._parties: dict[int, Party] = {0: job.surface}
        for party in (*job.free, *job.finishes, *(p for place in job.places for p in place.fitting or ())):
            self._parties[party.product.id] = party
        self._estimate = estimate
        self._eager = eager
        self._steps: dict[tuple[int, int], int | None] = {}
        self._unfits: dict[int, int | None] = {}
        self._ahead = self._prices_ahead()
        self._judged = 0
        self.cut_short = False

    def run(self) -> Iterator[tuple[Layer, ...]]:
        number = itertools.count()
        entered: dict[tuple[State, bool], int] = {}
        first = self._ahead.get((0, 0))
        if first is None:
            return
        start = _Way((Layer(self._job.surface),), 0, 0, 0)
        heap: list[tuple[tuple[int, int], int, int, _Way]] = [(self._turn(first, first), first, next(number), start)]
        while heap:
            if self._judged >= _MOST_JUDGED:
                self.cut_short = True
                return
            _, reckoned, _, way = heapq.heappop(heap)
            if way.pending:
                real = self._real(way)
                if real is None:
                    continue
                way = _Way(way.layers, way.place, way.price + real, 0, way.done, way.coated)
                ahead = 0 if way.done else self._ahead.get(_state(way))
                if ahead is None:
                    continue
                if way.price + ahead > reckoned and not self._eager:
                    turn = self._turn(way.price + ahead, ahead)
                    heapq.heappush(heap, (turn, way.price + ahead, next(number), way))
                    continue
            key = (_state(way), way.done)
            entered[key] = entered.get(key, 0) + 1
            if way.done:
                yield way.layers
                continue
            if entered[key] > _WAYS_A_STATE:
                continue
            for reckoned, onward in self._onward(way):
                # Of two equally promising ways the one nearer to its end is looked at first.
                left = reckoned - onward.price - onward.pending
                heapq.heappush(heap, (self._turn(reckoned, left), reckoned, next(number), onward))

    def _turn(self, reckoned: int, left: int) -> tuple[int, int]:
        """What is looked at first: the cheapest whole; eagerly, what is nearest to its end."""
        return (left, reckoned) if self._eager else (reckoned, left)

    def _onward(self, way: _Way) -> Iterator[tuple[int, _Way]]:
        """Every next step with what the whole will cost at best."""
        top, used = _state(way)[0], {_id(layer.party) for layer in way.layers}
        place = self._job.places[way.place] if way.place < len(self._job.places) else None
        if place is not None and place.fitting is None and len(way.layers) > 1:
            stood = _outdoors(way.layers, place.weeks)
            rest = self._ahead.get((top, way.place + 1))
            likely = self._standing(way.layers[-1].party, place.weeks)
            if rest is not None and likely is not None:
                yield way.price + likely + rest, _Way(stood, way.place + 1, way.price, max(likely, 1), coated=False)
        if len(way.layers) > self._job.most_coats:
            return
        for party in self._job.free:
            yield from self._coated(way, top, party, used, way.place, 0.0, done=False)
        if place is not None and place.fitting is not None:
            for party in place.fitting:
                yield from self._coated(way, top, party, used, way.place + 1, place.weeks, done=False)
        if place is None:
            for party in self._job.finishes:
                yield from self._coated(way, top, party, used, way.place, 0.0, done=True)

    def _coated(
        self, way: _Way, top: int, party: ProductParty, used: set[int], place: int, weeks: float, *, done: bool
    ) -> Iterator[tuple[int, _Way]]:
        if party.product.id in used:
            return
        step = self._step(top, party.product.id)
        likely = self._standing(party, weeks) if weeks > 0 else 0
        rest = 0 if done else self._ahead.get((party.product.id, place))
        if step is None or likely is None or rest is None:
            return
        # A film that stood outdoors is cleaned and keyed before the next coat, whatever its sheet says of windows.
        stood = way.layers[-1].weeks_outdoors > 0 or None
        layers = (*way.layers, Layer(party, weeks_outdoors=weeks, abraded=stood, cleaned=stood))
        yield way.price + step + likely + rest, _Way(layers, place, way.price, step + likely, done)

    def _step(self, lower: int, upper: int) -> int | None:
        """At best, the price of a contact; None where it cannot be part of a sequence in this mode."""
        key = (lower, upper)
        if key not in self._steps:
            likely = self._estimate.contact(self._parties[lower], self._parties[upper])
            # The surface lies there already: it is not waited for.
            wait = likely.minutes * MINUTE + likely.untimed * UNTIMED if lower != 0 else 0
            price = likely.conditions * CONDITION + wait + COAT
            contact = self._weighed(likely.word, price, at_surface=lower == 0)
            unfit = self._unfit(upper)
            self._steps[key] = None if contact is None or unfit is None else contact + unfit
        return self._steps[key]

    def _unfit(self, coat: int) -> int | None:
        """The price of putting on a coat at a temperature that its sheet forbids."""
        if coat not in self._unfits:
            found = day_findings(self._parties[coat], self._job.at_c, self._sheets)
            self._unfits[coat] = sum(BLOCK for _ in found) if self._mode is Mode.ANY or not found else None
        return self._unfits[coat]

    def _weighed(self, word: str, price: int, *, at_surface: bool = False) -> int | None:
        if word in {"yes", "yes_if"}:
            return price
        if self._mode is Mode.SAID or (word != "silent" and self._mode is not Mode.ANY):
            return None
        if word in {"no", "disputed"}:
            return BLOCK + COAT
        # What lies on the metal matters most: of two silences, the one higher up is nearer to an answer.
        return (2 * UNSAID if at_surface and self._mode is Mode.ANY else UNSAID) + COAT

    def _standing(self, party: Party, weeks: float) -> int | None:
        """At best, the price of standing outdoors with this coat on top."""
        said = standing(party, weeks * WEEK, 0, self._sheets)
        if said is not None and said.word == "no":
            return BLOCK if self._mode is Mode.ANY else None
        if said is None:
            return None if self._mode is Mode.SAID and not is_finish(party) else UNSAID * (not is_finish(party))
        return 0

    def _real(self, way: _Way) -> int | None:
        """The judged price of the last step: its contact, what reaches through to it, and its time outdoors."""
        self._judged += 1
        layers, job = way.layers, self._job
        parties = [layer.party for layer in layers]
        upper = len(parties) - 1
        price = self._real_contact(layers, parties) if way.coated else 0
        if price is None:
            return None
        if layers[-1].weeks_outdoors > 0:
            stood = stage(BuildUp(layers, job.at_c), upper, self._sheets)
            extra = 0 if stood is None else self._weighed(stood.word, CONDITION * (stood.word == "yes_if"))
            if extra is None:
                return None
            price += extra
        return price

    def _real_contact(self, layers: tuple[Layer, ...], parties: Sequence[Party]) -> int | None:
        """The judged price of the topmost coat: its contact, and what reaches through to it from farther below."""
        upper = len(parties) - 1
        answer = self._sheets.answer(parties[-2], parties[-1], self._job.at_c)
        price = self._weighed(answer.word, _price(answer, waited=upper > 1), at_surface=upper == 1)
        if price is not None:
            price += self._unfit(_id(parties[-1])) or 0
        if price is not None and layers[-2].weeks_outdoors > 0:
            _, timed = contact_at(BuildUp(layers, self._job.at_c), upper, self._sheets)
            late = self._weighed(worst(tuple(finding.word for finding in timed)), CONDITION * len(timed))
            price = None if late is None else price + late
        for lower in range(upper - 1):
            found = through(parties, lower, upper, self._sheets)
            extra = 0 if found is None else self._weighed(found.word, 0)
            if price is None or extra is None:
                return None
            price += extra
        return price

    def _prices_ahead(self) -> dict[State, int]:
        """At best, the price from a state to the finish: Dijkstra backwards, place by place."""
        ahead: dict[State, int] = {}
        ids = list(self._parties)
        free = [party.product.id for party in self._job.free]
        finishes = [party.product.id for party in self._job.finishes]
        for place in range(len(self._job.places), -1, -1):
            if place == len(self._job.places):
                reached = {top: self._least(top, [(finish, 0) for finish in finishes]) for top in ids}
            else:
                reached = self._through_place(place, ids, ahead)
            best = {top: price for top, price in reached.items() if price is not None}
            self._spread(best, ids, free)
            ahead.update({(top, place): price for top, price in best.items()})
        return ahead

    def _least(self, top: int, goals: Sequence[tuple[int, int]]) -> int | None:
        prices = [step + rest for goal, rest in goals if goal != top and (step := self._step(top, goal)) is not None]
        return min(prices, default=None)

    def _through_place(self, number: int, ids: Sequence[int], ahead: dict[State, int]) -> dict[int, int | None]:
        place = self._job.places[number]
        stood = {i: self._standing(self._parties[i], place.weeks) if place.weeks > 0 else 0 for i in ids}
        after = {i: ahead[i, number + 1] for i in ids if (i, number + 1) in ahead}
        rest = {i: price + likely for i, price in after.items() if (likely := stood[i]) is not None}
        if place.fitting is None:
            return {i: rest.get(i) if i != 0 else None for i in ids}
        goals = [(p.product.id, rest[p.product.id]) for p in place.fitting if p.product.id in rest]
        return {top: self._least(top, goals) for top in ids}

    def _spread(self, best: dict[int, int], ids: Sequence[int], free: Sequence[int]) -> None:
        """Take in ways over further free coats."""
        coats = frozenset(free)
        heap = [(best[coat], coat) for coat in free if coat in best]
        heapq.heapify(heap)
        settled: set[int] = set()
        while heap:
            price, coat = heapq.heappop(heap)
            if coat in settled:
                continue
            settled.add(coat)
            for top in ids:
                if top in settled:
                    continue
                step = self._step(top, coat)
                if step is not None and price + step < best.get(top, _FAR):
                    best[top] = price + step
                    if top in coats:
                        heapq.heappush(heap, (price + step, top))


_FAR = BLOCK * 1000


def _price(answer: Answer, *, waited: bool) -> int:
    price = COAT
    if isinstance(answer, Conditional):
        price += CONDITION * sum(min(len(way) for way in clause.ways) for clause in answer.clauses)
        price += CONDITION * sum(not rule.forbids for rule in answer.own)
    if not waited:
        return price
    window = answer.window if isinstance(answer, Permitted | Conditional) else None
    soonest = None if window is None else window.soonest
    if soonest is None:
        return price + UNTIMED
    return price + MINUTE * min(int(soonest), MINUTES_LIMIT)


def _outdoors(layers: tuple[Layer, ...], weeks: float) -> tuple[Layer, ...]:
    top = layers[-1]
    return (*layers[:-1], replace(top, weeks_outdoors=top.weeks_outdoors + weeks))


def _id(party: Party) -> int:
    return party.product.id if isinstance(party, ProductParty) else 0


def _state(way: _Way) -> State:
    return (_id(way.layers[-1].party) if len(way.layers) > 1 else 0, way.place)

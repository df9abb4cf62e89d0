"""How long a coat has stood bare outdoors, against what its sheet allows. Pure; all sums in UTC.

Time outdoors counts from the coat on, all spells together. A sheet that does not say is shown as not saying: it is
never taken for leave.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from enum import StrEnum

from extract.claims import Stance, Topic
from extract.kinds import covers
from store.job_records import PanelRecord
from store.planning.next_steps import party_of_product
from store.records import Proposal, Rule
from store.rules.comparison import Material
from store.rules.reach import ProductParty

_RELATED = frozenset({"waterproof", "topcoat_needed", "uv"})


class BareState(StrEnum):
    BARE_METAL = "bare_metal"
    """It stands or stood outdoors with no coat on at all."""
    FORBIDDEN = "forbidden"
    """The sheet says that the film must not be left outdoors at all."""
    WITHIN = "within"
    OVER = "over"
    UNLIMITED = "unlimited"
    NO_TIME = "no_time"
    """The sheet allows it and names no time: how long is not said."""
    SILENT = "silent"
    UNCONFIRMED = "unconfirmed"
    """Only sentences that nobody has confirmed speak."""


@dataclass(frozen=True, slots=True)
class Bare:
    """The uppermost film and the weather.

    stood is the time outdoors since it went on, allowed what the sheet gives; until is the moment at which that is
    used up if the panel stays out, None while it is indoors. sources are the sentences; related what the same sheet
    says of water, sun and topcoat. conditional is True where a leave has conditions.
    """

    state: BareState
    product: ProductParty | None
    stood: timedelta
    outdoors_now: bool
    allowed: timedelta | None = None
    until: datetime | None = None
    sources: tuple[Rule | Proposal, ...] = ()
    related: tuple[Rule, ...] = ()
    conditional: bool = False


def bare_outdoors(panel: PanelRecord, material: Material, now: datetime) -> Bare | None:
    """The state at now (aware). None for a topcoat whose sheet is silent, and for bare metal never put outdoors."""
    done = [record for record in panel.coats if record.coat.at <= now]
    out_now = any(s.spell.began <= now and (s.spell.ended is None or s.spell.ended > now) for s in panel.spells)
    if not done:
        stood = _stood(panel, datetime.min.replace(tzinfo=UTC), now)
        return Bare(BareState.BARE_METAL, None, stood, out_now) if stood or out_now else None
    top = done[-1]
    party = party_of_product(top.coat.product_id, top.product, material)
    stood = _stood(panel, top.coat.at, now)
    rules = [rule for rule in material.rules_of(party.product) if rule.claim.topic is Topic.EXPOSURE]
    said = [rule for rule in rules if rule.claim.property == "outdoors"]
    related = tuple(rule for rule in rules if rule.claim.property in _RELATED)
    if not said:
        waiting = [
            proposal
            for proposal in material.proposals_of(party.product)
            if proposal.claim.topic is Topic.EXPOSURE and proposal.claim.property == "outdoors"
        ]
        if not waiting and _is_finish(party):
            return None
        state = BareState.UNCONFIRMED if waiting else BareState.SILENT
        return Bare(state, party, stood, out_now, sources=tuple(waiting), related=related)
    return _judged(said, party, stood, out_now, related, now)


def _judged(
    said: Sequence[Rule],
    party: ProductParty,
    stood: timedelta,
    out_now: bool,
    related: tuple[Rule, ...],
    now: datetime,
) -> Bare:
    against = [rule for rule in said if rule.claim.stance is Stance.FORBIDS]
    # 'Not without a topcoat for more than 4 weeks' is a prohibition with a figure: it allows the figure and no more.
    outright = [rule for rule in against if rule.claim.high is None and rule.claim.low is None]
    if outright:
        return Bare(BareState.FORBIDDEN, party, stood, out_now, sources=tuple(outright), related=related)
    timed = [rule for rule in said if rule.claim.high is not None or (rule in against and rule.claim.low is not None)]
    conditional = any(rule.claim.conditions for rule in said)
    if timed:
        minutes = min(rule.claim.high if rule.claim.high is not None else rule.claim.low or 0.0 for rule in timed)
        allowed = timedelta(minutes=minutes)
        state = BareState.OVER if stood > allowed else BareState.WITHIN
        until = now.astimezone(UTC) + (allowed - stood) if out_now else None
        return Bare(state, party, stood, out_now, allowed, until, tuple(timed), related, conditional)
    unlimited = [rule for rule in said if rule.claim.unlimited]
    if unlimited and len(unlimited) == len(said):
        return Bare(
            BareState.UNLIMITED, party, stood, out_now, sources=tuple(said), related=related, conditional=conditional
        )
    return Bare(BareState.NO_TIME, party, stood, out_now, sources=tuple(said), related=related, conditional=conditional)


def _stood(panel: PanelRecord, since: datetime, now: datetime) -> timedelta:
    total = timedelta()
    for record in panel.spells:
        began = max(record.spell.began, since).astimezone(UTC)
        ended = min(record.spell.ended or now, now).astimezone(UTC)
        total += max(ended - began, timedelta())
    return total


def _is_finish(party: ProductParty) -> bool:
    """A finish is meant for the weather; a base coat is not, before its clear coat is on."""
    return party.kind is not None and covers("topcoat", party.kind) and not covers("topcoat.base", party.kind)

"""What the sheets ask for before each layer: preparation in the order that it is done, and the cautions."""

from __future__ import annotations

from collections.abc import Sequence

from extract.claims import Claim, Stance, Topic
from store.planning.buildup import BuildUp, Finding, FindingKind, Layer, Step
from store.planning.buildup_sheets import Sheets
from store.records import Rule
from store.rules.reach import Party, Reach, reach

_ORDER = (
    "derust", "blast", "profile", "degrease", "rinse", "neutralise", "own_film", "abrade", "test_patch", "prime_within",
)  # fmt: skip
_CLEANING = frozenset({"degrease", "rinse", "neutralise"})
_KEYING = frozenset({"own_film", "abrade"})
_CAUTIONED = ("isocyanate", "air_fed", "professional_only", "chromate", "lead", "flammable")


def steps_of(build_up: BuildUp, sheets: Sheets) -> tuple[Step, ...]:
    """Every preparation that a sheet requires, from the metal up."""
    steps = []
    for index in range(1, len(build_up.layers)):
        layer, lower = build_up.layers[index], build_up.layers[index - 1].party
        asked = [
            *_asked(sheets, layer.party, lower, own=False),
            *_asked(sheets, lower, layer.party, own=True),
        ]
        asked.sort(key=lambda rule: _ORDER.index(rule.claim.property or ""))
        steps += [Step(index, rule, _done(rule.claim, layer)) for rule in asked]
    return tuple(steps)


def _asked(sheets: Sheets, party: Party, other: Party, *, own: bool) -> list[Rule]:
    """A sheet's preparations for the other party, of each property the most particular."""
    found: dict[str, list[tuple[Rule, Reach]]] = {}
    for rule in sheets.said(party, Topic.PREPARATION):
        property_ = rule.claim.property or ""
        if (property_ == "own_film") is not own or rule.claim.stance is Stance.FORBIDS or property_ not in _ORDER:
            continue
        how = reach(rule, other, sheets.products, forbidding=False)
        if how is not None and how.certain:
            found.setdefault(property_, []).append((rule, how))
    kept: list[Rule] = []
    for said in found.values():
        kept += [rule for rule, how in said if not any(near.beats(how) for _, near in said)]
    return kept


def _done(claim: Claim, layer: Layer) -> bool | None:
    if claim.property in _CLEANING:
        return layer.cleaned
    return layer.abraded if claim.property in _KEYING else None


def undone(steps: Sequence[Step]) -> list[Finding]:
    """Preparations that a sheet requires and that the build-up says are not done."""
    return [
        Finding(FindingKind.PREPARATION_UNDONE, "no", step.layer, step.layer - 1, (step.rule,))
        for step in steps
        if step.done is False and step.rule.claim.stance is Stance.REQUIRES and _always(step.rule.claim)
    ]


def _always(claim: Claim) -> bool:
    """True where the sentence asks it always; 'own_film' past the window is the window's matter."""
    return claim.property != "own_film" and not claim.conditions


def cautions_of(build_up: BuildUp, sheets: Sheets) -> tuple[tuple[int, Rule], ...]:
    """The cautions that the sheets of the layers print, each once a layer."""
    found: list[tuple[int, Rule]] = []
    for index, layer in enumerate(build_up.layers):
        rules = sheets.said(layer.party, Topic.SAFETY)
        for property_ in _CAUTIONED:
            rule = next(
                (r for r in rules if r.claim.property == property_ and r.claim.stance is not Stance.FORBIDS), None
            )
            if rule is not None:
                found.append((index, rule))
    return tuple(found)

"""Whether dry film readings are good enough: the published rules of acceptance. Films um."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from store.sums.result import Result, above_zero, within

CORRECTIONS: Mapping[str, float] = {"none": 0, "fine": 10, "medium": 25, "coarse": 40, "unknown": 25}
"""Taken off each reading where the gauge was set on smooth steel, by the ISO 8503-1 grade: ISO 19840, from memory."""


@dataclass(frozen=True, slots=True)
class Acceptance:
    """A rule: least is the share of the nominal that each reading reaches, short how many of the readings may lie below
    the nominal, most what no reading goes beyond as a share of the stated maximum; mean whether that must reach the
    nominal.
    """

    name: str
    least: float
    short: float
    most: float
    mean: bool
    source: str


_ALL = (
    Acceptance(
        "80/20", 0.8, 0.2, 1.0, True,
        "ISO 19840 acceptance, from memory; the 80/20 practice by name in an IMO guideline par. 3.5.5",
    ),
    Acceptance(
        "90/10", 0.9, 0.1, 1.0, False,
        "the 90/10 rule of the IMO performance standard for ballast tanks, from memory",
    ),
    Acceptance(
        "SSPC-PA 2", 0.8, 1.0, 1.2, True, "SSPC-PA 2, level 3, from memory: spot averages, five to an area"
    ),
)  # fmt: skip
RULES: Mapping[str, Acceptance] = {rule.name: rule for rule in _ALL}
_VALID = "nominal films of 40 to 5000 µm (ISO 19840 is not for less); at least three readings"


def judged(readings: Sequence[float], nominal: float, rule: str, most: float | None, profile: str) -> Result:
    """word is 'accepted' or 'not accepted'; value is the share of readings below the nominal in %.

    most is the stated maximum, None for none. profile is one of CORRECTIONS.
    """
    acceptance, found = RULES[rule], corrected(readings, profile)
    within("nominal film", nominal, 40, 5000, "µm")
    within("number of readings", len(found), 3, None, "")
    if most is not None:
        within("most film", most, nominal, None, "µm")
    tests = tuple(_tests(acceptance, found, nominal, most))
    below = sum(reading < nominal for reading in found)
    failed = tuple(words for words, passes in tests if not passes)
    return Result(
        100 * below / len(found),
        "%",
        "; ".join(f"{words}: {'yes' if passes else 'no'}" for words, passes in tests),
        acceptance.source,
        _VALID,
        word="not accepted" if failed else "accepted",
    )


def corrected(readings: Sequence[float], profile: str) -> tuple[float, ...]:
    """The readings less what a blasted surface adds to a gauge that was set on smooth steel."""
    for reading in readings:
        above_zero("dry film", reading, "µm")
    return tuple(reading - CORRECTIONS[profile] for reading in readings)


def mean(readings: Sequence[float], profile: str) -> Result:
    found = corrected(readings, profile)
    value = sum(found) / len(found)
    return _of(found, profile, value, f"sum {sum(found):g} ÷ {len(found)} = {value:.1f}")


def least(readings: Sequence[float], profile: str) -> Result:
    found = corrected(readings, profile)
    return _of(found, profile, min(found), f"the least of {len(found)}: {min(found):g}")


def _of(found: Sequence[float], profile: str, value: float, formula: str) -> Result:
    off = CORRECTIONS[profile]
    words = f"each reading − {off:g} ({profile} profile); {formula}" if off else formula
    return Result(value, "µm", words, "ISO 19840 corrections for a blasted profile, from memory", _VALID)


def _tests(rule: Acceptance, found: Sequence[float], nominal: float, most: float | None) -> Sequence[tuple[str, bool]]:
    below = sum(reading < nominal for reading in found)
    average = sum(found) / len(found)
    tests: list[tuple[str, Callable[[], bool]]] = [
        (f"each at least {rule.least:.0%} of {nominal:g} µm", lambda: min(found) >= rule.least * nominal)
    ]
    if rule.mean:
        tests.insert(0, (f"mean {average:.1f} at least {nominal:g} µm", lambda: average >= nominal))
    if rule.short < 1:
        # In whole numbers: two of ten are a fifth exactly.
        tests.append((f"{below} of {len(found)} below it, at most {rule.short:.0%}",
                      lambda: 100 * below <= round(100 * rule.short) * len(found)))  # fmt: skip
    if most is not None:
        tests.append((f"each at most {rule.most * most:g} µm", lambda: max(found) <= rule.most * most))
        if rule.most > 1:
            tests.append((f"mean at most {most:g} µm", lambda: average <= most))
    return [(words, passes()) for words, passes in tests]

"""What to mix and buy, in words. No Qt: the command line says the same."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import timedelta

from app.figure_words import duration_words, number_words, range_words, temperature_words
from app.translating import translate
from app.wording import method_words, object_words
from extract.claims import Claim
from store.planning.buying import UsualPanel
from store.planning.measuring import Measure
from store.planning.pot_life import PotStage
from store.planning.product_figures import Stated
from store.sums.coverage import LossPractice

_PARTS: Mapping[str, Callable[[], str]] = {
    "base": lambda: translate("mixing", "base"),
    "hardener": lambda: translate("mixing", "hardener"),
    "third component": lambda: translate("mixing", "third component"),
    "thinner": lambda: translate("mixing", "thinner"),
    "paint": lambda: translate("mixing", "paint"),
}
_MEASURES: Mapping[Measure, Callable[[], str]] = {
    Measure.CUP: lambda: translate("mixing", "a cup, marks of 10 ml"),
    Measure.SCALE: lambda: translate("mixing", "a scale, to 1 g"),
    Measure.FINE_SCALE: lambda: translate("mixing", "a scale, to 0.1 g"),
}
_STAGES: Mapping[PotStage, Callable[[], str]] = {
    PotStage.FRESH: lambda: translate("mixing", "good to spray"),
    PotStage.ENDING: lambda: translate("mixing", "finish now"),
    PotStage.OVER: lambda: translate("mixing", "pot life over: do not spray it, mix afresh"),
}
_LOSSES: Mapping[str, Callable[[], str]] = {
    "brush or roller": lambda: translate("mixing", "brush or roller"),
    "airless": lambda: translate("mixing", "airless"),
    "conventional air spray": lambda: translate("mixing", "conventional spray gun"),
    "HVLP gun, car panels indoors": lambda: translate("mixing", "HVLP gun, car panels indoors"),
    "HVLP gun, small parts": lambda: translate("mixing", "HVLP gun, small parts"),
    "aerosol can": lambda: translate("mixing", "aerosol can"),
}
_PANELS: Mapping[str, Callable[[], str]] = {
    "bonnet, outside": lambda: translate("mixing", "bonnet, outside"),
    "roof": lambda: translate("mixing", "roof"),
    "boot lid, outside": lambda: translate("mixing", "boot lid, outside"),
    "door, outside": lambda: translate("mixing", "door, outside"),
    "front wing": lambda: translate("mixing", "front wing"),
    "rear quarter": lambda: translate("mixing", "rear quarter"),
    "sill": lambda: translate("mixing", "sill"),
    "bumper": lambda: translate("mixing", "bumper"),
    "body shell, outside": lambda: translate("mixing", "body shell, outside"),
    "body shell, outside and inside": lambda: translate("mixing", "body shell, outside and inside"),
    "van floor": lambda: translate("mixing", "van floor"),
    "steel wheel, both faces": lambda: translate("mixing", "steel wheel, both faces"),
}


def part_words(name: str) -> str:
    return _PARTS[name]()


def measure_words(measure: Measure) -> str:
    return _MEASURES[measure]()


def stage_words(stage: PotStage) -> str:
    return _STAGES[stage]()


def panel_words(panel: UsualPanel) -> str:
    """'front wing, 0.7 m²'."""
    return f"{_PANELS[panel.name]()}, {number_words(panel.area)} m²"


def loss_words(loss: LossPractice) -> str:
    """'airless, 30 %'."""
    return f"{_LOSSES[loss.name]()}, {range_words(loss.low, loss.high, '%')}"


def loss_source_words(loss: LossPractice) -> str:
    return _practice() if "no source" in loss.source else loss.source


def _practice() -> str:
    return translate("mixing", "common practice, no source")


def panels_note() -> str:
    return translate(
        "mixing", "Panels of a middling car, one side: common practice, no source. Measure where it matters."
    )


def ratio_words(parts: tuple[float, ...]) -> str:
    return " : ".join(number_words(part) for part in parts)


def stated_words(stated: Stated) -> str:
    """What tells one of several figures of a sheet from the others: '4 : 1 by volume, for spraying'."""
    claim = stated.claim
    figure = ratio_words(claim.parts) if claim.parts else range_words(claim.low, claim.high, claim.unit)
    basis = basis_words(claim.basis) if claim.basis else ""
    return ", ".join(part for part in (f"{figure} {basis}".strip(), _case(claim)) if part)


def _case(claim: Claim) -> str:
    """For what case a figure is given: 'for steel, at 30 °C, in the oven'."""
    parts = []
    if claim.object is not None:
        parts.append(translate("mixing", "for {what}").format(what=object_words(claim.object)))
    if claim.at_c is not None:
        parts.append(translate("mixing", "at {temperature}").format(temperature=temperature_words(claim.at_c)))
    if claim.method is not None:
        parts.append(method_words(claim.method))
    if claim.text:
        parts.append(claim.text)
    return ", ".join(parts)


def basis_words(basis: str) -> str:
    return translate("mixing", "by volume") if basis == "volume" else translate("mixing", "by weight")


def amount_words(value: float | None, unit: str, mark: float) -> str:
    """An amount on the marks of what it is measured with: '640 ml', '98.0 g'; a dash where it is not known."""
    if value is None:
        return "–"
    decimals = 1 if mark < 1 else 0
    return f"{value:.{decimals}f} {unit}"


def left_words(left: timedelta) -> str:
    """'3 h 12 left', '9:05 left' in the last ten minutes, '0 h 20 past its end'."""
    seconds = int(abs(left).total_seconds())
    if left <= timedelta(0):
        return translate("mixing", "{time} past its end").format(time=_hours(seconds // 60))
    if seconds < 600:
        return translate("mixing", "{time} left").format(time=f"{seconds // 60}:{seconds % 60:02d}")
    return translate("mixing", "{time} left").format(time=_hours(seconds // 60))


def _hours(minutes: int) -> str:
    hours, rest = divmod(minutes, 60)
    return f"{hours} h {rest:02d}" if hours else duration_words(rest)


def cost_words(cost: float) -> str:
    """Without a currency: it is that of the prices typed."""
    return f"{cost:.2f}"

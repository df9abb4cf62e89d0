"""What a sum says where it cannot be worked: a plain sentence with the way on. No Qt."""

from __future__ import annotations

from app.bench_sums.words import input_words, limited_words, unit_words
from app.translating import translate
from app.typed_figures import figure_text
from store.sums.result import OutOfRange


def refusal_words(fault: OutOfRange) -> str:
    """'The volume solids: 140 % is outside what this sum holds for. It takes 1 to 100 %.'"""
    unit = unit_words(fault.unit)
    figure = f"{figure_text(fault.value)} {unit}".strip()
    low = None if fault.low is None else figure_text(fault.low)
    high = None if fault.high is None else figure_text(fault.high)
    known = {"what": limited_words(fault.name), "figure": figure, "low": low, "high": high, "unit": unit}
    if low is None and high is None:
        words = translate("sums", "{what}: {figure} is not a whole number. Type a whole number.")
    elif fault.low is not None and fault.high is not None:
        if fault.low <= fault.value <= fault.high:
            words = translate("sums", "{what}: {figure} is not in the table. Type a grade that is printed on a paper.")
        else:
            words = translate(
                "sums", "{what}: {figure} is outside what this sum holds for. It takes {low} to {high} {unit}."
            )
    elif high is None and fault.low == 0:
        words = translate("sums", "{what}: {figure} cannot be. Type a figure above nothing.")
    elif high is None:
        words = translate(
            "sums", "{what}: {figure} is outside what this sum holds for. It takes {low} {unit} and more."
        )
    else:
        words = translate(
            "sums", "{what}: {figure} is outside what this sum holds for. It takes at most {high} {unit}."
        )
    return " ".join(words.format(**known).replace(" .", ".").split())


def lacking_words(names: tuple[str, ...]) -> str:
    """What must still be typed: 'Still to type: air temperature, relative humidity.'"""
    inputs = ", ".join(input_words(name)[:1].lower() + input_words(name)[1:] for name in names)
    return translate("sums", "Still to type: {inputs}.").format(inputs=inputs)


def not_a_figure_words(typed: str) -> str:
    return translate("sums", "“{typed}” is not a figure. Type one like 12.5 or 12,5.").format(typed=typed)

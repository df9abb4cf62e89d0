"""The usual cautions in plain sentences, and that they are not the last word. No Qt."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from app.translating import translate

_USUAL: Mapping[str, Callable[[], str]] = {
    "isocyanate": lambda: translate(
        "cautions",
        "Spraying isocyanates can harm the lungs for good. The usual way is an air-fed mask, gloves, covered skin and "
        "an extracted booth with nobody else in it.",
    ),
    "air_fed": lambda: translate("cautions", "The sheet asks for a mask that is fed with air; a filter is not enough."),
    "chromate": lambda: translate(
        "cautions", "Chromates cause cancer. The usual way is no dry sanding, and dust and waste kept apart."
    ),
    "lead": lambda: translate(
        "cautions", "Lead is a poison. The usual way is no dry sanding, a mask for dust, and washing before eating."
    ),
    "flammable": lambda: translate("cautions", "Flammable: no flame and no spark, and the vapour drawn off."),
    "professional_only": lambda: translate("cautions", "The sheet keeps this product for trained professionals."),
}


def usual_cautions(properties: Iterable[str | None]) -> tuple[str, ...]:
    """A sentence for each caution that a sheet states, the gravest first; () where it states none."""
    wanted = set(properties)
    return tuple(words() for name, words in _USUAL.items() if name in wanted)


def acid_words() -> str:
    """For an etch primer, whatever its sheet prints."""
    return translate("cautions", "Etch primer is acid. The usual way is gloves and eye cover, and water at hand.")


def old_paint_words() -> str:
    """For paint of which nobody knows what is in it."""
    return translate(
        "cautions", "Old paint may hold lead or chromate. The usual way is no dry sanding until that is known."
    )


def deferring_words() -> str:
    """What the program's own sentences give way to."""
    return translate("cautions", "The sheet itself, local rules and licensed practice decide.")

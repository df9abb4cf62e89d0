"""What reading again came to, in words. No Qt: the command line says the same."""

from __future__ import annotations

from app.translating import translate
from store.records import Filed


def outcome_words(filed: Filed) -> tuple[str, ...]:
    """A line for the sheet, then one for each statement that is new, gone or said otherwise."""
    name = filed.sheet.product.name
    if not filed.differences:
        return (translate("reading_again", "{name}: it says the same").format(name=name),)
    head = translate("reading_again", "{name}: {count} differences, {kept} decisions kept").format(
        name=name, count=len(filed.differences), kept=filed.carried
    )
    return (head, *(difference.words for difference in filed.differences))


def not_matched_words(name: str) -> str:
    """For a sheet whose product the newer reader no longer finds in its file."""
    words = translate("reading_again", "{name}: not found in its PDF by the newer reader; left as it was")
    return words.format(name=name)

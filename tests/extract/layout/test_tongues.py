"""The language of each section, told by its own words."""

from __future__ import annotations

from extract.layout.tongues import with_languages
from tests.extract.build import statement

GERMAN = "Die Grundierung ist mit dem Härter zu mischen und wird auf den trockenen Untergrund nur bei Wärme gespritzt."
ENGLISH = "The primer is mixed with the hardener and sprayed on the dry metal, but not before it has been sanded."


def test_each_section_has_the_language_of_its_words() -> None:
    blocks = [statement(ENGLISH, ("Use",)), statement(GERMAN, ("Verarbeitung",)), statement("P240", ("Schliff",))]
    assert [b.section.language for b in with_languages(blocks, "en")] == ["en", "de", "en"]


def test_a_sheet_of_one_language_has_it_everywhere() -> None:
    blocks = [statement(GERMAN, ("Verarbeitung",)), statement("20 min", ("Trocknung",))]
    assert {b.section.language for b in with_languages(blocks, "de")} == {"de"}

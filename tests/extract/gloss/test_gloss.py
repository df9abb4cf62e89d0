"""The gloss itself: its data, the places of its letters, and what it leaves in doubt."""

from __future__ import annotations

import re

import pytest

from extract.gloss.glossing import Glosser, clauses
from extract.gloss.sheets import gloss_document, languages_of
from extract.gloss.signs import alternatives, bare, turn_pattern, word_pattern
from extract.gloss.words import Tongue, tongue
from tests.extract.build import document, passage, statement

LANGUAGES = ("de", "es", "fr", "nl")


def known(language: str) -> Tongue:
    found = tongue(language)
    assert found is not None
    return found


TURNS = [(language, i) for language in LANGUAGES for i in range(len(known(language).turns))]


@pytest.mark.parametrize(("language", "index"), TURNS)
def test_a_turn_becomes_what_it_says_it_becomes(language: str, index: int) -> None:
    turn = known(language).turns[index]
    assert Glosser(known(language)).gloss(passage(turn.example)).passage.text == turn.becomes


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_word_of_doubt_is_understood_by_itself(language: str) -> None:
    tongue_ = known(language)
    alone = [w for words in tongue_.words.values() for w in words if tongue_.doubt.fullmatch(w.english) and w.several]
    assert alone == []


def test_a_language_without_words_has_no_tongue() -> None:
    assert tongue("pl") is None


def test_signs_open_into_plain_wordings() -> None:
    assert alternatives("(a|b) [c] d~e") == ["a d~e", "a c d~e", "b d~e", "b c d~e"]
    with pytest.raises(ValueError, match="left open"):
        alternatives("(a|b")
    with pytest.raises(ValueError, match="opens nothing"):
        alternatives("a) b")


def test_a_joint_is_a_hyphen_a_blank_or_nothing() -> None:
    pattern = re.compile(word_pattern("epoxid~grund*"))
    assert all(pattern.fullmatch(t) for t in ("epoxidgrund", "epoxid-grundierung", "epoxid grund"))
    assert not pattern.search("epoxidharzgrund") and not pattern.search("nepoxidgrund")


def test_a_sign_of_number_wants_a_figure_before_it() -> None:
    pattern = re.compile(word_pattern("#min."))
    assert pattern.search("45 min.") and pattern.search("45min.") and not pattern.search("min. 45")


def test_a_turn_captures_what_stands_in_its_slots() -> None:
    match = re.search(
        turn_pattern("darf nicht {a} <done> werden", {"done": "lackiert"}), "darf nicht rot lackiert werden"
    )
    assert match is not None and match["a"].strip() == "rot"
    with pytest.raises(KeyError):
        turn_pattern("<done>", {})


def test_accents_fall_letter_for_letter() -> None:
    assert bare("préparé à l'étuve – ß") == "prepare a l'etuve – ß"


def test_clauses_end_at_stops_but_not_within_figures() -> None:
    assert [*clauses("Düse 1,4 mm; ca. 2.5 bar. Dann")] == [(0, 12), (12, 25), (25, 30)]


def test_every_letter_keeps_a_glyph_of_the_words_it_stands_for() -> None:
    printed = passage("Polyesterspachtel darf nicht auf Zink aufgetragen werden.")
    gloss = Glosser(known("de")).gloss(printed).passage
    at = gloss.text.index("polyester filler")
    under = {g for g in printed.origins[:17] if g is not None}
    assert {g for g in gloss.origins[at : at + len("polyester filler")] if g is not None} <= under
    assert gloss.evidence().boxes == printed.evidence().boxes


def test_what_is_not_understood_is_kept_as_a_doubt() -> None:
    text = "Kann nur verschmiedelt auf Zink aufgetragen werden."
    gloss = Glosser(known("de")).gloss(passage(text))
    assert [text[a:b] for a, b in gloss.unknown] == ["verschmiedelt"]
    assert gloss.doubts == () or [text[a:b] for a, b in gloss.doubts] == ["nur"]
    sure = Glosser(known("de")).gloss(passage("Kann auf Zink aufgetragen werden."))
    assert (sure.unknown, sure.doubts) == ((), ())


def test_names_are_left_as_they_stand() -> None:
    text = "Etsgrond W1 is geschikt voor zink."
    assert Glosser(known("nl"), ("Etsgrond W1",)).gloss(passage(text)).passage.text.startswith("Etsgrond W1 is")
    assert Glosser(known("nl")).gloss(passage("Etsgrond W1"), title=True).passage.text == "Etsgrond W1"


def test_an_english_sheet_is_nothing_to_gloss() -> None:
    sheet = document(statement("Apply over bare steel and aluminium."))
    assert languages_of(sheet) == {"en"}
    assert gloss_document(sheet).document.blocks == sheet.blocks

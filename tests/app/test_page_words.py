"""Choosing words: what lies under a point, what a range comes to, and stepping from line to line."""

from __future__ import annotations

import pytest

from app.page_pane.words import WordRange, evidence_of_words, same_line, step_line, word_at
from extract.claims import PageGeometry, PageText, PageWord

BOX = (0.0, 0.0, 300.0, 400.0)
WORDS = (
    PageWord("Do", (10, 10, 30, 20)),
    PageWord("not", (35, 10, 55, 20)),
    PageWord("use", (60, 10, 80, 20)),
    PageWord("on", (10, 30, 25, 40)),
    PageWord("zinc.", (30, 31, 60, 41)),
)
PAGE = PageText(3, PageGeometry(BOX, BOX, 0), WORDS)


def test_a_range_gives_one_box_a_line_and_the_words_as_printed() -> None:
    evidence = evidence_of_words(PAGE, WordRange(3, 1, 4))
    assert evidence.page == 3
    assert evidence.quote == "not use on zinc."
    assert evidence.boxes == ((35, 10, 80, 20), (10, 30, 60, 41))


def test_a_range_drawn_backwards_is_the_same() -> None:
    assert evidence_of_words(PAGE, WordRange(3, 4, 1)) == evidence_of_words(PAGE, WordRange(3, 1, 4))


def test_two_columns_on_one_height_are_two_boxes() -> None:
    words = (PageWord("right", (200, 10, 240, 20)), PageWord("left", (10, 10, 40, 20)))
    page = PageText(1, PageGeometry(BOX, BOX, 0), words)
    assert len(evidence_of_words(page, WordRange(1, 0, 1)).boxes) == 2


def test_no_word_is_no_evidence() -> None:
    with pytest.raises(ValueError, match="no word"):
        evidence_of_words(PageText(1, PageGeometry(BOX, BOX, 0), ()), WordRange(1, 0, 0))


def test_the_word_under_or_nearest_to_a_point() -> None:
    assert word_at(WORDS, 40, 15) == 1
    assert word_at(WORDS, 250, 15) == 2
    assert word_at(WORDS, 250, 36) == 4
    assert word_at((), 1, 1) is None


def test_stepping_by_lines_keeps_to_the_column() -> None:
    assert step_line(WORDS, 1, down=True) == 4
    assert step_line(WORDS, 0, down=True) == 3
    assert step_line(WORDS, 4, down=False) == 1
    assert step_line(WORDS, 4, down=True) == 4


def test_a_word_of_another_height_on_the_same_line_is_on_it() -> None:
    assert same_line(WORDS[3].box, WORDS[4].box)
    assert not same_line(WORDS[0].box, WORDS[3].box)

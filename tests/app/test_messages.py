"""Every error is a sentence to a painter."""

from __future__ import annotations

import inspect

import pytest

from app.messages import message_for, reading_message
from extract import errors as reading_errors
from store import errors as library_errors

JARGON = ("Error", "exception", "SQL", "Traceback", "None", "null", "_")

READING = [
    reading_errors.NotAPdf(0),
    reading_errors.DamagedPdf("xref"),
    reading_errors.PasswordNeeded(wrong=True),
    reading_errors.PasswordNeeded(wrong=False),
    reading_errors.TooLarge("bytes", 2_000_000_000, 100_000_000),
    reading_errors.NoPages(),
    reading_errors.ReaderFailed("KeyError: 'x'"),
    reading_errors.OutOfMemory(),
    reading_errors.PageNotDrawn(3, "x"),
]


def library_faults() -> list[library_errors.StoreError]:
    """One of every error that store raises, whatever its fields."""
    made = []
    for kind in vars(library_errors).values():
        if inspect.isclass(kind) and issubclass(kind, library_errors.StoreError):
            count = len(inspect.signature(kind.__init__).parameters) - 1 if "__init__" in vars(kind) else 1
            made.append(kind(*["/some/where"] * count))
    return made


@pytest.mark.parametrize("fault", [*READING, *library_faults()], ids=lambda fault: type(fault).__name__)
def test_an_error_is_a_sentence_without_jargon(fault: Exception) -> None:
    sentence = message_for(fault).sentence
    assert sentence[0].isupper()
    assert sentence.endswith((".", "?"))
    assert not any(word in sentence for word in JARGON)


@pytest.mark.parametrize("fault", [e for e in library_faults() if type(e) is not library_errors.StoreError])
def test_each_library_error_has_words_of_its_own(fault: library_errors.StoreError) -> None:
    assert message_for(fault).sentence != message_for(library_errors.StoreError("x")).sentence


def test_files_that_are_missing_or_closed_to_the_user() -> None:
    assert "sheet.pdf is not there" in message_for(FileNotFoundError(2, "No such file", "/a/sheet.pdf")).sentence
    assert "may not be read" in message_for(PermissionError(13, "Denied", "/a/sheet.pdf")).sentence
    assert "is a folder" in message_for(IsADirectoryError(21, "Is a directory", "/a/sheets")).sentence


def test_what_nobody_foresaw_keeps_its_detail() -> None:
    message = message_for(RuntimeError("boom"))
    assert "inside the program" in message.sentence
    assert message.detail == "RuntimeError: boom"


def test_a_clock_that_ran_out_is_said_by_its_kind() -> None:
    assert "took too long" in reading_message("timeout").sentence
    assert reading_message("never heard of").sentence

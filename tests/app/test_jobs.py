"""Work goes to its thread and answers come back on the main one; closing loses no decision."""

from __future__ import annotations

import threading
from typing import Any

import pytest
from pytestqt.qtbot import QtBot

from app.jobs import InlineRunner, LibraryChange, LibraryDesk, LibraryNotOpen, ThreadRunner


class Shelf:
    """Stands in for the library: remembers what was done to it, and by which thread."""

    def __init__(self) -> None:
        self.done: list[str] = []
        self.threads: set[int] = set()
        self.closed = False

    def do(self, what: str) -> str:
        self.threads.add(threading.get_ident())
        self.done.append(what)
        return what

    def close(self) -> None:
        self.closed = True


def test_answers_come_back_on_the_main_thread(qtbot: QtBot) -> None:
    runner = ThreadRunner("test")
    answers: list[tuple[int, int]] = []
    runner.run(threading.get_ident, lambda ident: answers.append((ident, threading.get_ident())), answers.append)
    qtbot.waitUntil(lambda: bool(answers))
    (worked, answered) = answers[0]
    assert worked != answered
    assert answered == threading.get_ident()
    runner.close()


def test_failures_come_back_too(qtbot: QtBot) -> None:
    runner = ThreadRunner("test")
    failures: list[BaseException] = []

    def fail() -> None:
        raise OSError("the disk is full")

    runner.run(fail, lambda _: None, failures.append)
    qtbot.waitUntil(lambda: bool(failures))
    assert isinstance(failures[0], OSError)
    runner.close()


def test_closing_finishes_every_decision_and_then_the_library(qtbot: QtBot) -> None:
    runner = ThreadRunner("library", drops=False)
    desk = LibraryDesk(runner)
    shelf: Any = Shelf()
    hold = threading.Event()
    desk.open(lambda: shelf)
    desk.read(lambda _: hold.wait(10), lambda _: None)
    for number in range(20):
        desk.write(lambda library, number=number: library.do(str(number)), LibraryChange())  # type: ignore[misc]
    hold.set()
    desk.close()
    assert shelf.done == [str(n) for n in range(20)]
    assert len(shelf.threads) == 1
    assert shelf.closed


def test_a_reading_runner_drops_what_waits(qtbot: QtBot) -> None:
    runner = ThreadRunner("reading")
    begun, hold = threading.Event(), threading.Event()
    done: list[int] = []

    def first() -> None:
        begun.set()
        hold.wait(10)

    runner.run(first, lambda _: None, lambda _: None)
    runner.run(lambda: done.append(1), lambda _: None, lambda _: None)
    assert begun.wait(10)
    threading.Timer(0.05, hold.set).start()
    runner.close()
    assert done == []
    runner.run(lambda: done.append(2), lambda _: None, lambda _: None)
    assert done == []


def test_a_write_tells_once_what_it_changed_after_its_own_answer(qtbot: QtBot) -> None:
    desk = LibraryDesk(InlineRunner())
    shelf: Any = Shelf()
    heard: list[object] = []
    desk.library_opened.connect(lambda: heard.append("opened"))
    desk.library_changed.connect(heard.append)
    desk.open(lambda: shelf)
    desk.write(
        lambda library: library.do("x"),  # type: ignore[attr-defined]
        lambda answer: LibraryChange(sheets=frozenset({len(answer)}), initiator=desk),
        lambda answer: heard.append(f"done {answer}"),
    )
    assert heard == ["opened", "done x", LibraryChange(sheets=frozenset({1}), initiator=desk)]


def test_without_a_library_the_trouble_is_told(qtbot: QtBot) -> None:
    desk = LibraryDesk(InlineRunner())
    troubles: list[BaseException] = []
    desk.trouble_came.connect(troubles.append)
    desk.read(lambda library: library.sheets(), lambda _: pytest.fail("no answer can be had"))
    assert isinstance(troubles[0], LibraryNotOpen)
    assert not desk.ready

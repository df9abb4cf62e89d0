"""Whatever is dropped on the program ends as filed whole or refused in words, and leaves no process behind."""

from __future__ import annotations

import re
import threading
from pathlib import Path

import pytest

from app.__main__ import main
from app.workers import Child, Limits, ReadingChildren, Reported, TookTooLong
from extract.claims import SheetReading
from fixtures.nasty.make import KINDS
from store.library import Library
from tests.fuzz.ending import half_filed, workers
from tests.fuzz.mutate import run
from tests.fuzz.mutations import MUTATIONS, mutant, sources

SAMPLE, SEED = 60, 20
QUICK = ("html_renamed", "no_pages", "parent_is_a_number", "encrypted_with_password", "truncated", "circular_form")
GOOD = (Path(__file__).parents[2] / "fixtures" / "quern-lane-biter.pdf").read_bytes()


def test_a_sample_of_broken_sheets_ends_well() -> None:
    """Run by hand over thousands: python -m tests.fuzz.mutate."""
    outcome = run(SAMPLE, SEED)
    assert outcome.faults == []
    assert outcome.deaths == []
    assert outcome.half == []
    assert outcome.left_over == 0
    assert sum(outcome.ended.values()) == SAMPLE
    assert 0 < outcome.ended["filed"] < SAMPLE


def test_mutants_are_the_same_for_the_same_seed_and_all_ways_come_up() -> None:
    originals = sources()
    made = [mutant(originals, SEED, number) for number in range(200)]
    assert made[:5] == [mutant(originals, SEED, number) for number in range(5)]
    assert made[:5] != [mutant(originals, SEED + 1, number) for number in range(5)]
    assert {way.__name__ for way in MUTATIONS} == {
        w for name, _ in made for w in re.findall(r"[a-z]+(?:_[a-z]+)*", name[:-4])
    }
    assert not {pdf for _, pdf in made} & set(originals)


def test_a_folder_of_anything_is_imported(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    inbox, library = tmp_path / "inbox", tmp_path / "library"
    inbox.mkdir()
    for name in QUICK:
        (inbox / f"{name}.pdf").write_bytes(KINDS[name]())
    (inbox / "good.pdf").write_bytes(GOOD)
    (inbox / "picture.pdf").write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(100))
    main(["--library", str(library), "import", str(inbox)])
    out = capsys.readouterr().out
    for path in inbox.iterdir():
        (line,) = (line for line in out.splitlines() if line.startswith(f"{path.name}: "))
        assert re.search(r"filed as |newer issue of |not filed\. [A-Z][^.]+\.", line)
    assert "good.pdf: filed as Biter" in out
    assert "picture.pdf: not filed. This file is not a PDF" in out
    assert "inside the program" not in out
    assert half_filed(library) == []
    assert workers() == []


def read(children: ReadingChildren, pdf: bytes) -> tuple[SheetReading, ...]:
    return children(pdf, "sheet.pdf", progress=lambda _page, _pages: None, cancelled=threading.Event())


def test_a_child_is_kept_while_all_goes_well_and_replaced_when_it_has_read_its_share() -> None:
    with ReadingChildren(most_files=2) as children:
        read(children, GOOD)
        (first,) = Child.living()
        read(children, GOOD)
        assert Child.living() == ()
        assert not first.alive
        read(children, GOOD)
        assert Child.living() != ()
    assert Child.living() == ()


def test_a_bad_file_takes_its_own_child_with_it_and_no_other_file() -> None:
    with ReadingChildren() as children:
        before = read(children, GOOD)
        (first,) = Child.living()
        with pytest.raises(Reported):
            read(children, b"no PDF")
        assert not first.alive
        assert read(children, GOOD) == before


def test_a_file_that_takes_too_long_is_let_go() -> None:
    with ReadingChildren(limits=Limits(seconds=0.01, silent_seconds=0.01)) as children:
        with pytest.raises(TookTooLong):
            read(children, GOOD)
        assert Child.living() == ()


def test_what_a_kept_child_read_before_leaves_no_trace() -> None:
    """The same file reads the same after others as it does in a child of its own."""
    with ReadingChildren() as children:
        alone = read(children, GOOD)
    with ReadingChildren() as children:
        for name in ("circular_form", "rotated", "many_lines", "unknown_filter"):
            read(children, KINDS[name]())
        assert read(children, GOOD) == alone


def test_half_filed_is_noticed(tmp_path: Path) -> None:
    Library.open(tmp_path).close()
    (tmp_path / "sheets").mkdir(exist_ok=True)
    (tmp_path / "sheets" / "0000.pdf").write_bytes(b"%PDF-")
    assert half_filed(tmp_path) == ["a PDF of no sheet: 0000"]

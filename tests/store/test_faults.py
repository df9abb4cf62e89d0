"""A sheet is wholly filed or not at all, whatever cuts the filing short."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from made_sheets import THREE, reading

import store.files
from store.errors import LibraryFull
from store.library import Library
from store.records import FilingOutcome

HERE = Path(__file__).parent


def trials(kind: str, folder: Path) -> list[dict[str, Any]]:
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join([str(HERE.parent.parent), str(HERE)])}
    done = subprocess.run(
        [sys.executable, str(HERE / "kill_trials.py"), kind, str(folder)],
        capture_output=True, text=True, env=environment, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    return [json.loads(line) for line in done.stdout.splitlines()]


def is_whole_or_absent(trial: dict[str, Any]) -> bool:
    nothing = trial["products"] == [] and not trial["pdf"]
    whole = trial["claims"] == trial["waiting"] == [3, 60] and trial["words"][0] > 600 and trial["pdf"]
    return trial["sound"] and not trial["strays"] and (nothing or whole)


def test_killed_at_every_step_of_filing(folder: Path) -> None:
    results = trials("steps", folder)
    assert [t for t in results if not is_whole_or_absent(t)] == []
    assert results[-1]["said"] == "begun filed"
    assert sum(t["said"] == "begun " for t in results) > 15, "killed inside the filing, not before it"
    acknowledged = [t for t in results if t["said"].endswith("filed")]
    assert all(t["products"] for t in acknowledged)


def test_killed_at_random_moments(folder: Path) -> None:
    results = trials("moments", folder)
    assert len(results) == 30
    assert sum(t["said"] == "" for t in results) >= 3, "some are killed on the way"
    assert all(t["said"] == "filed" for t in results[:3])
    assert [t for t in results if not is_whole_or_absent(t)] == []
    assert all(t["products"] for t in results if t["said"].endswith("filed")), "what was acknowledged is there"


def test_killed_at_every_step_of_restoring(folder: Path) -> None:
    results = trials("restore", folder)
    old, new = ["old.pdf"] * 2, ["new.pdf"] * 2 + ["new too.pdf"] * 2
    assert [t for t in results if t["names"] not in (old, new) or not t["whole"] or t["left"]] == []
    assert results[0]["names"] == old
    assert results[-1] == {"said": "begun restored", "names": new, "whole": True, "left": []}
    assert sum(t["said"] == "begun " for t in results) > 10


def test_killed_at_every_step_of_logging_a_coat(folder: Path) -> None:
    results = trials("job", folder)
    full = [100_000.0, 100_000.0]
    for trial in results:
        taken = [100_000.0 - 100.0 * trial["coats"]] * 2
        assert trial["left"] == taken, "a coat and what it took stand or fall together"
        assert (trial["photos"], trial["strays"], trial["after_undo"]) == (True, 0, full)
        assert trial["coats"] == 1 or not trial["said"].endswith("logged")
    assert sum(trial["said"] == "begun " for trial in results) > 10, "killed inside the logging, not before it"


def test_killed_at_every_step_of_taking_a_sheet_out(folder: Path) -> None:
    results = trials("remove", folder)
    whole = (["2024.pdf"], [])
    gone = (["2022.pdf"], ["2024.pdf"])
    assert all((trial["shown"], trial["hidden"]) in (whole, gone) and trial["back"] for trial in results)
    assert (results[-1]["shown"], results[-1]["hidden"]) == gone
    assert sum(trial["said"] == "begun " for trial in results) > 5


def test_a_full_disk_files_nothing_and_says_so(folder: Path) -> None:
    results = trials("room", folder)
    assert [t for t in results if not is_whole_or_absent(t)] == []
    assert results[-1]["said"] == "begun filed"
    refused = [t for t in results if t["said"] == "begun LibraryFull"]
    assert len(refused) >= 3
    assert all(t["products"] == [] for t in refused)


def test_a_database_that_cannot_grow_refuses_and_works_on(library: Library, folder: Path) -> None:
    with library._database.raw() as raw:
        pages = raw.execute("PRAGMA page_count").fetchone()[0]
        raw.execute(f"PRAGMA max_page_count = {pages}")
    many = [reading(THREE, more_words=[f"word {n} {'x' * 40}" for n in range(2000)])]
    with pytest.raises(LibraryFull):
        library.file_sheet(b"one", "g.pdf", many)
    assert library.sheets() == ()
    assert library.products() == ()
    assert list((folder / "sheets").glob("*")) == []
    with library._database.raw() as raw:
        raw.execute("PRAGMA max_page_count = 1000000")
    assert library.file_sheet(b"one", "g.pdf", many)[0].outcome is FilingOutcome.FILED


def test_a_pdf_that_cannot_be_written_is_not_filed(
    library: Library, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no_room(handle: int) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(store.files.os, "fsync", no_room)
        with pytest.raises(LibraryFull) as raised:
            library.file_sheet(b"one", "g.pdf", [reading(THREE)])
    assert raised.value.detail == "No space left on device"
    assert library.sheets() == ()
    assert list((folder / "sheets").iterdir()) == []
    assert library.file_sheet(b"one", "g.pdf", [reading(THREE)])[0].outcome is FilingOutcome.FILED

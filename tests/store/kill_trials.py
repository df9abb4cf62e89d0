"""Run by test_faults.py in a process of its own: files a PDF of two products and dies, or runs out of room, on the way.

    kill_trials.py steps FOLDER     killed at the 1st, 2nd, 3rd ... statement, sync and rename
    kill_trials.py moments FOLDER   killed at random moments, SEED fixed
    kill_trials.py room FOLDER      no file may grow past a limit that is raised step by step
    kill_trials.py job FOLDER       killed at each step of logging a coat that takes from two tins, photo and all
    kill_trials.py remove FOLDER    killed at each step of taking a sheet out
    kill_trials.py restore FOLDER   killed at each step of restoring a back-up over a library

Prints a JSON line a trial: what the filing said before the end, and what the library holds when opened again.
"""

from __future__ import annotations

import json
import os
import random
import resource
import select
import shutil
import signal
import statistics
import sys
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from made_sheets import THREE, over, reading
from sqlalchemy import Engine, event

from store.errors import StoreError
from store.files import sha256_of
from store.job_records import ChangeKind, ChangeScope, Coat, Panel, Tin, TinTake
from store.library import Library

SEED = 20261125
MANY = [over("primer", f"Sentence number {n} about a primer") for n in range(60)]
PDF = b"%PDF-1.7 " + b"x" * 60_000


def readings(trial: int) -> list[Any]:
    words = [f"word{n} of the page" for n in range(150)]
    return [
        reading(THREE, product=f"Granat {trial}", more_words=words),
        reading(MANY, product=f"Opal {trial}", maker=f"Maker {trial}", more_words=words),
    ]


def content(trial: int) -> bytes:
    return PDF + str(trial).encode()


def in_child(work: Callable[[int], None], after: Callable[[int, int], None] | None = None) -> str:
    """Run work in a child that gets the end of a pipe to write to; after(pid, pipe) may kill it. What it wrote."""
    reading_end, writing_end = os.pipe()
    pid = os.fork()
    if pid == 0:
        try:
            os.close(reading_end)
            work(writing_end)
        finally:
            os._exit(0)
    os.close(writing_end)
    if after is not None:
        after(pid, reading_end)
    os.waitpid(pid, 0)
    said = b""
    while part := os.read(reading_end, 4096):
        said += part
    os.close(reading_end)
    return said.decode()


def file_it(folder: Path, trial: int, pipe: int) -> None:
    with Library.open(folder) as library:
        os.write(pipe, b"begun ")
        try:
            library.file_sheet(content(trial), "two products.pdf", readings(trial))
        except StoreError as error:
            os.write(pipe, type(error).__name__.encode())
        else:
            os.write(pipe, b"filed")


def found(folder: Path, trial: int) -> dict[str, Any]:
    """What is there of a trial's file when the library is opened again, and whether the library is sound."""
    sha256 = sha256_of(content(trial))
    pdf = folder / "sheets" / f"{sha256}.pdf"
    with Library.open(folder) as library:
        sheets = library.known_file(sha256)
        with library._database.raw() as raw:
            sound = [row[0] for row in raw.execute("PRAGMA integrity_check")] == ["ok"]
            sound = sound and not raw.execute("PRAGMA foreign_key_check").fetchall()
            for table in ("claims", "pages", "products"):
                raw.execute(f"INSERT INTO {table}_search({table}_search) VALUES ('integrity-check')")  # noqa: S608
        return {
            "products": [s.product.name for s in sheets],
            "claims": [len(library.claims(s.id)) for s in sheets],
            "waiting": [s.waiting for s in sheets],
            "words": [len(library.page_texts(s.id)[0].words) for s in sheets],
            "pdf": pdf.exists() and sha256_of(pdf.read_bytes()) == sha256,
            "strays": sorted(p.name for p in (folder / "sheets").glob("*.part")),
            "sound": sound,
        }


def die_at(step: int) -> None:
    """Kill this process at its step-th statement, sync or rename."""
    passed = 0

    def pass_one(*_: object, **__: object) -> None:
        nonlocal passed
        passed += 1
        if passed == step:
            os.kill(os.getpid(), signal.SIGKILL)

    event.listen(Engine, "before_cursor_execute", pass_one)
    event.listen(Engine, "commit", lambda _connection: pass_one())
    for owner, name in ((os, "fsync"), (Path, "replace"), (Path, "open")):
        original = getattr(owner, name)

        def stepped(*given: Any, _original: Any = original, **named: Any) -> Any:
            pass_one()
            return _original(*given, **named)

        setattr(owner, name, stepped)


def steps(folder: Path) -> None:
    trial = 0
    while True:
        trial += 1

        def work(pipe: int, trial: int = trial) -> None:
            die_at(trial)
            file_it(folder, trial, pipe)

        said = in_child(work)
        print(json.dumps({"said": said, **found(folder, trial)}), flush=True)
        if said.endswith("filed"):
            return


def moments(folder: Path) -> None:
    """The moments lie within the time that a filing takes here and now, which the first trials find out."""
    chance = random.Random(SEED)
    taken: list[float] = []
    for trial in range(30):
        spared = trial < 3
        delay = 60.0 if spared else chance.uniform(0, 1.2 * statistics.median(taken))

        def wait_and_kill(pid: int, pipe: int, delay: float = delay) -> None:
            os.read(pipe, len(b"begun "))
            begun = time.perf_counter()
            select.select([pipe], [], [], delay)
            taken.append(time.perf_counter() - begun)
            os.kill(pid, signal.SIGKILL)

        def work(pipe: int, trial: int = trial) -> None:
            file_it(folder, trial, pipe)

        said = in_child(work, wait_and_kill)
        if not spared:
            taken.pop()
        print(json.dumps({"said": said, **found(folder, trial)}), flush=True)


def room(folder: Path) -> None:
    Library.open(folder).close()
    trial = 0
    said = ""
    while not said.endswith("filed"):
        trial += 1
        limit = trial * 16_384

        def work(pipe: int, trial: int = trial, limit: int = limit) -> None:
            resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
            file_it(folder, trial, pipe)

        said = in_child(work)
        print(json.dumps({"said": said, **found(folder, trial)}), flush=True)


def restore(folder: Path) -> None:
    with Library.open(folder / "new") as library:
        library.file_sheet(content(1), "new.pdf", readings(1))
        library.file_sheet(content(2), "new too.pdf", readings(2))
        library.back_up(folder / "new.zip")
    step = 0
    said = ""
    while not said.endswith("restored"):
        step += 1
        there = folder / f"there {step}"
        with Library.open(there) as library:
            library.file_sheet(content(0), "old.pdf", readings(0))

        def work(pipe: int, there: Path = there, step: int = step) -> None:
            die_at(step)
            os.write(pipe, b"begun ")
            Library.restore(folder / "new.zip", there)
            os.write(pipe, b"restored")

        said = in_child(work)
        with Library.open(there) as library:
            sheets = library.sheets()
            whole = all(sha256_of(library.pdf_path(s.id).read_bytes()) == s.sha256 for s in sheets)
            names = [s.file_name for s in sheets]
        left = [path.name for path in there.iterdir() if path.name.startswith(".") or path.suffix == ".part"]
        print(json.dumps({"said": said, "names": names, "whole": whole, "left": left}), flush=True)
        shutil.rmtree(there)


def job(folder: Path) -> None:
    with Library.open(folder) as library:
        product = library.add_product("Granat 12").id
        tins = [library.add_tin(Tin(product, 100_000.0)).id for _ in range(2)]
        panel = library.add_panel(Panel("door")).id
    step = 0
    said = ""
    while not said.endswith("logged"):
        step += 1

        def work(pipe: int, step: int = step) -> None:
            die_at(step)
            with Library.open(folder) as library:
                os.write(pipe, b"begun ")
                photo = library.keep_photo(b"picture" + str(step).encode(), "door.png")
                takes = tuple(TinTake(tin, 100.0) for tin in tins)
                library.log_coat(panel, Coat(datetime.now(UTC), product, takes=takes, photo_ids=(photo.id,)))
                os.write(pipe, b"logged")

        said = in_child(work)
        with Library.open(folder) as library:
            coats = library.panel(panel).coats
            photos = all(library.photo_path(i).stat().st_size for c in coats for i in c.coat.photo_ids)
            strays = len(list((folder / "photos").glob("*.part"))) if (folder / "photos").exists() else 0
            trial = {
                "said": said, "coats": len(coats), "left": [library.tin(tin).tin.left for tin in tins],
                "photos": photos, "strays": strays,
            }  # fmt: skip
            while (change := library.next_undo()) is not None and change.kind is ChangeKind.COAT_LOGGED:
                library.undo_change()
            trial["after_undo"] = [library.tin(tin).tin.left for tin in tins]
        print(json.dumps(trial), flush=True)


def remove(folder: Path) -> None:
    with Library.open(folder) as library:
        for year in (2022, 2024):
            library.file_sheet(str(year).encode(), f"{year}.pdf", [reading(THREE, issued=f"{year}-01-01")])
        newest = library.sheets()[0].id
        expected = [[s.id for s in library.sheets()]]
    step = 0
    said = ""
    while not said.endswith("removed"):
        step += 1

        def work(pipe: int, step: int = step) -> None:
            die_at(step)
            with Library.open(folder) as library:
                os.write(pipe, b"begun ")
                library.remove_sheet(newest)
                os.write(pipe, b"removed")

        said = in_child(work)
        with Library.open(folder) as library:
            shown = [s.file_name for s in library.sheets()]
            hidden = [s.file_name for s in library.removed_sheets()]
            library.undo_change(ChangeScope.SHEETS)
            back = [[s.id for s in library.sheets()]] == expected
        print(json.dumps({"said": said, "shown": shown, "hidden": hidden, "back": back}), flush=True)


if __name__ == "__main__":
    {"job": job, "remove": remove, "steps": steps, "moments": moments, "room": room, "restore": restore}[sys.argv[1]](
        Path(sys.argv[2])
    )

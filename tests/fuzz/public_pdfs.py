"""Every PDF that some projects ship in their source distributions, and every nasty kind, through `tinsheet import`.

`python -m tests.fuzz.public_pdfs [FOLDER]` fetches the distributions from the package index into FOLDER (else into a
temporary one), where their PDFs stay: their licences differ, so none is kept with the program. Run by hand; ends with
a summary and with status 1 where a file ended otherwise than filed or refused in words.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tarfile
import tempfile
import threading
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import psutil

from fixtures.nasty.make import KINDS
from tests.fuzz.ending import half_filed

PROJECTS = ("pypdf", "playa-pdf", "pikepdf", "ocrmypdf", "pypdfium2", "pdfreader", "tabula-py", "paves")
_LINE = re.compile(r"^(?P<name>\S+\.pdf): (?P<what>.*)$")
_POLL_SECONDS = 0.2


def fetch(folder: Path) -> None:
    """Download the source distributions that are not in folder yet."""
    for project in PROJECTS:
        if any(folder.glob(f"{project.replace('-', '_')}-*.tar.gz")):
            continue
        subprocess.run(
            [sys.executable, "-m", "pip", "download", "-q", "--no-binary", ":all:", "--no-deps", project, "-d", folder],
            check=True,
            # One of them would build its library only to be downloaded.
            env={**os.environ, "PYPDFIUM_PLATFORM": "sourcebuild"},
        )


def pdfs(folder: Path) -> Iterator[tuple[str, bytes]]:
    """Names and bytes of every PDF in the distributions, then of the nasty kinds."""
    for archive in sorted(folder.glob("*.tar.gz")):
        project = archive.name.split("-")[0]
        with tarfile.open(archive) as opened:
            for member in opened:
                if member.isfile() and member.name.lower().endswith(".pdf"):
                    held = opened.extractfile(member)
                    if held is not None:
                        yield f"{project}-{re.sub(r'[^A-Za-z0-9.]+', '_', Path(member.name).name)}", held.read()
    for name, make in KINDS.items():
        yield f"nasty-{name}.pdf", make()


class Watch:
    """The largest that any process below one grew to, in bytes, and its longest life, in seconds."""

    def __init__(self, process: subprocess.Popen[str]) -> None:
        self.largest = 0
        self.longest = 0.0
        self._seen = psutil.Process(process.pid)
        self._over = threading.Event()
        self._thread = threading.Thread(target=self._look, daemon=True)
        self._thread.start()

    def _look(self) -> None:
        while not self._over.wait(_POLL_SECONDS):
            try:
                for child in self._seen.children(recursive=True):
                    self.largest = max(self.largest, child.memory_info().rss)
                    self.longest = max(self.longest, time.time() - child.create_time())
            except psutil.Error:
                continue

    def end(self) -> None:
        self._over.set()
        self._thread.join()


def run(folder: Path) -> int:
    fetch(folder)
    with tempfile.TemporaryDirectory() as scratch:
        inbox = Path(scratch, "inbox")
        inbox.mkdir()
        names = []
        for number, (name, pdf) in enumerate(pdfs(folder)):
            names.append(f"{number:03}-{name}")
            (inbox / names[-1]).write_bytes(pdf)
        library = Path(scratch, "library")
        started = time.monotonic()
        process = subprocess.Popen(
            [sys.executable, "-m", "app", "--library", str(library), "import", str(inbox)],
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )
        watch = Watch(process)
        before = {child.pid for child in psutil.Process().children(recursive=True)}
        out, err = process.communicate()
        watch.end()
        seconds = time.monotonic() - started
        ended = {m["name"]: m["what"] for line in out.splitlines() if (m := _LINE.match(line))}
        left = [p for p in psutil.Process().children(recursive=True) if p.pid not in before]
        wrong = half_filed(library)
    for line in out.splitlines():
        print(line)
    kinds = Counter(_kind(what) for what in ended.values())
    silent = [name for name in names if name not in ended]
    inside = [name for name, what in ended.items() if "inside the program" in what]
    print(f"{len(names)} files in {seconds:.0f} s: {dict(kinds)}")
    print(f"largest child {watch.largest / 2**20:.0f} MiB, longest-lived {watch.longest:.0f} s")
    print(f"no word about: {silent}; faults of the program: {inside}; said on standard error: {err!r}")
    print(f"half-filed: {wrong}; workers left over: {len(left)}; status {process.returncode}")
    return 1 if silent or inside or err or wrong or left else 0


def _kind(what: str) -> str:
    if what.startswith("not filed. "):
        return what.removeprefix("not filed. ").split(".")[0][:60]
    return "filed" if what.startswith(("filed", "already filed", "newer", "kept")) else what


def main(arguments: list[str]) -> int:
    if arguments:
        folder = Path(arguments[0])
        folder.mkdir(parents=True, exist_ok=True)
        return run(folder)
    with tempfile.TemporaryDirectory() as folder_name:
        return run(Path(folder_name))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

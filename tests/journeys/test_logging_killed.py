"""A process that logs coats and is killed leaves every coat that it said was logged, and no half one."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from store.library import Library

_LOGS = """
import sys
from datetime import UTC, datetime
from pathlib import Path
from store.job_records import Coat, Panel, Tin, TinTake
from store.library import Library

library = Library.open(Path(sys.argv[1]))
product = library.add_product("Kestrel Bond 40", maker="Hollin & Reeve", kind="primer.epoxy.2k", code=None)
tin = library.add_tin(Tin(product.id, 100_000.0))
panel = library.add_panel(Panel("left door"))
while True:
    coat = Coat(datetime.now(UTC), product.id, takes=(TinTake(tin.id, 10.0),), note="whole")
    print(len(library.log_coat(panel.id, coat).coats), flush=True)
"""


def test_what_was_logged_is_whole_after_a_kill(tmp_path: Path) -> None:
    said = 0
    with subprocess.Popen(
        [sys.executable, "-c", _LOGS, str(tmp_path / "library")], stdout=subprocess.PIPE, text=True
    ) as child:
        assert child.stdout is not None
        for line in child.stdout:
            said = int(line)
            if said >= 7:
                break
        child.kill()
        rest = child.stdout.read().splitlines()
        said = max([said, *(int(line) for line in rest if line.isdigit())])
    with Library.open(tmp_path / "library") as library:
        (panel,) = library.panels()
        (tin,) = library.tins()
        assert len(panel.coats) in {said, said + 1}
        assert all(record.coat.note == "whole" and len(record.drawn) == 1 for record in panel.coats)
        # Coat and tin go together: each coat took its ten.
        assert tin.tin.left == 100_000 - 10 * len(panel.coats)

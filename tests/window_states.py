"""Window states worth looking at: empty, full, and with the longest names that one can imagine."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

from answer_states import fill_answers
from bench_states import fill_bench
from build_up_states import fill_build_ups
from job_states import fill_job
from window_kit import ETCH, KEEPER, reading

from app.confirming.keys import Deed
from app.wiring import Wiring
from extract.claims import SheetReading
from extract.errors import DamagedPdf, PasswordNeeded, ReadError

Prepared = Mapping[str, SheetReading | ReadError]

LONG = reading(
    "Zweikomponenten-Hochleistungs-Epoxidharzgrundierung mit aktivem Korrosionsschutz 4711/08 grau",
    list(KEEPER.claims),
    maker="Gebrüder Unterobermaiersberger Lackfabrikation und Söhne Nachfolger",
    problems=("Page 3 holds a picture with no text; what it says was not read.",),
)


def prepared(state: str) -> Prepared:
    """What the reader hands out, by file name."""
    if state in ("empty", "demo"):
        return {}
    sheets: dict[str, SheetReading | ReadError] = {
        "kestrel bond 40.pdf": KEEPER,
        "larkrise.pdf": ETCH,
        "torn.pdf": DamagedPdf("no cross-reference table"),
        "locked sheet.pdf": PasswordNeeded(wrong=False),
    }
    if state == "long":
        sheets["lang.pdf"] = LONG
        for number in range(500):
            sheets[f"sheet {number:03}.pdf"] = reading(f"Product {number:03}", ETCH.claims, maker=f"Maker {number % 9}")
    return sheets


def fill(wiring: Wiring, state: str, folder: Path) -> Iterator[tuple[str, Callable[[], None]]]:
    """File what the state holds, then each picture's name with what brings it about."""
    for name in prepared(state):
        (folder / name).write_bytes(f"%PDF of {name}".encode())
    if prepared(state):
        wiring.filing.add(sorted(folder.glob("*.pdf")))
    go = wiring.window.go_to
    for place in wiring.window.places:
        yield place.name, lambda place=place: go(place.name)  # type: ignore[misc]
    if state == "empty":
        return

    def some_done() -> None:
        go("confirm")
        wiring.confirming.do(Deed.CONFIRM)
        wiring.confirming.do(Deed.REJECT)
        wiring.confirming.do(Deed.CONFIRM)

    def correcting() -> None:
        go("confirm")
        wiring.confirming.do(Deed.CORRECT)

    def with_page() -> None:
        go("sheets")
        # At once, where the place itself would wait a moment for further changes.
        wiring.filing.reload()
        sheet = wiring.filing.card.sheet
        assert sheet is not None
        wiring.window.show_evidence(sheet.id, 1, KEEPER.claims[1].evidence.boxes)

    yield "confirm-some", some_done
    yield "confirm-correct", correcting
    yield "sheets-page", with_page
    wiring.window.evidence.close_panel()
    yield from fill_answers(wiring, state)
    yield from fill_build_ups(wiring)
    yield from fill_job(wiring, state)
    yield from fill_bench(wiring)

"""The commands as they are typed, on a library of two invented sheets."""

from __future__ import annotations

import csv
import io
import json
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from app.__main__ import main
from app.command_line.extracting import document
from app.command_line.importing import pdfs_in
from extract.claims import (
    FORMAT,
    Claim,
    Condition,
    Evidence,
    PageGeometry,
    PageText,
    SheetHeader,
    SheetReading,
    Stance,
    Topic,
    claim_from_json,
)
from fixtures.nasty.make import KINDS
from store.library import Library

FIXTURES = Path(__file__).parents[3] / "fixtures"
SHEET = FIXTURES / "quern-lane-keeper.pdf"
BOX = (50.0, 60.0, 200.0, 70.0)
Run = Callable[..., tuple[int, str, str]]


def said(topic: Topic, object_: str | None, stance: Stance, quote: str, *conditions: Condition, **more: Any) -> Claim:
    property_ = more.pop("property_", None)
    evidence = Evidence(1, quote, (BOX,))
    return Claim(topic, property_, stance, evidence, object=object_, conditions=conditions, **more)


def reading(product: str, kind: str, *claims: Claim) -> SheetReading:
    header = SheetHeader(f"{product}.pdf", "", 1, maker="Vellmark", product=product, kind=kind, issued="2024-03-01")
    return SheetReading(header, claims, (PageText(1, PageGeometry((0, 0, 595, 842), (0, 0, 595, 842), 0), ()),))


EPOXY = reading(
    "Granat 12",
    "primer.epoxy.2k",
    said(Topic.GOES_OVER, "primer.etch", Stance.FORBIDS, "Not over etch primers."),
    said(Topic.TOPPED_BY, "surfacer", Stance.PERMITS, "Surfacers: within 3 days.", Condition.WITHIN_WINDOW),
    said(
        Topic.OVERCOAT_WINDOW, "surfacer", Stance.STATES, "1 h to 3 d at 20 °C", property_="window",
        low=60.0, high=4320.0, unit="min", at_c=20.0,
    ),
    said(Topic.MIXING, None, Stance.STATES, "Pot life 4 h", property_="pot_life", low=240.0, high=240.0, unit="min"),
)  # fmt: skip
ETCH = reading("Zahn E", "primer.etch.1k", said(Topic.GOES_OVER, "surface.steel", Stance.PERMITS, "Over bare steel."))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A library of two sheets, all confirmed."""
    folder = tmp_path / "library"
    with Library.open(folder) as library:
        for number, made in enumerate((EPOXY, ETCH)):
            filed = library.file_sheet(b"%%PDF-1.7 %d" % number, made.header.file, [made])
            library.confirm([record.id for record in library.claims(filed[0].sheet.id)])
    return folder


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    def typed(*words: object) -> tuple[int, str, str]:
        try:
            status = main([str(word) for word in words])
        except SystemExit as end:
            status = int(end.code or 0)
        printed = capsys.readouterr()
        return status, printed.out, printed.err

    return typed


def test_help_reads_well_and_names_every_command(run: Run) -> None:
    status, out, _ = run("--help")
    assert status == 0
    for command in ("extract", "import", "ask", "compare", "find", "back-up", "restore"):
        assert command in out
    assert "replaces neither the sheet" in out


@pytest.mark.parametrize(
    "words", [["frobnicate"], ["ask"], ["ask", "bare steel"], ["import"], ["compare", "Granat 12"]]
)
def test_bad_usage_is_status_2(run: Run, folder: Path, words: list[str]) -> None:
    status, out, err = run("--library", folder, *words)
    assert status == 2
    assert not out
    assert err


def test_extract_prints_the_claims_document(run: Run) -> None:
    status, out, _ = run("extract", SHEET, "--json")
    assert status == 0
    printed = json.loads(out)
    assert printed["format"] == FORMAT
    assert printed["sheet"]["file"] == SHEET.name
    assert len(printed["sheet"]["sha256"]) == 64
    assert printed["claims"]
    for entry in printed["claims"]:
        made = claim_from_json(entry)
        assert made.evidence.quote
        assert made.evidence.boxes
        assert "why" not in entry


def test_extract_says_why_when_asked(run: Run) -> None:
    _, out, _ = run("extract", SHEET, "--json", "--why")
    assert all(entry["why"]["pattern"] for entry in json.loads(out)["claims"])
    _, out, _ = run("extract", SHEET, "--why")
    assert "read by" in out
    assert "“" in out


def test_a_pdf_of_several_products_is_one_document_whose_claims_name_theirs() -> None:
    printed = document([EPOXY, ETCH])
    assert [entry["subject"] for entry in printed["claims"]] == ["Granat 12"] * 4 + ["Zahn E"]
    assert [sheet["product"] for sheet in printed["sheets"]] == ["Granat 12", "Zahn E"]
    assert "subject" not in document([EPOXY])["claims"][0]


@pytest.mark.parametrize("name", ["none.pdf", "text.pdf"])
def test_what_cannot_be_read_is_a_plain_sentence_and_status_1(run: Run, tmp_path: Path, name: str) -> None:
    (tmp_path / "text.pdf").write_text("no PDF at all", "utf-8")
    status, out, err = run("extract", tmp_path / name)
    assert status == 1
    assert not out
    assert "Traceback" not in err
    assert err.strip()[0].isalpha()


def test_extract_loads_neither_the_window_nor_the_database() -> None:
    program = (
        "import sys; from app.__main__ import main; status = main(['extract', sys.argv[1], '--json']);"
        "heavy = {'PySide6', 'sqlalchemy', 'alembic'} & set(sys.modules);"
        "sys.exit(status or ('loaded ' + ' '.join(heavy) if heavy else 0))"
    )
    done = subprocess.run([sys.executable, "-c", program, str(SHEET)], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def test_import_says_of_each_file_what_became_of_it(run: Run, tmp_path: Path) -> None:
    sheets = tmp_path / "Datenblätter 'neu' 漆"
    sheets.mkdir()
    (sheets / "first sheet.PDF").write_bytes(SHEET.read_bytes())
    (sheets / "not one.pdf").write_text("<html>", "utf-8")
    (sheets / "notes.txt").write_text("no sheet", "utf-8")
    status, out, _ = run("--library", tmp_path / "library", "import", sheets)
    assert status == 1
    first, second, total = out.splitlines()[0], out.splitlines()[-2], out.splitlines()[-1]
    assert first.startswith("first sheet.PDF: filed as ")
    assert second.startswith("not one.pdf: not filed. ")
    assert total.startswith("1 of 2 files in the library; ")
    status, out, _ = run("--library", tmp_path / "library", "import", sheets / "first sheet.PDF")
    assert status == 0
    assert "already filed" in out


def test_import_can_confirm_everything(run: Run, tmp_path: Path) -> None:
    status, out, _ = run("--library", tmp_path / "library", "import", SHEET, "--confirm-all")
    assert status == 0
    assert out.splitlines()[-1].endswith("; 0 claims wait.")
    with Library.open(tmp_path / "library", read_only=True) as library:
        assert library.rules()
        assert not library.proposals()


def test_what_was_read_off_a_picture_is_never_confirmed_unseen(run: Run, tmp_path: Path) -> None:
    (tmp_path / "scan.pdf").write_bytes(KINDS["scanned"]())
    status, out, _ = run("--library", tmp_path / "library", "import", tmp_path / "scan.pdf", "--confirm-all")
    assert status == 0
    assert "read from a picture" in out
    with Library.open(tmp_path / "library", read_only=True) as library:
        assert not library.rules()
        assert [proposal.claim.property for proposal in library.proposals()] == ["waterproof"]


def test_folders_are_searched_for_pdfs_by_any_spelling(tmp_path: Path) -> None:
    (tmp_path / "deep").mkdir()
    for name in ("b.pdf", "a.PDF", "deep/c.pdf", "d.txt"):
        (tmp_path / name).write_bytes(b"")
    assert [path.name for path in pdfs_in([tmp_path, tmp_path / "d.txt"])] == ["a.PDF", "b.pdf", "c.pdf", "d.txt"]


def test_ask_answers_in_json(run: Run, folder: Path) -> None:
    status, out, _ = run("--library", folder, "ask", "Granat 12", "surfacer.2k", "--json")
    assert status == 0
    answer = json.loads(out)
    assert (answer["lower"], answer["upper"], answer["verdict"]) == ("Granat 12", "surfacer.2k", "yes_if")
    (reason,) = answer["reasons"]
    assert reason == {
        "sheet": "Granat 12",
        "page": 1,
        "quote": "Surfacers: within 3 days.",
        "boxes": [list(BOX)],
        "topic": "topped_by",
        "stance": "permits",
        "object": "surfacer",
        "conditions": ["within_window"],
        "status": "confirmed",
    }
    assert answer["window"]["low"] == 60
    assert answer["window"]["high"] == 4320
    assert answer["window"]["at_c"] == 20
    assert answer["window"]["quote"] == "1 h to 3 d at 20 °C"
    assert answer["silent"] == []
    assert answer["conditions"] == ["within its time limits (1 h – 3 days at 20 °C) (Granat 12)"]


def test_a_window_is_not_stretched_to_the_temperature_asked_for(run: Run, folder: Path) -> None:
    _, out, _ = run("--library", folder, "ask", "Granat 12", "surfacer.2k", "--at-c", "5", "--json")
    assert json.loads(out)["window"]["low"] is None
    _, out, _ = run("--library", folder, "ask", "Granat 12", "surfacer.2k", "--at-c", "5")
    assert "only, not for 5 °C" in out


def test_ask_answers_in_words(run: Run, folder: Path) -> None:
    status, out, _ = run("--library", folder, "ask", "zahn e", "granat 12")
    assert status == 0
    assert out.startswith("May Granat 12 go straight onto Zahn E?\n\nNO. ")
    assert "“Not over etch primers.” Granat 12, p. 1" in out
    assert "Zahn E's sheet doesn't say." in out


def test_an_unknown_name_is_status_2_with_the_nearest(run: Run, folder: Path) -> None:
    status, out, err = run("--library", folder, "ask", "Granat 13", "surfacer.2k")
    assert (status, out) == (2, "")
    assert "Granat 12" in err


def test_a_batch_answers_a_line_for_a_line(run: Run, folder: Path, tmp_path: Path) -> None:
    questions = [
        {"lower": "product:Zahn E", "upper": "product:Granat 12"},
        {"lower": "surface.wood", "upper": "product:Granat 12"},
        {"lower": "product:Nobody's", "upper": "product:Granat 12"},
    ]
    batch = tmp_path / "questions.jsonl"
    batch.write_text("".join(f"{json.dumps(question)}\n" for question in questions), "utf-8")
    status, out, _ = run("--library", folder, "ask", "--batch", batch)
    assert status == 0
    answers = [json.loads(line) for line in out.splitlines()]
    assert [answer["verdict"] for answer in answers] == ["no", "silent", "unknown"]
    assert answers[2]["unknown"] == "product:Nobody's"
    batch.write_text("no question\n", "utf-8")
    status, out, _ = run("--library", folder, "ask", "--batch", batch)
    assert (status, json.loads(out)["verdict"]) == (1, "error")


def test_compare_as_csv_and_as_a_table(run: Run, folder: Path) -> None:
    status, out, _ = run("--library", folder, "compare", "Granat 12", "Zahn E", "--csv")
    assert status == 0
    head, *rows = csv.reader(io.StringIO(out))
    assert head == ["Topic", "What", "Granat 12", "Zahn E", "Differs"]
    assert ["Mixing", "Pot life", "Pot life 4 h", "sheet doesn't say", ""] in rows
    assert any(row[1] == "Etch primers" and row[2] == "No" for row in rows)
    status, out, _ = run("--library", folder, "compare", "Granat 12", "Zahn E")
    assert status == 0
    assert "What it may go over" in out
    status, _, err = run("--library", folder, "compare", "Granat 12", "primer.etch")
    assert status == 2
    assert "is a kind" in err


def test_find_shows_where_the_words_stand(run: Run, folder: Path) -> None:
    status, out, _ = run("--library", folder, "find", "granat")
    assert status == 0
    assert "Granat 12 (product)" in out
    status, out, _ = run("--library", folder, "find", "xylophone")
    assert status == 0
    assert "Nothing in the library" in out


def test_a_back_up_makes_the_library_again(run: Run, folder: Path, tmp_path: Path) -> None:
    saved = tmp_path / "library.backup"
    assert run("--library", folder, "back-up", saved)[0] == 0
    assert run("restore", saved, tmp_path / "again")[0] == 0
    question = ("ask", "zahn e", "granat 12", "--json")
    assert run("--library", tmp_path / "again", *question)[1] == run("--library", folder, *question)[1]
    status, _, err = run("restore", saved, folder)
    assert status == 2
    assert "not empty" in err


def test_a_missing_library_is_a_plain_sentence(run: Run, tmp_path: Path) -> None:
    status, _, err = run("--library", tmp_path / "none", "ask", "zahn e", "granat 12")
    assert status == 1
    assert "no library in that folder" in err

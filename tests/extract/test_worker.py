"""The child process, spoken to as the program speaks to it."""

import base64
import io
import json
import subprocess
import sys
from typing import Any

import pytest
from reportlab.pdfgen.canvas import Canvas

from extract.claims import PageGeometry, PageText, PageWord, SheetHeader, SheetReading
from extract.exchange import MOST_WORDS, BadReading, reading_from_json, reading_to_json
from extract.worker import main


def sheet(pages: int = 1) -> bytes:
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(300, 200))
    for n in range(pages):
        canvas.drawString(30, 150, f"Pot life 6 h at 20 °C. Page {n + 1}")
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def ask(kind: str, order: dict[str, Any], data: bytes, *more: dict[str, Any]) -> tuple[int, list[dict[str, Any]]]:
    spoken = json.dumps(order).encode() + b"\n" + data + b"".join(json.dumps(m).encode() + b"\n" for m in more)
    done = subprocess.run(
        [sys.executable, "-m", "extract.worker", kind], input=spoken, capture_output=True, timeout=60, check=False
    )
    assert done.stderr == b""
    return done.returncode, [json.loads(line) for line in done.stdout.splitlines()]


def test_reading_tells_each_page_and_then_the_readings() -> None:
    pdf = sheet(2)
    status, answers = ask("read", {"file": "a b.pdf", "password": None, "size": len(pdf)}, pdf)
    assert status == 0
    assert answers[:2] == [{"page": 1, "pages": 2}, {"page": 2, "pages": 2}]
    readings = [reading_from_json(r) for r in answers[2]["readings"]]
    assert readings[0].header.file == "a b.pdf"
    assert [w.text for w in readings[0].pages[1].words][-2:] == ["Page", "2"]


def test_reading_names_what_is_wrong() -> None:
    status, answers = ask("read", {"file": "x.pdf", "size": 5}, b"hello")
    assert (status, answers) == (0, [{"error": "not_a_pdf", "fields": {"size": 5}}])


def test_drawing_answers_page_after_page() -> None:
    pdf = sheet()
    status, answers = ask(
        "draw", {"size": len(pdf)}, pdf, {"page": 1, "scale": 2}, {"page": 9, "scale": 1}, {"page": 1, "scale": 1}
    )
    assert status == 0
    first, missing, second = answers
    assert (first["width"], first["height"]) == (600, 400)
    pixels = base64.b64decode(first["pixels"])
    assert len(pixels) == first["stride"] * 400
    assert pixels[:3] == b"\xff\xff\xff"
    assert min(pixels[0::4]) < 80
    assert missing["error"] == "not_drawn"
    assert missing["fields"]["page"] == 9
    assert (second["width"], second["height"]) == (300, 200)


@pytest.mark.parametrize("order", [b"", b"no json\n", b'{"size": "many"}\n', b'{"size": 900}\nshort', b"[]\n"])
def test_an_order_that_is_none_ends_it(order: bytes) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "extract.worker", "read"], input=order, capture_output=True, timeout=60, check=False
    )
    assert done.returncode == 2
    assert done.stdout == b""


def test_the_process_bounds_itself_and_forgets_its_environment() -> None:
    code = (
        "import os, sys\nfrom extract.worker import MEMORY, limit_process\nlimit_process()\n"
        "assert 'SECRET_WORD' not in os.environ\n"
        "if sys.platform != 'linux':\n    sys.exit(print('refused'))\n"
        "import resource\n"
        "assert resource.getrlimit(resource.RLIMIT_AS)[0] == MEMORY\n"
        "assert resource.getrlimit(resource.RLIMIT_CORE)[0] == 0\n"
        "try:\n    bytearray(2 * MEMORY)\nexcept MemoryError:\n    print('refused')\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        env={"SECRET_WORD": "x", "PATH": "/usr/bin"},
        capture_output=True,
        timeout=60,
        check=True,
    )
    assert done.stdout == b"refused\n"


def reading() -> SheetReading:
    geometry = PageGeometry((0, 0, 300, 200), (10, 10, 290, 190), 90)
    page = PageText(1, geometry, (PageWord("Pot", (1.25, 2.5, 30.0, 12.0)), PageWord("½", (31.0, 2.5, 40.0, 12.0))))
    return SheetReading(SheetHeader("a.pdf", "00", 1, product="Löwe 5"), (), (page,), ("a problem",), "1")


def test_readings_come_back_as_they_went() -> None:
    assert reading_from_json(json.loads(json.dumps(reading_to_json(reading())))) == reading()


def test_readings_of_another_shape_are_refused() -> None:
    good = reading_to_json(reading())
    pages = [{**good["pages"][0], "boxes": [1, 2, 3]}]
    flood = [{**good["pages"][0], "words": ["x"] * (MOST_WORDS + 1)}]
    for bad in (
        {**good, "pages": pages},
        {**good, "pages": flood},
        {**good, "claims": [{"topic": "weather"}]},
        {**good, "header": {"file": ["a"]}},
        {"header": {}},
    ):
        with pytest.raises(BadReading):
            reading_from_json(bad)


def test_a_fault_of_the_reader_is_told_as_its_own(monkeypatch: pytest.MonkeyPatch) -> None:
    def stumble(*_: object) -> None:
        raise KeyError("a term")

    monkeypatch.setattr("extract.pipeline.read_sheet", stumble)
    pdf = sheet()
    source = io.BytesIO(json.dumps({"file": "x.pdf", "size": len(pdf)}).encode() + b"\n" + pdf)
    sink = io.BytesIO()
    assert main(["read"], source, sink) == 0
    (answer,) = [json.loads(line) for line in sink.getvalue().splitlines()]
    assert answer["error"] == "failed"
    assert "KeyError: 'a term'" in answer["fields"]["cause"]

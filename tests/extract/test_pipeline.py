"""A PDF in, readings out."""

from __future__ import annotations

import io
from dataclasses import replace

import pytest
from reportlab.lib.pagesizes import A4
from reportlab.pdfgen.canvas import Canvas

from extract.claims import Claim, Evidence, Stance, Topic
from extract.errors import ReadError
from extract.pipeline import FINDERS, READER_VERSION, read_document, read_sheet
from extract.sorting import in_page_order, without_doubles
from tests.extract.build import document, statement


def small_sheet() -> bytes:
    """One page: a title, a maker, an ingredient list of figures."""
    out = io.BytesIO()
    page = Canvas(out, pagesize=A4)
    page.setTitle("Gneis 22")
    page.setAuthor("Fjellvik Lakk AS")
    page.setFont("Helvetica-Bold", 20)
    page.drawString(60, 780, "Gneis 22")
    page.setFont("Helvetica", 12)
    page.drawString(60, 755, "2K epoxy primer")
    lines = [
        ("Mixing", True), ("Pot life 6 h at 20 °C.", False), ("Mix 4 : 1 by volume with hardener.", False),
        ("Storage", True), ("Shelf life 24 months, unopened, at 5–30 °C.", False),
    ]  # fmt: skip
    y = 710.0
    for text, bold in lines:
        page.setFont("Helvetica-Bold" if bold else "Helvetica", 12 if bold else 10)
        page.drawString(60, y, text)
        y -= 24
    page.setFont("Helvetica", 7)
    page.drawString(60, 40, "Fjellvik Lakk AS, Storgata 1. Issue 3 / 02.11.2023")
    page.showPage()
    page.save()
    return out.getvalue()


def test_a_small_sheet_from_bytes_to_claims() -> None:
    pages: list[tuple[int, int]] = []
    (reading,) = read_sheet(small_sheet(), "gneis.pdf", progress=lambda done, of: pages.append((done, of)))
    assert (reading.header.product, reading.header.maker) == ("Gneis 22", "Fjellvik Lakk")
    assert (reading.header.kind, reading.header.issued) == ("primer.epoxy.2k", "2023-11-02")
    assert reading.reader == READER_VERSION
    assert len(reading.header.sha256) == 64
    assert reading.header.pages == len(reading.pages) == 1
    said = {(c.topic, c.property): c for c in reading.claims}
    assert said[Topic.MIXING, "pot_life"].low == 360
    assert said[Topic.MIXING, "pot_life"].at_c == 20
    assert said[Topic.MIXING, "ratio"].parts == (4, 1)
    assert said[Topic.STORAGE, "shelf_life"].low == 24
    assert (said[Topic.STORAGE, "temp"].low, said[Topic.STORAGE, "temp"].high) == (5, 30)
    assert pages


def test_a_section_in_another_language_is_read_in_its_own_words() -> None:
    english = statement("It may be applied over sanded epoxy primer.", "Substrates")
    french = statement("Ne pas appliquer sur le mastic polyester.", "Supports")
    french = replace(french, section=replace(french.section, language="fr"))
    reading = read_document(document(english, french), "gneis.pdf", "0" * 64, 1)
    said = {(c.object, c.stance.value, c.evidence.quote) for c in reading.claims if c.topic is Topic.GOES_OVER}
    assert said == {
        ("primer.epoxy", "permits", "It may be applied over sanded epoxy primer"),
        ("filler.polyester", "forbids", "Ne pas appliquer sur le mastic polyester"),
    }
    assert reading.problems == ()


def test_an_english_section_of_a_german_sheet_is_read_in_english() -> None:
    german = statement("Darf nicht auf Polyesterspachtel aufgetragen werden.", "Untergründe")
    english = statement("It may be applied over sanded epoxy primer.", "Substrates")
    english = replace(english, section=replace(english.section, language="en"))
    sheet = replace(document(german, english), language="de")
    reading = read_document(sheet, "gneis.pdf", "0" * 64, 1)
    said = {(c.object, c.stance.value) for c in reading.claims if c.topic is Topic.GOES_OVER}
    assert said == {("primer.epoxy", "permits"), ("filler.polyester", "forbids")}
    assert reading.header.language == "de"


def test_a_section_in_a_language_without_words_is_left_out_and_said() -> None:
    english = statement("It may be applied over sanded epoxy primer.", "Substrates")
    polish = statement("Nie nakładać na szpachlę poliestrową.", "Podłoże")
    polish = replace(polish, section=replace(polish.section, language="pl"))
    reading = read_document(document(english, polish), "gneis.pdf", "0" * 64, 1)
    assert {c.object for c in reading.claims} == {"primer.epoxy"}
    assert any("another language (pl)" in problem for problem in reading.problems)


def test_every_topic_has_its_finder() -> None:
    modules = {finder.__module__.rsplit(".", 1)[-1] for finder in FINDERS}
    assert modules == {"coats", "windows", "preparation", "exposure", "mixing", "film", "application", "drying",
                       "storage", "safety"}  # fmt: skip


def test_what_is_no_pdf_is_refused_by_name() -> None:
    with pytest.raises(ReadError):
        read_sheet(b"not a pdf", "x.pdf")


def claim(top: float = 10, *, page: int = 1, confidence: float = 0.8, **fields: object) -> Claim:
    evidence = Evidence(page, "words", ((0.0, top, 10.0, top + 10),))
    base: dict[str, object] = {"topic": Topic.DRYING, "property": "touch", "stance": Stance.STATES}
    return Claim(**{**base, **fields, "evidence": evidence, "confidence": confidence})  # type: ignore[arg-type]


def test_of_exact_doubles_the_surer_stays() -> None:
    kept = without_doubles([claim(low=30, high=30), claim(50, low=30, high=30, confidence=0.95)])
    assert [c.confidence for c in kept] == [0.95]


def test_two_values_of_one_figure_are_both_filed() -> None:
    assert len(without_doubles([claim(low=30, high=30), claim(low=45, high=45)])) == 2


def test_a_figure_without_temperature_gives_way_to_the_same_with_one() -> None:
    (kept,) = without_doubles([claim(low=30, high=30), claim(low=30, high=30, at_c=20)])
    assert kept.at_c == 20


def test_one_end_gives_way_to_the_range_that_ends_there() -> None:
    (kept,) = without_doubles(
        [
            claim(topic=Topic.STORAGE, property="temp", high=25),
            claim(topic=Topic.STORAGE, property="temp", low=5, high=25),
        ]
    )
    assert kept.low == 5


def test_verdicts_are_dropped_only_as_exact_doubles() -> None:
    plain = claim(topic=Topic.GOES_OVER, property=None, stance=Stance.PERMITS, object="primer")
    other = claim(topic=Topic.GOES_OVER, property=None, stance=Stance.FORBIDS, object="primer")
    assert len(without_doubles([plain, plain, other])) == 2


def test_claims_come_in_page_order() -> None:
    ordered = in_page_order([claim(50, page=2), claim(90), claim(20)])
    assert [(c.evidence.page, c.evidence.boxes[0][1]) for c in ordered] == [(1, 20), (1, 90), (2, 50)]

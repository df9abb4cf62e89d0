"""Tables in other languages: heads, corners, verdicts and waits."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest

from extract.document import Cell, Document, Row, Table
from extract.finders import coats, windows
from extract.gloss.doubts import sure
from extract.gloss.sheets import gloss_document
from extract.terms import SubjectNames, Vocabulary
from tests.extract.build import document, passage, section
from tests.extract.test_coat_cases import written

WAITS = [
    (
        "de",
        "Überlackierbarkeit",
        "Folgebeschichtung",
        ("frühestens nach", "spätestens nach"),
        ("2K-Füller", "1 Std.", "3 Tagen"),
    ),
    ("nl", "Overspuiten", "Volgende laag", ("minimaal", "maximaal"), ("2K-vuller", "1 uur", "3 dagen")),
    ("fr", "Recouvrement", "Couche suivante", ("délai mini", "délai maxi"), ("apprêt 2K", "1 h", "3 jours")),
    ("es", "Repintado", "Capa siguiente", ("mínimo", "máximo"), ("aparejo 2K", "1 h", "3 días")),
]
GROUNDS = [
    (
        "de",
        "Untergründe",
        "Untergrund",
        ("Eignung", "Vorbehandlung"),
        [("Stahl", "ja", "schleifen P120"), ("Zink", "bedingt", "anschleifen"), ("Washprimer", "nein", "")],
    ),
    (
        "nl",
        "Ondergronden",
        "Ondergrond",
        ("geschikt", "voorbehandeling"),
        [("staal", "ja", "schuren P120"), ("zink", "onder voorbehoud", ""), ("washprimer", "nee", "")],
    ),
    (
        "fr",
        "Supports",
        "Support",
        ("Convient", "Préparation"),
        [("acier", "oui", "ponçage P120"), ("zinc", "sous réserve", ""), ("primaire réactif", "non", "")],
    ),
    (
        "es",
        "Soportes",
        "Soporte",
        ("Apto", "Preparación"),
        [("acero", "sí", "lijar P120"), ("zinc", "previa consulta", ""), ("imprimación fosfatante", "no", "")],
    ),
]


def sheet(language: str, under: str, corner: str, heads: Sequence[str], rows: Sequence[Sequence[str]]) -> Document:
    made = Table(
        passage(corner),
        tuple((Cell(passage(h)),) for h in heads),
        tuple(Row(Cell(passage(r[0])), tuple(Cell(passage(t)) for t in r[1:])) for r in rows),
        section(under),
    )
    return replace(document(made), language=language)


def read(printed: Document) -> set[str]:
    glossed = gloss_document(printed)
    subject = SubjectNames("Hobnail 3", kind="primer.epoxy.2k")
    vocabulary = Vocabulary.load("en").bind(glossed.document, subject)
    found = [c for f in (coats, windows) for c in f.find(glossed.document, subject, vocabulary)]
    return {written(c) for c in sure(found, glossed.doubts)}


@pytest.mark.parametrize(("language", "under", "corner", "heads", "row"), WAITS)
def test_waits(language: str, under: str, corner: str, heads: Sequence[str], row: Sequence[str]) -> None:
    assert read(sheet(language, under, corner, heads, [row])) == {
        "topped_by permits surfacer.2k if within_window",
        "window surfacer.2k 60..4320",
    }


@pytest.mark.parametrize(("language", "under", "corner", "heads", "rows"), GROUNDS)
def test_grounds(language: str, under: str, corner: str, heads: Sequence[str], rows: Sequence[Sequence[str]]) -> None:
    assert read(sheet(language, under, corner, heads, rows)) == {
        "goes_over permits surface.steel if abraded",
        "goes_over forbids primer.etch",
    }

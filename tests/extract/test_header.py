"""What a sheet says of itself, from heads and feet made up here."""

from __future__ import annotations

from dataclasses import replace

import pytest

from extract.claims import SheetHeader
from extract.dates import find_dates, issue_date, revision
from extract.document import Document, fold
from extract.head_maker import without_company_form
from extract.header import read_header
from extract.terms import SubjectNames, Vocabulary
from tests.extract.build import document, passage, statement


def header(
    titles: tuple[str, ...],
    running: tuple[str, ...] = (),
    body: tuple[str, ...] = (),
    metadata: tuple[tuple[str, str], ...] = (),
    file_name: str = "sheet.pdf",
) -> tuple[SheetHeader, SubjectNames]:
    doc: Document = replace(
        document(*(statement(t, titles[:1]) for t in body)),
        titles=tuple(passage(t) for t in titles),
        running=tuple(passage(t) for t in running),
        metadata=metadata,
    )
    return read_header(doc, file_name, "0" * 64, 1, Vocabulary.load("en"))


@pytest.mark.parametrize(
    ("text", "month_first", "iso"),
    [
        ("Issue 7 / 14.03.2024", False, "2024-03-14"),
        ("Rev. 04 of 09/2022", False, "2022-09-01"),
        ("17 January 2024, second edition", False, "2024-01-17"),
        ("May 2023, fourth edition", False, "2023-05-01"),
        ("Rev. 12 of 15/01/2025", False, "2025-01-15"),
        ("Effective 06/2024", True, "2024-06-01"),
        ("Date: March 5, 2021", True, "2021-03-05"),
        ("Issued 03/04/2024", True, "2024-03-04"),
        ("Issued 03/04/2024", False, "2024-04-03"),
        ("Issued 25/04/2024", True, "2024-04-25"),
        ("Version 2024-02-09", False, "2024-02-09"),
        ("Edition 2021", False, "2021-01-01"),
        ("revised 5th June 2020", False, "2020-06-05"),
        ("Stand: 3. März 2022", False, "2022-03-03"),
        ("Rev. 3 of 05/2024 replaces issue of 02/2021", False, "2024-05-01"),
        ("Issue 7 May 2022", False, "2022-05-01"),
        ("Issue: 7 May 2022", False, "2022-05-07"),
        ("Issued 7 May 2022", False, "2022-05-07"),
        ("Issue 23 May 2022", False, "2022-05-23"),
        ("Issue 7 May 2022, version 3", False, "2022-05-07"),
        ("Rev. 4 – 11/2023", False, "2023-11-01"),
        ("4 - 11 - 2023, revised", False, "2023-11-04"),
        ("TDS 09/21", False, "2021-09-01"),
        ("Rev 8/23", True, "2023-08-01"),
        ("Rev 8.23", True, None),
        ("V. 03 – 08.23", False, "2023-08-01"),
        ("Version: e 11/0322", False, "2022-03-01"),
        ("Form 31 Rev.: 102219", True, "2019-10-22"),
        ("First issued 04.05.2016, revision date 07.08.2021", False, "2021-08-07"),
        ("Printed on 04.05.2023 revision date: 07.08.2021", False, "2021-08-07"),
        ("TDS-EN-0415 | v2.0 | 2021-03", False, "2021-03-01"),
        ("Revised 2018 (EN ISO 2409:2020)", False, "2018-01-01"),
    ],
)
def test_the_issue_date(text: str, month_first: bool, iso: str | None) -> None:
    assert issue_date([fold(text)], month_first=month_first) == iso


@pytest.mark.parametrize(
    "text", ["Paints for coachwork since 1951", "VOC (2004/42/EC): 540 g/l", "Supersedes 03/2020", "IBC 1999 litres"]
)
def test_what_is_no_issue_date(text: str) -> None:
    assert issue_date([fold(text)], month_first=False) is None


def test_another_date_of_the_sheet_does_not_turn_an_ambiguous_one_round() -> None:
    assert issue_date(["issued 03/04/2024", "printed 28/05/2024"], month_first=False) == "2024-04-03"


def test_a_month_that_is_none_is_no_date() -> None:
    assert list(find_dates("14.15.2024")) == []


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Issue 7 / 14.03.2024", "7"),
        ("Rev. J", "J"),
        ("Rev. 04 of 09/2022", "04"),
        ("fourth edition", "4"),
        ("3rd edition", "3"),
        ("Version 2.1", "2.1"),
        ("Revision: C", "C"),
        ("the revised text", None),
        ("Issue 7 May 2022", "7"),
        ("Issue: 7 May 2022", None),
        ("Revision 03.04.2022", None),
    ],
)
def test_the_revision(text: str, found: str | None) -> None:
    assert revision([fold(text)]) == found


@pytest.mark.parametrize(
    ("name", "bare"),
    [
        ("Fjellvik Lakk AS", "Fjellvik Lakk"),
        ("Harrow & Pell Ltd", "Harrow & Pell"),
        ("Morandetti S.r.l.", "Morandetti"),
        ("Copper Fork Coatings, Inc.", "Copper Fork Coatings"),
        ("Brandmeer B.V.", "Brandmeer"),
        ("Gneis", "Gneis"),
    ],
)
def test_the_company_form_is_no_part_of_the_name(name: str, bare: str) -> None:
    assert without_company_form(name) == bare


def test_a_european_head() -> None:
    got, subject = header(
        ("GNEIS 22", "FJELLVIK", "2K epoxy primer"),
        (
            "FJELLVIK  TECHNICAL DATA SHEET  GNEIS 22",
            "Fjellvik Lakk AS · Storgata 1 · Art. no. 5512 · Issue 3 / 02.11.2023",
        ),
        ("Gneis 22 is a two-component epoxy primer for bare steel.", "Gneis 22 is grey."),
    )
    assert (got.maker, got.product, got.code) == ("Fjellvik", "Gneis 22", "5512")
    assert (got.kind, got.issued, got.revision) == ("primer.epoxy.2k", "2023-11-02", "3")
    assert subject.name == "Gneis 22"
    assert "Gneis" in subject.aliases


def test_a_british_head_with_a_sheet_number_and_a_reference() -> None:
    got, _ = header(
        ("Surelevel HB", "HARROW & PELL"),
        ("HARROW & PELL Coachpainters", "Product information sheet No. 12 · Surelevel HB · Ref. HP-LB5 · October 2024"),
        ("High-build two-pack surfacer", "Surelevel HB is our surfacer.", "Harrow & Pell Ltd, Mill Lane."),
    )
    assert (got.maker, got.product, got.code) == ("Harrow & Pell", "Surelevel HB", "HP-LB5")
    assert (got.kind, got.issued) == ("surfacer.2k", "2024-10-01")


def test_an_american_head_with_its_code_in_the_name() -> None:
    got, subject = header(
        ("CF-310 LEVELDECK", "COPPER FORK"),
        (
            "COPPER FORK",
            "PRODUCT BULLETIN CF-310 | Rev. J | Effective 02/2025",
            "Copper Fork Coatings, Inc. · 44 Spur Rd.",
        ),
        ("2K urethane primer surfacer", "LEVELDECK is fast.", "Apply CF-310 at 70°F and 30 psi."),
    )
    assert (got.maker, got.product, got.code) == ("Copper Fork", "CF-310 Leveldeck", "CF-310")
    assert (got.kind, got.issued, got.revision) == ("surfacer.2k", "2025-02-01", "J")
    assert {"CF-310", "Leveldeck"} <= set(subject.aliases)


def test_a_number_beside_the_words_for_data_sheet_is_a_code_only_where_the_text_uses_it() -> None:
    body = ("Component: SOLFANTE WP 30.1117 100 parts", "SOLFANTE WP is a wash primer.")
    got, _ = header(("SOLFANTE WP",), ("TECHNICAL INFORMATION 30.1117",), body)
    assert got.code == "30.1117"
    other, _ = header(("SOLFANTE WP",), ("TECHNICAL INFORMATION 44.7000",), body)
    assert other.code is None


def test_the_product_is_neither_the_slogan_nor_the_maker() -> None:
    got, _ = header(
        ("MORANDETTI", "PAINTS FOR THE LONG ROAD", "LUCENTE DG"),
        ("Morandetti S.r.l. - Via Nuova 8",),
        ("LUCENTE DG is a two-component direct gloss enamel.", "LUCENTE DG shines."),
        (("Title", "LUCENTE DG"), ("Author", "Morandetti S.r.l.")),
    )
    assert (got.maker, got.product, got.kind) == ("Morandetti", "Lucente DG", "topcoat.solid.2k")


def test_a_letter_spaced_title_is_closed_up() -> None:
    got, _ = header(("G N E I S  2 2", "Technical Data Sheet"), (), ("Gneis 22 is a primer.",))
    assert got.product is not None
    assert got.product.replace(" ", "").lower() == "gneis22"


def test_a_sheet_that_names_nothing_takes_its_file_name() -> None:
    got, _ = header((), (), (), file_name="gneis_22_tds.pdf")
    assert (got.product, got.maker, got.code, got.kind) == ("gneis 22", None, None, None)

import pytest

from extract.imprint import is_imprint, without_imprint
from tests.extract.build import document, statement


@pytest.mark.parametrize(
    "text",
    [
        "HARDOLIN A/S · Fabriksvej 8 · 7998 Holmstrup · Denmark",
        "Dornau Lacke GmbH, Hafenstr. 2, 99998 Dornau",
        "Kestle Coatings Ltd | Unit 3, Old Mill | KE1 9ZZ",
    ],
)
def test_a_company_with_its_address_is_an_imprint(text: str) -> None:
    assert is_imprint(text)


@pytest.mark.parametrize(
    "text",
    [
        "Degrease with Dornau 40, sand with P180.",
        "Surfacers of Dornau Lacke GmbH may be applied after 1000 minutes, dry.",
        "Steel blasted to SA 2½, aluminium, 1000 hours of salt spray",
    ],
)
def test_what_is_said_of_paint_is_none(text: str) -> None:
    assert not is_imprint(text)


def test_only_the_imprint_is_left_out() -> None:
    sheet = document(statement("Sand it with P320."), statement("HARDOLIN A/S · Fabriksvej 8 · 7998 Holmstrup"))
    assert [b.passage.text for b in without_imprint(sheet).blocks] == ["Sand it with P320."]

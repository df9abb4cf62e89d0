"""`tinsheet sum` from the outside."""

from __future__ import annotations

import json

import pytest

from app.__main__ import main
from app.bench_sums import words
from store.sums.catalogue import SUMS
from store.sums.inputs import Choice


def test_dew_point_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sum", "dew-point", "--air", "20", "--humidity", "60", "--json"]) == 0
    out = json.loads(capsys.readouterr().out)
    first = out["answers"][0]
    # psychrolib 2.5: GetTDewPointFromRelHum(20, 0.6) = 12.0 to a tenth (tests/store/sums compares the two).
    assert first["name"] == "dew-point" and first["value"] == pytest.approx(12.0, abs=0.05)
    assert first["unit"] == "°C" and "Sonntag" in first["source"] and first["formula"] and first["valid_for"]


def test_a_decimal_comma_another_unit_and_a_minus(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sum", "wet-film", "--dry-film", "2 mil", "--volume-solids", "62,5", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["answers"][0]["value"] == pytest.approx(2 * 25.4 / 0.625)
    assert main(["sum", "dew-point", "--air", "-5", "--humidity", "80"]) == 0
    assert "Frost" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["wet-film", "--dry-film", "50", "--volume-solids", "140"], "It takes 1 to 100 %."),
        (["wet-film"], "Still to type: dry film, volume solids."),
        (["dew-point", "--air", "warm", "--humidity", "60"], "is not a figure"),
        (["nothing"], "There is no sum called"),
        (["units", "--value", "1", "--from", "psi", "--to", "µm"], "one cannot be turned into the other"),
    ],
)
def test_what_cannot_be_worked_is_refused_in_a_sentence(
    arguments: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["sum", *arguments]) == 2
    caught = capsys.readouterr()
    assert said in caught.err and not caught.out


def test_every_sum_is_listed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sum"]) == 0
    out = capsys.readouterr().out
    assert all(f"  {one.name} " in out for one in SUMS)


@pytest.mark.parametrize("one", SUMS, ids=lambda one: one.name)
def test_every_sum_has_its_help_in_words(one: object, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["sum", one.name, "--help"])  # type: ignore[attr-defined]
    assert ended.value.code == 0
    out = capsys.readouterr().out
    for item in one.inputs:  # type: ignore[attr-defined]
        assert f"--{item.name}" in out
        assert words.input_words(item.name)
        if isinstance(item, Choice):
            assert all(words.option_words(option) for option in item.options)

"""The scorer itself: what it must find, forgive and call dangerous."""

from __future__ import annotations

from typing import Any

from tests.extract.scoring import danger, matches, quote_stands_inside, score

EVIDENCE = {"page": 1, "quote": "words", "boxes": [[0, 0, 10, 10]]}


def claim(topic: str, prop: str | None, stance: str, **rest: Any) -> dict[str, Any]:
    return {"topic": topic, "property": prop, "stance": stance, "object": None, "evidence": EVIDENCE, **rest}


def test_figures_agree_within_one_percent() -> None:
    gold = claim("film", "wet", "states", low=100, high=110, unit="um")
    assert matches(gold, {**gold, "low": 100.9})
    assert not matches(gold, {**gold, "low": 102})
    assert not matches(gold, {**gold, "high": None})


def test_another_object_counts_where_the_gold_allows_it() -> None:
    gold = claim("topped_by", None, "permits", object="filler.polyester", also=["filler"])
    assert matches(gold, {**gold, "object": "filler"})
    assert not matches(gold, {**gold, "object": "filler.glass"})
    named = claim("topped_by", None, "permits", object="product:Porofill 2K")
    assert matches(named, {**named, "object": "product:porofill-2k"})


def test_temperature_counts_only_where_stated() -> None:
    gold = claim("mixing", "pot_life", "states", low=60, high=60)
    assert matches(gold, {**gold, "at_c": 20})
    assert not matches({**gold, "at_c": 20}, gold)


def test_optional_claims_cost_nothing_either_way() -> None:
    optional = claim("storage", "temp", "states", low=5, high=30, optional=True)
    owed = claim("storage", "shelf_life", "states", low=24, high=24)
    without = score([("sheet", [optional, owed], [owed])])
    read_too = score([("sheet", [optional, owed], [owed, optional])])
    assert (without.recall, without.precision) == (read_too.recall, read_too.precision) == (1, 1)
    wrong = score([("sheet", [optional, owed], [{**owed, "low": 12, "high": 12}])])
    assert (wrong.recall, wrong.precision) == (0, 0)
    assert len(wrong.missed) == len(wrong.invented) == 1


def test_a_permission_against_the_sheet_is_dangerous() -> None:
    gold = [claim("topped_by", None, "forbids", object="filler.polyester")]
    assert danger(gold, claim("topped_by", None, "permits", object="filler.polyester"))
    assert danger(gold, claim("topped_by", None, "permits", object="surfacer.2k")) is None
    assert danger(gold, gold[0]) is None


def test_a_dropped_condition_is_dangerous_unless_any_painter_meets_it() -> None:
    abraded = [claim("goes_over", None, "permits", object="finish.old", conditions=["sound", "abraded"])]
    clean = [claim("goes_over", None, "permits", object="finish.old", conditions=["clean"])]
    bare = claim("goes_over", None, "permits", object="finish.old")
    assert danger(abraded, bare)
    assert danger(clean, bare) is None


def test_a_wider_window_is_dangerous_and_a_narrower_one_only_wrong() -> None:
    gold = [claim("overcoat_window", "window", "states", object="self", low=60, high=1440, at_c=20)]
    assert danger(gold, {**gold[0], "high": 2880})
    assert danger(gold, {**gold[0], "low": 30})
    assert danger(gold, {**gold[0], "high": None, "unlimited": True})
    assert danger(gold, {**gold[0], "low": 90, "high": 720}) is None


def test_an_exposure_against_the_sheet_is_dangerous() -> None:
    gold = [claim("exposure", "outdoors", "forbids")]
    assert danger(gold, claim("exposure", "outdoors", "permits", high=1440))
    assert danger(gold, claim("exposure", "uv", "permits")) is None


def test_evidence_is_the_words_inside_the_boxes() -> None:
    words = [("waterproof", (10.0, 10.0, 60.0, 20.0)), ("not", (100.0, 10.0, 120.0, 20.0))]
    good = claim(
        "exposure", "waterproof", "permits", evidence={"page": 1, "quote": "waterproof", "boxes": [[9, 9, 61, 21]]}
    )
    away = claim(
        "exposure", "waterproof", "permits", evidence={"page": 1, "quote": "waterproof", "boxes": [[90, 9, 130, 21]]}
    )
    assert quote_stands_inside(good, words)
    assert not quote_stands_inside(away, words)

"""Every pattern of every language proves itself on its own example and counter-example."""

from __future__ import annotations

from pathlib import Path

import pytest

import extract.vocabulary
from extract.document import fold
from extract.patterns import PatternError, PatternSpec, read_patterns
from extract.phrases import clause_around, compile_phrase, compile_phrases, keys_along, word_keys

VOCABULARY = Path(extract.vocabulary.__file__).parent


def every_pattern() -> list[tuple[str, PatternSpec]]:
    return [
        (f"{path.parent.name}/{path.stem}: {spec.name}", spec)
        for path in sorted(VOCABULARY.glob("*/*.toml"))
        for spec in read_patterns(path.read_text(encoding="utf-8"), str(path.relative_to(VOCABULARY)))
    ]


PATTERNS = every_pattern()


@pytest.mark.parametrize("spec", [s for _, s in PATTERNS], ids=[name for name, _ in PATTERNS])
def test_pattern_matches_its_example_and_not_its_counter_example(spec: PatternSpec) -> None:
    assert spec.examples and spec.counter_examples
    for example in spec.examples:
        assert list(spec.find(fold(example))), f"does not match its example {example!r}"
    for counter in spec.counter_examples:
        assert not list(spec.find(fold(counter))), f"matches its counter-example {counter!r}"
    for text, phrase in zip(spec.phrases, spec.compiled, strict=True):
        shown = [fold(e) for e in spec.examples if phrase.regex.search(fold(e))]
        assert shown, f"no example shows {text!r}"
        assert all(phrase.may_stand_in(word_keys(e)) for e in shown), (
            f"{text!r} is passed over by its keys {phrase.needs}"
        )
        assert all(phrase.may_stand_along(keys_along(e)) for e in shown), (
            f"{text!r} is passed over by its keys in order, {phrase.in_order}"
        )
    assert 0.0 < spec.confidence < 1.0


def test_names_are_unique_within_a_file() -> None:
    names = [name for name, _ in PATTERNS]
    assert sorted(set(names)) == sorted(names)


@pytest.mark.parametrize(
    ("phrase", "text", "hit"),
    [
        ("never sand wet", "never sand wet", True),
        ("never sand wet", "never sand it wet", False),
        ("never sand .. wet", "never sand it wet", True),
        ("two pack", "a two-pack primer", True),
        ("two pack", "a twopack primer", False),
        ("sand*", "sanding", True),
        ("sand", "sanding", False),
        ("(leave|keep) [it] outdoors", "keep outdoors", True),
        ("(leave|keep) [it] outdoors", "leave it outdoors", True),
        ("(leave|keep) [it] outdoors", "leave outdoor", False),
        ("not ... outdoors", "not for 2.5 h outdoors", True),
        ("not ... outdoors", "not wet. outdoors", False),
        ("^ flammable", "flammable liquid", True),
        ("^ flammable", "not flammable", False),
        ("sa 2½", "to sa 2½, then", True),
    ],
)
def test_phrase_signs(phrase: str, text: str, *, hit: bool) -> None:
    assert bool(compile_phrases((phrase,)).search(text)) is hit


def test_a_text_without_the_telling_words_is_passed_over() -> None:
    phrase = compile_phrase("(must|should) .. (topcoat*|finish*) [soon]")
    assert phrase.needs == {"topc", "fini"}
    assert not phrase.may_stand_in(word_keys("it must be sanded soon"))
    assert phrase.may_stand_in(word_keys("it must be topcoated"))
    assert compile_phrase("p* ...").may_stand_in(word_keys("p400 wet"))


def test_a_text_with_the_words_in_another_order_is_passed_over() -> None:
    phrase = compile_phrase("(not|never) ... (longer than|over) {quantity} [h] outdoors")
    assert phrase.may_stand_along(keys_along("not for longer than 3 h outdoors"))
    assert phrase.may_stand_along(keys_along("never over half a day outdoors"))
    assert phrase.may_stand_along(keys_along("not over the same day outdoors"))
    assert not phrase.may_stand_along(keys_along("over 3 h outdoors: not so"))
    assert not phrase.may_stand_along(keys_along("not outdoors for longer than 3 h"))
    assert not phrase.may_stand_along(keys_along("not over the roof outdoors"))


def test_several_phrases_are_tried_where_one_may_stand() -> None:
    phrases = compile_phrases(("wet sand*", "sand* wet"))
    assert [m.group() for m in phrases.finditer("wet sanding, then sand wet")] == ["wet sanding", "sand wet"]
    assert phrases.search("it is dry") is None
    assert phrases.fullmatch("sanded wet") is not None
    assert phrases.match("never sand wet", 6) is not None
    assert phrases.search("sand wet", 0, 6) is None


BASE = """
[[pattern]]
name = "x"
topic = "exposure"
property = "outdoors"
stance = "permits"
phrase = ["stand outdoors for {quantity}", "{quantity} outdoors"]
unless = ["not"]
conditions = ["cured"]
example = ["stand outdoors for 3 months", "3 months outdoors"]
counter_example = "do not stand outdoors for 3 months"
"""


def test_captures_and_voiding_phrase() -> None:
    (spec,) = read_patterns(BASE, "base")
    text = "it may stand outdoors for 1.5 months; not under snow"
    (match,) = spec.find(text)
    start, end = match.captured["quantity"]
    assert text[start:end] == "1.5 months"
    assert not list(spec.find("it may not stand outdoors for 3 months"))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('"exposure"', '"weather"'),
        ('"outdoors"', '"indoors"'),
        ('["cured"]', '["tired"]'),
        ("{quantity}", "{number}"),
        ('"stand outdoors', '"(stand outdoors'),
        ('stance = "permits"', ""),
    ],
)
def test_wrong_data_is_refused_with_its_name(old: str, new: str) -> None:
    with pytest.raises(PatternError) as caught:
        read_patterns(BASE.replace(old, new), "base.toml")
    assert caught.value.source == "base.toml"


def test_clause_is_not_cut_inside_a_number() -> None:
    text = "dry. coat 1.5 mm; stop"
    start, end = clause_around(text, text.index("1.5"), text.index("1.5") + 3)
    assert text[start:end].strip() == "coat 1.5 mm"

import pytest

from extract.claims import Condition
from extract.clauses.conditions import find_conditions, patterns, tags, times, via_of
from extract.terms import Vocabulary

VOCABULARY = Vocabulary.load("en")


@pytest.mark.parametrize("pattern", patterns(), ids=lambda p: p.tag.value)
def test_each_condition_finds_its_example_and_not_its_counter_example(pattern: object) -> None:
    tag = pattern.tag  # type: ignore[attr-defined]
    assert tag in {h.condition for h in find_conditions(pattern.example, ())}  # type: ignore[attr-defined]
    assert tag not in {h.condition for h in find_conditions(pattern.counter_example, ())}  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("text", "via"),
    [
        ("isolate first with epoxy primer", "primer.epoxy"),
        ("2k surfacer first", "surfacer.2k"),
        ("interpose an acrylic filler", "surfacer"),
        ("unless first treated with adhesion promoter", "primer.plastic"),
        ("only after priming with etch primer", "primer.etch"),
        ("always close the filler with a primer first", "primer"),
        ("an intermediate coat of 2k surfacer", "surfacer.2k"),
    ],
)
def test_a_coat_between_is_named(text: str, via: str) -> None:
    hits = find_conditions(text, VOCABULARY.mentions(text))
    assert Condition.ISOLATED in tags(hits)
    found = via_of(hits)
    assert found is not None
    assert found.object == via


@pytest.mark.parametrize(
    "text", ["prime first", "remove to bright metal", "over epoxy primer", "sand the epoxy primer first with p320"]
)
def test_no_coat_between_where_none_is_named(text: str) -> None:
    assert via_of(find_conditions(text, VOCABULARY.mentions(text))) is None


def test_only_times_to_a_coat_count() -> None:
    assert [q.low for q in times("after 2 h at 20 °c")] == [120]
    assert times("less than 1 year old") == ()
    assert times("pot life 4 h") == ()

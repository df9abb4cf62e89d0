"""The last look at permissions: no word against a coat, wherever it is put into a sentence, leaves a permission."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

from extract.clauses.assertions import Assertion, assertions
from extract.clauses.cues import marked
from extract.clauses.guard import speaks_against, withheld
from extract.document import fold
from extract.terms import SubjectNames, Vocabulary
from tests.extract.build import document, statement
from tests.extract.test_coat_cases import FOLDER, read

_MODAL = re.compile(r"\b(may|can|could|should|must|will|is|are)\b(?! not)")
_NEGATORS = ("not", "never", "in no case", "by no means", "under no circumstances", "not normally")
_OPENINGS = ("It is wrong that ", "We advise against this: ", "Never: ", "It is a mistake to think that ")
_TURNS = re.compile(
    r"\b(?:only|unless|without|except|but|until|before|not|no|never|neither|nor|nothing|than|otherwise|if|whether|isolat\w+"
    r"|instead|between)\b|[;:?]|n't\b"
)


def _permitting() -> list[dict[str, Any]]:
    out = []
    for path in sorted(Path(FOLDER).glob("*.toml")):
        for case in tomllib.loads(path.read_text("utf-8"))["case"]:
            grants = [c for c in case["claims"] if re.match(r"(?:goes_over|topped_by) permits", c)]
            plain = case.get("as", "sentence") == "sentence" and not case.get("notes") and not case.get("label")
            if grants and len(grants) == len([c for c in case["claims"] if not c.startswith("window")]) and plain:
                out.append(case)
    return out


def _mutations(says: str) -> list[str]:
    modals = list(_MODAL.finditer(says))
    if len(modals) != 1 or _TURNS.search(says.lower()):
        return []
    match = modals[0]
    changed = [f"{says[: match.end()]} {n}{says[match.end() :]}" for n in _NEGATORS]
    return changed + [o + says[0].lower() + says[1:] for o in _OPENINGS]


MUTATED = [(case, says) for case in _permitting() for says in _mutations(case["says"])]


def test_enough_sentences_are_turned_round() -> None:
    assert len(MUTATED) > 300
    assert len(TAILED) > 300


@pytest.mark.parametrize("n", range(8))
def test_no_negated_sentence_permits(n: int) -> None:
    left = []
    for case, says in MUTATED[n::8]:
        permits = [c for c in read({**case, "says": says}) if re.match(r"(?:goes_over|topped_by) permits", c)]
        if permits:
            left.append((says, permits))
    assert not left


_TAILS = (
    ", provided it has been sanded",
    ", provided that the ground is not thermoplastic",
    " as long as it is fully cured",
    " on condition that a barrier coat is used",
    ", but only in spots",
    " subject to a test",
    ", if it has been tested first",
    " in exceptional cases",
    " at your own risk",
    " by agreement with us",
    ", although we do not recommend it",
    ", which we advise against",
    " with reservations",
    " where it has been isolated with epoxy primer",
    " (not recommended)",
    " (see note 2)",
    " indoors only",
    " after our approval",
    " except outdoors",
    " but at the risk of lifting",
    ", even though it lifts there",
)


def _tailed() -> list[tuple[dict[str, Any], str]]:
    out = []
    for case in _permitting():
        says = case["says"].rstrip(".!")
        # Where a sentence has several places, a catch may belong to the last of them alone.
        places = len(re.findall(r"\b(?:over|under|on)\b", says))
        if not _TURNS.search(says.lower()) and not re.search(r"[.;!?]", says) and places < 2:
            out.extend((case, f"{says}{tail}.") for tail in _TAILS)
    return out


TAILED = _tailed()


@pytest.mark.parametrize("n", range(8))
def test_no_sentence_that_goes_on_with_a_catch_permits_outright(n: int) -> None:
    left = []
    for case, says in TAILED[n::8]:
        outright = [c for c in read({**case, "says": says}) if re.match(r"(?:goes_over|topped_by) permits \S+$", c)]
        if outright:
            left.append((says, outright))
    assert not left


@pytest.mark.parametrize(
    ("says", "against"),
    [
        ("may be applied over steel", None),
        ("must not be applied over steel", "not"),
        ("may be applied over steel, not later than 4 hours after blasting", None),
        ("over steel it can lift", "lift"),
        ("does not lift steel and may be put on it", None),
        ("steel only after a talk with us", "only after"),
        ("steel: ask us", "ask us"),
        ("may be put over steel, but not over zinc", None),
    ],
)
def test_words_against_a_permission(says: str, against: str | None) -> None:
    at = says.index("steel")
    others = [says.index("zinc")] if "zinc" in says else []
    assert withheld(says, (at, at + 5), others, conditions=False) == against


def test_a_condition_carried_satisfies_the_guard() -> None:
    says = "steel only after sanding"
    assert withheld(says, (0, 5), [], conditions=False) == "only after"
    assert withheld(says, (0, 5), [], conditions=True) is None


def test_headings_that_speak_against() -> None:
    assert speaks_against("do not use on:")
    assert not speaks_against("not only for steel:")


@pytest.mark.parametrize("entry", assertions(), ids=lambda a: a.name)
def test_each_assertion_shows_itself(entry: Assertion) -> None:
    sheet = document(statement("Hobnail 3"))
    vocabulary = Vocabulary.load("en").bind(sheet, SubjectNames("Hobnail 3", kind="primer.epoxy.2k"))

    def holds(says: str) -> bool:
        signs = marked(fold(says), vocabulary.mentions(says))
        return any(cue in signs for cue in entry.cues) and any(w.search(signs) for w in entry.words)

    assert holds(entry.example)
    assert not holds(entry.counter_example)

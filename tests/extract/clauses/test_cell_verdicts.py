import pytest

from extract.clauses.verdicts import Answer, read_legend, read_verdict


@pytest.mark.parametrize(
    ("text", "answer"),
    [
        ("✓", Answer.YES),
        ("✔a", Answer.YES),
        ("✗ 1)", Answer.NO),
        ("Yes", Answer.YES),
        ("Yes, once hard", Answer.YES),
        ("No", Answer.NO),
        ("Never", Answer.NO),
        ("not recommended", Answer.NO),
        ("x", Answer.NO),
        ("–", Answer.UNKNOWN),
        ("", Answer.UNKNOWN),
        ("n/a", Answer.UNKNOWN),
        ("Ask us", Answer.UNKNOWN),
        ("Do not apply", Answer.NO),
        ("Must not be overcoated.", Answer.NO),
        ("Not to be used", Answer.NO),
        ("Do not apply directly", Answer.INDIRECT),
        ("Not directly", Answer.INDIRECT),
        ("Edges only1", Answer.PARTLY),
        ("Spots up to 20 mm", Answer.PARTLY),
    ],
)
def test_answers(text: str, answer: Answer) -> None:
    verdict = read_verdict(text)
    assert verdict is not None
    assert verdict.answer is answer


@pytest.mark.parametrize(
    "text", ["Notice", "xylene", "60 min", "P320", "- 5", "Nozzle 1.6 mm", "Do not apply below 10 °C"]
)
def test_no_answer(text: str) -> None:
    assert read_verdict(text) is None


def test_a_legend_overrules_the_usual_meaning_of_a_sign() -> None:
    signs = read_legend(["x = suitable, o = not suitable"])
    answers = [read_verdict(sign, signs) for sign in ("x", "o")]
    assert [a.answer for a in answers if a is not None] == [Answer.YES, Answer.NO]
    usual = read_verdict("x")
    assert usual is not None
    assert usual.answer is Answer.NO


def test_a_dash_means_what_the_legend_says() -> None:
    assert dict(read_legend(["✓ suitable ✗ not suitable – no experience"])) == {
        "✓": Answer.YES,
        "✗": Answer.NO,
        "-": Answer.UNKNOWN,
    }

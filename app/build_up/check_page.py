"""What the check of a build-up shows, as plain values: words and sentences in their order. No Qt."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from app.build_up.worked import Worked
from app.buildup_words import finding_words, part_sentence, sequence_words
from app.caution_words import acid_words, deferring_words, old_paint_words, usual_cautions
from app.printing.comparison_sheet import foot
from app.sentences import Sentence, one_each
from app.translating import QT_TRANSLATE_NOOP, translate
from app.verdict_words import (
    advice_words,
    answer_words,
    clause_words,
    own_rule_words,
    party_words,
    verdict_words,
    window_of,
)
from app.window_words import past_words, window_words
from app.wording import claim_words
from extract.kinds import is_kind_of
from store.planning.buildup import Checked, Contact, Finding, Met, Step
from store.records import Proposal, Rule
from store.rules.answers import Answer, Conditional


@dataclass(frozen=True, slots=True)
class Mark:
    """One line with a shape before it; word says what the shape says."""

    shape: str
    word: str
    words: str
    sentences: tuple[Sentence, ...] = ()


@dataclass(frozen=True, slots=True)
class ContactPart:
    """A layer on the one below: the verdict, times, conditions, what is asked for first, and who says so."""

    upper: int
    title: str
    shape: str
    word: str
    says: str
    window: str
    past: str
    conditions: tuple[Mark, ...]
    advice: tuple[str, ...]
    before: tuple[Mark, ...]
    sentences: tuple[Sentence, ...]


@dataclass(frozen=True, slots=True)
class Cautions:
    """words ends with what decides; empty where nothing of the job calls for a caution."""

    words: tuple[str, ...] = ()
    sentences: tuple[Sentence, ...] = ()


@dataclass(frozen=True, slots=True)
class CheckPage:
    """reason_sentences are those of the part that decides."""

    sequence: str
    shape: str
    word: str
    reason: str
    reason_sentences: tuple[Sentence, ...]
    cautions: Cautions
    contacts: tuple[ContactPart, ...]
    findings: tuple[Mark, ...]

    @classmethod
    def of(cls, worked: Worked) -> CheckPage:
        checked = worked.checked
        reason = checked.reason
        return cls(
            sequence_words(checked.build_up),
            checked.word,
            verdict_words(checked.word),
            translate("build_up", "Every contact is allowed.") if reason is None else part_sentence(reason, checked),
            () if reason is None else sentences_of(reason),
            cautions_of(worked),
            tuple(contact_part(contact, checked) for contact in checked.contacts),
            findings_of(checked),
        )


def findings_of(checked: Checked) -> tuple[Mark, ...]:
    """Beside the one that decides; what says the same words is said once, with the sentences of all."""
    said = "" if checked.reason is None else part_sentence(checked.reason, checked)
    marks: dict[tuple[str, str], Mark] = {}
    for finding in checked.findings:
        mark = finding_mark(finding, checked)
        if finding is checked.reason or mark.words == said:
            continue
        before = marks.get((mark.shape, mark.words))
        sentences = mark.sentences if before is None else one_each((*before.sentences, *mark.sentences))
        marks[mark.shape, mark.words] = replace(mark, sentences=sentences)
    return tuple(marks.values())


def contact_part(contact: Contact, checked: Checked) -> ContactPart:
    """A contact with everything that is said of it."""
    answer = contact.answer
    window = window_of(answer)
    title = translate("build_up", "{upper} onto {lower}").format(
        upper=party_words(answer.upper), lower=party_words(answer.lower)
    )
    return ContactPart(
        contact.upper,
        title[:1].upper() + title[1:],
        answer.word,
        verdict_words(answer.word),
        "" if answer.word in {"yes", "yes_if"} else answer_words(answer),
        "" if window is None else window_words(window),
        # Where there is no latest time, what to do past it would only puzzle.
        "" if window is None or window.unlimited else past_words(window),
        condition_marks(contact),
        () if answer.word in {"yes", "yes_if"} else tuple(advice_words(advice) for advice in answer.advice),
        tuple(step_mark(step) for step in checked.steps if step.layer == contact.upper),
        sentences_of(contact),
    )


def condition_marks(contact: Contact) -> tuple[Mark, ...]:
    """Each condition with whether the build-up says that it is met."""
    answer = contact.answer
    if not isinstance(answer, Conditional):
        return ()
    marks = []
    for clause, met in zip(answer.clauses, contact.met, strict=True):
        shape, word = _MET[met][0], translate("build_up", _MET[met][1])
        words = clause_words(clause, answer.window)
        marks.append(Mark(shape, translate("build_up", word), words[:1].upper() + words[1:]))
    yours = translate("build_up", "yours")
    marks += [Mark("own", yours, own_rule_words(rule)) for rule in answer.own if not rule.forbids]
    return tuple(dict.fromkeys(marks))


def step_mark(step: Step) -> Mark:
    shape, word = _DONE[step.done][0], translate("build_up", _DONE[step.done][1])
    words = claim_words(step.rule.claim, step.rule.sheet.product)
    return Mark(shape, translate("build_up", word), words[:1].upper() + words[1:], sentences_from([step.rule]))


def finding_mark(finding: Finding, checked: Checked) -> Mark:
    return Mark(finding.word, verdict_words(finding.word), finding_words(finding, checked), sentences_of(finding))


def sentences_of(part: Contact | Finding) -> tuple[Sentence, ...]:
    """Whatever a part rests on, the same words once."""
    if isinstance(part, Finding):
        return sentences_from([*part.sources, *([part.remedy] if part.remedy is not None else [])])
    return _answer_sentences(part.answer)


def sentences_from(sources: Iterable[Rule | Proposal]) -> tuple[Sentence, ...]:
    return one_each(Sentence.of_source(source) for source in sources)


def cautions_of(worked: Worked) -> Cautions:
    """What the sheets warn of (those not yet confirmed too), and what etch and old paint call for anyway."""
    sources: list[Rule | Proposal] = []
    words: list[str] = []
    for figures in worked.figures.values():
        sources += [*figures.cautions, *figures.cautions_waiting]
    words += usual_cautions(source.claim.property for source in sources)
    layers = worked.build_up.layers
    if any(layer.party.kind is not None and is_kind_of(layer.party.kind, "primer.etch") for layer in layers):
        words.append(acid_words())
    if any((layer.party.kind or "").startswith("finish.") for layer in layers):
        words.append(old_paint_words())
    if not words:
        return Cautions()
    return Cautions((*words, f"{foot()} {deferring_words()}"), sentences_from(sources))


_MET = {
    Met.MET: ("confirmed", QT_TRANSLATE_NOOP("build_up", "seen to")),
    Met.UNMET: ("rejected", QT_TRANSLATE_NOOP("build_up", "not so here")),
    Met.OPEN: ("unconfirmed", QT_TRANSLATE_NOOP("build_up", "see to it")),
}
_DONE = {
    True: ("confirmed", QT_TRANSLATE_NOOP("build_up", "done")),
    False: ("rejected", QT_TRANSLATE_NOOP("build_up", "not done")),
    None: ("unconfirmed", QT_TRANSLATE_NOOP("build_up", "see to it")),
}


def _answer_sentences(answer: Answer) -> tuple[Sentence, ...]:
    window = window_of(answer)
    said = [Sentence.of_citation(citation) for citation in (*answer.citations, *answer.pending)]
    if window is not None:
        said += [Sentence.of_source(rule) for rule in window.carried_by]
    return one_each(said)

"""Answers, their conditions and advice as a painter says them. No Qt: the command line and the window both use it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from app.figure_words import page_words
from app.translating import QT_TRANSLATE_NOOP, translate
from app.window_words import times_short
from app.wording import (
    claim_words,
    conditions_joined,
    date_words,
    kind_words,
    object_words,
    range_words,
    temperature_words,
)
from extract.claims import Condition
from store.records import OwnRule, SheetRef
from store.rules.answers import (
    Advice,
    AdviceKind,
    Answer,
    Citation,
    Clause,
    Conditional,
    Part,
    Permitted,
    Silence,
    Standing,
    Term,
    Window,
)
from store.rules.reach import KindParty, Party

_WORDS: Mapping[str, str] = {
    "yes": QT_TRANSLATE_NOOP("verdicts", "Yes"),
    "yes_if": QT_TRANSLATE_NOOP("verdicts", "Yes, if"),
    "no": QT_TRANSLATE_NOOP("verdicts", "No"),
    "disputed": QT_TRANSLATE_NOOP("verdicts", "Disputed"),
    "silent": QT_TRANSLATE_NOOP("verdicts", "The sheets don't say"),
    "unconfirmed": QT_TRANSLATE_NOOP("verdicts", "Not yet confirmed"),
}

_STANDINGS: Mapping[Standing, str] = {
    Standing.CONFIRMED: QT_TRANSLATE_NOOP("verdicts", "confirmed"),
    Standing.CORRECTED: QT_TRANSLATE_NOOP("verdicts", "corrected by you"),
    Standing.PROPOSED: QT_TRANSLATE_NOOP("verdicts", "not yet confirmed"),
    Standing.NAME_DOUBTFUL: QT_TRANSLATE_NOOP("verdicts", "may name another product"),
}

_PARTS: Mapping[Part, str] = {
    Part.PERMITS: QT_TRANSLATE_NOOP("verdicts", "allows it"),
    Part.FORBIDS: QT_TRANSLATE_NOOP("verdicts", "forbids it"),
    Part.ISOLATES: QT_TRANSLATE_NOOP("verdicts", "only with another coat between"),
    Part.CLOSES: QT_TRANSLATE_NOOP("verdicts", "leaves it out of a closed list"),
}


def verdict_words(word: str) -> str:
    """The verdict itself; the shape beside it is the window's."""
    return translate("verdicts", _WORDS[word])


def standing_words(standing: Standing) -> str:
    return translate("verdicts", _STANDINGS[standing])


def part_words(part: Part) -> str:
    return translate("verdicts", _PARTS[part])


def party_words(party: Party) -> str:
    return kind_words(party.kind) if isinstance(party, KindParty) else party.name


def question_words(lower: Party, upper: Party, at_c: float | None = None) -> str:
    """'May filler go straight onto Keeper at 12 °C?'"""
    upper_words, lower_words = party_words(upper), party_words(lower)
    if at_c is None:
        return translate("verdicts", "May {upper} go straight onto {lower}?").format(
            upper=upper_words, lower=lower_words
        )
    return translate("verdicts", "May {upper} go straight onto {lower} at {temperature}?").format(
        upper=upper_words, lower=lower_words, temperature=temperature_words(at_c)
    )


def sheet_words(sheet: SheetRef) -> str:
    """'Keeper, Quern Lane Paintworks, issued 12 February 2026'."""
    parts = [
        sheet.product,
        sheet.maker,
        translate("verdicts", "issued {date}").format(date=date_words(sheet.issued)) if sheet.issued else "",
    ]
    return ", ".join(part for part in parts if part)


def quote_words(citation: Citation) -> str:
    """The sentence in quotation marks, with product and page after it."""
    return f"“{citation.claim.evidence.quote}” {citation.sheet.product}, {page_words(citation.claim.evidence.page)}"


def answer_words(answer: Answer) -> str:
    """The answer in one plain sentence, without conditions and windows."""
    lower, upper = party_words(answer.lower), party_words(answer.upper)
    if answer.word == "silent":
        return translate(
            "verdicts", "No sheet says whether {upper} may go straight onto {lower}. Silence is not a yes."
        ).format(upper=upper, lower=lower)
    if answer.word == "unconfirmed" and answer.citations:
        return translate(
            "verdicts",
            "A sheet that forbids it may mean this product or another of that name. Until you have settled that, "
            "do not put {upper} onto {lower}.",
        ).format(upper=upper, lower=lower)
    if answer.word == "unconfirmed":
        return translate(
            "verdicts", "Nothing that you have confirmed says whether {upper} may go straight onto {lower}."
        ).format(upper=upper, lower=lower)
    if answer.word == "disputed":
        return translate(
            "verdicts",
            "The sheets contradict each other on {upper} over {lower}. Take it as a no until you have settled it.",
        ).format(upper=upper, lower=lower)
    if answer.word == "no":
        return translate("verdicts", "{capital} must not go straight onto {lower}.").format(
            capital=_capital(upper), lower=lower
        )
    if answer.word == "yes":
        return translate("verdicts", "{capital} may go straight onto {lower}.").format(
            capital=_capital(upper), lower=lower
        )
    return translate("verdicts", "{capital} may go straight onto {lower}, on conditions.").format(
        capital=_capital(upper), lower=lower
    )


def conditions_words(answer: Answer) -> tuple[str, ...]:
    """Every condition of a yes_if, one a line; the user's own rules last and marked as theirs."""
    if not isinstance(answer, Conditional):
        return ()
    lines = [clause_words(clause, answer.window) for clause in answer.clauses]
    lines += [own_rule_words(rule) for rule in answer.own if not rule.forbids]
    return tuple(dict.fromkeys(lines))


def clause_words(clause: Clause, window: Window | None = None) -> str:
    """'once it is cured and sanded or keyed (P180–P240) (Planor)'."""
    ways = [_way_words(way, clause.sheet, window) for way in clause.ways]
    parted = translate("verdicts", ", or ")
    return f"{parted.join(ways)} ({clause.sheet.product})"


def _way_words(way: Sequence[Term], sheet: SheetRef, window: Window | None) -> str:
    details: dict[Condition, str] = {}
    for term in way:
        if term.detail is not None:
            figure = range_words(term.detail.low, term.detail.high, term.detail.unit)
            details[term.condition] = figure or (term.detail.text or "")
        elif term.condition is Condition.WITHIN_WINDOW and window is not None and _from(window, sheet):
            details[term.condition] = times_short(window)
    via = next((term.via for term in way if term.via is not None), None)
    return conditions_joined([term.condition for term in way], via, details)


def _from(window: Window, sheet: SheetRef) -> bool:
    return any(rule.sheet.sheet_id == sheet.sheet_id for rule in window.carried_by)


def advice_words(advice: Advice) -> str:
    """One piece of advice as a sentence."""
    citation = advice.citation
    if advice.kind is AdviceKind.PUT_BETWEEN and citation is not None:
        coat = object_words(advice.via) if advice.via else translate("verdicts", "another coat")
        return translate("verdicts", "Put {coat} between: so says {product}'s sheet.").format(
            coat=coat, product=citation.sheet.product
        )
    if advice.kind is AdviceKind.CLOSED_LIST and citation is not None:
        return translate(
            "verdicts", "{product}'s sheet names all that is allowed, and this is not on its list."
        ).format(product=citation.sheet.product)
    if advice.kind is AdviceKind.EXCEPTION and citation is not None:
        return translate("verdicts", "Except {object}: {said}.").format(
            object=object_words(citation.claim.object, plural=True), said=_said(citation)
        )
    if advice.kind is AdviceKind.BROAD and citation is not None:
        wider, asked = object_words(citation.claim.object), kind_words(advice.name)
        return translate(
            "verdicts", "{product}'s sheet allows {wider} in general; it does not name {asked}. Try it first."
        ).format(product=citation.sheet.product, wider=wider, asked=asked)
    if advice.kind is AdviceKind.SETTLE_NAME and citation is not None:
        named = object_words(citation.claim.object)
        return translate(
            "verdicts",
            "{product}'s sheet names “{named}”. Correct the claim to the whole name, with the maker where another's is "
            "meant.",
        ).format(product=citation.sheet.product, named=named)
    if advice.kind is AdviceKind.PENDING_AGAINST and citation is not None:
        return translate(
            "verdicts", "Before you rely on this: a sentence that speaks against it is not settled. {quote}"
        ).format(quote=quote_words(citation))
    return translate("verdicts", _PLAIN_ADVICE[advice.kind]).format(name=advice.name)


_PLAIN_ADVICE: Mapping[AdviceKind, str] = {
    AdviceKind.PUT_BETWEEN: QT_TRANSLATE_NOOP("verdicts", "Put another coat between."),
    AdviceKind.BROAD: QT_TRANSLATE_NOOP("verdicts", "The sheet allows this in general only."),
    AdviceKind.CLOSED_LIST: QT_TRANSLATE_NOOP(
        "verdicts", "The sheet names all that is allowed, and this is not on its list."
    ),
    AdviceKind.EXCEPTION: QT_TRANSLATE_NOOP("verdicts", "There are exceptions."),
    AdviceKind.SETTLE_NAME: QT_TRANSLATE_NOOP("verdicts", "A sheet names a product that may be this one."),
    AdviceKind.PENDING_AGAINST: QT_TRANSLATE_NOOP(
        "verdicts", "A sentence that speaks against it is not yet confirmed."
    ),
    AdviceKind.SETTLE: QT_TRANSLATE_NOOP(
        "verdicts", "Read both sentences on their pages, ask the makers, then correct or reject the wrong one."
    ),
    AdviceKind.CONFIRM: QT_TRANSLATE_NOOP("verdicts", "Confirm or reject the sentences below, then ask again."),
    AdviceKind.SILENT: QT_TRANSLATE_NOOP("verdicts", "Ask the maker, or put a coat between that both sheets allow."),
    AdviceKind.NAME_A_PRODUCT: QT_TRANSLATE_NOOP(
        "verdicts", "Makers differ, so only a product's own sheet can answer: name one."
    ),
    AdviceKind.NO_KIND: QT_TRANSLATE_NOOP(
        "verdicts", "What kind of product {name} is, is not known: set its kind, and more sentences can speak."
    ),
    AdviceKind.NO_SHEET: QT_TRANSLATE_NOOP("verdicts", "{name} has no sheet in the library: file it, then ask again."),
}


def advice_text(answer: Answer) -> str:
    return " ".join(advice_words(advice) for advice in answer.advice)


def silence_words(silence: Silence) -> str:
    if not silence.has_sheet:
        return translate("verdicts", "{name} has no sheet here").format(name=silence.name)
    return translate("verdicts", "{name}'s sheet doesn't say").format(name=silence.name)


def own_rule_words(rule: OwnRule) -> str:
    """A rule of the user's own, always marked as such."""
    words = rule.words or (translate("verdicts", "not allowed") if rule.forbids else "")
    if rule.source:
        return translate("verdicts", "{words} (your own rule, {source})").format(words=words, source=rule.source)
    return translate("verdicts", "{words} (your own rule)").format(words=words)


def window_of(answer: Answer) -> Window | None:
    return answer.window if isinstance(answer, Permitted | Conditional) else None


def _said(citation: Citation) -> str:
    return claim_words(citation.claim, citation.sheet.product)


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]

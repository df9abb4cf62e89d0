"""Answers, windows and advice as a painter says them. No Qt: the command line and the window both use it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from app.wording import (
    claim_words,
    conditions_joined,
    date_words,
    joined,
    kind_words,
    object_words,
    range_words,
    temperature_words,
    times_words,
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
    Reading,
    Silence,
    Standing,
    Term,
    Window,
)
from store.rules.reach import KindParty, Party

_WORDS: Mapping[str, str] = {
    "yes": "Yes",
    "yes_if": "Yes, if",
    "no": "No",
    "disputed": "Disputed",
    "silent": "The sheets don't say",
    "unconfirmed": "Not yet confirmed",
}

_STANDINGS: Mapping[Standing, str] = {
    Standing.CONFIRMED: "confirmed",
    Standing.CORRECTED: "corrected by you",
    Standing.PROPOSED: "not yet confirmed",
    Standing.NAME_DOUBTFUL: "may name another product",
}

_PARTS: Mapping[Part, str] = {
    Part.PERMITS: "allows it",
    Part.FORBIDS: "forbids it",
    Part.ISOLATES: "only with another coat between",
    Part.CLOSES: "leaves it out of a closed list",
}


def verdict_words(word: str) -> str:
    """The verdict itself; the shape beside it is the window's."""
    return _WORDS[word]


def standing_words(standing: Standing) -> str:
    return _STANDINGS[standing]


def part_words(part: Part) -> str:
    return _PARTS[part]


def party_words(party: Party) -> str:
    return kind_words(party.kind) if isinstance(party, KindParty) else party.name


def question_words(lower: Party, upper: Party) -> str:
    return f"May {party_words(upper)} go straight onto {party_words(lower)}?"


def sheet_words(sheet: SheetRef) -> str:
    """'Keeper, Quern Lane Paintworks, issued 12 February 2026'."""
    parts = [sheet.product, sheet.maker, f"issued {date_words(sheet.issued)}" if sheet.issued else ""]
    return ", ".join(part for part in parts if part)


def quote_words(citation: Citation) -> str:
    """The sentence in quotation marks, with product and page after it."""
    return f"“{citation.claim.evidence.quote}” {citation.sheet.product}, p. {citation.claim.evidence.page}"


def answer_words(answer: Answer) -> str:
    """The answer in one plain sentence, without conditions and windows."""
    lower, upper = party_words(answer.lower), party_words(answer.upper)
    if answer.word == "silent":
        return f"No sheet says whether {upper} may go straight onto {lower}. Silence is not a yes."
    if answer.word == "unconfirmed":
        return f"Nothing that you have confirmed says whether {upper} may go straight onto {lower}."
    if answer.word == "disputed":
        return f"The sheets contradict each other on {upper} over {lower}. Take it as a no until you have settled it."
    if answer.word == "no":
        return f"{_capital(upper)} must not go straight onto {lower}."
    if answer.word == "yes":
        return f"{_capital(upper)} may go straight onto {lower}."
    return f"{_capital(upper)} may go straight onto {lower}, on conditions."


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
    return f"{', or '.join(ways)} ({clause.sheet.product})"


def _way_words(way: Sequence[Term], sheet: SheetRef, window: Window | None) -> str:
    details: dict[Condition, str] = {}
    for term in way:
        if term.detail is not None:
            figure = range_words(term.detail.low, term.detail.high, term.detail.unit)
            details[term.condition] = figure or (term.detail.text or "")
        elif term.condition is Condition.WITHIN_WINDOW and window is not None and _from(window, sheet):
            details[term.condition] = _short_times(window)
    via = next((term.via for term in way if term.via is not None), None)
    return conditions_joined([term.condition for term in way], via, details)


def _from(window: Window, sheet: SheetRef) -> bool:
    return any(rule.sheet.sheet_id == sheet.sheet_id for rule in window.citations)


def _short_times(window: Window) -> str:
    if window.reading is Reading.OUTSIDE:
        return ""
    times = range_words(window.low, window.high, "min")
    return f"{times} at {temperature_words(window.at_c)}" if times and window.at_c is not None else times


def window_words(window: Window) -> str:
    """'Earliest next coat 1 h, latest 3 days, at 20 °C', and what to know of how it was had."""
    table = joined([temperature_words(at_c) for at_c in _rows_used(window)])
    if window.reading is Reading.OUTSIDE:
        asked = temperature_words(window.at_c) if window.at_c is not None else "that temperature"
        return f"The sheet gives times for {table} only; nothing is read beyond that for {asked}"
    if window.closed:
        return (
            f"Between {table} no moment suits both rows of the sheet: the earliest time of one lies past the latest "
            "of the other"
        )
    words = _capital(times_words(window.low, window.high, window.unlimited, window.at_c))
    if window.reading is Reading.BETWEEN:
        words = f"{words} (between the sheet's rows for {table}: the longer earliest, the shorter latest)"
    elif window.reading is Reading.UNTEMPERED:
        words = f"{words} (the sheet names no temperature)"
    if window.conditions:
        words = f"{words}, {conditions_joined(window.conditions)}"
    return words


def _rows_used(window: Window) -> tuple[float, ...]:
    """The two rows about the temperature where it lies between, else every row of the table."""
    at_c = window.at_c
    if window.reading is not Reading.BETWEEN or at_c is None:
        return window.stated
    below = [stated for stated in window.stated if stated < at_c]
    above = [stated for stated in window.stated if stated > at_c]
    return (*below[-1:], *above[:1])


def past_words(window: Window) -> str:
    """What to do when the latest time has gone by; empty where the sheet does not say."""
    return claim_words(window.past.claim, window.past.sheet.product) if window.past is not None else ""


def advice_words(advice: Advice) -> str:
    """One piece of advice as a sentence."""
    citation = advice.citation
    if advice.kind is AdviceKind.PUT_BETWEEN and citation is not None:
        coat = object_words(advice.via) if advice.via else "another coat"
        return f"Put {coat} between: so says {citation.sheet.product}'s sheet."
    if advice.kind is AdviceKind.CLOSED_LIST and citation is not None:
        return f"{citation.sheet.product}'s sheet names all that is allowed, and this is not on its list."
    if advice.kind is AdviceKind.EXCEPTION and citation is not None:
        return f"Except {object_words(citation.claim.object, plural=True)}: {_said(citation)}."
    if advice.kind is AdviceKind.BROAD and citation is not None:
        wider, asked = object_words(citation.claim.object), kind_words(advice.name)
        return f"{citation.sheet.product}'s sheet allows {wider} in general; it does not name {asked}. Try it first."
    if advice.kind is AdviceKind.SETTLE_NAME and citation is not None:
        named = object_words(citation.claim.object)
        return f"{citation.sheet.product}'s sheet names “{named}”. If that is the product you mean, correct the claim."
    if advice.kind is AdviceKind.PENDING_AGAINST and citation is not None:
        return f"Before you rely on this: a sentence that speaks against it is not settled. {quote_words(citation)}"
    return _PLAIN_ADVICE[advice.kind].format(name=advice.name)


_PLAIN_ADVICE: Mapping[AdviceKind, str] = {
    AdviceKind.PUT_BETWEEN: "Put another coat between.",
    AdviceKind.BROAD: "The sheet allows this in general only.",
    AdviceKind.CLOSED_LIST: "The sheet names all that is allowed, and this is not on its list.",
    AdviceKind.EXCEPTION: "There are exceptions.",
    AdviceKind.SETTLE_NAME: "A sheet names a product that may be this one.",
    AdviceKind.PENDING_AGAINST: "A sentence that speaks against it is not yet confirmed.",
    AdviceKind.SETTLE: "Read both sentences on their pages, ask the makers, then correct or reject the wrong one.",
    AdviceKind.CONFIRM: "Confirm or reject the sentences below, then ask again.",
    AdviceKind.SILENT: "Ask the maker, or put a coat between that both sheets allow.",
    AdviceKind.NAME_A_PRODUCT: "Makers differ, so only a product's own sheet can answer: name one.",
    AdviceKind.NO_KIND: "What kind of product {name} is, is not known: set its kind, and more sentences can speak.",
    AdviceKind.NO_SHEET: "{name} has no sheet in the library: file it, then ask again.",
}


def advice_text(answer: Answer) -> str:
    return " ".join(advice_words(advice) for advice in answer.advice)


def silence_words(silence: Silence) -> str:
    if not silence.has_sheet:
        return f"{silence.name} has no sheet here"
    return f"{silence.name}'s sheet doesn't say"


def own_rule_words(rule: OwnRule) -> str:
    """A rule of the user's own, always marked as such."""
    words = rule.words or ("not allowed" if rule.forbids else "")
    return f"{words} (your own rule{f', {rule.source}' if rule.source else ''})"


def window_of(answer: Answer) -> Window | None:
    return answer.window if isinstance(answer, Permitted | Conditional) else None


def _said(citation: Citation) -> str:
    return claim_words(citation.claim, citation.sheet.product)


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]

"""What stands on the card for the wall: coats in the order of the work, figures with their pages. No Qt."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from app.build_up.check_page import cautions_of, sentences_of
from app.build_up.worked import Worked
from app.buildup_words import part_sentence, weeks_words
from app.figure_words import duration_words, figure_words, page_words, range_words, temperature_words
from app.mixing.words import basis_words, ratio_words
from app.translating import translate
from app.verdict_words import clause_words, own_rule_words, party_words, verdict_words, window_of
from app.window_words import window_words
from app.wording import claim_words
from store.planning.buildup import Contact, Layer
from store.planning.product_figures import ProductFigures, Stated
from store.records import Proposal, Rule
from store.rules.answers import Citation, Conditional
from store.rules.reach import ProductParty


@dataclass(frozen=True, slots=True)
class Line:
    """pages are 'p. 2' of the coat's own sheet, or with the other product's name; '' where no sheet says it."""

    words: str
    pages: str = ""


@dataclass(frozen=True, slots=True)
class CoatRow:
    """shape and word are the verdict of the coat on what lies below it."""

    number: int
    name: str
    onto: str
    shape: str
    word: str
    before: tuple[Line, ...]
    mix: tuple[Line, ...]
    film: tuple[Line, ...]
    next: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Card:
    title: str
    ground: str
    at: str
    shape: str
    word: str
    reason: str
    reason_pages: str
    cautions: tuple[str, ...]
    caution_pages: str
    rows: tuple[CoatRow, ...]


def card_of(worked: Worked, title: str = "") -> Card:
    """title '' takes the finish for it."""
    checked = worked.checked
    layers = worked.build_up.layers
    reason = checked.reason
    cautions = cautions_of(worked)
    at_c = worked.build_up.at_c
    at = (
        translate("card", "Times as the sheets state them")
        if at_c is None
        else translate("card", "Times at {temperature}").format(temperature=temperature_words(at_c))
    )
    ground = party_words(layers[0].party)
    on = translate("card", "{finish} on {ground}").format(finish=party_words(layers[-1].party), ground=ground)
    return Card(
        title or on[:1].upper() + on[1:],
        ground[:1].upper() + ground[1:],
        at,
        checked.word,
        verdict_words(checked.word),
        "" if reason is None else part_sentence(reason, checked),
        "; ".join(s.source for s in sentences_of(reason)) if reason is not None else "",
        cautions.words[:-1],
        "; ".join(dict.fromkeys(sentence.source for sentence in cautions.sentences)),
        tuple(_row(index, worked) for index in range(1, len(layers))),
    )


def _row(index: int, worked: Worked) -> CoatRow:
    layers, contact = worked.build_up.layers, worked.checked.contacts[index - 1]
    layer = layers[index]
    name = party_words(layer.party)
    figures = worked.figures.get(layer.party.product.id) if isinstance(layer.party, ProductParty) else None
    above = worked.checked.contacts[index] if index < len(layers) - 1 else None
    return CoatRow(
        index,
        name[:1].upper() + name[1:],
        party_words(layers[index - 1].party),
        contact.word,
        verdict_words(contact.word),
        _before(index, contact, worked),
        () if figures is None else _mix(figures, name),
        _film(layer, figures, name),
        _next(layer, name, above),
    )


def _before(index: int, contact: Contact, worked: Worked) -> tuple[Line, ...]:
    name = worked.build_up.layers[index].party.name
    lines = []
    for step in worked.checked.steps:
        if step.layer == index:
            words = claim_words(step.rule.claim, step.rule.sheet.product)
            lines.append(Line(_capital(words), _pages([step.rule], name)))
    answer = contact.answer
    if isinstance(answer, Conditional):
        for clause in answer.clauses:
            words = clause_words(clause, answer.window).removesuffix(f" ({clause.sheet.product})")
            said = [c for c in answer.citations if c.sheet.sheet_id == clause.sheet.sheet_id]
            lines.append(Line(_capital(words), _cited(said, name)))
        lines += [Line(own_rule_words(rule)) for rule in answer.own if not rule.forbids]
    elif answer.word != "yes":
        lines.append(Line(verdict_words(answer.word), _cited(answer.citations, name)))
    return tuple(dict.fromkeys(lines))


def _cited(citations: Iterable[Citation], own: str) -> str:
    return _joined(((c.sheet.product, c.claim.evidence.page) for c in citations), own=own)


def _mix(figures: ProductFigures, name: str) -> tuple[Line, ...]:
    found = []
    for property_, words in (
        ("ratio", translate("card", "Mix")), ("thinner", translate("card", "Thinner")),
        ("pot_life", translate("card", "Pot life")),
    ):  # fmt: skip
        stated = figures.first(property_)
        if stated is not None:
            found.append(Line(f"{words} {_figure(stated)}", _pages([stated.rule], name)))
    return tuple(found)


def _film(layer: Layer, figures: ProductFigures | None, name: str) -> tuple[Line, ...]:
    lines = []
    if layer.film_um is not None:
        film = figure_words(layer.film_um, "um")
        lines.append(Line(translate("card", "Planned {film} dry in all").format(film=film)))
    for property_, words in (("coats", translate("card", "Coats")), ("dry", translate("card", "Dry film"))):
        stated = figures.first(property_) if figures is not None else None
        if stated is not None:
            lines.append(Line(f"{words} {_figure(stated)}", _pages([stated.rule], name)))
    return tuple(lines)


def _next(layer: Layer, name: str, above: Contact | None) -> tuple[Line, ...]:
    lines = []
    window = None if above is None else window_of(above.answer)
    if window is not None:
        lines.append(Line(window_words(window), _pages(replace(window, past=None).carried_by, name)))
    elif above is not None:
        lines.append(Line(translate("card", "The sheets give no time")))
    if layer.weeks_outdoors:
        weeks = weeks_words(layer.weeks_outdoors)
        lines.append(Line(translate("card", "Then {weeks} outdoors").format(weeks=weeks)))
    return tuple(lines)


def _figure(stated: Stated) -> str:
    claim = stated.claim
    if claim.parts:
        return f"{ratio_words(claim.parts)} {basis_words(claim.basis) if claim.basis else ''}".strip()
    if claim.property == "pot_life" and claim.low is not None and claim.low == claim.high:
        words = duration_words(claim.low)
    elif claim.unit == "um":
        # Turned from mils, tenths of a micrometre would only look exact.
        low, high = (None if figure is None else float(round(figure)) for figure in (claim.low, claim.high))
        words = range_words(low, high, claim.unit)
    else:
        words = range_words(claim.low, claim.high, claim.unit)
    if stated.careful == 0 and not words:
        return translate("card", "none")
    if claim.at_c is None:
        return words
    return translate("card", "{figure} at {temperature}").format(
        figure=words, temperature=temperature_words(claim.at_c)
    )


def _pages(sources: Iterable[Rule | Proposal], own: str) -> str:
    return _joined(((source.sheet.product, source.claim.evidence.page) for source in sources), own=own)


def _joined(places: Iterable[tuple[str, int]], *, own: str) -> str:
    """'p. 2' of the coat's own sheet; of another's with its name. The space is one that no line is broken at."""
    unbroken = ((product, page_words(page).replace(" ", "\u00a0")) for product, page in places)
    said = (words if product == own else f"{product}, {words}" for product, words in unbroken)
    return "; ".join(dict.fromkeys(said))


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]

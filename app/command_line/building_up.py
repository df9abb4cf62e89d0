"""`tinsheet build-up` and `tinsheet find-build-up`: layers checked against the sheets, and allowed sequences found."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterator, Sequence
from typing import Any

from app.buildup_words import (
    event_words,
    finding_words,
    found_words,
    layer_words,
    moment_words,
    part_sentence,
    result_words,
    sequence_words,
    source_words,
    step_words,
    whole_words,
)
from app.command_line.asking import answer_json
from app.command_line.commands import MISUSED
from app.command_line.layers import NotUnderstood, layer_typed, party_typed, stop_typed
from app.command_line.libraries import opened
from app.verdict_words import answer_words, conditions_words, quote_words, verdict_words, window_of
from app.window_words import window_words
from app.wording import claim_words
from store.library import Library
from store.planning.buildup import BuildUp, Checked, Finding
from store.planning.buildup_check import check
from store.planning.buildup_sheets import Sheets
from store.planning.clocks import steady
from store.planning.finder import FindResult, FoundBuildUp, Wanted, find
from store.planning.finder_shelf import on_the_shelf
from store.planning.timeline import Event, timeline
from store.records import ProductRecord, Proposal, Rule
from store.rules.reach import ProductParty


def run(arguments: argparse.Namespace) -> int:
    try:
        return _check(arguments) if arguments.command == "build-up" else _find(arguments)
    except NotUnderstood as fault:
        words = f"“{fault.text}” is neither a product in the library, nor a known kind, nor a fact of a layer."
        print(f"{words} Did you mean {', '.join(fault.nearest)}?" if fault.nearest else words, file=sys.stderr)
        return MISUSED


def laid_out(library: Library, products: Sequence[ProductRecord]) -> Sheets:
    """Everything that the library's sheets say, for judging build-ups."""
    return Sheets(library.rules(), library.proposals(), library.own_rules(), products)


def _check(arguments: argparse.Namespace) -> int:
    if len(arguments.layers) < 2:
        print("Name two layers at least, from the metal up.", file=sys.stderr)
        return MISUSED
    if arguments.start is not None and arguments.at_c is None:
        print("A time line needs a temperature: give --at-c as well.", file=sys.stderr)
        return MISUSED
    with opened(arguments, read_only=True) as library:
        products = library.products()
        build_up = BuildUp(tuple(layer_typed(text, products) for text in arguments.layers), arguments.at_c)
        sheets = laid_out(library, products)
    checked = check(build_up, sheets)
    events: tuple[Event, ...] | None = None
    if arguments.start is not None:
        # Typed without a zone, a time of day is the workshop's own.
        start = arguments.start.astimezone()
        events = timeline(build_up, sheets, start, steady(start, arguments.at_c))
    if arguments.json:
        times = {} if events is None else {"timeline": [_event_json(event) for event in events]}
        print(json.dumps({**checked_json(checked), **times}, ensure_ascii=False, indent=1))
    else:
        print("\n".join([*_checked_lines(checked), *_event_lines(events or (), build_up)]))
    return 0


def _event_json(event: Event) -> dict[str, Any]:
    return {
        "layer": event.layer,
        "event": event.kind.value,
        "at": None if event.at is None else event.at.isoformat(),
        "unlimited": event.unlimited,
        "window": event.window,
        "conditions": [condition.value for condition in event.conditions],
        "note": event.note,
        "sentences": [_source_json(source) for source in event.sources],
    }


def _event_lines(events: Sequence[Event], build_up: BuildUp) -> Iterator[str]:
    if events:
        yield ""
        yield "When"
    for event in events:
        moment = "" if event.at is None else moment_words(event.at)
        yield f"  {moment:24} {event_words(event, build_up)}"


def _find(arguments: argparse.Namespace) -> int:
    with opened(arguments, read_only=True) as library:
        products = library.products()
        wanted = Wanted(
            party_typed(arguments.surface, products),
            party_typed(arguments.finish, products),
            tuple(stop_typed(text, products) for text in arguments.between or ()),
            arguments.at_c,
            arguments.unsaid,
            arguments.most,
        )
        candidates = _candidates(arguments, products, library)
        result = find(wanted, candidates, laid_out(library, products))
    if arguments.json:
        print(json.dumps(result_json(result), ensure_ascii=False, indent=1))
    else:
        print("\n".join(_result_lines(result)))
    return 0


def _candidates(
    arguments: argparse.Namespace, products: Sequence[ProductRecord], library: Library
) -> Sequence[ProductRecord]:
    if arguments.shelf:
        return on_the_shelf(library.tins(), products)
    if not arguments.products:
        return products
    parties = [party_typed(text, products) for text in arguments.products]
    for text, party in zip(arguments.products, parties, strict=True):
        if not isinstance(party, ProductParty):
            raise NotUnderstood(text)
    return [party.product for party in parties if isinstance(party, ProductParty)]


def checked_json(checked: Checked) -> dict[str, Any]:
    """The check for scripts: the whole, every contact as `ask` prints it, findings, steps and cautions."""
    reason = checked.reason
    return {
        "verdict": checked.word,
        "reason": "" if reason is None else part_sentence(reason, checked),
        "layers": [layer_words(layer) for layer in checked.build_up.layers],
        "contacts": [
            {"layer": contact.upper, **answer_json(contact.answer), "met": [state.value for state in contact.met]}
            for contact in checked.contacts
        ],
        "findings": [_finding_json(finding, checked) for finding in checked.findings],
        "steps": [
            {"layer": step.layer, "words": claim_words(step.rule.claim, step.rule.sheet.product), "done": step.done,
             **_source_json(step.rule)}
            for step in checked.steps
        ],
        "cautions": [
            {"layer": layer, "words": claim_words(rule.claim, rule.sheet.product), **_source_json(rule)}
            for layer, rule in checked.cautions
        ],
    }  # fmt: skip


def _finding_json(finding: Finding, checked: Checked) -> dict[str, Any]:
    return {
        "kind": finding.kind.value,
        "verdict": finding.word,
        "layer": finding.layer,
        "other": finding.other,
        "words": finding_words(finding, checked),
        "given": finding.given,
        "allowed": finding.allowed,
        "unit": finding.unit,
        "sentences": [_source_json(source) for source in finding.sources],
        "remedy": None if finding.remedy is None else _source_json(finding.remedy),
    }


def _source_json(source: Rule | Proposal) -> dict[str, Any]:
    evidence = source.claim.evidence
    return {
        "sheet": source.sheet.product,
        "page": evidence.page,
        "quote": evidence.quote,
        "boxes": [list(box) for box in evidence.boxes],
    }


def result_json(result: FindResult) -> dict[str, Any]:
    return {
        "found": [_found_json(found) for found in result.allowed],
        "nearest": None if result.nearest is None else _found_json(result.nearest),
        "in_the_way": []
        if result.nearest is None
        else [part_sentence(part, result.nearest.checked) for part in result.nearest.in_the_way],
        "lacking": [party.name for party in result.lacking],
        "cut_short": result.cut_short,
    }


def _found_json(found: FoundBuildUp) -> dict[str, Any]:
    rank = found.rank
    return {
        "sequence": [layer.party.name for layer in found.checked.build_up.layers],
        "unsaid": rank.unsaid,
        "conditions": rank.conditions,
        "minutes": rank.minutes,
        "untimed": rank.untimed,
        "coats": rank.coats,
        "check": checked_json(found.checked),
    }


def _checked_lines(checked: Checked) -> Iterator[str]:
    yield sequence_words(checked.build_up)
    yield ""
    yield whole_words(checked)
    yield from _contact_lines(checked)
    findings = [finding for finding in checked.findings if finding is not checked.reason]
    if findings:
        yield ""
        yield "Beyond the contacts"
        for finding in findings:
            yield f"  {verdict_words(finding.word)}: {finding_words(finding, checked)}"
            yield from (f"      {source_words(source)}" for source in finding.sources)
    if checked.steps:
        yield ""
        yield "What the sheets ask for first"
        yield from (f"  · {step_words(step, checked)}" for step in checked.steps)
    if checked.cautions:
        yield ""
        yield "Cautions"
        for _, rule in checked.cautions:
            yield f"  · {rule.sheet.product}: {claim_words(rule.claim, rule.sheet.product)}"


def _contact_lines(checked: Checked) -> Iterator[str]:
    reason = checked.reason
    if isinstance(reason, Finding):
        yield from (f"  {source_words(source)}" for source in reason.sources)
    for contact in checked.contacts:
        yield ""
        yield f"{contact.upper}. {verdict_words(contact.word)}: {answer_words(contact.answer)}"
        yield from (f"  · {condition}" for condition in conditions_words(contact.answer))
        window = window_of(contact.answer)
        if window is not None:
            yield f"  {window_words(window)}."
        quotes = dict.fromkeys(quote_words(c) for c in (*contact.answer.citations, *contact.answer.pending))
        yield from (f"  {quote}" for quote in quotes)


def _result_lines(result: FindResult) -> Iterator[str]:
    yield result_words(result)
    for number, found in enumerate(result.allowed, start=1):
        yield ""
        yield f"{number}. {found_words(found)}"
        yield from (f"  {line}" if line else "" for line in _contact_lines(found.checked))
    if result.nearest is not None:
        yield ""
        yield found_words(result.nearest)
        for part in result.nearest.in_the_way:
            yield f"  {verdict_words(part.word)}: {part_sentence(part, result.nearest.checked)}"
            if isinstance(part, Finding):
                yield from (f"      {source_words(source)}" for source in part.sources)
            else:
                yield from (f"      {quote_words(citation)}" for citation in part.answer.citations)

"""`tinsheet shelf`: the tins, how long they keep, and which of them may go onto something."""

from __future__ import annotations

import argparse
import json
import sys
from datetime import date
from typing import Any

from app.command_line.asking import answer_json, unknown_words
from app.command_line.commands import MISUSED
from app.command_line.libraries import opened
from app.job_words import missing_words, tin_dates_words, tin_words
from app.verdict_words import answer_words, conditions_words, quote_words, verdict_words
from store.job_records import TinRecord
from store.planning.fetching import material_of, products_of
from store.planning.on_hand import OnHand, may_go_on
from store.planning.tin_dates import TinDates, tin_dates, warnings
from store.rules.names import Unknown, resolve
from store.rules.reach import ProductParty, party_of


def run(arguments: argparse.Namespace) -> int:
    today = date.today()  # noqa: DTZ011 - a tin's dates are days of the user's own calendar
    with opened(arguments, read_only=True) as library:
        tins = library.tins()
        ids = products_of((), tins)
        if arguments.on is None:
            rules = material_of(library, ids).rules
            if arguments.expiring:
                return _expiring(list(warnings(tins, rules, today, arguments.days)), as_json=arguments.json)
            return _tins([(tin, tin_dates(tin, rules, today)) for tin in tins], as_json=arguments.json)
        meaning = resolve(arguments.on, library.products())
        if isinstance(meaning, Unknown):
            print(unknown_words(meaning), file=sys.stderr)
            return MISUSED
        lower = party_of(meaning)
        material = material_of(library, ids | ({lower.product.id} if isinstance(lower, ProductParty) else set()))
    found = may_go_on(lower, tins, material, today, arguments.at_c)
    if arguments.json:
        print(json.dumps([on_hand_json(item) for item in found], ensure_ascii=False, indent=1))
        return 0
    for item in found:
        print("\n".join(_on_hand_lines(item)))
    if not found:
        print("No tin with anything in it is on the shelf.")
    return 0


def _expiring(tins: list[tuple[TinRecord, TinDates]], *, as_json: bool) -> int:
    if not tins and not as_json:
        print("No tin is past its date or near it, as far as dates and sheets tell.")
        return 0
    return _tins(tins, as_json=as_json)


def _tins(tins: list[tuple[TinRecord, TinDates]], *, as_json: bool) -> int:
    if as_json:
        print(json.dumps([tin_json(tin, dates) for tin, dates in tins], ensure_ascii=False, indent=1))
        return 0
    for record, dates in tins:
        print(f"{tin_words(record.tin, record.product)}\n    {tin_dates_words(dates)}")
    if not tins:
        print("The shelf is empty. Add a tin in the window, under Shelf.")
    return 0


def tin_json(record: TinRecord, dates: TinDates) -> dict[str, Any]:
    tin = record.tin
    return {
        "id": record.id,
        "product": record.product,
        "component": tin.component.value,
        "name": tin.name,
        "batch": tin.batch,
        "left": tin.left,
        "size": tin.size,
        "unit": tin.unit.value,
        "place": tin.place,
        "made": tin.made.isoformat() if tin.made else None,
        "bought": tin.bought.isoformat() if tin.bought else None,
        "opened": tin.opened.isoformat() if tin.opened else None,
        "until": dates.until.isoformat() if dates.until else None,
        "state": dates.state.value,
        "why": dates.why,
    }


def on_hand_json(item: OnHand) -> dict[str, Any]:
    return {
        "product": item.product.name,
        "may": item.may,
        "missing": [part.value for part in item.missing],
        "answer": answer_json(item.answer),
        "tins": [tin_json(tin.record, tin.dates) for tin in item.tins],
    }


def _on_hand_lines(item: OnHand) -> list[str]:
    lines = [f"{verdict_words(item.answer.word).upper()}  {item.product.name}. {answer_words(item.answer)}"]
    lines += [f"    · {condition}" for condition in conditions_words(item.answer)]
    lines += [f"    {quote_words(citation)}" for citation in item.answer.citations]
    missing = missing_words(item)
    if missing:
        lines.append(f"    {missing}")
    return lines + [
        f"    {tin_words(tin.record.tin, tin.record.product)}; {tin_dates_words(tin.dates)}" for tin in item.tins
    ]

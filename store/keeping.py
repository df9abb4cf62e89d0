"""What the user keeps of their own: notes, own rules, questions asked, settings, and corrections of products."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

from sqlalchemy import Connection, delete, insert, select, update

from store import finding
from store.errors import UnknownRecord
from store.identity import (
    Identity,
    folded,
    folded_code,
    folded_maker,
    maker_id,
    new_product,
    remember,
    search_words,
    spelt_maker,
)
from store.merging import take_in_doubles
from store.records import Note, OwnRule, ProductRecord, QuestionRecord
from store.tables import NoteRow, OwnRuleRow, ProductRow, QuestionRow, SettingRow


def notes(connection: Connection, product_id: int) -> tuple[Note, ...]:
    """A product's notes, the last changed first."""
    rows = connection.execute(
        select(NoteRow.id, NoteRow.text, NoteRow.changed_at)
        .where(NoteRow.product_id == product_id)
        .order_by(NoteRow.changed_at.desc(), NoteRow.id.desc())
    )
    return tuple(Note(row.id, product_id, row.text, row.changed_at) for row in rows)


def write_note(connection: Connection, product_id: int, text: str, note_id: int | None) -> Note:
    """A new note, or note_id with new words."""
    finding.product(connection, product_id)
    now = datetime.now(UTC)
    if note_id is None:
        values = {"product_id": product_id, "text": text, "changed_at": now}
        note_id = connection.execute(insert(NoteRow).values(values).returning(NoteRow.id)).scalar_one()
    else:
        which = (NoteRow.id == note_id, NoteRow.product_id == product_id)
        _must_hit(connection.execute(update(NoteRow).where(*which).values(text=text, changed_at=now)), "note", note_id)
    return Note(note_id, product_id, text, now)


def remove_note(connection: Connection, note_id: int) -> None:
    _must_hit(connection.execute(delete(NoteRow).where(NoteRow.id == note_id)), "note", note_id)


def own_rules(connection: Connection) -> tuple[OwnRule, ...]:
    table = OwnRuleRow.__table__
    rows = connection.execute(select(table).order_by(table.c.id))
    return tuple(OwnRule(row.id, row.lower, row.upper, row.forbids, row.words, row.source, row.made_at) for row in rows)


def add_own_rule(connection: Connection, lower: str, upper: str, *, forbids: bool, words: str, source: str) -> OwnRule:
    now = datetime.now(UTC)
    values = {
        "lower": lower, "upper": upper, "forbids": forbids, "words": words, "source": source, "made_at": now,
    }  # fmt: skip
    rule_id = connection.execute(insert(OwnRuleRow).values(values).returning(OwnRuleRow.id)).scalar_one()
    return OwnRule(rule_id, lower, upper, forbids, words, source, now)


def remove_own_rule(connection: Connection, rule_id: int) -> None:
    _must_hit(connection.execute(delete(OwnRuleRow).where(OwnRuleRow.id == rule_id)), "own rule", rule_id)


def questions(connection: Connection, limit: int) -> tuple[QuestionRecord, ...]:
    """The questions asked last, the latest first."""
    table = QuestionRow.__table__
    rows = connection.execute(select(table).order_by(table.c.id.desc()).limit(limit))
    return tuple(QuestionRecord(row.id, row.lower, row.upper, row.at_c, row.asked_at, row.verdict) for row in rows)


def remember_question(
    connection: Connection, lower: str, upper: str, at_c: float | None, verdict: str
) -> QuestionRecord:
    """Keep a question; asked again it moves to the top rather than standing twice."""
    same = (QuestionRow.lower == lower, QuestionRow.upper == upper, QuestionRow.at_c.is_not_distinct_from(at_c))
    connection.execute(delete(QuestionRow).where(*same))
    now = datetime.now(UTC)
    values = {"lower": lower, "upper": upper, "at_c": at_c, "asked_at": now, "verdict": verdict}
    question_id = connection.execute(insert(QuestionRow).values(values).returning(QuestionRow.id)).scalar_one()
    return QuestionRecord(question_id, lower, upper, at_c, now, verdict)


def setting(connection: Connection, name: str, default: Any) -> Any:
    row = connection.execute(select(SettingRow.value).where(SettingRow.name == name)).first()
    return default if row is None else row.value


def set_setting(connection: Connection, name: str, value: Any) -> None:
    connection.execute(delete(SettingRow).where(SettingRow.name == name))
    connection.execute(insert(SettingRow).values(name=name, value=value))


def add_product(connection: Connection, name: str, maker: str, kind: str | None, code: str | None) -> ProductRecord:
    """A product that the user knows of without a sheet; a sheet filed later finds it."""
    product_id = new_product(connection, name, maker, kind, code)
    given = {"name": name, "maker": maker, "kind": kind, "code": code}
    connection.execute(
        update(ProductRow)
        .where(ProductRow.id == product_id)
        .values(set_by_user=[field for field, value in given.items() if value])
    )
    remember(connection, product_id, Identity(folded_maker(maker), folded(name), folded_code(code)))
    return finding.product(connection, product_id)


def change_product(
    connection: Connection,
    product_id: int,
    name: str | None,
    maker: str | None,
    kind: str | None,
    code: str | None,
) -> ProductRecord:
    """Put right what the header said; '' takes a kind or a code away. Later issues leave these fields alone.

    A product that is now called what another one is called takes that one in.
    """
    was = finding.product(connection, product_id)
    given = {"name": name, "maker": maker, "kind": kind, "code": code}
    now = {field: getattr(was, field) if value is None else value for field, value in given.items()}
    set_before = connection.scalar(select(ProductRow.set_by_user).where(ProductRow.id == product_id)) or []
    set_now = [field for field, value in given.items() if value is not None or field in set_before]
    connection.execute(
        update(ProductRow)
        .where(ProductRow.id == product_id)
        .values(
            name=now["name"] or was.name,
            maker_id=spelt_maker(connection, now["maker"]) if maker else maker_id(connection, now["maker"]),
            kind=now["kind"] or None,
            code=now["code"] or None,
            words=search_words(now["name"] or was.name, now["maker"], now["code"], now["kind"]),
            set_by_user=set_now,
        )
    )
    identity = Identity(folded_maker(now["maker"]), folded(now["name"]), folded_code(now["code"]))
    remember(connection, product_id, identity)
    if {"name", "maker", "code"} & {field for field, value in given.items() if value is not None}:
        take_in_doubles(connection, product_id)
    return finding.product(connection, product_id)


def _must_hit(result: Any, what: str, record_id: int) -> None:
    if result.rowcount == 0:
        raise UnknownRecord(f"{what} {record_id}")

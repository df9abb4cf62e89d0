"""Decisions taken over from an older issue of a sheet, where the sentence is unchanged."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from sqlalchemy import Connection, bindparam, func, insert, select, update

from extract.claims import Box, Claim, Evidence, PageText
from extract.document import union
from store.converting import claim_columns, claim_query, corrected_from_json, corrected_to_json, printed_claim
from store.database import chunks
from store.differences import match, sentence_key
from store.records import ClaimStatus
from store.tables import ClaimRow, DecisionRow

_UNDECIDED = (ClaimStatus.PROPOSED, None, None, None)
"""A new claim's status, correction, and who decided it when."""
_STANDING = update(ClaimRow).where(ClaimRow.id == bindparam("carried_to"))


def carry_over(connection: Connection, old_sheet: int, new_sheet: int, pages: Sequence[PageText]) -> int:
    """Carry every decision whose sentence stands in the new sheet; the number of claims decided by it.

    The decisions themselves are copied, each still belonging to its step, so that undo and redo reach both sheets.
    """
    old = _claims(connection, old_sheet)
    new = [row for row in _claims(connection, new_sheet) if row.status is ClaimStatus.PROPOSED]
    read = [row for row in old if not row.added_by_user]
    old_claims, new_claims = [printed_claim(row) for row in read], [printed_claim(row) for row in new]
    pairs: list[tuple[Any, int, Evidence]] = [
        (read[i], new[j].id, new_claims[j].evidence) for i, j in match(old_claims, new_claims).same
    ]
    for row in old:
        if row.added_by_user:
            found = _file_again(connection, row, new_sheet, pages)
            if found is not None:
                pairs.append((row, *found))
    _copy_decisions(connection, [(row.id, claim_id, evidence) for row, claim_id, evidence in pairs])
    standing = [
        {
            "carried_to": claim_id,
            "status": row.status,
            "corrected": _moved(row.corrected, evidence),
            "decided_by": row.decided_by,
            "decided_at": row.decided_at,
        }
        for row, claim_id, evidence in pairs
        if (row.status, row.corrected, row.decided_by, row.decided_at) != _UNDECIDED
    ]
    if standing:
        connection.execute(_STANDING, standing)
    return sum(row.status is not ClaimStatus.PROPOSED for row, _, _ in pairs)


def find_words(quote: str, pages: Sequence[PageText], first: int) -> Evidence | None:
    """Where a quote stands on the pages, word for word; the page it stood on before is looked at first."""
    wanted = sentence_key(quote).split()
    if not wanted:
        return None
    for page in sorted(pages, key=lambda p: (abs(p.number - first), p.number)):
        words = [(key, word) for word in page.words if (key := sentence_key(word.text))]
        keys = [key for key, _ in words]
        for start in range(len(keys) - len(wanted) + 1):
            if [_bare(k) for k in keys[start : start + len(wanted)]] == [_bare(w) for w in wanted]:
                matched = [word for _, word in words[start : start + len(wanted)]]
                text = " ".join(word.text for word in matched)
                return Evidence(page.number, text, box_a_line([word.box for word in matched]))
    return None


def box_a_line(boxes: Sequence[Box]) -> tuple[Box, ...]:
    """One box for each printed line of words in reading order."""
    lines: list[Box] = []
    for box in boxes:
        middle = (box[1] + box[3]) / 2
        if lines and lines[-1][1] <= middle <= lines[-1][3] and box[0] >= lines[-1][0]:
            lines[-1] = union(lines[-1], box)
        else:
            lines.append(box)
    return tuple(lines)


def _bare(word: str) -> str:
    return word.strip(" .;,:")


def _claims(connection: Connection, sheet_id: int) -> Sequence[Any]:
    return connection.execute(
        claim_query().where(ClaimRow.sheet_id == sheet_id).order_by(ClaimRow.position, ClaimRow.id)
    ).all()


def _file_again(
    connection: Connection, row: Any, new_sheet: int, pages: Sequence[PageText]
) -> tuple[int, Evidence] | None:
    """A claim that the user had read out themself, filed on the new sheet where its words still stand there."""
    claim: Claim = printed_claim(row)
    evidence = find_words(claim.evidence.quote, pages, claim.evidence.page)
    if evidence is None:
        return None
    position = connection.scalar(select(func.max(ClaimRow.position)).where(ClaimRow.sheet_id == new_sheet))
    claim_id = connection.execute(
        insert(ClaimRow)
        .values(
            sheet_id=new_sheet,
            position=0 if position is None else position + 1,
            status=ClaimStatus.PROPOSED,
            added_by_user=True,
            withdrawn=False,
            **claim_columns(replace(claim, evidence=evidence)),
        )
        .returning(ClaimRow.id)
    ).scalar_one()
    return int(claim_id), evidence


def _copy_decisions(connection: Connection, pairs: Sequence[tuple[int, int, Evidence]]) -> None:
    """pairs: a claim of the old sheet, the claim of the new one that takes its decisions over, and where it stands."""
    columns = [c for c in DecisionRow.__table__.columns if c.name != "id"]
    made: dict[int, list[Any]] = {}
    for ids in chunks(old_claim for old_claim, _, _ in pairs):
        rows = connection.execute(select(*columns).where(DecisionRow.claim_id.in_(ids)).order_by(DecisionRow.id))
        for row in rows:
            made.setdefault(row.claim_id, []).append(row)
    copies = [
        {
            **row._mapping,
            "claim_id": new_claim,
            "from_value": _moved(row.from_value, evidence),
            "to_value": _moved(row.to_value, evidence),
        }
        for old_claim, new_claim, evidence in pairs
        for row in made.get(old_claim, ())
    ]
    if copies:
        connection.execute(insert(DecisionRow), copies)


def _moved(value: dict[str, Any] | None, evidence: Evidence) -> dict[str, Any] | None:
    """A correction with its evidence where the sentence stands on the new sheet."""
    claim = corrected_from_json(value)
    return None if claim is None else corrected_to_json(replace(claim, evidence=evidence))

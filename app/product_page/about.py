"""Everything that the library knows of one product, fetched in one go. No Qt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from app.figure_words import counted_words
from app.translating import translate
from app.wording import date_words
from extract.claims import Claim
from extract.kinds import covers, is_known
from store.differences import differences
from store.records import ClaimRecord, Note, OwnRule, ProductRecord, SheetDifference, SheetRecord
from store.rules.names import KindName, resolve

if TYPE_CHECKING:
    from store.library import Library


@dataclass(frozen=True, slots=True)
class Issue:
    """A sheet of the product; changes are what it says otherwise than the issue before it."""

    sheet: SheetRecord
    changes: tuple[SheetDifference, ...] = ()


@dataclass(frozen=True, slots=True)
class About:
    """claims are those of the current sheets; own_rules those that speak of this product or of its kind."""

    product: ProductRecord
    issues: tuple[Issue, ...]
    claims: tuple[ClaimRecord, ...]
    notes: tuple[Note, ...]
    own_rules: tuple[OwnRule, ...]

    @property
    def current(self) -> tuple[SheetRecord, ...]:
        return tuple(issue.sheet for issue in self.issues if issue.sheet.superseded_by is None)


def about(library: Library, product_id: int, products: Sequence[ProductRecord]) -> About:
    """Raises UnknownRecord where the product is no longer there."""
    product = library.product(product_id)
    sheets = library.sheets_of(product_id)
    current = [sheet for sheet in sheets if sheet.superseded_by is None]
    claims = {sheet.id: library.claims(sheet.id) for sheet in sheets}
    issues = tuple(Issue(sheet, _changes(sheet, sheets, claims)) for sheet in sheets)
    return About(
        product,
        issues,
        tuple(record for sheet in current for record in claims[sheet.id]),
        library.notes(product_id),
        tuple(rule for rule in library.own_rules() if _speaks_of(rule, product, products)),
    )


def _changes(
    sheet: SheetRecord, sheets: Sequence[SheetRecord], claims: dict[int, tuple[ClaimRecord, ...]]
) -> tuple[SheetDifference, ...]:
    """What the issue changed against the latest one that it replaced."""
    before = [other for other in sheets if other.superseded_by == sheet.id]
    if not before:
        return ()
    latest = max(before, key=lambda other: (other.issued or "", other.filed_at))
    return differences(_printed(claims[latest.id]), _printed(claims[sheet.id]))


def _printed(records: Sequence[ClaimRecord]) -> list[Claim]:
    return [record.printed for record in records if not record.added_by_user]


def _speaks_of(rule: OwnRule, product: ProductRecord, products: Sequence[ProductRecord]) -> bool:
    for text in (rule.lower, rule.upper):
        # Against this product alone first: weighing every name of a large library for every rule takes too long.
        meaning = resolve(text, (product,))
        if isinstance(meaning, ProductRecord):
            whole = resolve(text, products)
            if isinstance(whole, ProductRecord) and whole.id == product.id:
                return True
        kind = product.kind if product.kind is not None and is_known(product.kind) else None
        if isinstance(meaning, KindName) and kind and covers(meaning.kind, kind, forbidding=True):
            return True
    return False


def issue_words(issue: Issue) -> str:
    """'Issue of 1 March 2024, revision 5 · 2 pages · keeper.pdf'."""
    sheet = issue.sheet
    when = (
        translate("product", "Issue of {date}").format(date=date_words(sheet.issued))
        if sheet.issued
        else translate("product", "No date of issue printed")
    )
    revision = translate("product", ", revision {revision}").format(revision=sheet.revision) if sheet.revision else ""
    pages = counted_words(sheet.pages, "page")
    return f"{when}{revision} · {pages} · {sheet.file_name}"


def standing_of(issue: Issue) -> str:
    if issue.sheet.superseded_by is not None:
        return translate("product", "replaced by a newer issue")
    waiting = issue.sheet.waiting
    return (
        translate("product", "{waiting} to be confirmed").format(waiting=waiting)
        if waiting
        else translate("product", "all confirmed")
    )

"""What the library hands out: frozen values, never ORM rows."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from extract.claims import Claim


class ClaimStatus(StrEnum):
    PROPOSED = "proposed"
    CONFIRMED = "confirmed"
    CORRECTED = "corrected"
    REJECTED = "rejected"


class DecisionKind(StrEnum):
    CONFIRM = "confirm"
    CORRECT = "correct"
    REJECT = "reject"
    ADD = "add"
    """A claim that the user read out of the page themself."""
    UNDO = "undo"
    REDO = "redo"


class FilingOutcome(StrEnum):
    FILED = "filed"
    ALREADY_FILED = "already_filed"
    NEWER_ISSUE = "newer_issue"
    OLDER_ISSUE = "older_issue"


@dataclass(frozen=True, slots=True)
class ProductRecord:
    """A product that the library knows: from a sheet of its own, or added by the user."""

    id: int
    name: str
    maker: str
    kind: str | None
    code: str | None = None
    has_sheet: bool = True


@dataclass(frozen=True, slots=True)
class SheetRecord:
    """A filed sheet of one product. superseded_by is the sheet that took its place, if any."""

    id: int
    product: ProductRecord
    file_name: str
    sha256: str
    pages: int
    issued: str | None
    revision: str | None
    language: str | None
    scanned: bool
    filed_at: datetime
    superseded_by: int | None = None
    problems: tuple[str, ...] = ()
    waiting: int = 0
    """Claims not yet decided."""
    decided: int = 0


@dataclass(frozen=True, slots=True)
class ClaimRecord:
    """A claim in the library. claim is what holds now (corrected if corrected); printed is what was read."""

    id: int
    sheet_id: int
    claim: Claim
    printed: Claim
    status: ClaimStatus
    decided_by: str | None = None
    decided_at: datetime | None = None
    added_by_user: bool = False


@dataclass(frozen=True, slots=True)
class DecisionRecord:
    """One line of a claim's history: who decided what and when. value is the user's reading, where they gave one."""

    claim_id: int
    kind: DecisionKind
    who: str
    at: datetime
    status: ClaimStatus
    value: Claim | None = None


@dataclass(frozen=True, slots=True)
class SheetDifference:
    """A claim that a newer issue or a newer reader changed, in words ('latest overcoat 7 days -> 5 days')."""

    words: str
    before: Claim | None
    after: Claim | None


@dataclass(frozen=True, slots=True)
class Filed:
    """What filing a file came to. carried counts decisions taken over from the older issue."""

    outcome: FilingOutcome
    sheet: SheetRecord
    waiting: int = 0
    carried: int = 0
    differences: tuple[SheetDifference, ...] = ()


class RuleOrigin(StrEnum):
    SHEET = "sheet"
    """Confirmed as read."""
    CORRECTED = "corrected"
    OWN = "own"
    """The user's own, kept apart from what a sheet says."""


@dataclass(frozen=True, slots=True)
class SheetRef:
    """Enough of a sheet to cite it and to know whose word it is."""

    sheet_id: int
    product_id: int
    product: str
    maker: str
    kind: str | None
    code: str | None = None
    issued: str | None = None
    file_name: str = ""


@dataclass(frozen=True, slots=True)
class Rule:
    """A claim that the user confirmed, corrected or wrote. Verdicts rest on rules only."""

    id: int
    claim: Claim
    sheet: SheetRef
    origin: RuleOrigin = RuleOrigin.SHEET


@dataclass(frozen=True, slots=True)
class Proposal:
    """A claim that nobody has decided yet. It can be shown; it can never answer."""

    id: int
    claim: Claim
    sheet: SheetRef


@dataclass(frozen=True, slots=True)
class OwnRule:
    """A rule of the user's own ('own experience', 'common practice'): may tighten a verdict, never loosen it.

    lower and upper are a kind's id or a product's name, so that they mean the same in every language of the window.
    """

    id: int
    lower: str
    upper: str
    forbids: bool
    words: str
    source: str
    made_at: datetime


@dataclass(frozen=True, slots=True)
class Note:
    """A note of the user's own on a product or a sheet."""

    id: int
    product_id: int
    text: str
    changed_at: datetime


class HitKind(StrEnum):
    PRODUCT = "product"
    MAKER = "maker"
    CLAIM = "claim"
    PAGE = "page"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Hit:
    """A search hit. Where it stands on a page, sheet_id, page and boxes say so; claim_id where it is a claim."""

    kind: HitKind
    title: str
    excerpt: str
    product_id: int | None = None
    sheet_id: int | None = None
    claim_id: int | None = None
    page: int | None = None
    boxes: tuple[tuple[float, float, float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Progress:
    """Claims decided and waiting, over one sheet or the whole library."""

    decided: int
    waiting: int


@dataclass(frozen=True, slots=True)
class QuestionRecord:
    """A question asked before: the two by a kind's id or a product's name, and when."""

    id: int
    lower: str
    upper: str
    at_c: float | None
    asked_at: datetime
    verdict: str

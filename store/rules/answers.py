"""The answers to 'may UPPER be put straight onto LOWER?': a closed set of frozen types.

An answer is never true or false: Silent is not 'no', and neither is it 'yes'. Tell them apart by type or by `word`.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar, Literal, NoReturn

from extract.claims import Claim, Condition
from store.records import OwnRule, Proposal, Rule, RuleOrigin, SheetRef
from store.rules.reach import Party

Word = Literal["yes", "yes_if", "no", "disputed", "silent", "unconfirmed"]


class Standing(StrEnum):
    """How far a cited sentence can be trusted."""

    CONFIRMED = "confirmed"
    CORRECTED = "corrected"
    PROPOSED = "proposed"
    NAME_DOUBTFUL = "name_doubtful"
    """Confirmed, but the product that it names may be another one."""


class Part(StrEnum):
    """What a citation does in an answer."""

    PERMITS = "permits"
    FORBIDS = "forbids"
    ISOLATES = "isolates"
    """Permits with another coat between: for the direct contact, no."""
    CLOSES = "closes"
    """Forbids by leaving out: a closed list ('only over ...')."""


@dataclass(frozen=True, slots=True)
class Citation:
    """A sentence that carries an answer, and what it does there. id is the claim's in the library."""

    id: int
    claim: Claim
    sheet: SheetRef
    standing: Standing
    part: Part

    @classmethod
    def of(cls, source: Rule | Proposal, part: Part, *, doubtful: bool = False) -> Citation:
        if isinstance(source, Proposal):
            standing = Standing.PROPOSED
        elif doubtful:
            standing = Standing.NAME_DOUBTFUL
        else:
            standing = Standing.CORRECTED if source.origin is RuleOrigin.CORRECTED else Standing.CONFIRMED
        return cls(source.id, source.claim, source.sheet, standing, part)


@dataclass(frozen=True, slots=True)
class Term:
    """One condition of a permission. detail is a claim that puts a figure to it (which grit), via the coat between."""

    condition: Condition
    via: str | None = None
    detail: Claim | None = None


@dataclass(frozen=True, slots=True)
class Clause:
    """What one sentence sets: ways are alternatives ('within 72 h, or sanded'), the terms of a way hold all at once."""

    sheet: SheetRef
    ways: tuple[tuple[Term, ...], ...]


class Reading(StrEnum):
    """How a window's figures were had from the sheet's rows."""

    STATED = "stated"
    BETWEEN = "between"
    """Between two rows: the longer earliest, the shorter latest."""
    OUTSIDE = "outside"
    """The temperature asked for lies beyond the table: no end is read that would differ to the careless side."""
    UNTEMPERED = "untempered"
    """The sheet names no temperature with it."""


@dataclass(frozen=True, slots=True)
class Window:
    """Times to the next coat in minutes, for at_c in degC. stated are the temperatures of the sheet's rows.

    no_low and no_high say why an end that the sheet speaks of is not read at this temperature. past is the claim that
    says what to do when the latest time has gone by. also holds further windows for the same coat ('or after 48 h'):
    one of them all is enough.
    """

    low: float | None
    high: float | None
    unlimited: bool
    at_c: float | None
    reading: Reading
    stated: tuple[float, ...]
    citations: tuple[Rule, ...]
    conditions: tuple[Condition, ...] = ()
    past: Rule | None = None
    no_low: str = ""
    no_high: str = ""
    also: tuple[Window, ...] = ()

    @property
    def each(self) -> tuple[Window, ...]:
        """This window and the further ones."""
        return (self, *self.also)

    @property
    def carried_by(self) -> tuple[Rule, ...]:
        """Every rule that any of its windows rests on, and what to do past them."""
        past = (self.past,) if self.past is not None else ()
        return tuple(dict.fromkeys((*(rule for one in self.each for rule in one.citations), *past)))

    @property
    def soonest(self) -> float | None:
        """The earliest time known of any of them, in minutes."""
        return min((window.low for window in self.each if window.low is not None), default=None)

    @property
    def closed(self) -> bool:
        """True where the earliest time lies after the latest: no moment suits every row that has a say."""
        return self.low is not None and self.high is not None and self.low > self.high


class AdviceKind(StrEnum):
    PUT_BETWEEN = "put_between"
    """via is the coat that makes the build-up right."""
    SETTLE = "settle"
    """Two sheets contradict each other: settle it by correcting or rejecting one of the sentences."""
    CONFIRM = "confirm"
    """Sentences that nobody has confirmed speak: confirm or reject them first."""
    SETTLE_NAME = "settle_name"
    """A sentence names a product that may or may not be this one."""
    SILENT = "silent"
    """No sheet says: ask the maker, or try it where it does no harm."""
    NAME_A_PRODUCT = "name_a_product"
    """Two kinds were asked: only a product has a sheet that can speak."""
    NO_KIND = "no_kind"
    """The product's kind is not known, so sentences about kinds cannot speak of it."""
    NO_SHEET = "no_sheet"
    """The product has no sheet of its own in the library."""
    EXCEPTION = "exception"
    """What is asked is allowed in general, but a kind of it is not."""
    PENDING_AGAINST = "pending_against"
    """A sentence not yet confirmed forbids what the confirmed ones allow."""
    BROAD = "broad"
    """The permission is for a wider kind of surface; what is asked about is not named in it."""
    CLOSED_LIST = "closed_list"
    """It is forbidden because a closed list leaves it out."""


@dataclass(frozen=True, slots=True)
class Advice:
    kind: AdviceKind
    via: str | None = None
    name: str = ""
    citation: Citation | None = None


@dataclass(frozen=True, slots=True)
class Silence:
    """A product of the question on whose part nothing is said."""

    product_id: int
    name: str
    maker: str
    has_sheet: bool = True


@dataclass(frozen=True, slots=True)
class Verdict:
    """What every answer has. pending are sentences that could speak once confirmed; own are the user's own rules."""

    word: ClassVar[Word]

    lower: Party
    upper: Party
    citations: tuple[Citation, ...]
    silences: tuple[Silence, ...]
    pending: tuple[Citation, ...]
    own: tuple[OwnRule, ...]
    advice: tuple[Advice, ...]

    def __bool__(self) -> NoReturn:
        raise TypeError("a verdict is neither true nor false: look at its word")


@dataclass(frozen=True, slots=True)
class Permitted(Verdict):
    """Yes, outright."""

    word: ClassVar[Word] = "yes"
    window: Window | None = None


@dataclass(frozen=True, slots=True)
class Conditional(Verdict):
    """Yes, if. clauses hold all at once; own conditions of the user's are among `own`."""

    word: ClassVar[Word] = "yes_if"
    clauses: tuple[Clause, ...] = ()
    window: Window | None = None


@dataclass(frozen=True, slots=True)
class Prohibited(Verdict):
    """No: a sheet forbids it and none permits it, or the user's own rule forbids it."""

    word: ClassVar[Word] = "no"


@dataclass(frozen=True, slots=True)
class Disputed(Verdict):
    """One sheet permits, another forbids: as good as no until the user settles it."""

    word: ClassVar[Word] = "disputed"


@dataclass(frozen=True, slots=True)
class Silent(Verdict):
    """No sheet says. Never a yes."""

    word: ClassVar[Word] = "silent"


@dataclass(frozen=True, slots=True)
class Unconfirmed(Verdict):
    """Only sentences that nobody has confirmed, or that name a product that may be another, speak.

    Or sheets permit it (citations), and a prohibition (pending) names what may be this product.
    """

    word: ClassVar[Word] = "unconfirmed"


Answer = Permitted | Conditional | Prohibited | Disputed | Silent | Unconfirmed

"""A coat, a surface or this product itself, where a text names it."""

from __future__ import annotations

from dataclasses import dataclass

from extract.claims import PRODUCT_PREFIX, SELF

THIS = "\ue000"
OTHER = "\ue001"
"""The letters that stand for the sheet's own product, and for any other coat or surface, where cues are matched."""


@dataclass(frozen=True, slots=True)
class Mention:
    """A kind, a named product ('product:NAME') or the sheet's own product ('self') in a text.

    beneath is what the words mean where the thing is found there and not put on ('nitro' is old soft paint).
    of_kind is a named product's kind where the words beside its name say it. pronoun marks an 'it'.
    """

    start: int
    end: int
    object: str
    words: str
    beneath: str | None = None
    of_kind: str | None = None
    pronoun: bool = False

    @property
    def is_self(self) -> bool:
        return self.object == SELF

    @property
    def is_product(self) -> bool:
        return self.object.startswith(PRODUCT_PREFIX)

    def as_found(self) -> str:
        """The object where it lies beneath the next coat."""
        return self.beneath or self.object

"""How the library's values are kept in columns: enums by value, times in UTC, compact JSON, packed words."""

from __future__ import annotations

import json
import zlib
from array import array
from collections.abc import Sequence
from datetime import UTC, datetime
from enum import StrEnum
from sys import byteorder
from typing import Annotated, Any

from sqlalchemy import Dialect, ForeignKey, LargeBinary, Text
from sqlalchemy.orm import mapped_column
from sqlalchemy.types import TypeDecorator

from extract.claims import PageWord


class ByValue(TypeDecorator[Any]):
    """A StrEnum kept as its value, so that a library stays readable and a renamed member changes no row."""

    impl = Text
    cache_ok = True

    def __init__(self, kind: type[StrEnum]) -> None:
        super().__init__()
        self.kind = kind

    def process_bind_param(self, value: Any, dialect: Dialect) -> str | None:
        return None if value is None else self.kind(value).value

    def process_result_value(self, value: Any, dialect: Dialect) -> StrEnum | None:
        return None if value is None else self.kind(value)


class UtcTime(TypeDecorator[datetime]):
    """An aware time, kept as ISO text in UTC: sorts as text."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> str | None:
        return None if value is None else value.astimezone(UTC).isoformat(timespec="microseconds")

    def process_result_value(self, value: Any, dialect: Dialect) -> datetime | None:
        return None if value is None else datetime.fromisoformat(value)


_compact = json.JSONEncoder(ensure_ascii=False, separators=(",", ":")).encode


class CompactJson(TypeDecorator[Any]):
    """A value as JSON without blanks; None is NULL."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: Any, dialect: Dialect) -> str | None:
        return None if value is None else _compact(value)

    def process_result_value(self, value: Any, dialect: Dialect) -> Any:
        return None if value is None else json.loads(value)


class PackedBoxes(TypeDecorator[tuple[tuple[int, ...], ...]]):
    """Boxes of a page's words: four 32-bit numbers each, in hundredths of a point, deflated.

    JSON would take four times the room, and a library holds millions of words.
    """

    impl = LargeBinary
    cache_ok = True

    def process_bind_param(self, value: Any, dialect: Dialect) -> bytes | None:
        if value is None:
            return None
        numbers = array("i", [round(edge * 100) for box in value for edge in box])
        if byteorder == "big":
            numbers.byteswap()
        return zlib.compress(numbers.tobytes(), 1)

    def process_result_value(self, value: Any, dialect: Dialect) -> Any:
        if value is None:
            return None
        numbers = array("i")
        numbers.frombytes(zlib.decompress(value))
        if byteorder == "big":
            numbers.byteswap()
        edges = [n / 100 for n in numbers]
        return tuple(zip(edges[0::4], edges[1::4], edges[2::4], edges[3::4], strict=True))


def words_to_text(words: Sequence[PageWord]) -> str:
    """A page's words, one a line: what is searched and, with the boxes, gives the words back."""
    return "\n".join(" ".join(word.text.split()) for word in words)


def words_from_text(text: str, boxes: Sequence[tuple[float, float, float, float]]) -> tuple[PageWord, ...]:
    """Inverse of words_to_text, given the boxes in the same order."""
    if not boxes:
        return ()
    return tuple(PageWord(word, box) for word, box in zip(text.split("\n"), boxes, strict=True))


key = Annotated[int, mapped_column(primary_key=True)]
sheet_key = Annotated[int, mapped_column(ForeignKey("sheets.id", ondelete="CASCADE"))]
product_key = Annotated[int, mapped_column(ForeignKey("products.id", ondelete="CASCADE"))]
claim_key = Annotated[int, mapped_column(ForeignKey("claims.id", ondelete="CASCADE"))]
moment = Annotated[datetime, mapped_column(UtcTime)]

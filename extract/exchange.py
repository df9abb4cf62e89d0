"""Readings as JSON between the reading process and the program, compact, and checked when they arrive."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

from extract.claims import (
    Box,
    PageGeometry,
    PageText,
    PageWord,
    SheetHeader,
    SheetReading,
    claim_from_json,
    claim_to_json,
)

MOST_READINGS = 100
MOST_CLAIMS = 20_000
MOST_PAGES = 200
MOST_WORDS = 100_000
LONGEST_TEXT = 20_000
"""Characters in one text of a reading."""
_UNIT = 100.0
"""Boxes of words travel as whole hundredths of a point."""


class BadReading(ValueError):
    """What came from the reading process has another shape or is too large."""


def reading_to_json(reading: SheetReading) -> dict[str, Any]:
    """The reading as plain JSON values."""
    return {
        "header": asdict(reading.header),
        "claims": [claim_to_json(c, why=True) for c in reading.claims],
        "pages": [_page_to_json(p) for p in reading.pages],
        "problems": list(reading.problems),
        "reader": reading.reader,
    }


def reading_from_json(data: Mapping[str, Any]) -> SheetReading:
    """Inverse of reading_to_json. Raises BadReading on data of another shape or beyond the limits of this module."""
    try:
        _limit("claims", len(data["claims"]), MOST_CLAIMS)
        _limit("pages", len(data["pages"]), MOST_PAGES)
        _limit("problems", len(data["problems"]), 10_000)
        for claim in data["claims"]:
            _limit("quote", len(claim["evidence"]["quote"]), LONGEST_TEXT)
        return SheetReading(
            header=_header(data["header"]),
            claims=tuple(claim_from_json(c) for c in data["claims"]),
            pages=tuple(_page_from_json(p) for p in data["pages"]),
            problems=tuple(str(p)[:LONGEST_TEXT] for p in data["problems"]),
            reader=str(data["reader"]),
        )
    except BadReading:
        raise
    except (KeyError, TypeError, ValueError, AttributeError, IndexError) as error:
        raise BadReading(str(error)) from error


def _limit(what: str, size: int, most: int) -> None:
    if size > most:
        raise BadReading(f"{size} {what}, at most {most}")


def _header(data: Mapping[str, Any]) -> SheetHeader:
    for name, value in data.items():
        if isinstance(value, str):
            _limit(name, len(value), LONGEST_TEXT)
        elif value is not None and not isinstance(value, (int, bool)):
            raise BadReading(f"header field {name}")
    return SheetHeader(**data)


def _page_to_json(page: PageText) -> dict[str, Any]:
    g = page.geometry
    return {
        "number": page.number,
        "geometry": [list(g.mediabox), list(g.cropbox), g.rotation],
        "words": [w.text for w in page.words],
        "boxes": [round(v * _UNIT) for w in page.words for v in w.box],
        "from_picture": page.from_picture,
    }


def _page_from_json(data: Mapping[str, Any]) -> PageText:
    words, flat = data["words"], data["boxes"]
    _limit("words", len(words), MOST_WORDS)
    if len(flat) != 4 * len(words):
        raise BadReading("words and boxes do not pair")
    media, crop, rotation = data["geometry"]
    return PageText(
        number=int(data["number"]),
        geometry=PageGeometry(_box(media), _box(crop), int(rotation)),
        words=tuple(
            PageWord(
                str(text)[:LONGEST_TEXT],
                (flat[i] / _UNIT, flat[i + 1] / _UNIT, flat[i + 2] / _UNIT, flat[i + 3] / _UNIT),
            )
            for i, text in zip(range(0, len(flat), 4), words, strict=True)
        ),
        from_picture=bool(data["from_picture"]),
    )


def _box(values: Any) -> Box:
    x0, y0, x1, y1 = (float(v) for v in values)
    return (x0, y0, x1, y1)

"""The one grammar of figures: numbers with units, ranges, bounds, number words.

It reads folded text (extract.document.fold) and never guesses a unit. Offsets are into the text given, so
that a figure's words and their boxes come from the same match.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

from extract.bounds import Bound, bound_around
from extract.numbers import NUMBER, number_value
from extract.quantity import Quantity
from extract.units import CANONICAL, Dimension, unit_pattern, units
from extract.worded import worded_quantities

__all__ = ["Bound", "Quantity", "find_quantities", "read_cell"]


_UNITS, _GROUPS = unit_pattern()
_FILLER = (
    r"(?:\s(?:full|clear|whole|further|more|working|good|calendar|consecutive|additional|complete|thin|light|medium|"
    r"wet|even|normal|heavy|single|double|uniform|generous|cross|crossed|solid|spray|hiding|gentle|dry|mist|closed|"
    r"cross-))"
)
_TOKEN = re.compile(
    rf"(?<![a-z0-9µ½¼¾⅓⅔⅛⅜])(?:(?<![a-z]-)|(?<=[°º][cf]-))(?<!\d[.,/])(?:{NUMBER})(?:(?P<gap>{_FILLER}{{1,3}}\s|\s*|-(?=[a-z]{{3}})|\)\s?(?=[a-z]{{4}}))(?P<unit>{_UNITS}))?"
)

# --- what stands between and around ---------------------------------------------------------------------------------

_TOLERANCE = re.compile(r"\s*(?:±|\+\s?/\s?-|\+-)\s*")
_JOIN = re.compile(r"(?:\s*(?:-|to|till|\.\.\.?|…|~|to max\.?|up to)\s*(?:approx\.?|about|max\.?)?\s*|\s+or\s+)")
_AND = re.compile(r"\s*(?:and|&)\s*")
_BETWEEN = re.compile(r"\b(?:between|from)\s*(?:approx\.?|about)?\s*$")
_COMPOUND = re.compile(r"\.?\s*(?:and|,)?\s*")
_SECOND_PRINT = re.compile(r"\.?\s*(?:[(\[/=]|or|,)\s*(?:approx\.?|about|ca\.?|=|or|~|max\.?|min\.?)?\s*")
_CLOSES = re.compile(r"\.?\s*(?:max\.?|min\.?)?\s*[)\]]")

_DEW_AFTER = re.compile(
    r"\.?\s*(?:\([^)]*\)\s*)?(?:or more\s*|minimum\s*|min\.?\s*|higher\s*)?"
    r"(?:above|over|higher than|more than|warmer than)"
    r"\s+(?:the\s+|its\s+|that of\s+)?(?:actual\s+|ambient\s+|local\s+|air's\s+|current\s+)?"
    r"(?:dew[- ]?\s?point|points? of (?:the )?(?:dew|condensation))"
)


_BRACKETED_DEGREES = re.compile(r"\.?\s*(?:\(\s*-?\d|(?:above|over) the dew)")


@dataclass(frozen=True, slots=True)
class _Token:
    start: int
    end: int
    value: float
    unit: str | None
    text: str
    signed: bool = False
    number_end: int = 0


@lru_cache(maxsize=8192)
def find_quantities(folded: str, default_unit: str | None = None) -> tuple[Quantity, ...]:
    """Every figure of a folded text, in order, without overlaps.

    default_unit is the unit id that bare numbers take, for table cells whose head holds the unit; without it a
    bare number is no quantity. Where a figure is printed in two units the first is kept, and end takes in both.
    """
    taken: list[Quantity] = [*worded_quantities(folded)]
    blocked = [(q.start, q.end) for q in taken]
    tokens = [t for t in _tokens(folded) if not any(t.start < e and s < t.end for s, e in blocked)]
    found = [*taken, *_combine(folded, tokens, default_unit)]
    found.sort(key=lambda q: q.start)
    return tuple(_bounded(folded, _first_prints(folded, found)))


def read_cell(folded: str, default_unit: str | None = None) -> Quantity | None:
    """The only figure of a short text, or None where there is none or more than one."""
    found = find_quantities(folded, default_unit)
    return found[0] if len(found) == 1 else None


def _tokens(text: str) -> Iterator[_Token]:
    for m in _TOKEN.finditer(text):
        unit = _unit_of(m)
        if m.group("article"):
            # 'a day', 'an hour': only a time takes an article for one.
            if unit is None or units()[unit].dimension is not Dimension.TIME or len(m.group("unit")) < 3:
                continue
            yield _Token(m.start(), m.end(), 1.0, unit, m.group(), number_end=m.end("article"))
            continue
        number = m.group("digits") or m.group("word")
        end = m.end()
        number_end = m.end("digits") if m.group("digits") else m.end("word")
        if unit is not None and not _plausible(text, m, unit):
            unit = None
        if (m.group("gap") or "").startswith(")") and not text.endswith("(", 0, m.start()):
            unit = None  # only 'twelve (12) months'
        if unit is None:
            end = number_end
        elif (m.group("gap") or "").strip(" -)") and units()[unit].dimension not in {Dimension.TIME, Dimension.COUNT}:
            unit, end = None, number_end
        value = number_value(number, unit)
        if unit in {"degC", "degF"}:
            value, unit = _ungarbled(m, value, unit)
        signed = m.group("sign") is not None
        if m.group("sign") == "-" and (unit is None or units()[unit].dimension is Dimension.TEMPERATURE):
            value = -value
        if unit == "in" and m.group("unit") == '"' and value >= 8:
            unit = "s"
        yield _Token(m.start(), end, value, unit, text[m.start() : end], signed, number_end)


def _unit_of(m: re.Match[str]) -> str | None:
    if not m.group("unit"):
        return None
    spelled = m.group(*_GROUPS)
    return next((unit for unit, found in zip(_GROUPS.values(), spelled, strict=True) if found), None)


def _plausible(text: str, m: re.Match[str], unit: str) -> bool:
    """Whether a short unit really is one here: 'in', 'c', 'f', 'of', 'u' and a double quote are other things too."""
    spelled = m.group("unit")
    number = m.group("digits") or ""
    after = text[m.end() : m.end() + 2]
    glued = not m.group("gap")
    if spelled == "in":
        fraction = any(c in number for c in ".,/½¼¾")
        return fraction or not after.strip() or after[0] in ".)"
    if spelled in {"c", "f"}:
        listed = text[: m.start()].rstrip().endswith(("/", "(", "-"))
        # '2C' is a paint of two components, as '2K' is.
        packs = spelled == "c" and number in {"1", "2", "3"} and not listed
        telling = len(number) > 1 or (glued and not packs) or listed or bool(_BRACKETED_DEGREES.match(text, m.end()))
        return bool(number) and not after.startswith(("&", "-")) and telling
    if spelled == "of" or (spelled == "oc" and not number):
        return bool(number) and glued
    if spelled in {"'c", "'f", "o c", "o f"}:
        return bool(number)
    if spelled in {'"', "'"}:
        return bool(number) and text[m.start() - 1 : m.start()] != spelled and not after[:1].isalnum()
    if spelled in {"m", "s", "d", "h", "g", "l", "u", "w", "v", "p"}:
        return bool(number) and not after.startswith(("&", "-"))
    if unit == "deg":
        return True
    return True


def _ungarbled(m: re.Match[str], value: float, unit: str) -> tuple[float, str]:
    """A degree sign that came out as a superscript zero: '200c' is 20 degC, '730f' 73 degF."""
    spelled, number = m.group("unit"), m.group("digits") or ""
    if spelled not in {"c", "f"} or m.group("gap") or not re.fullmatch(r"\d{3,4}", number) or number[-1] != "0":
        return value, unit
    shorter = int(number[:-1])
    limit = 150 if unit == "degC" else 300
    return (float(shorter), unit) if shorter <= limit else (value, unit)


def _combine(text: str, tokens: list[_Token], default_unit: str | None) -> Iterator[Quantity]:
    i = 0
    while i < len(tokens):
        first = tokens[i]
        i += 1
        first, i = _take_compound(text, first, tokens, i)
        first, i = _take_tolerance(text, first, tokens, i)
        low, high, unit, end = first.value, first.value, first.unit, first.end
        if i < len(tokens):
            second, after = tokens[i], i + 1
            second, after = _take_compound(text, second, tokens, after)
            second, after = _take_tolerance(text, second, tokens, after)
            joined = _joined(text, first, second)
            if joined is None and _is_bracketed_twin(text, first, second) and after < len(tokens):
                # 'between 50 °F (10 °C) and 90 °F (32 °C)'
                over = replace(first, end=_after_bracket(text, second.end))
                joined = _joined(text, over, tokens[after])
                if joined is not None:
                    second, after = tokens[after], after + 1
            if joined is not None:
                low, high, unit = joined
                # A unit printed after the first figure only stands before the second.
                end = max(second.end, first.end)
                i = after
        if unit is None and default_unit is not None and text[end : end + 1].isalpha():
            continue  # the '2' of '2K'
        unit = unit or default_unit
        if unit is None:
            continue
        yield _quantity(text, first.start, end, low, high, unit)


def _is_bracketed_twin(text: str, first: _Token, second: _Token) -> bool:
    if first.unit is None or second.unit is None or first.unit == second.unit:
        return False
    if units()[first.unit].dimension is not units()[second.unit].dimension:
        return False
    return bool(re.fullmatch(r"\s*[(\[/]\s*", text[first.end : second.start]))


def _after_bracket(text: str, end: int) -> int:
    closing = re.match(r"\s*[)\]]", text[end:])
    return end + closing.end() if closing else end


def _take_compound(text: str, token: _Token, tokens: list[_Token], i: int) -> tuple[_Token, int]:
    """'1 h 30', '2 hours 30 minutes', '1 day and 12 hours'."""
    if token.unit not in {"h", "d"} or i >= len(tokens) or token.value % 1:
        return token, i
    following = tokens[i]
    gap = text[token.end : following.start]
    if following.signed or not _COMPOUND.fullmatch(gap):
        return token, i
    table = units()
    if (
        following.unit in {"min", "h"}
        and table[following.unit].factor < table[token.unit].factor
        and gap.strip() != ","
    ):
        extra = following.value * table[following.unit].factor
        if following.value >= (60 if following.unit == "min" else 24):
            return token, i
    elif token.unit == "h" and following.unit is None and following.value in {5, 10, 15, 20, 30, 40, 45, 50}:
        if gap.strip() or not re.fullmatch(r"\d\d", following.text):
            return token, i
        extra = following.value
    else:
        return token, i
    value = token.value + extra / table[token.unit].factor
    return _Token(token.start, following.end, value, token.unit, text[token.start : following.end]), i + 1


def _take_tolerance(text: str, token: _Token, tokens: list[_Token], i: int) -> tuple[_Token, int]:
    """'50 ± 5 µm': the nominal figure stays."""
    if i >= len(tokens):
        return token, i
    following = tokens[i]
    gap = text[token.end : following.start]
    if not _TOLERANCE.fullmatch(gap) and not (following.signed and _TOLERANCE.fullmatch(gap + "-")):
        return token, i
    unit = token.unit or following.unit
    if token.unit in {"degC", "degF", "deg"} or following.unit in {token.unit, None} or token.unit is None:
        return _Token(token.start, following.end, token.value, unit, text[token.start : following.end]), i + 1
    return token, i


def _joined(text: str, a: _Token, b: _Token) -> tuple[float, float, str | None] | None:
    """The two ends of a range in printed figures of one unit, or None where they are two figures."""
    gap = text[a.end : b.start]
    b_value = b.value
    if b.signed and b.text.startswith("-") and not gap.strip() and (b.unit is None or "deg" not in b.unit or not gap):
        # '5 -10': the sign is the dash of a range.
        b_value, gap = abs(b.value), gap + "-"
    gap_ok = bool(_JOIN.fullmatch(gap))
    if not gap_ok and _AND.fullmatch(gap):
        gap_ok = bool(_BETWEEN.search(text[: a.start]))
    if not gap_ok and "..." not in gap:
        return None
    if a.unit is None and b.unit is None:
        unit = None
    elif a.unit is None or (a.unit == "deg" and b.unit in {"degC", "degF"}):
        unit = b.unit
    elif b.unit is None:
        if gap.strip().startswith("or"):
            return None
        unit = a.unit
    else:
        unit = b.unit
        if units()[a.unit].dimension is not units()[b.unit].dimension:
            return None
        if a.unit != b.unit:
            a_value = units()[unit].printed(units()[a.unit].canonical(a.value)) if unit else a.value
            return (a_value, b_value, unit) if a_value <= b_value else None
    if unit in {"coat"} and gap.strip() not in {"-", "to", "or"}:
        return None
    if a.value > b_value:
        return None
    return a.value, b_value, unit


def _quantity(text: str, start: int, end: int, low: float, high: float, unit_id: str) -> Quantity:
    unit = units()[unit_id]
    dimension = unit.dimension
    return Quantity(
        start=start,
        end=end,
        low=unit.canonical(low),
        high=unit.canonical(high),
        unit=CANONICAL[dimension],
        dimension=dimension,
        printed=text[start:end],
        printed_low=low,
        printed_high=high,
        printed_unit=unit_id,
        lead=start,
    )


def _first_prints(text: str, found: list[Quantity]) -> Iterator[Quantity]:
    """Drops the second printing of a figure in another unit: '60-95 °F (16-35 °C)', '10 mils / 250 µm'."""
    i = 0
    while i < len(found):
        q = found[i]
        i += 1
        while i < len(found) and _is_second_print(text, q, found[i]):
            end = found[i].end
            if q.word:
                # 'overnight (16 h)': the brackets say what the word means here.
                meant = found[i]
                q = replace(meant, start=q.start, lead=q.lead, word="", approximate=True)
            closing = _CLOSES.match(text, end)
            q = replace(q, end=closing.end() if closing else end, printed=text[q.start : end])
            i += 1
        yield q


def _is_second_print(text: str, q: Quantity, other: Quantity) -> bool:
    gap = text[q.end : other.start]
    if q.word and q.dimension is other.dimension:
        return bool(re.fullmatch(r"\s*[(\[,=]?\s*(?:min\.?|at least|approx\.?|about|i\.e\.)?\s*", gap)) and "(" in gap
    if q.dimension is not other.dimension or q.printed_unit == other.printed_unit or q.word or other.word:
        return False
    if not _SECOND_PRINT.fullmatch(gap):
        return False
    bracketed = gap.strip(". ")[:1] in {"(", "["}
    if q.dimension is Dimension.TEMPERATURE:
        return bracketed or min(abs(q.value - other.value), abs((q.high or q.value) - other.value)) <= 2.5
    if q.dimension is Dimension.GRADE:
        return False
    a, b = q.value, other.value
    return abs(a - b) <= (0.3 if bracketed else 0.12) * max(abs(a), abs(b))


def _bounded(text: str, found: Iterator[Quantity]) -> Iterator[Quantity]:
    previous_end = 0
    for q in found:
        bound, approximate, lead, end = bound_around(text, q.start, q.end, previous_end)
        if q.word:
            bound, lead, end = q.bound, q.start, q.end
        approximate = approximate or q.approximate
        margin = q.dimension is Dimension.TEMPERATURE and _DEW_AFTER.match(text, q.end)
        previous_end = end
        yield _with_bound(replace(q.as_difference() if margin else q, approximate=approximate, lead=lead), bound)


def _with_bound(q: Quantity, bound: Bound) -> Quantity:
    """A bound on a range leaves the range ('max. 10-15' is printed, and means 10 to 15)."""
    if bound is Bound.NONE or q.word or q.low != q.high:
        return q
    if bound is Bound.LEAST:
        return replace(q, bound=bound, high=None, printed_high=None)
    return replace(q, bound=bound, low=None, printed_low=None)

"""Grades of cleaned steel on the scales that sheets print: ISO 8501-1, SSPC, NACE, the old Swedish and British ones."""

from __future__ import annotations

from dataclasses import dataclass

from store.sums.result import Result


@dataclass(frozen=True, slots=True)
class Grade:
    """What one degree of cleaning is called; '' where a scale has none. meaning in plain words."""

    iso: str
    sspc: str
    nace: str
    british: str
    meaning: str

    @property
    def name(self) -> str:
        return self.iso or self.sspc


GRADES: tuple[Grade, ...] = (
    Grade("Sa 1", "SP 7", "No. 4", "", "light blast cleaning: what is loose is off"),
    Grade("", "SP 14", "No. 8", "", "industrial blast cleaning: at most 10 % tight residue"),
    Grade("Sa 2", "SP 6", "No. 3", "third quality", "thorough blast cleaning: stains on at most a third"),
    Grade("Sa 2½", "SP 10", "No. 2", "second quality", "very thorough blast cleaning: stains on at most 5 %"),
    Grade("Sa 3", "SP 5", "No. 1", "first quality", "blast cleaned to visually clean steel"),
    Grade("St 2", "SP 2", "", "", "thorough hand and power tool cleaning"),
    Grade("St 3", "SP 3", "", "", "very thorough hand and power tool cleaning"),
    Grade("", "SP 11", "", "", "power tools to bare metal, with a profile of 25 µm and more"),
)
_SOURCE = "public comparison tables, three agreeing; percentages from SSPC descriptions"
_VALID = (
    "about equal only: written and pictured grades are not the same; A to D before a grade is the rust it began with"
)


def called(grade: str, scale: str) -> Result | None:
    """The word is what the grade (by its name) is called on 'iso', 'sspc', 'nace' or 'british'; None without one.

    value is the place in GRADES. Raises KeyError on an unknown grade.
    """
    place = next((n for n, one in enumerate(GRADES) if one.name == grade), None)
    if place is None:
        raise KeyError(grade)
    word = getattr(GRADES[place], scale)
    if not word:
        return None
    return Result(place, "", f"{grade}: {GRADES[place].meaning}", _SOURCE, _VALID, word=str(word))

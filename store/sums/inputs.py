"""What a bench sum asks for and gives, as values: the window and the command line are made from these."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from store.sums.result import OutOfRange, Result


@dataclass(frozen=True, slots=True)
class Asked:
    """A figure in unit. first stands there to begin with; where needed is False it may be left out."""

    name: str
    unit: str
    first: float | None = None
    needed: bool = True


@dataclass(frozen=True, slots=True)
class Several:
    """As many figures in unit as there are."""

    name: str
    unit: str


@dataclass(frozen=True, slots=True)
class Choice:
    """One of options, the first of which stands there to begin with unless first names another."""

    name: str
    options: tuple[str, ...]
    first: str = ""

    @property
    def beginning(self) -> str:
        return self.first or self.options[0]


@dataclass(frozen=True, slots=True)
class Given:
    """What was typed and chosen."""

    figures: Mapping[str, float]
    choices: Mapping[str, str]
    rows: Mapping[str, tuple[float, ...]] = field(default_factory=dict)

    def __getitem__(self, name: str) -> float:
        return self.figures[name]

    def get(self, name: str, otherwise: float = 0.0) -> float:
        return self.figures.get(name, otherwise)

    def whole(self, name: str) -> int:
        """A figure that must be a whole number. Raises OutOfRange where it is not."""
        value = self.figures[name]
        if value != int(value):
            raise OutOfRange(name, value, None, None, "")
        return int(value)


@dataclass(frozen=True, slots=True)
class Worked:
    """One figure that came out; name says which."""

    name: str
    result: Result


@dataclass(frozen=True, slots=True)
class Sum:
    """name is its word on the command line."""

    name: str
    inputs: tuple[Asked | Several | Choice, ...]
    work: Callable[[Given], tuple[Worked, ...]]

    def asked(self) -> tuple[Asked, ...]:
        return tuple(i for i in self.inputs if isinstance(i, Asked))

    def rows(self) -> tuple[Several, ...]:
        return tuple(i for i in self.inputs if isinstance(i, Several))

    def choices(self) -> tuple[Choice, ...]:
        return tuple(i for i in self.inputs if isinstance(i, Choice))

    def lacking(self, given: Given) -> tuple[str, ...]:
        """Names of figures that are needed and not there, in the order in which they are asked for."""
        return tuple(
            i.name
            for i in self.inputs
            if (isinstance(i, Asked) and i.needed and i.name not in given.figures)
            or (isinstance(i, Several) and not given.rows.get(i.name))
        )

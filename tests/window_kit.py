"""What the window's tests are made with: readings made of sentences, a reader and a drawer that need no process."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtWidgets import QApplication, QWidget

from app.filing.queue import Reader
from app.jobs import InlineRunner
from app.notices import Tray
from app.now import Now, now_here
from app.page_pane.pictures import PageDrawer
from app.printing.outlets import Outlets
from app.settings import Settings
from app.theme.theme import Theme
from app.wiring import Runners, Wiring, open_library
from extract.claims import (
    Claim,
    Evidence,
    Method,
    PageGeometry,
    PageText,
    PageWord,
    SheetHeader,
    SheetReading,
    Stance,
    Topic,
)
from extract.errors import ReadError
from extract.version import READER_VERSION

A4 = (0.0, 0.0, 595.0, 842.0)
LEFT, TOP, LINE, LETTER = 56.0, 120.0, 22.0, 5.4


def claim(
    quote: str,
    topic: Topic = Topic.GOES_OVER,
    name: str | None = None,
    stance: Stance = Stance.PERMITS,
    *,
    object_: str | None = None,
    confidence: float = 0.9,
    page: int = 1,
    **figures: object,
) -> Claim:
    """A claim whose sentence still has to be put on a page."""
    made = Claim(topic, name, stance, Evidence(page, quote, ()), object=object_, confidence=confidence)
    return replace(made, **figures)  # type: ignore[arg-type]


def reading(
    product: str,
    claims: Sequence[Claim],
    *,
    maker: str = "Hollin & Reeve",
    kind: str | None = "primer.epoxy.2k",
    issued: str | None = "2024-03-01",
    problems: tuple[str, ...] = (),
) -> SheetReading:
    """A reading with every sentence on its page, a line each, the product's name on top."""
    pages: list[PageText] = []
    placed: dict[int, Claim] = {}
    for number in range(1, max((c.evidence.page for c in claims), default=1) + 1):
        words: list[PageWord] = list(_line(product, 72.0))
        at: dict[str, float] = {}
        for index, one in enumerate(claims):
            if one.evidence.page != number:
                continue
            top = at.setdefault(one.evidence.quote, TOP + LINE * len(at))
            width = LETTER * len(one.evidence.quote)
            box = (LEFT, top, LEFT + width, top + 12)
            placed[index] = replace(one, evidence=Evidence(number, one.evidence.quote, (box,)))
        for quote, top in at.items():
            words.extend(_line(quote, top))
        pages.append(PageText(number, PageGeometry(A4, A4, 0), tuple(words)))
    header = SheetHeader("", "", len(pages), maker, product, None, kind, issued, None, "en")
    return SheetReading(header, tuple(placed[i] for i in range(len(claims))), tuple(pages), problems, READER_VERSION)


def _line(text: str, top: float) -> Iterator[PageWord]:
    x = LEFT
    for word in text.split():
        yield PageWord(word, (x, top, x + LETTER * len(word), top + 12))
        x += LETTER * (len(word) + 1)


@dataclass
class PreparedReader:
    """Hands out prepared readings, or raises prepared errors, by file name."""

    readings: Mapping[str, SheetReading | Sequence[SheetReading] | ReadError]
    passwords: Mapping[str, str] = ()  # type: ignore[assignment]
    pages_said: int = 2

    def __call__(
        self,
        pdf: bytes,
        file_name: str,
        *,
        password: str | None,
        progress: Callable[[int, int], None],
        cancelled: threading.Event,
    ) -> tuple[SheetReading, ...]:
        from extract.errors import PasswordNeeded  # noqa: PLC0415

        wanted = dict(self.passwords).get(file_name)
        if wanted is not None and password != wanted:
            raise PasswordNeeded(wrong=password is not None)
        for page in range(1, self.pages_said + 1):
            progress(page, self.pages_said)
        prepared = self.readings[file_name]
        if isinstance(prepared, ReadError):
            raise prepared
        return (prepared,) if isinstance(prepared, SheetReading) else tuple(prepared)


class WordDrawer:
    """Draws a page of ruled grey lines, so that a pane has something to show without a process."""

    def __init__(self) -> None:
        self.drawn: list[tuple[Path, int, float]] = []

    def draw(self, pdf: Path, page: int, scale: float) -> QImage:
        self.drawn.append((pdf, page, scale))
        image = QImage(round(595 * scale), round(842 * scale), QImage.Format.Format_RGB32)
        image.fill(Qt.GlobalColor.white)
        painter = QPainter(image)
        painter.scale(scale, scale)
        for line in range(30):
            painter.fillRect(56, int(TOP + LINE * line + 3), 460 - (line * 53) % 160, 6, QColor("#888888"))
        painter.end()
        return image

    def close(self) -> None:
        """Nothing is held."""


class PickedFiles:
    """Stands in for the system's dialogs."""

    def __init__(self, *paths: Path) -> None:
        self.paths = paths

    def files(self, parent: QWidget) -> tuple[Path, ...]:
        return self.paths

    def folder(self, parent: QWidget) -> tuple[Path, ...]:
        return self.paths


def inline() -> Runners:
    """All work at once, on the main thread."""
    return Runners(InlineRunner(), InlineRunner(), InlineRunner())


@contextmanager
def window(
    folder: Path,
    reader: Reader,
    *,
    drawer: PageDrawer | None = None,
    runners: Runners | None = None,
    dark: bool | None = False,
    chooser: PickedFiles | None = None,
    outlets: Outlets | None = None,
    now: Now = now_here,
    tray: Tray | None = None,
) -> Iterator[Wiring]:
    """The real window on a library in a folder, shown and with the library open; closed at the end."""
    application = QApplication.instance()
    assert isinstance(application, QApplication)
    wiring = Wiring(
        lambda: open_library(folder / "library"),
        Theme(application, dark=dark),
        Settings(folder / "window.ini"),
        runners or inline(),
        reader=reader,
        drawer=drawer or WordDrawer(),
        chooser=chooser or PickedFiles(),
        outlets=outlets,
        now=now,
        tray=tray,
    )
    wiring.window.show()
    wiring.open_library()
    try:
        yield wiring
    finally:
        wiring.window.close()
        wiring.close()
        wiring.window.deleteLater()
        wiring.theme.deleteLater()
        wiring.deleteLater()
        application.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)


KEEPER = reading(
    "Kestrel Bond 40",
    [
        claim("Apply over clean bare steel, abraded P180 to P240.", object_="surface.steel"),
        claim("Do not apply over acid etch primers.", stance=Stance.FORBIDS, object_="primer.etch", confidence=0.55),
        claim("Suitable over sound, abraded old paintwork.", object_="finish.old"),
        claim("May be overcoated with polyester fillers.", Topic.TOPPED_BY, object_="filler.polyester", page=1),
        claim(
            "Recoat after 1 hour and within 3 days at 20 °C.",
            Topic.OVERCOAT_WINDOW,
            "window",
            Stance.STATES,
            low=60.0,
            high=4320.0,
            unit="min",
            at_c=20.0,
        ),
        claim(
            "The cured film is waterproof and may stand outdoors for eight weeks.",
            Topic.EXPOSURE,
            "outdoors",
            high=80640.0,
            unit="min",
            page=2,
        ),
        claim("Mix 4:1 by volume.", Topic.MIXING, "ratio", Stance.STATES, parts=(4.0, 1.0), basis="volume", page=2),
        claim(
            "Dry to sand in 4 hours at 20 °C.",
            Topic.DRYING,
            "sand",
            Stance.STATES,
            low=240.0,
            high=240.0,
            unit="min",
            at_c=20.0,
            method=Method.AIR,
            page=2,
        ),
        claim("The hardener contains isocyanates.", Topic.SAFETY, "isocyanate", Stance.STATES, page=2),
    ],
)

ETCH = reading(
    "Larkrise Etch 7",
    [
        claim("For bare steel and aluminium.", object_="surface.steel"),
        claim("For bare steel and aluminium.", object_="surface.aluminium"),
        claim("Do not coat with polyester filler.", Topic.TOPPED_BY, stance=Stance.FORBIDS, object_="filler.polyester"),
    ],
    maker="Ferrow Works",
    kind="primer.etch.1k",
    issued="2022-11-01",
)

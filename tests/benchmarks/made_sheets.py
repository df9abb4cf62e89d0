"""Data sheets by the hundred, no two alike: for measuring speed on words that have not been read before.

The products, makers and figures are drawn at random from a seed; the wordings are the trade's usual ones, in our words.
"""

from __future__ import annotations

import io
import random
from collections.abc import Iterator

from reportlab.lib.pagesizes import A4, letter
from reportlab.lib.styles import ParagraphStyle, getSampleStyleSheet
from reportlab.platypus import Flowable, ListFlowable, ListItem, Paragraph, SimpleDocTemplate, Spacer, Table

_SYLLABLES = ("bor", "ta", "vel", "quin", "mos", "der", "lan", "fi", "gro", "sel", "nor", "pax", "tir", "um", "keth")
_KINDS = (
    "2K epoxy primer",
    "etch primer",
    "high build surfacer",
    "polyester filler",
    "2K clear coat",
    "zinc rich primer",
    "1K acrylic topcoat",
    "seam sealer",
    "wet-on-wet sealer",
    "stone-chip coating",
)
_SURFACES = (
    "bare steel",
    "blast-cleaned steel",
    "galvanised steel",
    "aluminium",
    "glass fibre laminates",
    "old paintwork in sound order",
    "cathodic dip primer",
    "polyester fillers",
    "epoxy primers",
    "thermoplastic acrylics",
    "bitumen",
    "rusted metal",
    "zinc plated parts",
)
_COATS = (
    "2K surfacers",
    "water-based base coats",
    "2K solid colours",
    "polyester putties",
    "synthetic enamels",
    "clear coats",
    "seam sealers",
    "nitrocellulose lacquers",
    "epoxy primers",
    "acid-curing materials",
)
_PRAISE = (
    "{name} is a {kind} for use in the repair shop and on commercial vehicles.",
    "It flows well, sands without clogging and holds the edge of a repair.",
    "The film keeps its colour for years and resists fuel, road salt and weak acids once it has cured.",
    "{name} is made for spraying and may be rolled on small areas of less than {a} cm across.",
    "Drums of {b} l and cans of {c} l are kept in stock in grey, beige and black.",
)
_OVER = (
    "{name} may be put on {s1}, {s2} and {s3} that are clean, dry and abraded with P{g}.",
    "Do not use over {s4} or {s5}.",
    "On {s1} an etch primer is needed first.",
    "Old coatings that can be softened with thinner must be taken off down to the metal.",
)
_WEATHER = (
    "The primed surface is not waterproof and must not be left outdoors for more than {w} days without a topcoat.",
    "Never sand wet: the film takes up water.",
    "The coat withstands weather for {w} weeks before it is overcoated.",
    "Wet sanding with P{g} is possible after {h} hours at 20 °C.",
)
_MIX = (
    "Stir well, then add {p} parts of the hardener to {q} parts of the base by volume.",
    "The mixture can be used for {h} hours at 20 °C; do not thin what has begun to set.",
    "Thin with {t} % of the maker's thinner for a spraying viscosity of {v} s in the DIN 4 cup.",
)
_SAFE = (
    "The hardener contains isocyanates. Wear an air-fed mask when spraying.",
    "For professional use only. Highly flammable liquid and vapour.",
    "Keep in the closed tin between {lo} and {hi} °C; use within {m} months of the date on the label.",
)


def sheets(count: int, seed: int = 1) -> Iterator[tuple[str, bytes]]:
    """File names and PDFs of that many sheets of two pages, the same ones for the same seed."""
    for number in range(count):
        draw = random.Random(seed * 100_003 + number)
        name = f"{_word(draw)} {draw.randrange(100, 999)}"
        yield f"{number:03}-{name.lower().replace(' ', '-')}.pdf", _sheet(draw, name)


def _word(draw: random.Random) -> str:
    return "".join(draw.choices(_SYLLABLES, k=draw.choice((2, 3)))).capitalize()


def _sheet(draw: random.Random, name: str) -> bytes:
    out = io.BytesIO()
    margin = draw.choice((40, 55, 70))
    document = SimpleDocTemplate(
        out,
        pagesize=draw.choice((A4, letter)),
        leftMargin=margin,
        rightMargin=margin,
        topMargin=margin,
        bottomMargin=margin,
        invariant=1,
        title=name,
    )
    document.build(list(_story(draw, name)))
    return out.getvalue()


def _story(draw: random.Random, name: str) -> Iterator[Flowable]:
    looks = getSampleStyleSheet()
    size = draw.choice((8.5, 9, 9.5, 10))
    body = ParagraphStyle("body", parent=looks["BodyText"], fontSize=size, leading=1.3 * size)
    head = ParagraphStyle("head", parent=looks["Heading2"], fontSize=size + draw.choice((1.5, 3)))
    kind = draw.choice(_KINDS)
    words = _words(draw, name, kind)
    yield Paragraph(f"{_word(draw)} Coatings Ltd", body)
    yield Paragraph(name, looks["Title"])
    yield Paragraph(f"Technical data sheet - {kind}", body)
    yield Paragraph(f"Issue {draw.randrange(1, 9)}, {draw.randrange(1, 28)}.{draw.randrange(1, 12):02}.2021", body)
    parts = (
        ("Description", _PRAISE, False),
        ("Substrates", _OVER, draw.random() < 0.5),
        ("Weather", _WEATHER, False),
        ("Mixing", _MIX, draw.random() < 0.5),
    )
    for title, sentences, listed in parts:
        yield Paragraph(title, head)
        said = [s.format_map(words) for s in draw.sample(sentences, k=draw.randrange(2, len(sentences) + 1))]
        if listed:
            yield ListFlowable([ListItem(Paragraph(s, body)) for s in said], bulletType="bullet", start="•")
        else:
            yield Paragraph(" ".join(said), body)
    yield Paragraph("May be overcoated with", head)
    coats = draw.sample(_COATS, k=5)
    yield ListFlowable([ListItem(Paragraph(c, body)) for c in coats], bulletType="bullet", start="•")
    yield Paragraph("Times and figures", head)
    yield _ruled(_times(draw))
    yield Spacer(1, 10)
    yield _ruled(_figures(draw))
    yield Paragraph("Safety and storage", head)
    yield Paragraph(" ".join(s.format_map(words) for s in _SAFE), body)


def _words(draw: random.Random, name: str, kind: str) -> dict[str, object]:
    surfaces = draw.sample(_SURFACES, k=5)
    words: dict[str, object] = {f"s{n}": surface for n, surface in enumerate(surfaces, 1)}
    words |= {"name": name, "kind": kind, "g": draw.choice((80, 120, 180, 240, 320, 400)), "p": draw.randrange(1, 4)}
    words |= {key: draw.randrange(2, 30) for key in "abcwht"}
    return words | {
        "q": draw.randrange(4, 9),
        "v": draw.randrange(16, 30),
        "lo": 5,
        "hi": 30,
        "m": draw.choice((12, 24)),
    }


def _times(draw: random.Random) -> list[list[str]]:
    hot = [draw.randrange(10, 40), draw.randrange(1, 4), draw.randrange(8, 16), draw.randrange(2, 6)]
    rows = [["", "10 °C", "20 °C", "30 °C"]]
    for label, figure, unit in zip(
        ("Dust dry", "Touch dry", "Overcoat after", "Overcoat within"), hot, ("min", "h", "h", "days"), strict=True
    ):
        rows.append([label, f"{2 * figure} {unit}", f"{figure} {unit}", f"{max(figure // 2, 1)} {unit}"])
    return rows


def _figures(draw: random.Random) -> list[list[str]]:
    dry = draw.randrange(20, 120)
    return [
        ["Coats", f"{draw.randrange(1, 3)}-3"],
        ["Dry film", f"{dry}-{dry + 40} µm"],
        ["Coverage", f"{draw.randrange(4, 14)} m²/l at {dry} µm"],
        ["Nozzle", f"1.{draw.randrange(2, 9)} mm"],
        ["Pressure", f"{draw.randrange(2, 4)}.{draw.randrange(10)} bar"],
        ["Pot life", f"{draw.randrange(1, 9)} h at 20 °C"],
        ["Air temperature", f"{draw.randrange(5, 15)} to {draw.randrange(25, 35)} °C"],
        ["Relative humidity", f"at most {draw.randrange(70, 90)} %"],
    ]


def _ruled(rows: list[list[str]]) -> Table:
    return Table(rows, style=[("GRID", (0, 0), (-1, -1), 0.5, "black"), ("FONTSIZE", (0, 0), (-1, -1), 9)])

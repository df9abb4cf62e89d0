"""`tinsheet mix`: what to mix of a product for an area, from its confirmed sentences and what is typed."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterator
from typing import Any

from app.bench_sums.refusals import not_a_figure_words, refusal_words
from app.caution_words import deferring_words, usual_cautions
from app.command_line.asking import unknown_words
from app.command_line.commands import MISUSED
from app.command_line.libraries import opened
from app.figure_words import duration_words
from app.mixing.words import amount_words, cost_words, part_words, ratio_words
from app.product_figures_desk import fetch
from app.typed_figures import NotAFigure, figure_text, read_quantity, read_ratio
from extract.claims import claim_to_json
from store.planning.measuring import Measure, on_marks
from store.planning.mix_job import DensitiesLacking, Mixed, MixJob, mixed, with_film_of_all_coats
from store.planning.product_figures import ProductFigures, Stated
from store.records import ProductRecord
from store.rules.names import Unknown, resolve
from store.sums.result import OutOfRange

_PROPERTIES = {"coats": "coats", "dry_film": "dry", "volume_solids": "volume_solids", "thinner": "thinner"}
_UNITS = {"coats": "coats", "dry_film": "µm", "volume_solids": "%", "thinner": "% of the paint"}


def run(arguments: argparse.Namespace) -> int:
    with opened(arguments, read_only=True) as library:
        meaning = resolve(arguments.product, library.products())
        if isinstance(meaning, Unknown):
            print(unknown_words(meaning), file=sys.stderr)
            return MISUSED
        if not isinstance(meaning, ProductRecord):
            print(f"“{arguments.product}” is a kind, not a product: a product is mixed.", file=sys.stderr)
            return MISUSED
        figures = fetch(library, meaning.id).figures
    try:
        typed = _typed(arguments)
        used = {name: stated for name in typed if (stated := _stated(name, figures, arguments)) is not None}
        lacking = [n for n in ("coats", "dry_film", "volume_solids") if typed[n] is None and n not in used]
        if lacking:
            options = ", ".join(f"--{name.replace('_', '-')}" for name in lacking)
            print(f"No confirmed sentence of {meaning.name} says it: give {options}.", file=sys.stderr)
            return MISUSED
        job = _job(arguments, typed, used)
        found = mixed(job)
    except NotAFigure as fault:
        print(not_a_figure_words(fault.typed), file=sys.stderr)
        return MISUSED
    except OutOfRange as fault:
        print(refusal_words(fault), file=sys.stderr)
        return MISUSED
    except DensitiesLacking:
        print("The ratio goes by weight: give --densities of base and hardener, in kg/l.", file=sys.stderr)
        return MISUSED
    if arguments.json:
        print(json.dumps(_as_json(meaning, job, found, used, figures), ensure_ascii=False, indent=2))
    else:
        print("\n".join(_lines(meaning, job, found, used, figures)))
    return 0


def _typed(arguments: argparse.Namespace) -> dict[str, float | tuple[float, ...] | None]:
    out: dict[str, float | tuple[float, ...] | None] = {}
    for name, unit in _UNITS.items():
        text = getattr(arguments, name)
        out[name] = None if text is None else read_quantity(text, unit)
    out["ratio"] = None if arguments.ratio is None else read_ratio(arguments.ratio)
    return out


def _stated(name: str, figures: ProductFigures, arguments: argparse.Namespace) -> Stated | None:
    """The sheet's figure, where none was typed."""
    return None if getattr(arguments, name) is not None else figures.first(_PROPERTIES.get(name, name))


def _job(
    arguments: argparse.Namespace, typed: dict[str, float | tuple[float, ...] | None], used: dict[str, Stated]
) -> MixJob:
    def figure(name: str) -> float:
        value = typed[name]
        if isinstance(value, float):
            return value
        return (used[name].careful or 0.0) if name in used else 0.0

    ratio = typed["ratio"]
    parts = ratio if isinstance(ratio, tuple) else used["ratio"].claim.parts if "ratio" in used else ()
    basis = arguments.by or (used["ratio"].claim.basis if "ratio" in used else None) or "volume"
    densities, prices = _four(arguments.densities), _four(arguments.prices)
    job = MixJob(
        area=read_quantity(arguments.area, "m²") or 0.0,
        coats=figure("coats"),
        dry=figure("dry_film"),
        solids=figure("volume_solids"),
        loss=read_quantity(arguments.loss, "%") or 0.0,
        parts=parts,
        basis=basis,
        thinner=figure("thinner"),
        thinner_of_mix=arguments.thinner_of == "mix",
        third_is_thinner=arguments.third == "thinner",
        densities=densities[:3],
        thinner_density=densities[3],
        prices=prices[:3],
        thinner_price=prices[3],
        measure=Measure(arguments.measure),
    )
    return with_film_of_all_coats(job) if arguments.film_of == "all" else job


def _four(text: str | None) -> tuple[float | None, ...]:
    """Base, hardener, third, thinner: '1.4 1 - 0.87' or '1.4;1;;0.87'; what is left out is not known."""
    if text is None:
        return (None,) * 4
    items = [item.strip() for item in (text.split(";") if ";" in text else text.split())]
    values = [None if item in {"", "-"} else read_quantity(item, "kg/l") for item in items]
    return tuple([*values, *[None] * 4][:4])


def _as_json(
    product: ProductRecord, job: MixJob, found: Mixed, used: dict[str, Stated], figures: ProductFigures
) -> dict[str, Any]:
    pot = figures.first("pot_life")
    return {
        "product": product.name,
        "given": {
            "area_m2": job.area, "coats": job.coats, "dry_um": job.dry, "volume_solids": job.solids, "loss": job.loss,
            "parts": list(job.parts), "basis": job.basis, "thinner_of_paint": found.thinner_of_paint,
        },
        "needed_ml": found.wanted_ml,
        "ready_ml": found.made.ready_ml,
        "parts": [{"name": p.name, "ml": p.ml, "g": p.g} for p in found.made.parts],
        "cost": found.made.cost,
        "pot_life_min": None if pot is None else pot.careful,
        "cautions": [claim_to_json(rule.claim) for rule in figures.cautions],
        "by_the_sheet": {name: claim_to_json(stated.claim) for name, stated in used.items()},
    }  # fmt: skip


def _lines(
    product: ProductRecord, job: MixJob, found: Mixed, used: dict[str, Stated], figures: ProductFigures
) -> Iterator[str]:
    usual = usual_cautions(rule.claim.property for rule in figures.cautions)
    if usual:
        yield from (*usual, deferring_words(), "")
    yield f"{amount_words(found.made.ready_ml, 'ml', 1)} of {product.name}, ready to spray"
    mark = job.measure.mark if job.measure is not Measure.CUP else 1.0
    for part in found.made.parts:
        weight = "" if part.g is None else f"  ({amount_words(on_marks(part.g, mark), 'g', mark)})"
        yield f"  {part_words(part.name).ljust(16)} {amount_words(part.ml, 'ml', 1)}{weight}"
    if found.made.cost is not None:
        yield f"  costs {cost_words(found.made.cost)}"
    yield (
        f"  {figure_text(job.area)} m² × {figure_text(job.coats)} coats of {figure_text(job.dry)} µm dry ÷ "
        f"{figure_text(job.solids)} % solids, {figure_text(job.loss)} % lost: {found.wanted_ml:.0f} ml"
    )
    if job.parts:
        yield f"  ratio {ratio_words(job.parts)} by {job.basis}"
    else:
        yield "  no mixing ratio is known: taken as one component"
    pot = figures.first("pot_life")
    if pot is not None and pot.careful is not None:
        yield f"  pot life {duration_words(pot.careful)}: {_quoted(pot)}"
    for name, stated in used.items():
        yield f"  {name.replace('_', ' ')} by the sheet: {_quoted(stated)}"


def _quoted(stated: Stated) -> str:
    evidence = stated.claim.evidence
    return f"“{evidence.quote}” ({stated.rule.sheet.product}, p. {evidence.page})"

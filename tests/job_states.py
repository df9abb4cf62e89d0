"""States of the panels and the shelf that are worth looking at: in work, late, outdoors, forms, long names."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date, timedelta

from app.jobs import LibraryChange
from app.now import now_here
from app.wiring import Wiring
from store.job_records import (
    Coat,
    Component,
    Layer,
    OutdoorSpell,
    Panel,
    Preparation,
    PreparationKind,
    Tin,
    TinTake,
)


def fill_job(wiring: Wiring, state: str) -> Iterator[tuple[str, Callable[[], None]]]:
    """Panels and tins of the products at hand, then each picture's name with what brings it about."""
    go = wiring.window.go_to
    now = now_here()
    long = state == "long"
    name = "Seitenwandverlängerung hinten links unten mit Radlaufinnenkante und Schwelleranschluss" if long else ""

    def stock(library: object) -> None:
        products = library.products()  # type: ignore[attr-defined]
        wanted = ("Zweikomponenten",) if long else ("Kestrel", "Keeper")
        epoxy = next((p for p in products if p.name.startswith(wanted)), products[0])
        other = next((p for p in products if p.id != epoxy.id and p.kind and "filler" in p.kind), products[-1])
        add = library.add_tin  # type: ignore[attr-defined]
        tin = add(Tin(epoxy.id, 650, size=1000, batch="7A", place="cellar, left shelf", opened=date.today()))  # noqa: DTZ011
        add(Tin(epoxy.id, 250, component=Component.HARDENER, size=250, made=date(2024, 2, 1), price_per_litre=41.5))
        add(Tin(other.id, 1800, size=3000, bought=date(2026, 3, 1), place="bench"))
        plan = (Layer(product_id=epoxy.id, coats=2), Layer(product_id=other.id), Layer(kind="topcoat.solid.2k"))
        for number, (title, ago) in enumerate(((name or "left front door", 0.2), ("bonnet", 30.0), ("sill", 90.0))):
            made = library.add_panel(Panel(title, "blue estate", "surface.steel", plan))  # type: ignore[attr-defined]
            at = now - timedelta(hours=ago)
            library.log_preparation(  # type: ignore[attr-defined]
                made.id, Preparation(at - timedelta(hours=2), PreparationKind.ABRADED, 180)
            )
            library.log_coat(  # type: ignore[attr-defined]
                made.id,
                Coat(at, epoxy.id, 2, (TinTake(tin.id, 80),), air_c=20, panel_c=19.5, humidity=48, wet_um=120,
                     note="thin at the edge"),
            )  # fmt: skip
            if number:
                library.put_outdoors(made.id, OutdoorSpell(at + timedelta(hours=10)))  # type: ignore[attr-defined]
        library.add_panel(Panel("tailgate", "white van", "finish.old"))  # type: ignore[attr-defined]

    wiring.panels.warmth_form.temperature.set_value(20)
    wiring.desk.write(stock, LibraryChange(job=True))

    def show(number: int) -> Callable[[], None]:
        def panel() -> None:
            go("panels")
            seen = wiring.panels.seen
            assert seen is not None
            wiring.panels.show_panel(seen.held.panels[number].id)

        return panel

    def lower_half() -> None:
        bar = wiring.panels.page.verticalScrollBar()
        bar.setValue(bar.maximum())

    def question() -> None:
        go("shelf")
        wiring.tins.beneath.write("bare steel")
        wiring.tins.look()

    yield "panels-due", lambda: (go("panels"), wiring.panels.show_due())[0]
    for number in range(4):
        yield f"panels-{number}", show(number)
        yield f"panels-{number}-log", lower_half
    yield "panels-coat", lambda: (show(0)(), wiring.panels.log_coat())[0]
    yield "panels-form", wiring.panels._on_change_wanted
    yield "shelf-full", lambda: go("shelf")
    yield "shelf-form", wiring.tins.change
    wiring.tins.form.left.emit()
    yield "shelf-question", question
    wiring.tins.beneath.write("")
    wiring.tins.look()

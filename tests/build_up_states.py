"""States of the build-up's place that are worth looking at: checked, found, in time, as a card."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from app.wiring import Wiring
from store.planning.buildup import BuildUp, Layer
from store.rules.reach import KindParty, ProductParty

_ORDER = ("primer.epoxy", "filler", "surfacer", "topcoat")


def fill_build_ups(wiring: Wiring) -> Iterator[tuple[str, Callable[[], None]]]:
    """With whatever products the library holds, the longest names first."""
    place = wiring.build_up
    products = sorted(wiring.book.products, key=lambda product: -len(product.name))
    coats = [
        Layer(ProductParty(found))
        for kind in _ORDER
        if (found := next((p for p in products if (p.kind or "").startswith(kind)), None)) is not None
    ]
    if len(coats) == 1:
        coats.append(Layer(KindParty("filler.polyester"), after_min=1440.0, abraded=True))

    def check() -> None:
        wiring.window.evidence.close_panel()
        wiring.window.go_to("build_up")
        place.open_build_up(BuildUp((Layer(KindParty("surface.steel")), *coats), 20.0))
        place.editor.choose(1)

    def find() -> None:
        place.show_page(1)
        place.find_page.surface.write("bare steel")
        place.find_page.finish.write("topcoat" if len(coats) > 2 else "polyester filler")
        place.find_page.go.click()

    yield "build-up-check", check
    yield "build-up-find", find
    yield "build-up-time-line", lambda: place.show_page(2)
    yield "build-up-card", lambda: place.show_page(3)

"""States of the bench that are worth looking at: sums worked and refused, a mix with its pot's clock, back-ups."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from app.wiring import Wiring

_SUMS: tuple[tuple[str, dict[str, str]], ...] = (
    ("dew-point", {"surface": "13"}),
    ("paint-needed", {"area": "10", "dry-film": "2 mil", "volume-solids": "50", "profile": "60"}),
    ("mix", {"base-density": "1,4", "hardener-density": "1"}),
    ("cups", {"seconds": "400"}),
)


def fill_bench(wiring: Wiring) -> Iterator[tuple[str, Callable[[], None]]]:
    def working(name: str, typed: dict[str, str]) -> Callable[[], None]:
        return lambda: wiring.window.go_to("sums", (name, typed))

    for name, typed in _SUMS:
        yield f"sums-{name}", working(name, typed)

    def mix() -> None:
        place = wiring.mixing
        wiring.window.go_to("mixing")
        place.product.set_meaning(wiring.book.products[0])
        place.product.meaning_changed.emit(wiring.book.products[0])
        place.form.panels.activated.emit(5)
        place.form.losses.activated.emit(4)
        for name, text in (
            ("coats", "2"),
            ("dry", "60"),
            ("volume_solids", "54"),
            ("pot_life", "180"),
            ("density/base", "1,45"),
        ):
            place.form.lines[name].setText(text)
            place.form.lines[name].figure_typed.emit()
        place.clocks.start()

    yield "mixing-done", mix

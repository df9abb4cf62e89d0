"""States of the places that answer which are worth looking at: verdicts, comparisons, pages, finds."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from PySide6.QtWidgets import QApplication

from app.asking.view import AskingPlace
from app.wiring import Wiring

PAIRS = {
    "demo": (("Biter", "Planor"), ("Keeper", "Planor"), ("CM-120", "Nahtfest"), ("filler", "CM-300 Bedrock")),
    "full": (("bare steel", "Kestrel Bond 40"), ("Larkrise Etch 7", "polyester filler"), ("Kestrel Bond 40", "clear")),
    "long": (
        ("bare steel", "Zweikomponenten-Hochleistungs-Epoxidharzgrundierung mit aktivem Korrosionsschutz 4711/08 grau"),
    ),
}
"""Lower and upper."""


def fill_answers(wiring: Wiring, state: str) -> Iterator[tuple[str, Callable[[], None]]]:
    go = wiring.window.go_to

    def confirm_everything(library: object) -> None:
        for sheet in library.sheets():  # type: ignore[attr-defined]
            claims = library.claims(sheet.id)  # type: ignore[attr-defined]
            if sheet.product.name != "Larkrise Etch 7" and state != "demo":
                library.confirm([claim.id for claim in claims])  # type: ignore[attr-defined]
        if state == "full":
            product = library.products()[0]  # type: ignore[attr-defined]
            library.write_note(product.id, "Sprays best through the 1.6 at 2 bar. Second tin was thin.")  # type: ignore[attr-defined]
            library.add_own_rule(  # type: ignore[attr-defined]
                "surface.steel", product.name, forbids=False, words="blast it first, sanding was not enough",
                source="own experience",
            )  # fmt: skip

    def asking(place: AskingPlace, lower: str, upper: str) -> Callable[[], None]:
        def ask() -> None:
            go("ask")
            place._put(lower, upper)

        return ask

    wiring.desk.read(confirm_everything, lambda _: None)
    for number, (lower, upper) in enumerate(PAIRS[state]):
        yield f"ask-{number}", asking(wiring.asking, lower, upper)

    def ask_beside_its_page() -> None:
        asking(wiring.asking, *PAIRS[state][0])()
        cards = wiring.asking.answer_view.cards
        if cards:
            cards[0].open_button.click()

    def typing() -> None:
        wiring.window.evidence.close_panel()
        go("ask")
        QApplication.processEvents()
        line = wiring.asking.on_top.line
        line.clear()
        line.insert("ep")
        line.textEdited.emit("ep")

    def comparing(count: int) -> Callable[[], None]:
        def compare() -> None:
            go("compare")
            wiring.comparing.bar.set_products(wiring.book.products[:count])
            wiring.comparing.compare()

        return compare

    def with_needs() -> None:
        comparing(3)()
        wiring.comparing._with_needs.setChecked(True)
        needs = wiring.comparing.needs
        needs.surface.write("bare steel")
        needs.filler.write("polyester filler")
        needs.weeks.set_value(8)
        wiring.comparing.compare()

    def compare_beside_its_page() -> None:
        comparing(2)()
        wiring.comparing._with_needs.setChecked(False)
        view = wiring.comparing.view
        view.cell_entered.emit(view.currentIndex())

    def finding() -> None:
        wiring.window.evidence.close_panel()
        go("find", "steel")

    def page(part: int) -> Callable[[], None]:
        def show() -> None:
            go("products", wiring.book.products[0].id)
            wiring.products.page.show_part(part)

        return show

    yield "ask-page", ask_beside_its_page
    yield "ask-typing", typing
    yield "compare-2", comparing(2)
    yield "compare-6", comparing(6)
    yield "compare-needs", with_needs
    yield "compare-page", compare_beside_its_page
    yield "find-steel", finding
    for part in range(3):
        yield f"products-{part}", page(part)

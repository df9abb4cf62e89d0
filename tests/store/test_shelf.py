from __future__ import annotations

import shutil
import tempfile
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from store.errors import WrongEntry
from store.job_records import Coat, Component, Drawn, Panel, Tin, TinTake, Unit
from store.library import Library

NOON = datetime(2026, 3, 28, 12, tzinfo=UTC)


@pytest.fixture
def epoxy(library: Library) -> int:
    return library.add_product("Granat 12", maker="Vellmark", kind="primer.epoxy.2k").id


@pytest.fixture
def door(library: Library) -> int:
    return library.add_panel(Panel("left door")).id


def test_a_tin_comes_back_as_it_was_put_in(library: Library, epoxy: int) -> None:
    tin = Tin(
        epoxy, 800.0, Component.HARDENER, "H 12 slow", Unit.G, 1000.0, "B7", date(2025, 1, 31), date(2025, 2, 1),
        date(2025, 3, 1), "top shelf", 31.5, "dented",
    )  # fmt: skip
    record = library.add_tin(tin)
    assert record.tin == tin
    assert (record.product, record.maker, record.kind) == ("Granat 12", "Vellmark", "primer.epoxy.2k")
    assert library.tins() == (record,)


def test_a_coat_takes_from_its_tins_and_opens_them_and_removing_it_gives_back(
    library: Library, epoxy: int, door: int
) -> None:
    base = library.add_tin(Tin(epoxy, 1000.0, size=1000.0))
    hardener = library.add_tin(Tin(epoxy, 200.0, Component.HARDENER, opened=date(2026, 1, 5)))
    late = datetime(2026, 3, 29, 0, 30, tzinfo=ZoneInfo("Europe/Berlin"))
    record = library.log_coat(door, Coat(late, epoxy, takes=(TinTake(base.id, 400.0), TinTake(hardener.id, 100.0))))
    assert library.tin(base.id).tin.left == 600.0
    assert library.tin(base.id).tin.opened == date(2026, 3, 29), "the day in the painter's own zone"
    assert library.tin(hardener.id).tin.opened == date(2026, 1, 5)
    library.remove_coat(record.coats[0].id)
    assert library.tins() == (base, hardener)


def test_a_coat_that_took_more_than_the_books_say_empties_the_tin_and_gives_back_what_there_was(
    library: Library, epoxy: int, door: int
) -> None:
    tin = library.add_tin(Tin(epoxy, 250.0))
    record = library.log_coat(door, Coat(NOON, epoxy, takes=(TinTake(tin.id, 400.0),)))
    assert library.tin(tin.id).tin.left == 0.0
    assert record.coats[0].drawn == (Drawn(tin.id, 400.0, 250.0, True),)
    coat = record.coats[0].id
    library.change_coat(coat, Coat(NOON, epoxy, takes=(TinTake(tin.id, 150.0),)))
    assert library.tin(tin.id).tin.left == 100.0
    library.remove_coat(coat)
    assert library.tin(tin.id) == tin


def test_undoing_a_coat_restores_its_tins_exactly(library: Library, epoxy: int, door: int) -> None:
    tin = library.add_tin(Tin(epoxy, 0.3))
    library.log_coat(door, Coat(NOON, epoxy, takes=(TinTake(tin.id, 0.1),)))
    assert library.tin(tin.id).tin.left == 0.2
    library.undo_change()
    assert library.tin(tin.id) == tin
    library.redo_change()
    assert library.tin(tin.id).tin.left == 0.2
    assert len(library.panel(door).coats) == 1


def test_a_removed_tin_can_come_back_and_a_removed_panel_gives_nothing_back(
    library: Library, epoxy: int, door: int
) -> None:
    tin = library.add_tin(Tin(epoxy, 500.0))
    library.log_coat(door, Coat(NOON, epoxy, takes=(TinTake(tin.id, 100.0),)))
    library.remove_tin(tin.id)
    assert library.tins() == ()
    assert [t.id for t in library.removed_tins()] == [tin.id]
    library.remove_panel(door)
    assert library.restore_tin(tin.id).tin.left == 400.0, "the paint is used"


@pytest.mark.parametrize(
    ("tin", "field"),
    [
        (Tin(1, -0.1), "left"),
        (Tin(1, float("nan")), "left"),
        (Tin(1, 5.0, size=0.0), "size"),
        (Tin(1, 5.0, size=4.0), "left"),
        (Tin(1, 5.0, price_per_litre=-1.0), "price_per_litre"),
        (Tin(1, 5.0, made=date(2026, 2, 1), opened=date(2026, 1, 31)), "opened"),
    ],
)
def test_a_tin_that_cannot_be_is_refused(library: Library, epoxy: int, tin: Tin, field: str) -> None:
    with pytest.raises(WrongEntry) as raised:
        library.add_tin(tin)
    assert raised.value.field == field
    assert library.tins() == ()
    assert library.next_undo() is None


AMOUNTS = st.floats(0, 700, allow_nan=False).map(lambda x: round(x, 2))


class Shelf(RuleBasedStateMachine):
    """Any run of taking, changing, removing, refilling, undo and redo: never below nothing, and undo restores."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp(prefix="shelf-"))
        self.library = Library.open(self.folder)
        self.product = self.library.add_product("Granat 12").id
        self.door = self.library.add_panel(Panel("door")).id
        self.tins = [self.library.add_tin(Tin(self.product, left)).id for left in (1000.0, 333.33)]
        self.past: list[object] = []
        self.future: list[object] = []

    def teardown(self) -> None:
        self.library.close()
        shutil.rmtree(self.folder)

    def seen(self) -> object:
        return (self.library.tins(), self.library.panel(self.door))

    def about_to(self) -> None:
        self.past.append(self.seen())
        self.future.clear()

    def coat(self, a: float, b: float) -> Coat:
        takes = tuple(TinTake(tin, amount) for tin, amount in zip(self.tins, (a, b), strict=True))
        return Coat(NOON + timedelta(minutes=len(self.past)), self.product, takes=takes)

    @rule(a=AMOUNTS, b=AMOUNTS)
    def log(self, a: float, b: float) -> None:
        self.about_to()
        before = {t.id: t.tin.left for t in self.library.tins()}
        record = self.library.log_coat(self.door, self.coat(a, b))
        for part in record.coats[-1].drawn:
            assert self.library.tin(part.tin_id).tin.left == pytest.approx(before[part.tin_id] - part.taken)
            assert part.taken == min(part.wanted, before[part.tin_id])

    @precondition(lambda self: self.library.panel(self.door).coats)
    @rule(pick=st.integers(0, 20), a=AMOUNTS, b=AMOUNTS)
    def change(self, pick: int, a: float, b: float) -> None:
        coats = self.library.panel(self.door).coats
        self.about_to()
        self.library.change_coat(coats[pick % len(coats)].id, self.coat(a, b))

    @precondition(lambda self: self.library.panel(self.door).coats)
    @rule(pick=st.integers(0, 20))
    def remove(self, pick: int) -> None:
        coats = self.library.panel(self.door).coats
        gone = coats[pick % len(coats)]
        before = {t.id: t.tin.left for t in self.library.tins()}
        self.about_to()
        self.library.remove_coat(gone.id)
        for part in gone.drawn:
            assert self.library.tin(part.tin_id).tin.left == pytest.approx(before[part.tin_id] + part.taken)

    @precondition(lambda self: self.past)
    @rule()
    def undo(self) -> None:
        self.future.append(self.seen())
        self.library.undo_change()
        assert self.seen() == self.past.pop()

    @precondition(lambda self: self.future)
    @rule()
    def redo(self) -> None:
        self.past.append(self.seen())
        self.library.redo_change()
        assert self.seen() == self.future.pop()

    @invariant()
    def never_below_nothing_and_nothing_lost(self) -> None:
        coats = self.library.panel(self.door).coats
        for record, full in zip(sorted(self.library.tins(), key=lambda t: t.id), (1000.0, 333.33), strict=True):
            taken = sum(part.taken for c in coats for part in c.drawn if part.tin_id == record.id)
            assert record.tin.left >= 0
            assert record.tin.left + taken == pytest.approx(full)


Shelf.TestCase.settings = settings(max_examples=15, stateful_step_count=12, deadline=None)
TestShelf = Shelf.TestCase

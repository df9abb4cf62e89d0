from __future__ import annotations

import zipfile
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from store.errors import BackupDamaged, LibraryDamaged, PhotoMissing, UnknownRecord, WrongEntry
from store.job_records import (
    ChangeKind,
    Coat,
    Layer,
    OutdoorSpell,
    Panel,
    Preparation,
    PreparationKind,
    Tin,
    TinTake,
)
from store.library import Library

NOON = datetime(2026, 3, 28, 12, tzinfo=UTC)
PICTURE = b"\xff\xd8\xff picture of a door"


@pytest.fixture
def epoxy(library: Library) -> int:
    return library.add_product("Granat 12", maker="Vellmark", kind="primer.epoxy.2k").id


@pytest.fixture
def door(library: Library, epoxy: int) -> int:
    plan = (Layer(product_id=epoxy, coats=2, dry_um=60.0), Layer(kind="filler.polyester", note="low spots"))
    return library.add_panel(Panel("left door", "the blue estate", "surface.steel", plan)).id


def test_a_panel_comes_back_with_its_plan_and_its_log_in_the_order_of_time(
    library: Library, folder: Path, door: int, epoxy: int
) -> None:
    zone = ZoneInfo("Europe/Berlin")
    late = Coat((NOON + timedelta(days=1)).astimezone(zone), epoxy, 2, (), 18.5, 17.0, 61.0, 120.0, 60.0, "no runs")
    library.log_coat(door, late)
    library.log_coat(door, Coat(NOON, epoxy))
    library.log_preparation(door, Preparation(NOON, PreparationKind.ABRADED, 180))
    library.log_preparation(door, Preparation(NOON - timedelta(hours=1), PreparationKind.DEGREASED))
    library.put_outdoors(door, OutdoorSpell(NOON + timedelta(days=2), note="under the roof"))
    library.close()
    with Library.open(folder) as again:
        record = again.panel(door)
    assert record.panel.plan[1] == Layer(kind="filler.polyester", note="low spots")
    assert record.panel.plan[0] == Layer(product_id=epoxy, coats=2, dry_um=60.0)
    assert [c.coat.at for c in record.coats] == [NOON, NOON + timedelta(days=1)]
    assert record.coats[1].coat == replace(late, at=late.at.astimezone(UTC))
    assert record.coats[1].product == "Granat 12"
    assert [p.preparation.kind for p in record.preparations] == [PreparationKind.DEGREASED, PreparationKind.ABRADED]
    assert record.outdoors is not None
    assert record.outdoors.spell.note == "under the roof"


def test_every_edit_can_be_undone_and_done_again_across_restarts(library: Library, folder: Path, epoxy: int) -> None:
    states = [library.panels(finished=True)]

    def step() -> None:
        states.append(library.panels(finished=True))

    door = library.add_panel(Panel("left door")).id
    step()
    library.change_panel(door, Panel("left door", "the blue estate"))
    step()
    coat = library.log_coat(door, Coat(NOON, epoxy)).coats[0].id
    step()
    library.change_coat(coat, Coat(NOON, epoxy, note="thin"))
    step()
    library.put_outdoors(door, OutdoorSpell(NOON))
    step()
    library.take_in(door, NOON + timedelta(hours=3))
    step()
    library.remove_coat(coat)
    step()
    library.finish_panel(door)
    step()
    library.remove_panel(door)
    step()
    library.close()
    with Library.open(folder) as again:
        for before in reversed(states[:-1]):
            assert again.undo_change() is not None
            assert again.panels(finished=True) == before
        assert again.undo_change() is None
        for after in states[1:]:
            assert again.redo_change() is not None
            assert again.panels(finished=True) == after
        assert again.redo_change() is None


def test_undo_names_what_it_will_take_back_and_a_new_step_ends_redo(library: Library, door: int, epoxy: int) -> None:
    library.log_coat(door, Coat(NOON, epoxy))
    waiting = library.next_undo()
    assert waiting is not None
    assert (waiting.kind, waiting.subject) == (ChangeKind.COAT_LOGGED, "left door")
    library.undo_change()
    assert library.next_redo() is not None
    library.log_preparation(door, Preparation(NOON, PreparationKind.BLASTED))
    assert library.next_redo() is None


def test_what_is_removed_can_be_restored_later(library: Library, door: int, epoxy: int) -> None:
    library.log_coat(door, Coat(NOON, epoxy))
    library.remove_panel(door)
    assert library.panels() == ()
    assert [p.id for p in library.removed_panels()] == [door]
    library.add_panel(Panel("roof"))
    restored = library.restore_panel(door)
    assert len(restored.coats) == 1
    assert [p.panel.name for p in library.panels()] == ["roof", "left door"]


def test_finished_panels_are_shown_only_when_asked_for(library: Library, door: int) -> None:
    library.finish_panel(door)
    assert library.panels() == ()
    assert [p.id for p in library.panels(finished=True)] == [door]
    library.reopen_panel(door)
    assert [p.id for p in library.panels()] == [door]


@pytest.mark.parametrize(
    ("coat", "field"),
    [
        (Coat(datetime(2026, 3, 28, 12), 1), "at"),  # noqa: DTZ001 - what is refused
        (Coat(NOON, 1, coats=0), "coats"),
        (Coat(NOON, 1, humidity=101.0), "humidity"),
        (Coat(NOON, 1, panel_c=float("nan")), "panel_c"),
        (Coat(NOON, 1, wet_um=-1.0), "wet_um"),
    ],
)
def test_a_coat_that_cannot_be_is_refused_and_leaves_no_trace(
    library: Library, door: int, epoxy: int, coat: Coat, field: str
) -> None:
    before = library.next_undo()
    with pytest.raises(WrongEntry) as raised:
        library.log_coat(door, replace(coat, product_id=epoxy))
    assert raised.value.field == field
    assert library.panel(door).coats == ()
    assert library.next_undo() == before


def test_spells_outdoors_cannot_overlap(library: Library, door: int) -> None:
    library.put_outdoors(door, OutdoorSpell(NOON, NOON + timedelta(hours=5)))
    for spell in (
        OutdoorSpell(NOON + timedelta(hours=4)),
        OutdoorSpell(NOON - timedelta(hours=1)),
        OutdoorSpell(NOON - timedelta(hours=1), NOON - timedelta(hours=2)),
    ):
        with pytest.raises(WrongEntry):
            library.put_outdoors(door, spell)
    with pytest.raises(WrongEntry):
        library.take_in(door, NOON)
    record = library.put_outdoors(door, OutdoorSpell(NOON + timedelta(hours=5)))
    with pytest.raises(WrongEntry):
        library.take_in(door, NOON)
    changed = library.change_spell(record.spells[0].id, OutdoorSpell(NOON, NOON + timedelta(hours=2)))
    assert changed.spells[0].spell.ended == NOON + timedelta(hours=2)
    assert len(library.remove_spell(record.spells[0].id).spells) == 1


def test_a_spell_in_the_hour_that_comes_twice_is_told_apart(library: Library, door: int) -> None:
    zone = ZoneInfo("Europe/Berlin")
    began = datetime(2026, 10, 25, 2, 50, tzinfo=zone)
    ended = datetime(2026, 10, 25, 2, 10, tzinfo=zone, fold=1)
    (record,) = library.put_outdoors(door, OutdoorSpell(began, ended)).spells
    assert record.spell.ended is not None
    assert record.spell.ended - record.spell.began == timedelta(minutes=20)


def test_unknown_ids_are_said_to_be_unknown(library: Library, door: int, epoxy: int) -> None:
    with pytest.raises(UnknownRecord):
        library.log_coat(99, Coat(NOON, epoxy))
    with pytest.raises(UnknownRecord):
        library.log_coat(door, Coat(NOON, 99))
    with pytest.raises(UnknownRecord):
        library.log_coat(door, Coat(NOON, epoxy, photo_ids=(99,)))
    with pytest.raises(UnknownRecord):
        library.add_panel(Panel("roof", plan=(Layer(product_id=99),)))
    coat = library.log_coat(door, Coat(NOON, epoxy)).coats[0].id
    library.remove_coat(coat)
    with pytest.raises(UnknownRecord):
        library.remove_coat(coat)


def test_a_photo_is_kept_by_its_content_and_travels_in_the_back_up(
    library: Library, folder: Path, door: int, epoxy: int, tmp_path: Path
) -> None:
    photo = library.keep_photo(PICTURE, "IMG 4.JPG")
    assert library.keep_photo(PICTURE, "again.jpg") == photo
    library.log_coat(door, Coat(NOON, epoxy, photo_ids=(photo.id,)))
    assert library.photo_path(photo.id).read_bytes() == PICTURE
    library.back_up(tmp_path / "all.zip")
    Library.restore(tmp_path / "all.zip", tmp_path / "other")
    with Library.open(tmp_path / "other") as other:
        (coat,) = other.panel(door).coats
        assert other.photo_path(coat.coat.photo_ids[0]).read_bytes() == PICTURE
    library.photo_path(photo.id).write_bytes(b"not the picture")
    with pytest.raises(LibraryDamaged) as raised:
        library.back_up(tmp_path / "bad.zip")
    assert "IMG 4.JPG is missing or changed" in raised.value.detail
    library.photo_path(photo.id).unlink()
    with pytest.raises(PhotoMissing):
        library.photo_path(photo.id)
    library.keep_photo(PICTURE, "IMG 4.JPG")
    assert library.photo_path(photo.id).read_bytes() == PICTURE


def test_only_pictures_are_kept(library: Library, folder: Path) -> None:
    for content, name in ((b"MZ", "paint.exe"), (b"", "door.png"), (b"x", "png")):
        with pytest.raises(WrongEntry):
            library.keep_photo(content, name)
    assert list((folder / "photos").glob("*")) == []


def test_photos_without_an_entry_are_swept_and_kept_ones_are_not(library: Library, folder: Path) -> None:
    photo = library.keep_photo(PICTURE, "door.png")
    stray = folder / "photos" / f"{'0' * 64}.png"
    stray.write_bytes(b"left by a kill")
    library.close()
    with Library.open(folder) as again:
        assert again.photo_path(photo.id).exists()
    assert not stray.exists()


def test_a_back_up_whose_photo_leads_elsewhere_is_refused(library: Library, tmp_path: Path) -> None:
    library.keep_photo(PICTURE, "door.png")
    with library._database.raw() as raw:
        raw.execute("UPDATE photos SET suffix = '/../../library.sqlite'")
    library.close()
    with Library.open(tmp_path / "other") as other:
        other.keep_photo(PICTURE, "door.png")
        other.back_up(tmp_path / "all.zip")
    with zipfile.ZipFile(tmp_path / "all.zip") as whole, zipfile.ZipFile(tmp_path / "bad.zip", "w") as bad:
        for name in whole.namelist():
            content = whole.read(name)
            if name == "library.sqlite":
                content = (library.folder / "library.sqlite").read_bytes()
            bad.writestr(name, content)
    with pytest.raises(BackupDamaged):
        Library.restore(tmp_path / "bad.zip", tmp_path / "third")


def test_a_product_taken_in_by_another_leaves_no_panel_or_tin_behind(library: Library, epoxy: int) -> None:
    double = library.add_product("Granat Zwölf", maker="Vellmark").id
    door = library.add_panel(Panel("door", plan=(Layer(product_id=double),))).id
    tin = library.add_tin(Tin(double, 500.0)).id
    library.log_coat(door, Coat(NOON, double, takes=(TinTake(tin, 100.0),)))
    library.change_panel(door, Panel("door", "blue estate", plan=(Layer(product_id=double, coats=2),)))
    library.change_product(epoxy, name="Granat Zwölf")
    record = library.panel(door)
    assert record.panel.plan[0].product_id == epoxy
    assert record.coats[0].coat.product_id == epoxy
    assert library.tin(tin).tin.product_id == epoxy
    library.undo_change()
    assert library.panel(door).panel.plan == (Layer(product_id=epoxy),)


def test_alerts_shown_are_remembered_until_they_are_due_no_more(library: Library, folder: Path) -> None:
    assert library.alerts_raised() == frozenset()
    library.remember_alerts(["a", "b"], still_due=["a", "b"])
    library.remember_alerts(["c"], still_due=["b", "c"])
    library.close()
    with Library.open(folder) as again:
        assert again.alerts_raised() == {"b", "c"}

import pytest

from extract import kinds
from extract.kinds import UnknownKind, ancestors, covers, families_of, is_kind_of, label, sort_of


def test_ancestors_nearest_first_and_skip_ids_that_do_not_exist() -> None:
    assert ancestors("topcoat.base.water") == ("topcoat.base", "topcoat")
    assert ancestors("topcoat.solid.2k") == ("topcoat",)
    assert ancestors("surface.steel") == ()


def test_a_child_is_a_kind_of_its_parent_and_not_the_other_way() -> None:
    assert is_kind_of("primer.epoxy.2k", "primer.epoxy")
    assert is_kind_of("primer.epoxy", "primer.epoxy")
    assert not is_kind_of("primer.epoxy", "primer.epoxy.2k")
    assert not is_kind_of("primer.etch", "primer.epoxy")


def test_families_come_down_the_tree() -> None:
    assert families_of("primer.etch.1k") == {"family.acid", "family.1k"}
    assert families_of("topcoat.base.water") == {"family.water"}
    assert families_of("filler") == frozenset()


@pytest.mark.parametrize("kind", ["filler.glass", "filler.aluminium"])
def test_polyester_by_nature_is_covered_by_a_prohibition_only(kind: str) -> None:
    assert covers("filler.polyester", kind, forbidding=True)
    assert not covers("filler.polyester", kind)
    assert not covers("filler.polyester", "filler.stopper", forbidding=True)


def test_a_family_covers_its_kinds_and_a_child_never_its_parent() -> None:
    assert covers("family.1k", "topcoat.cellulose")
    assert not covers("topcoat.cellulose", "family.1k")
    assert not covers("family.1k", "primer.etch")


def test_sorts() -> None:
    assert {sort_of(k) for k in ("surface.zinc", "finish.old.soft", "treatment.converter")} == {"found"}
    assert {sort_of(k) for k in ("primer.etch", "filler", "sealant.seam", "family.2k", "self")} == {"put_on"}


def test_every_reference_between_entries_holds() -> None:
    for kind in kinds.kinds().values():
        assert kind.label
        for other in (*kind.families, *kind.forbidden_with):
            assert kinds.is_known(other)
        assert label(kind.id, plural=True)


def test_an_unknown_kind_is_named_in_the_error() -> None:
    with pytest.raises(UnknownKind) as caught:
        ancestors("primer.magic")
    assert caught.value.kind == "primer.magic"

"""Published build-ups, checked whole: sheets read by the real reader, filed, confirmed, then judged layer by layer.

Each check names its source. Nothing is corrected or added by hand: every claim is the reader's own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from golden_sheets import PAPERS

from extract.pipeline import read_sheet
from store.library import Library
from store.planning.buildup import BuildUp, Checked, FindingKind, Layer
from store.planning.buildup_check import check
from store.planning.buildup_sheets import Sheets
from store.rules.names import Unknown, resolve
from store.rules.reach import party_of

HOUR, DAY = 60.0, 1440.0


def file_all(library: Library) -> None:
    """Every sheet read, filed and confirmed as read."""
    for paper in PAPERS:
        pdf, name = paper.pdf(), f"{paper.product}.pdf"
        (filed,) = library.file_sheet(pdf, name, read_sheet(pdf, name))
        library.confirm([record.id for record in library.claims(filed.sheet.id)])


@pytest.fixture(scope="module")
def sheets(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Sheets]:
    folder: Path = tmp_path_factory.mktemp("golden") / "library"
    with Library.open(folder) as library:
        file_all(library)
        yield Sheets(library.rules(), library.proposals(), library.own_rules(), library.products())


@pytest.fixture
def judged(sheets: Sheets) -> Callable[..., Checked]:
    def judge(*layers: tuple[str, dict[str, object]] | str) -> Checked:
        made = []
        for entry in layers:
            name, facts = entry if isinstance(entry, tuple) else (entry, {})
            meaning = resolve(name, sheets.products)
            assert not isinstance(meaning, Unknown), name
            made.append(Layer(party_of(meaning), **facts))  # type: ignore[arg-type]
        return check(BuildUp(tuple(made)), sheets)

    return judge


def on(name: str, **facts: object) -> tuple[str, dict[str, object]]:
    return name, facts


Judged = Callable[..., Checked]
STEEL = "surface.steel"
ALLOWED = {"yes", "yes_if"}


def kinds(checked: Checked) -> set[FindingKind]:
    return {finding.kind for finding in checked.findings if finding.word not in ALLOWED}


def military(judged: Judged, wait: float = 45.0, film: float = 10.0) -> Checked:
    return judged(STEEL, on("Prelude W", film_um=film), on("Bulwark E", after_min=wait, at_c=20.0), "Canopy U")


def test_g1_wash_primer_epoxy_polyurethane_is_allowed(judged: Judged) -> None:
    """US Army research reports of 2004 and 2006; Army maintenance monthly, issue 598."""
    checked = military(judged)
    assert checked.word in ALLOWED
    assert not kinds(checked)


def test_g2_thirty_hours_on_the_wash_primer_misses_its_window(judged: Judged) -> None:
    """At most 24 h: Army maintenance monthly, issue 598."""
    checked = military(judged, wait=30 * HOUR)
    assert checked.word == "no"
    assert kinds(checked) == {FindingKind.WINDOW_PASSED}
    assert checked.findings[0].allowed == 24 * HOUR
    assert "24 hours" in checked.findings[0].sources[0].claim.evidence.quote


def test_the_wash_primer_wants_half_an_hour(judged: Judged) -> None:
    """At least 30 min: Army maintenance monthly, issue 598."""
    assert kinds(military(judged, wait=20.0)) == {FindingKind.TOO_EARLY}


def test_g3_a_thick_wash_primer_may_come_away(judged: Judged) -> None:
    """0.3 to 0.5 mil: paint question service, September 2004."""
    checked = military(judged, film=25.0)
    assert checked.word == "no"
    assert kinds(checked) == {FindingKind.FILM_THICK}
    assert checked.findings[0].allowed == 12.7


def test_g4_wash_primer_does_not_stick_to_conditioned_steel(judged: Judged) -> None:
    """TM 43-0139 par. 3-4a."""
    assert judged("treatment.converter", "Prelude W").contacts[0].word == "no"


def test_g5_no_polyester_filler_on_refinish_etch(judged: Judged) -> None:
    """Trade magazine, October 2023 (French)."""
    checked = judged(STEEL, "Gravis 5", "Mastel 40")
    assert (checked.word, checked.contacts[1].word) == ("no", "no")
    assert "polyester filler" in checked.contacts[1].answer.citations[0].claim.evidence.quote


def test_g6_no_epoxy_on_refinish_etch(judged: Judged) -> None:
    """Trade magazine, October 2023 (French). Its sheet decides: military etch takes epoxy, see G1."""
    assert judged(STEEL, "Gravis 5", "Coterie E").contacts[1].word == "no"


def test_g6_by_kinds_alone_nothing_is_said(judged: Judged) -> None:
    """Two practices contradict each other, so no rule for kinds may stand: common practice, no source."""
    assert judged(STEEL, "primer.etch", "primer.epoxy").word == "silent"


def test_g7_no_colour_on_refinish_etch(judged: Judged) -> None:
    """It needs a two-component urethane primer: trade magazine, October 2023 (French)."""
    assert judged(STEEL, "Gravis 5", "Teinte 9").contacts[1].word == "no"


def test_g8_etch_on_sanded_filler_under_urethane_primer_is_allowed(judged: Judged) -> None:
    """Trade magazine, October 2023 (French)."""
    checked = judged(STEEL, "Mastel 40", on("Gravis 5", abraded=True, cured=True), "Ponce 2K", "Teinte 9")
    assert checked.word in ALLOWED
    assert [contact.word for contact in checked.contacts] == ["yes", "yes_if", "yes", "yes"]


def test_g8_the_same_unsanded_is_not(judged: Judged) -> None:
    """Trade magazine, October 2023 (French): cured, sanded filler."""
    checked = judged(STEEL, "Mastel 40", on("Gravis 5", abraded=False), "Ponce 2K", "Teinte 9")
    assert checked.word == "no"
    assert kinds(checked) == {FindingKind.CONDITION_UNMET}


def test_g9_lacquer_two_layers_down_is_forbidden_although_the_neighbours_are_allowed(judged: Judged) -> None:
    """Blisters 'even if the lacquer is covered by alkyd paint': TB 43-0242 par. 5-2."""
    checked = judged("finish.old.soft", "Meadow S", "Canopy U")
    assert [contact.word in ALLOWED for contact in checked.contacts] == [True, True]
    assert checked.word == "no"
    assert kinds(checked) == {FindingKind.REACHES_THROUGH}
    (finding,) = (f for f in checked.findings if f.kind is FindingKind.REACHES_THROUGH)
    assert (finding.layer, finding.other) == (2, 0)
    assert "even if the lacquer is covered" in finding.sources[0].claim.evidence.quote
    assert checked.reason is finding


def test_g10_clean_sound_alkyd_takes_polyurethane(judged: Judged) -> None:
    """TB 43-0242 par. 5-2."""
    checked = judged("topcoat.alkyd", on("Canopy U", cleaned=True))
    assert checked.word == "yes_if"
    assert not kinds(checked)


def aerospace(judged: Judged, hours: float, **facts: object) -> Checked:
    return judged("surface.aluminium", "Aileron P", on("Spoiler T", after_min=hours * HOUR, at_c=24.0, **facts))


def test_g11_three_hours_are_too_early(judged: Judged) -> None:
    """5 h at 75 degF: TO 1-1-8 par. 5.6.2 e."""
    found = [f for f in aerospace(judged, 3).findings if f.kind is FindingKind.TOO_EARLY]
    assert [f.allowed for f in found] == [5 * HOUR]


def test_g12_seven_hours_are_in_time_as_it_is(judged: Judged) -> None:
    """5 to 8 h: TO 1-1-8 par. 5.6.2 e. The aluminium below is not its matter here."""
    checked = aerospace(judged, 7)
    assert checked.contacts[1].word == "yes"
    assert not [finding for finding in checked.findings if finding.layer == 2]


@pytest.mark.parametrize(
    ("facts", "allowed"),
    [({"cleaned": True}, True), ({"cleaned": False, "abraded": True}, True), ({"cleaned": False}, False)],
)
def test_g13_twenty_hours_want_a_wipe_or_a_scuff(judged: Judged, facts: dict[str, object], allowed: bool) -> None:
    """8 to 24 h: TO 1-1-8 par. 5.6.2 e."""
    words = {finding.word for finding in aerospace(judged, 20, **facts).findings if finding.layer == 2}
    assert ("no" not in words) is allowed


def test_g14_past_a_day_a_wipe_is_not_enough(judged: Judged) -> None:
    """Scuffing mandatory: TO 1-1-8 par. 5.6.2 e."""
    wiped = [f for f in aerospace(judged, 26, cleaned=True).findings if f.layer == 2]
    assert [f.kind for f in wiped] == [FindingKind.WINDOW_PASSED]
    remedy = wiped[0].remedy
    assert remedy is not None
    assert (remedy.claim.low, remedy.claim.high) == (320, 400)
    keyed = [f for f in aerospace(judged, 26, cleaned=True, abraded=True).findings if f.layer == 2]
    assert [(f.kind, f.word) for f in keyed] == [(FindingKind.WINDOW_KEYED, "yes_if")]


def test_g15_past_seven_days_wash_and_tack_coat_first(judged: Judged) -> None:
    """NAVFAC MO-124 on MIL-P-24441."""
    checked = judged(STEEL, "Keelson 2", on("Keelson 2", after_min=8 * DAY, at_c=20.0))
    (found,) = (f for f in checked.findings if f.kind is FindingKind.WINDOW_PASSED)
    assert found.allowed == 7 * DAY
    assert found.remedy is not None
    assert "tack coat" in found.remedy.claim.evidence.quote


def test_g16_the_hottest_hour_shuts_the_window(judged: Judged) -> None:
    """Window by the highest surface temperature: UFGS-09971, 33 to 38 degC 3 to 24 h, 16 to 21 degC 8 to 48 h."""
    cool = judged(STEEL, "Girder U", on("Girder U", after_min=30 * HOUR, at_c=21.0))
    assert not [f for f in cool.findings if f.layer == 2]
    hot = judged(STEEL, "Girder U", on("Girder U", after_min=30 * HOUR, at_c=21.0, hottest_c=34.0))
    (found,) = (f for f in hot.findings if f.kind is FindingKind.WINDOW_PASSED)
    assert found.allowed == 24 * HOUR


def test_g17_no_chromate_free_tie_coat_on_bare_metal(judged: Judged) -> None:
    """TO 1-1-8, note beside par. 5.6.2 f."""
    assert judged(STEEL, "Nacelle B").word == "no"


def test_g18_steel_blasted_overnight_is_blasted_again(judged: Judged) -> None:
    """Not beyond the normal workday: Navy design and engineering guide."""
    same_day = judged("surface.steel.blasted", on("Span 3", after_min=6 * HOUR))
    assert same_day.word == "yes"
    overnight = judged("surface.steel.blasted", on("Span 3", after_min=16 * HOUR))
    assert overnight.word == "no"
    assert kinds(overnight) == {FindingKind.PREPARED_TOO_LONG_AGO}


def test_g19_filler_on_a_two_day_old_epoxy_is_warned_of(judged: Judged) -> None:
    """5 to 7 days, and wash off the amine blush before sanding: marine text on polyester over epoxy."""
    checked = judged(STEEL, "Bilge E", on("Fairing P", after_min=2 * DAY, at_c=20.0, cleaned=False))
    assert FindingKind.NOT_CURED in kinds(checked)
    assert any("soap and water" in step.rule.claim.evidence.quote for step in checked.steps)
    later = judged(STEEL, "Bilge E", on("Fairing P", after_min=8 * DAY, at_c=20.0, cleaned=True, abraded=True))
    assert FindingKind.NOT_CURED not in kinds(later)


def test_g20_primer_after_an_hour_is_too_early_on_filler(judged: Judged) -> None:
    """90 min: collision repair textbook."""
    checked = judged(STEEL, "Mastel 40", on("Gravis 5", after_min=60.0, at_c=20.0, abraded=True, cured=True))
    assert kinds(checked) == {FindingKind.TOO_EARLY}
    assert checked.findings[0].allowed == 90.0


@pytest.mark.parametrize(("at_c", "word"), [(15.0, "no"), (18.0, "yes"), (20.0, "yes")])
def test_g21_filler_below_eighteen_degrees(judged: Judged, at_c: float, word: str) -> None:
    """At least 64 degF: filler maker's text."""
    assert judged(STEEL, on("Mastel 40", at_c=at_c)).word == word


def test_g22_shop_primer_outdoors_for_seventy_five_days_wants_a_further_coat(judged: Judged) -> None:
    """60 days: SSPC specification for chlorinated-rubber primer."""
    long = judged(STEEL, on("Rubrin 7", weeks_outdoors=75 / 7))
    assert long.word == "no"
    assert kinds(long) == {FindingKind.OUTDOORS_TOO_LONG}
    assert long.findings[0].allowed == 60 * DAY
    assert judged(STEEL, on("Rubrin 7", weeks_outdoors=8)).word == "yes"

import pytest

from extract.names import ProductNames
from extract.terms import SubjectNames, Vocabulary
from tests.extract.build import document, statement

VOCABULARY = Vocabulary.load("en")


def objects(text: str) -> list[str]:
    return [m.object for m in VOCABULARY.mentions(text)]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("two-component acrylic fillers", ["surfacer.2k"]),
        ("polyester fillers", ["filler.polyester"]),
        ("spray polyester", ["surfacer.polyester"]),
        ("etch and wash primers", ["primer.etch", "primer.etch"]),
        ("zinc-rich and weld-through primers", ["primer.zinc", "primer.weld"]),
        ("solvent and waterborne basecoats", ["topcoat.base.solvent", "topcoat.base.water"]),
        ("base coat, solvent or water-borne", ["topcoat.base.solvent", "topcoat.base.water"]),
        ("steel, bare", ["surface.steel"]),
        ("galvanised and zinc-plated steel", ["surface.zinc", "surface.zinc"]),
        ("vinyl / acid wash primers (two-part)", ["primer.etch.2k", "primer.etch.2k"]),
        ("1K acrylic and cellulose primers", ["surfacer.1k", "surfacer.1k"]),
        ("two-pack epoxies", ["primer.epoxy.2k"]),
        ("seam sealers (MS, PUR)", ["sealant.seam"]),
        ("old and factory paintwork", ["finish.old", "finish.factory"]),
        ("plastics primer on plastics", ["primer.plastic", "surface.plastic"]),
        ("glass fibre filler on glass fibre", ["filler.glass", "surface.grp"]),
        ("steel with residual rust", ["surface.steel.rusted"]),
        ("water-based products", ["family.water"]),
        ("e-coat and KTL", ["finish.ecoat", "finish.ecoat"]),
        ("allow to dry in the shade", []),
    ],
)
def test_kinds(text: str, expected: list[str]) -> None:
    assert objects(text) == expected


def test_the_same_word_beneath_is_soft_old_paint() -> None:
    (nitro,) = VOCABULARY.mentions("nitro lacquer")
    assert (nitro.object, nitro.as_found()) == ("topcoat.cellulose", "finish.old.soft")
    (filler,) = VOCABULARY.mentions("polyester filler")
    assert filler.as_found() == "filler.polyester"


def test_lacquer_is_clear_to_a_british_painter_and_cellulose_to_an_american_one() -> None:
    subject = SubjectNames("Hobnail 3", kind="primer.epoxy.2k")
    british = VOCABULARY.bind(document(statement("Grey colour at 20 °C. Lacquer follows.")), subject)
    american = VOCABULARY.bind(document(statement("Gray color at 70 °F. Lacquer follows.")), subject)
    assert [m.object for m in british.mentions("two coats of lacquer")] == ["topcoat.clear"]
    assert [m.object for m in american.mentions("two coats of lacquer")] == ["topcoat.cellulose"]


SHEET = document(
    statement("Hobnail 3 is an epoxy primer. Hobnail goes under Quillon HS and other 2K surfacers."),
    statement("Use BX-55 Marlstone, or CRESTAVOR 210, 240 HS. Thin with Thinner 1080 at 20 °C after P320."),
    statement("Fill with Quillon Glaze or with BX-55; wipe with Cleaner 40 from 12 May 2023, ISO 2811."),
)
BOUND = VOCABULARY.bind(SHEET, SubjectNames("Hobnail 3", kind="primer.epoxy.2k"))


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("over Hobnail 3 and Hobnail", ["self", "self"]),
        ("over BX-55", ["product:BX-55 Marlstone"]),
        ("Marlstone", ["product:BX-55 Marlstone"]),
        ("CRESTAVOR 210, 240 HS", ["product:Crestavor 210", "product:Crestavor 240 HS"]),
        ("the primer, the epoxy primer and other primers", ["self", "self", "primer"]),
        ("Quillon HS and other 2K surfacers", ["product:Quillon HS", "surfacer.2k"]),
        ("2K surfacer Quillon HS", ["product:Quillon HS"]),
        ("2K surfacers (Quillon HS)", ["product:Quillon HS"]),
        ("2K surfacers (e.g. Quillon HS)", ["surfacer.2k", "product:Quillon HS"]),
        ("2K surfacers, such as Quillon HS", ["surfacer.2k", "product:Quillon HS"]),
    ],
)
def test_names(text: str, expected: list[str]) -> None:
    assert [m.object for m in BOUND.mentions(text)] == expected


def test_a_products_kind_is_kept_beside_its_name() -> None:
    (named,) = BOUND.mentions("2K surfacer Quillon HS")
    assert named.of_kind == "surfacer.2k"


def test_thinners_standards_dates_and_grits_are_no_products() -> None:
    names = ProductNames.collect(
        ["Thin with Thinner 1080 at 20 °C. Sand P320. ISO 2811, DIN 4. May 2023. Hardener 4490."],
        SubjectNames("Hobnail 3"),
        lambda word: False,
        frozenset({"sand", "iso", "din", "may", "thinner", "hardener"}),
    )
    assert names.others == ()


def test_a_mention_stands_where_its_words_stand() -> None:
    text = "Not over Etch Primers or wash primers."
    assert [text[m.start : m.end] for m in VOCABULARY.mentions(text)] == ["Etch Primers", "wash primers"]


@pytest.mark.parametrize(
    ("name", "text", "expected"),
    [
        ("Zinc 80 Spray", "On steel and zinc sheet.", ["surface.steel", "surface.zinc"]),
        ("Plastic Primer 9", "Sand the plastic first.", ["surface.plastic"]),
        ("Chassis Shield", "Clean the chassis first.", []),
        ("Anvil Shield", "Put Anvil on the chassis.", ["self"]),
        ("Zinc 80 Spray", "Put Zinc 80 Spray on steel.", ["self", "surface.steel"]),
    ],
)
def test_a_word_of_the_trade_is_no_short_name_of_the_product(name: str, text: str, expected: list[str]) -> None:
    bound = VOCABULARY.bind(document(statement(text)), SubjectNames(name))
    assert [m.object for m in bound.mentions(text)] == expected

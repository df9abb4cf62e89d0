from extract.claims import Claim
from extract.document import Table
from extract.finders import coats
from extract.terms import SubjectNames, Vocabulary
from tests.extract.build import document, statement, table
from tests.extract.test_coat_cases import written

SUBJECT = SubjectNames("Hobnail 3", kind="primer.epoxy.2k")
TAIL = statement("Kelpstone 55 HS and Marlgrit 20, grey, at 20 °C; aluminium.")


def read(block: Table) -> list[Claim]:
    return list(coats.find(document(block, TAIL), SUBJECT, Vocabulary.load("en")))


def claims(block: Table) -> set[str]:
    return {written(c) for c in read(block)}


def test_ticks_and_crosses_with_preparation() -> None:
    block = table(
        ["Substrate", "", "Pre-treatment (degrease first)"],
        [
            ("Steel, bare", "✓", "Sand P80"),
            ("Rust converters", "✗", "Strip"),
            ("Stainless steel", "–", ""),
            ("Lacquer", "✗", "isolate with Marlgrit 20"),
            ("Zinc-coated steel", "✗", "Bond fails. Use Marlgrit 20 instead"),
            ("Damp filler", "✗", "dry it out"),
        ],
        "Substrates",
        legend=["✓ suitable ✗ not suitable – no experience"],
    )
    assert claims(block) == {
        "goes_over permits surface.steel if clean abraded",
        "goes_over forbids treatment.converter",
        "goes_over permits finish.old.soft if clean isolated via product:Marlgrit 20",
        "goes_over forbids surface.zinc",
    }


def test_the_cross_that_means_suitable() -> None:
    rows = [("Aluminium", "x"), ("GRP", "o")]
    meant = table(["Substrate", ""], rows, "Substrates", legend=["x = suitable, o = not suitable"])
    assert claims(meant) == {"goes_over permits surface.aluminium", "goes_over forbids surface.grp"}
    usual = table(["Substrate", ""], rows[:1], "Substrates")
    assert claims(usual) == {"goes_over forbids surface.aluminium"}


def test_yes_and_no_in_words() -> None:
    block = table(
        ["Next coat", "Straight on?", "Not before", "Not after"],
        [
            ("Kelpstone 55 HS and other 2K surfacers", "Yes", "30 min", "24 h"),
            ("Two-pack epoxies", "Yes, once hard", "24 h", "72 h"),
            ("Polyester filler, stopper", "Never", "–", "–"),
            ("Water-based anything", "Ask us", "–", "–"),
        ],
        "What will go on top?",
    )
    assert claims(block) == {
        "topped_by permits product:Kelpstone 55 HS if within_window",
        "topped_by permits surfacer.2k if within_window",
        "topped_by permits primer.epoxy.2k if cured within_window",
        "topped_by forbids filler.polyester",
        "topped_by forbids filler.stopper",
    }


def test_a_footnote_of_the_row_counts_as_the_row() -> None:
    rows = [("Polyester fillers", "24 h", "no limit")]
    heads = ["Next coat", "earliest", "latest"]
    noted = table(heads, rows, "Overcoating", row_notes={0: ["Only on a film sanded with P120."]})
    assert claims(noted) == {"topped_by permits filler.polyester if abraded within_window"}
    plain = table(heads, rows, "Overcoating")
    assert claims(plain) == {"topped_by permits filler.polyester if within_window"}


def test_partly_needs_its_condition() -> None:
    block = table(
        ["Underneath", "Suitable?", "Preparation"],
        [("Steel rubbed through", "Spots up to 20 mm", "P240"), ("Cellulose", "Not directly", "P400")],
        "What will it go on?",
    )
    assert claims(block) == {
        "goes_over permits surface.steel if abraded spot_only",
        "goes_over forbids finish.old.soft",
    }


def test_a_list_without_answers_permits_where_it_prepares() -> None:
    block = table(
        ["Support", "Dry", "Wet"],
        [("OEM paint in good condition", "P500", "P1000"), ("Acrylic sealer wet-on-wet", "-", "-")],
        "Supports and preparation",
    )
    assert claims(block) == {
        "goes_over permits finish.factory if abraded sound",
        "goes_over permits sealer if within_window",
    }


def test_a_table_of_nozzles_or_faults_says_nothing() -> None:
    for heading, corner in (("Application", "Gun"), ("Faults", "Fault")):
        assert claims(table([corner, "Nozzle"], [("Epoxy primer", "1.6 mm")], heading)) == set()


def test_evidence_is_the_row() -> None:
    (claim,) = read(table(["Substrate", ""], [("Aluminium", "✓")], "Substrates"))
    assert claim.evidence.quote == "Aluminium … ✓"
    assert len(claim.evidence.boxes) == 2
    assert claim.why is not None
    assert claim.why.cell == "Substrate: Aluminium"


def test_columns_that_are_the_answers() -> None:
    block = table(
        ["Substrate", "Suitable", "Not suitable", "Remarks"],
        [("Aluminium", "x", "", "sand P240"), ("Powder coat", "", "x", ""), ("Wood", "", "", "no experience")],
        "Substrates",
    )
    assert claims(block) == {"goes_over permits surface.aluminium if abraded", "goes_over forbids finish.powder"}


def test_a_table_over_several_products_speaks_of_this_one_in_its_own_column() -> None:
    block = table(
        ["Substrate", "Hobnail 3", "Marlgrit 20"],
        [("Aluminium", "✓", "✗"), ("Galvanised steel", "✗", "✓")],
        "Substrates",
    )
    assert claims(block) == {"goes_over permits surface.aluminium", "goes_over forbids surface.zinc"}


def test_a_yes_whose_footnote_asks_for_something_not_understood_is_withheld() -> None:
    rows = [("Epoxy primer", "✓"), ("2K surfacers", "✓")]
    block = table(["Substrate", ""], rows, "Substrates", row_notes={0: ["only with the blue seal on the lid"]})
    assert claims(block) == {"goes_over permits surfacer.2k"}


def test_a_remark_that_names_a_coat_puts_it_between() -> None:
    block = table(
        ["Substrate", "Suitable", "Remarks"],
        [
            ("Aluminium", "Yes", "only with etch primer"),
            ("Plastics", "Yes", "with plastics primer"),
            ("Stainless steel", "Yes", "with care"),
            ("GRP", "Yes", "test first"),
            ("Cellulose", "No", "even isolated"),
        ],
        "Substrates",
    )
    assert claims(block) == {
        "goes_over permits surface.aluminium if isolated via primer.etch",
        "goes_over permits surface.plastic if isolated via primer.plastic",
        "goes_over permits surface.stainless",
        "goes_over permits surface.grp if tested",
        "goes_over forbids finish.old.soft",
    }


def test_a_preparation_that_is_a_coat_or_an_address() -> None:
    block = table(
        ["Substrate", "Preparation"],
        [
            ("Steel", "P180, degrease"),
            ("Aluminium", "prime with Marlgrit 20"),
            ("Plastics", "contact our technical service"),
            ("Stainless steel", "none"),
        ],
        "Substrates",
    )
    assert claims(block) == {
        "goes_over permits surface.steel if clean abraded",
        "goes_over permits surface.aluminium if isolated via product:Marlgrit 20",
        "goes_over permits surface.stainless",
    }


def test_a_column_that_puts_a_coat_between() -> None:
    rows = [("Base coat", "x", "✓"), ("Cellulose", "✓", "✓"), ("Polyester putty", "x", "x")]
    assert claims(table(["Topcoat", "Direct", "With surfacer"], rows, "Overcoating")) == {
        "topped_by permits topcoat.base if isolated via surfacer",
        "topped_by permits topcoat.cellulose",
        "topped_by permits topcoat.cellulose if isolated via surfacer",
        "topped_by forbids filler.polyester",
    }
    assert claims(table(["Topcoat", "Direct", "After sanding"], rows[:1], "Overcoating")) == {
        "topped_by permits topcoat.base if abraded"
    }


def test_columns_of_times_are_ways() -> None:
    rows = [
        ("2K surfacer", "no", "yes", "yes, matt first"),
        ("Stone chip coating", "n/a", "yes", "yes"),
        ("Polyester putty", "no", "no", "no"),
    ]
    block = table(["Coat on top", "Wet, 0-1 h", "Skinned, 1-48 h", "Cured, over 48 h"], rows, "Overcoating")
    assert claims(block) == {
        "topped_by permits surfacer.2k if within_window",
        "topped_by permits surfacer.2k if abraded cured within_window",
        "topped_by permits sealant.stone_chip if within_window",
        "topped_by permits sealant.stone_chip if cured within_window",
        "topped_by forbids filler.polyester",
    }


def test_a_star_behind_a_yes_leads_to_its_note() -> None:
    rows = [("Galvanised steel", "Yes*"), ("Steel", "Yes")]
    block = table(["Substrate", "Suitable"], rows, "Substrates", notes=["* sweep blasted only"])
    assert claims(block) == {"goes_over permits surface.zinc if abraded", "goes_over permits surface.steel"}


def test_a_head_that_names_this_product_first_sets_it_on_the_side_it_says() -> None:
    rows = [("Two-pack epoxy primers", "Yes", "Abrade P180"), ("Etch primers", "No", "Strip")]
    over = {"goes_over permits primer.epoxy.2k if abraded", "goes_over forbids primer.etch"}
    under = {"topped_by permits primer.epoxy.2k if abraded", "topped_by forbids primer.etch"}
    for head, expected in (
        ("Hobnail 3 over it?", over),
        ("Can Hobnail 3 go over it?", over),
        ("Hobnail 3 under it?", under),
        ("Over Hobnail 3?", under),
        ("Under Hobnail 3?", over),
    ):
        assert claims(table(["Coating", head, "Preparation"], rows, "Other paints")) == expected, head


def test_the_upper_layer_is_what_comes_on_top_and_the_lower_one_what_lies_beneath() -> None:
    rows = [("2K surfacer", "√", "Sanded P240"), ("Etch primer", "×", "The acid swells it")]
    upper = table(["Upper layer", "Result", "Request"], rows, "Matching of the upper layer")
    lower = table(["Lower layer", "Result", "Request"], rows, "Matching of the lower layer")
    assert claims(upper) == {"topped_by permits surfacer.2k if abraded", "topped_by forbids primer.etch"}
    assert claims(lower) == {"goes_over permits surfacer.2k if abraded", "goes_over forbids primer.etch"}


def test_a_cell_that_only_points_elsewhere_answers_nothing() -> None:
    rows = [
        ("Wash primer", "see 8"),
        ("Rust converters", "see section 4.2"),
        ("Stainless steel", "cf. 3"),
        ("GRP", "see below"),
    ]
    pointing = table(["Substrate", ""], rows, "Suitable substrates")
    assert claims(pointing) == set()
    answered = table(["Substrate", ""], [("Wash primer", "suitable, see 8")], "Suitable substrates")
    assert claims(answered) == {"goes_over permits primer.etch"}
    refused = table(["Substrate", ""], [("Wash primer", "not suitable, see 8")], "Suitable substrates")
    assert claims(refused) == {"goes_over forbids primer.etch"}


def test_a_remark_beside_times_is_no_answer_and_an_order_is_one() -> None:
    heads = ["Coating put over Hobnail 3", "Minimum", "Maximum", "Remarks"]
    rows = [
        ("2K surfacers", "40 min", "20 h", "Do not sand the film first"),
        ("Body filler", "Do not apply", "Do not apply", "It will come away"),
        ("Seam sealer", "Do not apply", "Do not apply", "Seal after surfacer"),
        ("Base coat", "Do not apply", "Do not apply", "Put a 2K surfacer between"),
        ("Epoxy primers", "Do not apply", "Do not apply", "The acid stops the cure"),
    ]
    assert claims(table(heads, rows, "Recoating")) == {
        "topped_by permits surfacer.2k if within_window",
        "topped_by forbids filler",
        "topped_by forbids sealant.seam",
        "topped_by permits topcoat.base if isolated via surfacer.2k",
        "topped_by forbids primer.epoxy",
    }


def test_the_film_that_a_row_puts_its_coat_on_is_no_further_coat() -> None:
    heads = ["Next coat", "Min.", "Max."]
    rows = [("Body filler, on the sanded primer", "24 h", "none"), ("Surfacer or epoxy primer", "2 h", "5 days")]
    assert claims(table(heads, rows, "Recoating")) == {
        "topped_by permits filler if abraded within_window",
        "topped_by permits surfacer if within_window",
        "topped_by permits primer.epoxy if within_window",
    }


def test_a_number_with_series_behind_it_is_this_product() -> None:
    block = table(["Next coat", "Min.", "Max."], [("4300 Series", "2 h", "5 days")], "Recoating")
    numbered = SubjectNames("Hobnail 4300", kind="primer.epoxy.2k")
    found = coats.find(document(block, TAIL), numbered, Vocabulary.load("en"))
    assert {written(c) for c in found} == {"topped_by permits self if within_window"}
    other = SubjectNames("Hobnail 4400", kind="primer.epoxy.2k")
    assert not any(c.object == "self" for c in coats.find(document(block, TAIL), other, Vocabulary.load("en")))


def test_a_coat_at_the_head_of_times_that_all_say_no_is_forbidden() -> None:
    heads = ["Next coat", "2K surfacer", "Synthetic enamel", "Base coat"]
    rows = [("Earliest", "1 h", "not permitted", "no"), ("Latest", "72 h", "not permitted", "24 h")]
    found = claims(table(heads, rows, "Overcoating"))
    assert "topped_by forbids topcoat.alkyd" in found
    assert "topped_by permits surfacer.2k if within_window" in found
    assert "topped_by forbids topcoat.base" not in found

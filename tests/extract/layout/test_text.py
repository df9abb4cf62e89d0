"""Reading order, headings, lists, running heads, words divided, sentences."""

import pytest
from reportlab.pdfgen.canvas import Canvas

from extract.document import Statement, StatementKind
from extract.layout.ink import Ink, join_lines, words_known
from extract.layout.language import language_of
from extract.layout.notes import split_legend
from extract.layout.sentences import split_sentences
from tests.extract.layout.sheets import bullets, drawn, head, laid_out, said, text


def ink(words: str) -> Ink:
    return Ink(words, [None] * len(words), [False] * len(words), [False] * len(words), 10.0)


@pytest.mark.parametrize(
    ("paragraph", "sentences"),
    [
        ("Pot life 8 hrs. at 70 °F. Do not thin.", ["Pot life 8 hrs. at 70 °F.", "Do not thin."]),
        ("Allow approx. 20 min. at 20 °C, e.g. in a shop.", ["Allow approx. 20 min. at 20 °C, e.g. in a shop."]),
        ("Stand 30 min. Then stir.", ["Stand 30 min.", "Then stir."]),
        ("770 sq. ft./gal. at 1 mil. Solids 48 %.", ["770 sq. ft./gal. at 1 mil.", "Solids 48 %."]),
        ("Is it needed? No. Epoxy grips.", ["Is it needed?", "No.", "Epoxy grips."]),
        ("Use hardener no. 5 only.", ["Use hardener no. 5 only."]),
        ("Humidity max. 80 %; metal 3 °C above dew point.", ["Humidity max. 80 %; metal 3 °C above dew point."]),
        ("Film 1.5 mm. 2 coats.", ["Film 1.5 mm.", "2 coats."]),
    ],
)
def test_sentences(paragraph: str, sentences: list[str]) -> None:
    assert [s.text for s in split_sentences(ink(paragraph))] == sentences


@pytest.mark.parametrize(
    ("above", "below", "joined"),
    [
        ("a two-", "pack primer", "a two-pack primer"),
        ("the pigmen-", "ted film", "the pigmented film"),
        ("sanded P400-", "P500 dry", "sanded P400-P500 dry"),
        ("over NOVA-", "COTE HS", "over NOVACOTE HS"),
        ("the hand\u00ad", "ling of it", "the handling of it"),
        ("base coat", "and clear", "base coat and clear"),
    ],
)
def test_words_divided_at_a_line_end(above: str, below: str, joined: str) -> None:
    known = words_known(["NOVACOTE HS is used", "a coat of paint"])
    assert join_lines([ink(above), ink(below)], known).text == joined


def test_a_degree_printed_as_a_raised_nought() -> None:
    said_so = said(
        laid_out(text("The panel must be 20<super>0</super>C or warmer, and yield is 9 m<super>2</super>/l."))
    )
    assert said_so == ["The panel must be 20°C or warmer, and yield is 9 m2/l."]


def test_two_columns_are_read_one_after_the_other() -> None:
    left = [
        "The primer goes over bare steel and over",
        "aluminium that has been sanded with P240,",
        "and it takes filler on top.",
    ]
    right = [
        "Mix four parts with one part of hardener",
        "by volume and let it stand for a quarter",
        "of an hour before use.",
    ]

    def draw(c: Canvas) -> None:
        for n, (a, b) in enumerate(zip(left, right, strict=True)):
            c.drawString(50, 700 - 12 * n, a)
            c.drawString(310, 697 - 12 * n, b)
        c.setFont("Helvetica-Bold", 14)
        c.drawString(50, 740, "A heading that spans both columns of the page")

    assert said(drawn(draw)) == [" ".join(left), " ".join(right)]


def test_a_sentence_goes_on_in_the_next_column() -> None:
    def draw(c: Canvas) -> None:
        for n, line in enumerate(
            [
                "Two coats are put on with a gravity gun, and",
                "the film is sanded when it is dry, with P320",
                "or finer paper, before the topcoat follows;",
            ]
        ):
            c.drawString(50, 700 - 12 * n, line)
        for n, line in enumerate(
            [
                "above 120 microns there is danger of solvent",
                "being kept in the film. Let it dry well before",
                "it is sanded.",
            ]
        ):
            c.drawString(310, 700 - 12 * n, line)

    assert said(drawn(draw))[0].endswith(
        "follows; above 120 microns there is danger of solvent being kept in the film."
    )


def test_headings_hung_in_the_margin() -> None:
    def draw(c: Canvas) -> None:
        for n, (label, value) in enumerate(
            (
                ("Surface", "Degrease and sand."),
                ("Storage", "Two years in the closed tin, kept cool and dry."),
                ("Cleaning", "Thinner QX 9."),
            )
        ):
            c.setFont("Helvetica-Bold", 10)
            c.drawString(50, 700 - 30 * n, label)
            c.setFont("Helvetica", 10)
            c.drawString(180, 700 - 30 * n, value)

    blocks = [b for b in drawn(draw).blocks if isinstance(b, Statement)]
    assert [(b.label.text if b.label else b.section.title.text, b.passage.text) for b in blocks] == [
        ("Surface", "Degrease and sand."),
        ("Storage", "Two years in the closed tin, kept cool and dry."),
        ("Cleaning", "Thinner QX 9."),
    ]


def test_lists_keep_their_leads_through_nesting() -> None:
    inner = [text("old paint:"), bullets("thermoplastic acrylics", "nitrocellulose", start="–")]
    document = laid_out(
        head("Limits"),
        text("Do not use on:"),
        bullets("etch primers", inner, "plastics"),
        text("It may be sanded wet when it is dry."),
    )
    items = [b for b in document.blocks if isinstance(b, Statement) and b.kind is StatementKind.BULLET]
    assert [(b.lead.text if b.lead else "", b.passage.text) for b in items] == [
        ("Do not use on:", "etch primers"),
        ("Do not use on:", "old paint:"),
        ("Do not use on: old paint:", "thermoplastic acrylics"),
        ("Do not use on: old paint:", "nitrocellulose"),
        ("Do not use on:", "plastics"),
    ]
    assert said(document)[-1] == "It may be sanded wet when it is dry."


def test_a_label_s_value_that_ends_in_a_colon_leads_the_list_below() -> None:
    def draw(c: Canvas) -> None:
        rows = [
            ("CHARACTER", "Grey filler, fast and soft, for the"),
            ("", "repair of vehicles."),
            ("SUPPORTS", "May be put on:"),
        ]
        for n, (label, words) in enumerate(rows):
            c.setFont("Helvetica-Bold", 10)
            c.drawString(50, 740 - 14 * n, label)
            c.setFont("Helvetica", 10)
            c.drawString(170, 740 - 14 * n, words)
        for n, words in enumerate(("bare steel, sanded", "epoxy primers within three days")):
            c.drawString(176, 698 - 14 * n, "\u2022")
            c.drawString(186, 698 - 14 * n, words)

    items = [b for b in drawn(draw).blocks if isinstance(b, Statement) and b.kind is StatementKind.BULLET]
    assert [b.lead.text if b.lead else "" for b in items] == ["May be put on:", "May be put on:"]


def test_drawn_dots_are_bullets() -> None:
    def draw(c: Canvas) -> None:
        c.drawString(50, 700, "Apply over:")
        for n, words in enumerate(("bare steel, sanded", "epoxy primers within three days")):
            c.circle(55, 683 - 14 * n, 1.5, stroke=0, fill=1)
            c.drawString(64, 680 - 14 * n, words)

    items = [b for b in drawn(draw).blocks if isinstance(b, Statement) and b.kind is StatementKind.BULLET]
    assert [(b.mark, b.lead.text if b.lead else "", b.passage.text) for b in items] == [
        ("•", "Apply over:", "bare steel, sanded"),
        ("•", "Apply over:", "epoxy primers within three days"),
    ]


def test_running_heads_and_feet_are_no_text() -> None:
    def on_page(c: Canvas, document: object) -> None:
        c.setFont("Helvetica", 8)
        c.drawString(60, 810, "QUILLMERE COATINGS · QX 12 · Issue 4")
        c.drawRightString(540, 30, f"Page {c.getPageNumber()} of 3")

    story = [text(f"Sentence number {n} of the sheet stands here in its own paragraph.") for n in range(70)]
    document = laid_out(*story, on_page=on_page)
    assert len(said(document)) == 70
    assert [p.text for p in document.running] == ["QUILLMERE COATINGS · QX 12 · Issue 4", "Page 1 of 3"]


def test_run_in_heads_label_the_sentences_after_them() -> None:
    document = laid_out(text("<b>Bare metal:</b> small spots only. Prime anything larger first."))
    assert [(b.label.text if b.label else "", b.passage.text) for b in document.blocks if isinstance(b, Statement)] == [
        ("Bare metal:", "Bare metal: small spots only."),
        ("Bare metal:", "Prime anything larger first."),
    ]


def test_bold_words_without_a_colon_are_labels_where_what_follows_begins_anew() -> None:
    document = laid_out(
        text("<b>Substrates</b> Clean bare steel and aluminium. Not for plastics."),
        text("<b>Pot life</b> 2 hours at 20 °C."),
        text("<b>Bindwell</b> is for bare steel. It is sprayed."),
        text("<b>Bindwell 40</b> Primer for bare steel. It is sprayed."),
    )
    assert [(b.label.text if b.label else "", b.passage.text) for b in document.blocks if isinstance(b, Statement)] == [
        ("Substrates", "Clean bare steel and aluminium."),
        ("Substrates", "Not for plastics."),
        ("Pot life", "2 hours at 20 °C."),
        ("", "Bindwell is for bare steel."),
        ("", "It is sprayed."),
        ("", "Bindwell 40 Primer for bare steel."),
        ("", "It is sprayed."),
    ]


def test_legends_are_told_from_lists() -> None:
    assert [i.text for i in split_legend(ink("✓ suitable ✗ not suitable – no experience"))] == [
        "✓ suitable",
        "✗ not suitable",
        "– no experience",
    ]
    assert (
        split_legend(ink("✓ Bare steel, sanded with P80 to P180 and degreased twice before the first coat is put on"))
        == []
    )


@pytest.mark.parametrize(
    ("words", "language"),
    [
        ("The primer is put on with a gun and must not be sanded before it is dry", "en"),
        (
            "Die Grundierung wird mit der Pistole auf das Metall aufgetragen und darf nicht nass geschliffen werden",
            "de",
        ),
        ("Le produit est à appliquer sur une surface propre et ne doit pas être poncé avant le séchage", "fr"),
        ("El producto se aplica sobre una superficie limpia y no debe lijarse antes de que seque", "es"),
        ("De primer wordt op het metaal gespoten en mag niet nat geschuurd worden voor het droog is", "nl"),
        ("P240 no no no no 4 h", "en"),
    ],
)
def test_language_by_function_words(words: str, language: str) -> None:
    assert language_of(words) == language


def test_a_heading_in_capitals_may_end_with_a_shortened_word() -> None:
    def draw(c: Canvas) -> None:
        c.setFont("Helvetica", 10)
        c.drawString(50, 700, "DRYING AT 20 °C, 50 % R.H.")
        c.drawString(50, 684, "Touch dry after 60 minutes, and dry to handle after four hours in the shop.")
        c.drawString(50, 660, "STORE IT DRY.")
        c.drawString(50, 644, "Keep the tin closed, away from frost and from the sun, for no more than a year.")

    found = [(b.section.title.text, b.passage.text) for b in drawn(draw).blocks if isinstance(b, Statement)]
    assert found[0] == (
        "DRYING AT 20 °C, 50 % R.H.",
        "Touch dry after 60 minutes, and dry to handle after four hours in the shop.",
    )

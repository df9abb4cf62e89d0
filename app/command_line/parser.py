"""What may be typed after `tinsheet`. Standard library only, so that the window opens without delay."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

_ABOUT = """\
Tinsheet files the data sheets of your paints, reads out what they say, and answers from the
sentences that you have confirmed: may this go over that, when, and on what preparation.

Without a command it opens its window."""

_AFTERWORD = """\
examples:
  tinsheet                                       open the window on your library
  tinsheet --demo                                open it on a library of invented sheets
  tinsheet import sheets/                        file every PDF in a folder
  tinsheet ask "bare steel" "Keeper"             may Keeper go straight onto bare steel?
  tinsheet sum dew-point --air 20 --humidity 60  the dew point, with formula and source
  tinsheet extract sheet.pdf                     show what is read out of one sheet, file nothing

Tinsheet repeats what sheets say. It replaces neither the sheet, nor local rules, nor licensed practice."""


def parse(arguments: Sequence[str]) -> argparse.Namespace:
    """The arguments as a namespace whose `command` is None for the window. Exits with status 2 on bad usage."""
    return _parser().parse_args(arguments)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="tinsheet",
        description=_ABOUT,
        epilog=_AFTERWORD,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument(
        "--library",
        type=Path,
        metavar="DIR",
        help="the folder that holds the library (default: your own data folder)",
    )
    parser.add_argument("--demo", action="store_true", help="use a library made from the invented demo sheets")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", title="commands")
    _add_reading(commands)
    _add_asking(commands)
    _add_job(commands)
    _add_summing(commands)
    _add_building_up(commands)
    _add_keeping(commands)
    return parser


def _add_reading(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    extract = commands.add_parser(
        "extract",
        help="show what is read out of a PDF; files nothing",
        description="Reads one PDF and prints what it says, each statement with its sentence and page.",
    )
    extract.add_argument("file", type=Path, metavar="FILE.pdf")
    extract.add_argument("--json", action="store_true", help="print the document format tinsheet-claims/1")
    extract.add_argument("--why", action="store_true", help="add which pattern, terms and table cell gave each claim")
    extract.add_argument("--password", help="the PDF's password, if it has one")

    importing = commands.add_parser(
        "import",
        help="file PDFs, or every PDF in a folder, in the library",
        description="Files data sheets. Says of each file what became of it; one that cannot be read stops nothing.",
    )
    importing.add_argument("paths", nargs="+", type=Path, metavar="FILE|FOLDER")
    importing.add_argument(
        "--confirm-all",
        action="store_true",
        help="confirm everything read without looking, but for what was read off a picture (for trials: a misread "
        "sentence then answers as if true)",
    )
    importing.add_argument("--password", help="the PDFs' password, if they have one")


def _add_asking(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    ask = commands.add_parser(
        "ask",
        help="may UPPER be put straight onto LOWER?",
        description="Answers from confirmed sentences only. Silence of the sheets is never a yes.",
    )
    ask.add_argument("lower", nargs="?", metavar="LOWER", help="what is underneath: a product, or a kind of thing")
    ask.add_argument("upper", nargs="?", metavar="UPPER", help="what is to go on top")
    ask.add_argument("--at-c", type=float, metavar="N", help="the temperature in °C at which the window is wanted")
    ask.add_argument("--json", action="store_true", help="print the answer as JSON")
    ask.add_argument(
        "--batch",
        type=Path,
        metavar="FILE.jsonl",
        help='answer one question a line, {"lower": ..., "upper": ..., "at_c": ...}, with one JSON answer a line',
    )

    compare = commands.add_parser("compare", help="set two to six products side by side")
    compare.add_argument("products", nargs="+", metavar="PRODUCT")
    compare.add_argument("--at-c", type=float, metavar="N", help="the temperature in °C for the windows")
    compare.add_argument("--csv", action="store_true", help="print as CSV")

    find = commands.add_parser("find", help="search products, makers, claims, notes and the sheets' own words")
    find.add_argument("words", nargs="+", metavar="WORDS")
    find.add_argument("--limit", type=int, default=30, metavar="N", help="at most so many hits (default 30)")


def _add_job(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    panels = commands.add_parser(
        "panels",
        help="the panels in work: what is on them, and what may come next and when",
        description="Times are of this machine's clock; what a sheet does not say is said to be unknown.",
    )
    panels.add_argument("--finished", action="store_true", help="those that are done too")
    due = commands.add_parser("due", help="what falls due on the panels in work, the most urgent first")
    for command in (panels, due):
        command.add_argument("--at-c", type=float, metavar="N", help="the shop's temperature in °C")
        command.add_argument("--json", action="store_true", help="print as JSON")
    shelf = commands.add_parser("shelf", help="the tins and how long they keep, or which may go onto something")
    shelf.add_argument("--on", metavar="LOWER", help="judge what is on the shelf against this product or kind beneath")
    shelf.add_argument("--expiring", action="store_true", help="only tins that are past their date or near it")
    shelf.add_argument("--days", type=int, default=30, metavar="N", help="how many days are near (default 30)")
    shelf.add_argument("--at-c", type=float, metavar="N", help="the temperature in °C at which windows are wanted")
    shelf.add_argument("--json", action="store_true", help="print as JSON")


def _add_summing(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    # What each sum asks for is known to its own module, which is imported only when one is asked for.
    sums = commands.add_parser("sum", help="a bench sum: film, coverage, dew point, grit, cups, units; lists them all")
    sums.add_argument("name", nargs="?", metavar="NAME", help="which sum; without a name they are listed")
    sums.add_argument("rest", nargs=argparse.REMAINDER, metavar="...", help="its figures, as NAME --help says")


def _add_building_up(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    layers = commands.add_parser(
        "build-up",
        help="check layers from the metal up against the sheets",
        description="Judges every contact, what reaches through layers, times, films, weather and preparation.",
        epilog='a layer: "Keeper; 90 um; after 24 h; at 15 C; hottest 30 C; sanded; cleaned; cured; 8 weeks outdoors", '
        "all but the name may be left out; unsanded, uncleaned, uncured say that it is not so",
    )
    layers.add_argument("layers", nargs="+", metavar="LAYER", help="what is found there first, then coat by coat")
    layers.add_argument("--at-c", type=float, metavar="N", help="the temperature in °C, unless a layer says its own")
    layers.add_argument(
        "--start",
        type=datetime.fromisoformat,
        metavar="WHEN",
        help="when the first coat goes on, as 2026-05-04T08:00: adds times of day for the coats (with --at-c)",
    )
    layers.add_argument("--json", action="store_true", help="print the check as JSON")

    finding = commands.add_parser(
        "find-build-up",
        help="find the sequences of coats that the sheets allow",
        description="From the surface to the finish, best first: fewest unsaid contacts, conditions, waiting, coats.",
    )
    finding.add_argument("surface", metavar="SURFACE")
    finding.add_argument("finish", metavar="FINISH", help="a product, or a kind of finish")
    finding.add_argument(
        "--between",
        action="append",
        metavar="WORK",
        help='work in between: "filler", "8 weeks outdoors", "seam sealer; 2 weeks outdoors"; repeat in order',
    )
    finding.add_argument("--shelf", action="store_true", help="take only products of which a tin is on the shelf")
    finding.add_argument(
        "--product",
        action="append",
        dest="products",
        metavar="PRODUCT",
        help="take only these products (may be repeated); without it all that is filed",
    )
    finding.add_argument("--unsaid", action="store_true", help="also sequences with contacts that no sheet speaks of")
    finding.add_argument("--most", type=int, default=5, metavar="N", help="at most so many sequences (default 5)")
    finding.add_argument("--at-c", type=float, metavar="N", help="the temperature in °C")
    finding.add_argument("--json", action="store_true", help="print the sequences as JSON")

    mix = commands.add_parser(
        "mix",
        help="what to mix and buy of a product for an area",
        description="From the area to what goes into the cup. What is not typed comes from the product's confirmed "
        "sentences, which are printed with it.",
    )
    mix.add_argument("product", metavar="PRODUCT")
    mix.add_argument("--area", required=True, metavar="N", help="in m²")
    mix.add_argument("--coats", metavar="N", help="how many coats")
    mix.add_argument("--dry-film", metavar="N", help="dry film in µm")
    mix.add_argument("--film-of", choices=("each", "all"), default="each", help="of each coat (default) or of all")
    mix.add_argument("--volume-solids", metavar="N", help="in %%, of the paint with its hardener, unthinned")
    mix.add_argument("--loss", default="40", metavar="N", help="in %% of the paint (default 40)")
    mix.add_argument("--ratio", metavar="A:B[:C]", help="base, hardener and, if there is one, a third part")
    mix.add_argument("--by", choices=("volume", "weight"), help="what the ratio goes by")
    mix.add_argument("--third", choices=("thinner", "component"), default="thinner", help="what a third part is")
    mix.add_argument("--thinner", metavar="N", help="in %%")
    mix.add_argument("--thinner-of", choices=("paint", "mix"), default="paint", help="what the percent is of")
    mix.add_argument("--densities", metavar="LIST", help='kg/l of base, hardener, third, thinner: "1.4 1 - 0.87"')
    mix.add_argument("--prices", metavar="LIST", help="of a litre of each, in the same order")
    mix.add_argument("--measure", choices=("cup", "scale", "fine_scale"), default="cup", help="how it is measured")
    mix.add_argument("--json", action="store_true", help="print the mix as JSON")


def _add_keeping(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    remove = commands.add_parser(
        "remove-sheet",
        help="take a filed sheet out of the library; it can be put back",
        description="Hides a sheet from answers, lists and search; its decisions are kept. Without SHEET: lists them.",
    )
    put_back = commands.add_parser("restore-sheet", help="put such a sheet back; without SHEET: lists them")
    for command in (remove, put_back):
        command.add_argument("sheet", nargs="?", metavar="SHEET", help="its number, its file's name, or its product")
        command.add_argument("--json", action="store_true", help="print as JSON")
    again = commands.add_parser(
        "read-again",
        help="read the sheets again that an older version of the program read",
        description="Decisions stay with the sentences that still stand; what is new or gone is listed.",
    )
    again.add_argument("--all", action="store_true", help="every sheet, whichever version read it")
    again.add_argument("--json", action="store_true", help="print as JSON")
    back_up = commands.add_parser("back-up", help="write the whole library into one file")
    back_up.add_argument("file", type=Path, metavar="FILE")
    restore = commands.add_parser("restore", help="make a library again from such a file")
    restore.add_argument("file", type=Path, metavar="FILE")
    restore.add_argument("folder", type=Path, metavar="DIR", help="a folder that does not exist yet, or is empty")

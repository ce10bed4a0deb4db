"""What speaks against answers: other units, sheets that cannot be, grain across the fold."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.errors import UserError
from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import Size
from wayfold.base.units import MM_PER_INCH
from wayfold.book.materials import Grain, Paper
from wayfold.book.state import Book
from wayfold.case.settings import SETTINGS
from wayfold.case.units_doubt import question_caliper, question_size, question_value
from wayfold.press.bed import lie_sheet

LEAST_SHEET = 100.0
"""The longer side (mm) of the smallest sheet that anybody folds a book of: A7 has 105."""
LARGEST_SHEET = 2000.0
LARGEST_MARGIN = 30.0
"""The foot of cut sheets on plotters stays white by 17 mm; art papers by up to 30 (makers' manuals,
common practice)."""
LEAST_MARGIN = 1.0
WEIGHT = (30.0, 600.0)
"""g/m2: from the thinnest translucent paper to card."""


def doubt_answers(book: Book) -> Iterator[Finding]:
    """Ask about a book's papers, printer and thread, the numbers first."""
    veil = book.translucent
    pairs = (
        ("paper", book.paper),
        ("translucent", Paper(veil.name, veil.sheet, veil.grammage_gsm, veil.caliper_um)),
    )
    sound = True
    for table, paper in pairs:
        for finding in _doubt_paper(table, paper):
            sound = sound and finding.severity is not Severity.BLOCK
            yield finding
    yield from _doubt_margins(book)
    thread = book.bench.sewing.thread
    if thread is not None:
        (setting,) = (s for s in SETTINGS if s.key == "sewing.thread_mm")
        asked = question_value(setting, thread)
        if asked is not None:
            yield asked
    if not sound:
        return
    try:
        bed = lie_sheet(book.trim, book.bleed, book.paper, book.printer)
    except UserError as error:
        yield Finding("printable-area", Severity.BLOCK, error.where, error.what, error.remedy)
        return
    yield from _doubt_grain(book, bed.sheet)


def _doubt_paper(table: str, paper: Paper) -> Iterator[Finding]:
    width, height = paper.sheet.width, paper.sheet.height
    small = question_size(f"{table}.sheet_mm", "A sheet", width, height, LEAST_SHEET)
    if small is not None:
        yield small
    elif max(width, height) > LARGEST_SHEET or min(width, height) < 50.0:
        yield Finding(
            "impossible-sheet",
            Severity.BLOCK,
            f"{table}.sheet_mm",
            f"A sheet of {width:g} × {height:g} mm goes through no printer.",
            "Write width x height of one sheet in millimetres; A4 is 210 x 297, A3+ mostly "
            "329 x 483. Measure it: names do not tell.",
        )
    if not WEIGHT[0] <= paper.grammage_gsm <= WEIGHT[1]:
        yield Finding(
            "unusual-measure",
            Severity.BLOCK,
            f"{table}.grammage_gsm",
            f"{paper.grammage_gsm:g} g/m² is the weight of no paper for a book.",
            "It stands on the pack, for example 190 g/m². Pounds (lb) are another measure.",
        )
        return
    thick = question_caliper(
        f"{table}.caliper_um", paper.name, paper.grammage_gsm, paper.caliper_um
    )
    if thick is not None:
        yield thick


def _doubt_margins(book: Book) -> Iterator[Finding]:
    printer = book.printer
    for edge, white in (
        ("left", printer.margin_left),
        ("right", printer.margin_right),
        ("head", printer.margin_head),
        ("foot", printer.margin_foot),
    ):
        where = f"printer.margin_{edge}_mm"
        if 0 < white < LEAST_MARGIN:
            yield Finding(
                "unit",
                Severity.WARN,
                where,
                f"{white:g} mm: hardly a printer prints so near to the edge of a sheet.",
                f"If inches were meant, write {white * MM_PER_INCH:.1f}; if centimetres, "
                f"{white * 10:g}. The borderless mode does not count: it enlarges the page.",
            )
        elif white > LARGEST_MARGIN:
            yield Finding(
                "unusual-measure",
                Severity.WARN,
                where,
                f"{white:g} mm stay white at the {edge}: that is more than printers leave.",
                "Print the registration sheet and read its edges. In tenths? Write millimetres.",
            )


def _doubt_grain(book: Book, sheet: Size) -> Iterator[Finding]:
    """As the sheet lies the fold runs upright, and so must the grain."""
    if abs(sheet.width - sheet.height) < 0.5:
        return
    wanted = Grain.LONG if sheet.height > sheet.width else Grain.SHORT
    name, grain = book.paper.name, book.paper.grain
    if grain is wanted:
        return
    along = sheet.height
    way_out = (
        f"Take {wanted.value}-grain sheets; or cut them from a roll, {along:g} mm along it, for on "
        "a roll the grain runs lengthwise; or make pages of half the size, on these sheets folded "
        "the other way."
    )
    if grain is Grain.UNKNOWN:
        yield Finding(
            "grain",
            Severity.WARN,
            "paper.grain",
            f"Which way the grain of {name} runs is not known. It has to run along the "
            f"{wanted.value} side, with the fold: otherwise folds crack and leaves stand up.",
            "Find it out with the measuring sheet before you buy for the whole book.",
        )
        return
    yield Finding(
        "grain",
        Severity.WARN,
        "paper.grain",
        f"The grain of {name} runs along the {grain.value} side, across the fold: folds may crack, "
        "the gutter ripples, and leaves stand up.",
        way_out,
    )

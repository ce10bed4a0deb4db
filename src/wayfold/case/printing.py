"""Whether the printer can take a piece of the cover, and what else would work."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import TOLERANCE, Rect, Size
from wayfold.book.casing import CaseStyle, Material, Stock, find_stocks
from wayfold.book.materials import Grain, Printer
from wayfold.book.state import Book
from wayfold.case.art import (
    ArtPiece,
    draw_labels,
    draw_sides,
    draw_spine_label,
    draw_spine_strip,
    draw_wrap,
    spine_title_size,
    turn_of,
)
from wayfold.case.cutting import Piece, plan_cuts
from wayfold.case.lettering import CoverPicture, letter_cover
from wayfold.case.measure import CaseMeasures, measure_case
from wayfold.drawing.items import Drawing

TURN_IN_LEAST = 10.0
KNIFE = 4.0
"""Left about a printed piece (mm) for the knife and its marks, where there is room."""


@dataclass(frozen=True, slots=True)
class Placement:
    """A printed piece on its sheet."""

    piece: ArtPiece
    box: Rect


@dataclass(frozen=True, slots=True)
class PrintedSheet:
    """A sheet of cover pieces as it lies for printing, heads of the pieces up."""

    stock: Stock
    size: Size
    printable: Rect
    placed: tuple[Placement, ...]


@dataclass(frozen=True, slots=True)
class CoverPrint:
    """All that is printed of a cover: its sheets, and the pieces that no sheet takes."""

    pieces: tuple[ArtPiece, ...]
    sheets: tuple[PrintedSheet, ...]
    refused: tuple[tuple[ArtPiece, Material], ...]


def plan_printing(
    book: Book, case: CaseMeasures, adorned: CoverPicture | Drawing | None = None
) -> CoverPrint:
    """Give all pieces of a cover that are printed, on as few sheets as they need.

    ``adorned``: what its front bears beside words, a photograph or a drawing.
    """
    wanted = _list_pieces(book, case, adorned)
    sheets: list[PrintedSheet] = []
    refused: list[tuple[ArtPiece, Material]] = []
    for material in dict.fromkeys(material for _, material in wanted):
        rest = [piece for piece, of in wanted if of is material]
        laid, left = _lay_pieces(book, rest, material)
        sheets += laid
        refused += [(piece, material) for piece in left]
    return CoverPrint(tuple(piece for piece, _ in wanted), tuple(sheets), tuple(refused))


def _list_pieces(
    book: Book, case: CaseMeasures, adorned: CoverPicture | Drawing | None
) -> list[tuple[ArtPiece, Material]]:
    turn = turn_of(book)
    bare = letter_cover(book, on_ground=False)
    ground = letter_cover(book, on_ground=True, adorned=adorned)
    paper, cloth = Material.COVER_PAPER, Material.PRINT_CLOTH
    match case.casing.style:
        case CaseStyle.FULL_CLOTH:
            return [(piece, paper) for piece in draw_labels(case, bare, turn)]
        case CaseStyle.PRINTED_CLOTH:
            return [(draw_wrap(case, ground, turn), cloth)]
        case CaseStyle.THREE_PIECE:
            sides = [(piece, cloth) for piece in draw_sides(case, ground)]
            return [*sides, (draw_spine_strip(case, ground, turn), cloth)]
        case CaseStyle.QUARTER_CLOTH:
            sides = [(piece, paper) for piece in draw_sides(case, ground)]
            return [*sides, *((p, paper) for p in draw_spine_label(case, bare, turn))]


def find_printable(sheet: Size, printer: Printer) -> Rect:
    """Give what a printer reaches of a sheet; an upright one is the landscape one turned."""
    p = printer
    if sheet.width >= sheet.height:
        left, right, head, foot = p.margin_left, p.margin_right, p.margin_head, p.margin_foot
    else:
        left, right, head, foot = p.margin_foot, p.margin_head, p.margin_left, p.margin_right
    return Rect(left, head, sheet.width - left - right, sheet.height - head - foot)


def find_printing_doubts(
    book: Book, case: CaseMeasures, printed: CoverPrint
) -> tuple[Finding, ...]:
    """Say which pieces no sheet takes and what would work, and where the grain would lie wrong."""
    found = [_refuse_piece(book, case, *refused) for refused in printed.refused]
    for sheet in printed.sheets:
        doubt = _doubt_grain(sheet)
        if doubt is not None and doubt not in found:
            found.append(doubt)
    if spine_title_size(case, letter_cover(book, on_ground=True)) == 0.0:
        found.append(
            Finding(
                "spine-title",
                Severity.NOTE,
                "case",
                f"A spine of {case.spine.width:.1f} mm has no room for the title.",
                "Leave it bare, or give the book a shorter title.",
            )
        )
    return tuple(found)


def _lay_pieces(
    book: Book, pieces: list[ArtPiece], material: Material
) -> tuple[list[PrintedSheet], list[ArtPiece]]:
    """Lay pieces on the first stock that takes them, with room for the knife where there is any."""
    laid: list[PrintedSheet] = []
    rest = pieces
    for stock in find_stocks(book.bench, material):
        if stock.roll or not _goes_in(stock.size, book.paper.sheet):
            continue
        for size in _ways(stock):
            room = find_printable(size, book.printer)
            for gap in (KNIFE, 0.0):
                fits = [p for p in rest if _lies_in(p.drawing.size, room, gap)]
                laid += _gang(stock, size, room, fits, gap)
                rest = [p for p in rest if p not in fits]
    return laid, rest


def _lies_in(size: Size, room: Rect, gap: float) -> bool:
    wide, high = size.width + 2 * gap, size.height + 2 * gap
    return wide <= room.width + TOLERANCE and high <= room.height + TOLERANCE


def _gang(
    stock: Stock, size: Size, room: Rect, pieces: list[ArtPiece], gap: float
) -> Iterator[PrintedSheet]:
    sizes = [p.drawing.size for p in pieces]
    wanted = [Piece("", Size(s.width + 2 * gap, s.height + 2 * gap)) for s in sizes]
    for sheet in plan_cuts(wanted, room.size) or ():
        right = max(laid.box.right for laid in sheet.laid)
        foot = max(laid.box.bottom for laid in sheet.laid)
        dx = room.x + (room.width - right) / 2 + gap
        dy = room.y + (room.height - foot) / 2 + gap
        placed = tuple(
            Placement(
                pieces[laid.piece],
                Rect(
                    laid.box.x + dx,
                    laid.box.y + dy,
                    sizes[laid.piece].width,
                    sizes[laid.piece].height,
                ),
            )
            for laid in sheet.laid
        )
        yield PrintedSheet(stock, size, room, placed)


def _ways(stock: Stock) -> tuple[Size, ...]:
    """The ways a sheet may lie, the one with its grain upright first."""
    upright = stock.size if stock.size.height >= stock.size.width else stock.size.turned
    ways = (upright, upright.turned)
    return tuple(reversed(ways)) if stock.grain is Grain.SHORT else ways


def _goes_in(sheet: Size, most: Size) -> bool:
    return (
        max(sheet.width, sheet.height) <= max(most.width, most.height) + TOLERANCE
        and min(sheet.width, sheet.height) <= min(most.width, most.height) + TOLERANCE
    )


def _refuse_piece(book: Book, case: CaseMeasures, piece: ArtPiece, material: Material) -> Finding:
    size = piece.drawing.size
    most, p = book.paper.sheet, book.printer
    upright = most if most.height >= most.width else most.turned
    rooms = [find_printable(sheet, p) for sheet in (upright, upright.turned)]
    best = min(rooms, key=lambda r: max(size.width - r.width, size.height - r.height))
    over = [
        f"{more:.1f} mm {what}"
        for more, what in (
            (size.width - best.width, "across"),
            (size.height - best.height, "along"),
        )
        if more > TOLERANCE
    ]
    if not over:
        message = (
            f"No sheet of {material.value} that is named takes the {piece.name} "
            f"of {size.width:.1f} × {size.height:.1f} mm."
        )
        remedy = "Name a larger one among your sheets; the printer could take it."
        return Finding("cover-print", Severity.WARN, "case", message, remedy)
    message = (
        f"The {piece.name} measures {size.width:.1f} × {size.height:.1f} mm; the printer "
        f"reaches {best.width:g} × {best.height:g} mm of a {most.width:g} × {most.height:g} mm "
        f"sheet. Missing: {' and '.join(over)}."
    )
    return Finding(
        "cover-print",
        Severity.WARN,
        "case",
        message,
        "Ways out: " + "; ".join(_list_ways_out(book, case, size)) + ".",
    )


def _list_ways_out(book: Book, case: CaseMeasures, size: Size) -> list[str]:
    ways = []
    for style, words in (
        (CaseStyle.THREE_PIECE, "printed cloth in three pieces"),
        (CaseStyle.QUARTER_CLOTH, "a cloth spine with printed paper sides"),
        (CaseStyle.FULL_CLOTH, "plain cloth in one piece with printed labels"),
    ):
        if style is case.casing.style:
            continue
        other = measure_case(case.block, replace(case.casing, style=style))
        if not plan_printing(book, other).refused:
            ways.append(words)
    m = book.printer
    wide, high = m.margin_left + m.margin_right, m.margin_head + m.margin_foot
    least = Size(math.ceil(size.width + wide), math.ceil(size.height + high))
    ways.append(f"a sheet of at least {least.width:g} × {least.height:g} mm and a printer for it")
    sheet = book.paper.sheet
    landscape = sheet if sheet.width >= sheet.height else sheet.turned
    room = find_printable(landscape, m)
    turn_in = math.floor((room.height - case.board.height) / 2)
    if turn_in >= TURN_IN_LEAST and size.width <= room.width:
        ways.append(f"turn-ins of {turn_in} mm")
    return ways


def _doubt_grain(printed: PrintedSheet) -> Finding | None:
    """The grain of a cover runs along the spine too; the sheet must lie so that it does."""
    stock = printed.stock
    if stock.grain is Grain.UNKNOWN:
        return None
    upright = printed.size.height >= printed.size.width
    if upright == (stock.grain is Grain.LONG):
        return None
    wanted = "long" if upright else "short"
    names = " and the ".join(p.piece.name for p in printed.placed)
    return Finding(
        "grain",
        Severity.WARN,
        f"stock {stock.title}",
        f"The {names} can only be printed with the grain across the spine: the cover will pull "
        "the boards out of true.",
        f"Take a sheet with {wanted} grain.",
    )

"""How the sheet lies and where on it the two pages go; what does not fit is said in millimetres."""

from __future__ import annotations

from dataclasses import dataclass

from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import TOLERANCE, Affine, Rect, Size
from wayfold.book.materials import Duplex, Paper, Printer
from wayfold.press.refuse import Edges, refuse_sheet

MARK_GAP = 0.5
"""Between the bleed and the marks, so that no mark can show on a page."""
MARK_LEAST = 2.0
"""A trim mark shorter than this guides no knife."""


@dataclass(frozen=True, slots=True)
class Bed:
    """A sheet as it lies with the pages' heads up, the spread in its middle.

    ``printable`` is what the printer reaches, in the sheet space of either side as printed.
    ``turns_heads``: the back is printed turned by 180 degrees.
    """

    sheet: Size
    page: Size
    bleed: float
    printable: Rect
    turns_heads: bool

    @property
    def fold_x(self) -> float:
        """Where the fold runs: the middle."""
        return self.sheet.width / 2

    @property
    def head_y(self) -> float:
        """The head of the trimmed pages."""
        return (self.sheet.height - self.page.height) / 2

    @property
    def half_turn(self) -> Affine:
        """The turn of a side by 180 degrees about the middle of the sheet."""
        return Affine.turn(180).then(Affine.shift(self.sheet.width, self.sheet.height))


def lie_sheet(page: Size, bleed: float, paper: Paper, printer: Printer) -> Bed:
    """Lay the sheet the way up on which the spread has most room.

    With bleed, trim, bleed and short trim marks must lie on the printable part. Without, nothing
    is meant to reach the trim and the trim need only lie on the sheet. Raises UserError naming
    the millimetres missing on each edge and the ways out.
    """
    ways = _list_ways(paper.sheet)
    best = max(ways, key=lambda sheet: round(_room(page, bleed, sheet, printer).least, 6))
    room = _room(page, bleed, best, printer)
    if room.least < -TOLERANCE:
        margins = _margins(best, printer)
        raise refuse_sheet(page, bleed, paper, best, margins, room, _marks_room(bleed))
    return Bed(best, page, bleed, _printable(best, printer), turns_heads(best, printer.duplex))


def find_hidden_edges(
    page: Size, bleed: float, paper: Paper, printer: Printer
) -> tuple[Finding, ...]:
    """Warn where pages without bleed reach over what the printer can print."""
    bed = lie_sheet(page, bleed, paper, printer)
    left = bed.fold_x - page.width
    trim = Rect(left, bed.head_y, 2 * page.width, page.height)
    if bed.printable.contains(trim):
        return ()
    p = bed.printable
    hidden = Edges(p.x - left, trim.right - p.right, p.y - trim.y, trim.bottom - p.bottom)
    return (
        Finding(
            "printable-area",
            Severity.WARN,
            "printer",
            f"The printer cannot reach the edges of the pages: {hidden.describe()} stay white.",
            "Keep pictures and text away from the page edges, or take a larger sheet.",
        ),
    )


def _list_ways(sheet: Size) -> tuple[Size, ...]:
    landscape = sheet if sheet.width >= sheet.height else sheet.turned
    return (landscape, landscape.turned)


def _margins(sheet: Size, printer: Printer) -> Edges:
    p = printer
    if sheet.width >= sheet.height:
        return Edges(p.margin_left, p.margin_right, p.margin_head, p.margin_foot)
    # Portrait: the landscape sheet turned a quarter clockwise.
    return Edges(p.margin_foot, p.margin_head, p.margin_left, p.margin_right)


def _printable(sheet: Size, printer: Printer) -> Rect:
    m = _margins(sheet, printer)
    return Rect(m.left, m.head, sheet.width - m.left - m.right, sheet.height - m.head - m.foot)


def _marks_room(bleed: float) -> float:
    return MARK_GAP + MARK_LEAST if bleed > 0 else 0.0


def _room(page: Size, bleed: float, sheet: Size, printer: Printer) -> Edges:
    """What is left over beside pages, bleed, marks and margin on each edge (negative: missing)."""
    m = _margins(sheet, printer) if bleed > 0 else Edges(0.0, 0.0, 0.0, 0.0)
    need = bleed + _marks_room(bleed)
    across = sheet.width / 2 - page.width - need
    along = (sheet.height - page.height) / 2 - need
    return Edges(across - m.left, across - m.right, along - m.head, along - m.foot)


def turns_heads(sheet: Size, duplex: Duplex) -> bool:
    """Whether the sheet turns about a level axis, which puts the back's head at the foot."""
    landscape = sheet.width >= sheet.height
    about_short = duplex is not Duplex.LONG_EDGE
    return landscape != about_short

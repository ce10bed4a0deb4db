"""Two-up imposition: every page into its place on its side of its sheet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wayfold.base.geometry import Affine, Rect, Size
from wayfold.book.materials import Binding, Duplex, Paper, Printer, Translucent
from wayfold.plan.model import Gathering, Interleaf
from wayfold.plan.paper import order_pages
from wayfold.press.bed import Bed, lie_sheet
from wayfold.press.creep import Nest, move_to_fold
from wayfold.press.marks import MarkedSide, draw_marks
from wayfold.press.model import PressSheet, SheetSide, SideName, Slot

_TRANSLUCENT = Translucent()


def lay_sheets(
    gatherings: Sequence[Gathering],
    trim: Size,
    bleed: float,
    paper: Paper,
    printer: Printer,
    binding: Binding,
    interleaves: Sequence[Interleaf] = (),
    translucent: Translucent = _TRANSLUCENT,
) -> tuple[PressSheet, ...]:
    """Lay all pages on sheets, in the order they are printed: gathering 1 from its outermost sheet.

    ``trim`` is one page; ``interleaves`` push out the sheets that they are folded round. Raises
    UserError where the sheet cannot take two pages.
    """
    bed = lie_sheet(trim, bleed, paper, printer)
    by_hand = printer.duplex is Duplex.MANUAL
    return tuple(
        sheet
        for gathering in gatherings
        for sheet in _lay_gathering(
            gathering,
            bed,
            nest_gathering(gathering, interleaves, paper, translucent, binding).paper,
            by_hand,
        )
    )


def nest_gathering(
    gathering: Gathering,
    interleaves: Sequence[Interleaf],
    paper: Paper,
    translucent: Translucent,
    binding: Binding,
) -> Nest:
    """Give how far a gathering's leaves are moved; of ``interleaves`` those folded into it."""
    depths = [
        i.depth for i in interleaves if i.gathering == gathering.number and i.depth is not None
    ]
    return move_to_fold(gathering.sheets, paper.caliper_um, binding, depths, translucent.caliper_um)


def _lay_gathering(
    gathering: Gathering, bed: Bed, creep: Sequence[float], by_hand: bool
) -> Iterator[PressSheet]:
    before = gathering.first_page - 1
    for index, pages in enumerate(order_pages(gathering.sheets), start=1):
        front = (before + pages.outer_left, before + pages.outer_right)
        back = (before + pages.inner_left, before + pages.inner_right)
        sides = [
            _lay_side(
                MarkedSide(name, gathering, index, left, right, by_hand), bed, creep[index - 1]
            )
            for name, (left, right) in ((SideName.FRONT, front), (SideName.BACK, back))
        ]
        yield PressSheet(gathering.number, index, bed.sheet, sides[0], sides[1])


def _lay_side(side: MarkedSide, bed: Bed, creep: float) -> SheetSide:
    width = bed.page.width - creep
    trim = Rect(bed.fold_x - width, bed.head_y, 2 * width, bed.page.height)
    turn = bed.half_turn if side.name is SideName.BACK and bed.turns_heads else Affine()
    slots = (
        lay_page(side.left, trim.x, Rect(trim.x, trim.y, width, trim.height), -1, bed, turn),
        lay_page(
            side.right,
            bed.fold_x - creep,
            Rect(bed.fold_x, trim.y, width, trim.height),
            1,
            bed,
            turn,
        ),
    )
    return SheetSide(side.name, slots, draw_marks(side, bed, trim, turn), turn.apply_rect(trim))


def lay_page(page: int, left: float, area: Rect, fore_edge: int, bed: Bed, turn: Affine) -> Slot:
    """Put a page with its left edge at ``left``; ``area`` is its part of the trimmed sheet.

    The bleed surrounds the area but for the fold; ``fore_edge`` is -1 where that lies left.
    """
    x = area.x - (bed.bleed if fore_edge < 0 else 0.0)
    clip = Rect(x, area.y - bed.bleed, area.width + bed.bleed, area.height + 2 * bed.bleed)
    return Slot(page, Affine.shift(left, area.y).then(turn), turn.apply_rect(clip))

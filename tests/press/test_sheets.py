"""Pages on sheets: published sizes, and paper turned and folded by other means than the press's."""

import itertools
from dataclasses import replace

import pytest

from wayfold.base.geometry import Point, Size
from wayfold.book.materials import Binding, Duplex, Paper, Printer
from wayfold.plan.model import Gathering
from wayfold.press.model import PressSheet, SheetSide, Slot
from wayfold.press.sheets import lay_sheets

EDGE_TO_EDGE = Printer(margin_left=0, margin_right=0, margin_head=0, margin_foot=0)
A4, A5 = Size(210, 297), Size(148, 210)
LETTER = Size(215.9, 279.4)

# Trim, sheet, bleed, and the paper left at the sides and at head and foot (outside the bleed).
# Sizes: ISO 216 (A), ISO 217 (SRA), ANSI Y14.1 (Letter on 11 x 17 in); A3+ is 329 x 483 mm by
# common practice. What is left over is plain arithmetic on them.
PUBLISHED = [
    (A4, Size(297, 420), 0.0, 0.0, 0.0),
    (A5, Size(210, 297), 0.0, 0.5, 0.0),
    (A4, Size(320, 450), 0.0, 15.0, 11.5),
    (A4, Size(320, 450), 3.0, 12.0, 8.5),
    (A4, Size(483, 329), 0.0, 31.5, 16.0),
    (A4, Size(329, 483), 3.0, 28.5, 13.0),
    (LETTER, Size(279.4, 431.8), 0.0, 0.0, 0.0),
    (Size(200, 200), Size(483, 329), 3.0, 38.5, 61.5),
    (Size(210, 148), Size(483, 329), 3.0, 28.5, 87.5),
    (Size(100, 300), Size(483, 329), 3.0, 61.5, 88.5),
]


@pytest.mark.parametrize(("trim", "sheet", "bleed", "across", "along"), PUBLISHED)
def test_paper_left_over(
    trim: Size, sheet: Size, bleed: float, across: float, along: float
) -> None:
    (laid,) = lay_sheets(
        [Gathering(1, 1, 1)], trim, bleed, Paper(sheet=sheet), EDGE_TO_EDGE, Binding()
    )
    assert sorted((laid.size.width, laid.size.height)) == sorted((sheet.width, sheet.height))
    left, right = laid.front.slots
    assert left.clip.x == pytest.approx(across)
    assert left.clip.y == pytest.approx(along)
    assert laid.size.width - right.clip.right == pytest.approx(across)
    assert laid.size.height - right.clip.bottom == pytest.approx(along)
    assert left.clip.right == pytest.approx(right.clip.x) == pytest.approx(laid.size.width / 2)


def test_tall_pages_turn_the_sheet_upright() -> None:
    (laid,) = lay_sheets([Gathering(1, 1, 1)], Size(100, 300), 3, Paper(), EDGE_TO_EDGE, Binding())
    assert laid.size == Size(329, 483)


def trim_on_paper(slot: Slot, trim: Size, side: SheetSide) -> tuple[Point, Point]:
    """Where a page's head left and foot right corners lie on its side as printed."""
    return slot.transform.apply(Point(0, 0)), slot.transform.apply(Point(trim.width, trim.height))


def seen_from_front(point: Point, size: Size, duplex: Duplex) -> Point:
    """Where a point of the back lies seen through the sheet from its front.

    Turning about an edge: a landscape sheet's short edges are upright, a portrait sheet's level.
    Turning about an upright edge swaps left and right; about a level one, head and foot.
    """
    short_edges_upright = size.width >= size.height
    about_short = duplex in (Duplex.SHORT_EDGE, Duplex.MANUAL)
    if about_short == short_edges_upright:
        return Point(size.width - point.x, point.y)
    return Point(point.x, size.height - point.y)


def fold(sheets: list[PressSheet], trim: Size, duplex: Duplex) -> list[int]:
    """Turn, fold and nest the sheets of one gathering; give the pages in reading order.

    Both pages of a leaf must lie back to back, heads together, within 1 µm.
    """
    outer: list[int] = []
    inner: list[int] = []
    for sheet in sheets:
        leaves = {}
        for slot in sheet.front.slots:
            corner, opposite = trim_on_paper(slot, trim, sheet.front)
            assert opposite.x > corner.x, "the front's head is up"
            assert opposite.y > corner.y
            half = "left" if (corner.x + opposite.x) / 2 < sheet.size.width / 2 else "right"
            leaves[half] = (slot.page, corner, opposite)
        for slot in sheet.back.slots:
            corner, opposite = (
                seen_from_front(p, sheet.size, duplex)
                for p in trim_on_paper(slot, trim, sheet.back)
            )
            half = "left" if (corner.x + opposite.x) / 2 < sheet.size.width / 2 else "right"
            page, front_corner, front_opposite = leaves[half]
            # Seen through the paper the verso's left edge is the recto's right one.
            assert corner.x == pytest.approx(front_opposite.x, abs=1e-3)
            assert opposite.x == pytest.approx(front_corner.x, abs=1e-3)
            assert corner.y == pytest.approx(front_corner.y, abs=1e-3)
            if half == "right":
                outer += [page, slot.page]
            else:
                inner = [slot.page, page, *inner]
    return outer + inner


@pytest.mark.parametrize("duplex", Duplex)
@pytest.mark.parametrize("trim", [A4, Size(100, 300), Size(150, 150), Size(210, 148)])
@pytest.mark.parametrize("cut", [True, False])
def test_turned_and_folded_sheets_read_on(duplex: Duplex, trim: Size, cut: bool) -> None:
    printer = replace(Printer(), duplex=duplex)
    gatherings = [Gathering(1, 3, 1), Gathering(2, 2, 13), Gathering(3, 1, 21)]
    binding = Binding(trim_fore_edge=cut)
    sheets = lay_sheets(gatherings, trim, 3, Paper(), printer, binding)
    pages = []
    for _, nested in itertools.groupby(sheets, key=lambda s: s.gathering):
        pages += fold(list(nested), trim, duplex)
    assert pages == list(range(1, 25))


@pytest.mark.parametrize("sheets", [1, 2, 3, 4, 5, 8])
def test_every_side_sums_alike(sheets: int) -> None:
    gathering = Gathering(2, sheets, 17)
    for sheet in lay_sheets([gathering], A4, 3, Paper(), Printer(), Binding()):
        for side in (sheet.front, sheet.back):
            assert sum(slot.page for slot in side.slots) == 2 * 16 + 4 * sheets + 1


def test_sheets_come_in_the_order_of_printing() -> None:
    sheets = lay_sheets(
        [Gathering(1, 2, 1), Gathering(2, 1, 9)], A4, 3, Paper(), Printer(), Binding()
    )
    assert [s.label for s in sheets] == [
        "gathering 1, sheet 1",
        "gathering 1, sheet 2",
        "gathering 2, sheet 1",
    ]


def test_creep_moves_pages_to_the_fold_and_starts_anew_in_each_gathering() -> None:
    binding = Binding(creep_coefficient=1.0)
    paper = Paper(caliper_um=240)
    sheets = lay_sheets([Gathering(1, 3, 1), Gathering(2, 1, 13)], A4, 3, paper, Printer(), binding)
    fold_x = 483 / 2
    for sheet, e in zip(sheets, (0, 0.24, 0.48, 0), strict=True):
        for side in (sheet.front, sheet.back):
            left, right = side.slots
            assert left.transform.apply(Point(0, 0)).x == pytest.approx(fold_x - 210 + e)
            assert right.transform.apply(Point(0, 0)).x == pytest.approx(fold_x - e)
            assert left.clip.x == pytest.approx(fold_x - 213 + e)
            assert left.clip.right == pytest.approx(fold_x)
            assert [left.clip.y, left.clip.height] == pytest.approx([13, 303])
            assert right.clip.x == pytest.approx(fold_x)
            assert right.clip.right == pytest.approx(fold_x + 213 - e)
            assert side.trim.width == pytest.approx(420 - 2 * e)


def test_trimmed_flush_all_leaves_are_one_width() -> None:
    """Nest the sheets: each fold stands out by the creep, and the knife goes straight down."""
    paper, binding = Paper(caliper_um=250), Binding(creep_coefficient=1.57)
    sheets = lay_sheets([Gathering(1, 5, 1)], A4, 3, paper, Printer(), binding)
    fore_edges = []
    for sheet in sheets:
        stands_out = 1.57 * 0.25 * (sheet.index - 1)
        fore_edges.append(sheet.front.trim.right - sheet.size.width / 2 + stands_out)
    assert fore_edges == pytest.approx([210] * 5)

"""Sheets that cannot take the pages: the millimetres missing and the ways out."""

import re
from dataclasses import replace
from typing import Any

import pytest

from wayfold.base.errors import UserError
from wayfold.base.geometry import Size
from wayfold.book.materials import Paper, Printer
from wayfold.press.bed import find_hidden_edges, lie_sheet

A4 = Size(210, 297)
A3 = Paper(name="A3", sheet=Size(297, 420))


def refuse(page: Size, bleed: float, paper: Paper, printer: Printer) -> UserError:
    with pytest.raises(UserError) as caught:
        lie_sheet(page, bleed, paper, printer)
    return caught.value


def test_default_fits() -> None:
    bed = lie_sheet(A4, 3, Paper(), Printer())
    assert bed.sheet == Size(483, 329)
    assert (bed.fold_x, bed.head_y) == (241.5, 16)


def test_missing_millimetres_are_named_on_each_edge() -> None:
    # A4 spread on A3: nothing left; bleed 3 + gap and mark 2.5 + margins 5 / 5 / 3 / 3.
    error = refuse(A4, 3, A3, Printer())
    for words in (
        "10.5 mm at the left edge",
        "10.5 mm at the right edge",
        "8.5 mm at the head",
        "8.5 mm at the foot",
    ):
        assert words in error.what
    assert "“A3” (420 × 297 mm)" in error.what
    assert "no bleed (0)" in error.remedy
    assert "a sheet of at least 441 × 314 mm" in error.remedy
    assert "pages of at most 199 × 280 mm" in error.remedy


def test_only_edges_that_lack_are_named() -> None:
    error = refuse(A4, 3, Paper(), replace(Printer(), margin_foot=17))
    assert "Missing: 6.5 mm at the foot." in error.what
    assert "foot at most 10.5 mm" in error.remedy
    assert "left" not in error.remedy


def read_sizes(text: str, before: str) -> Size:
    found = re.search(before + r" ([\d.]+) × ([\d.]+) mm", text)
    assert found
    return Size(float(found[1]), float(found[2]))


@pytest.mark.parametrize("page", [A4, Size(240, 300), Size(300, 210), Size(200, 330)])
@pytest.mark.parametrize("margins", [(5, 5, 3, 3), (3, 4, 3, 17), (20, 2, 1, 1)])
def test_every_way_out_leads_out(page: Size, margins: tuple[float, float, float, float]) -> None:
    printer = Printer("printer", *margins)
    paper = Paper(sheet=Size(440, 320))
    error = refuse(page, 3, paper, printer)
    lie_sheet(
        page, 3, replace(paper, sheet=read_sizes(error.remedy, "a sheet of at least")), printer
    )
    lie_sheet(read_sizes(error.remedy, "pages of at most"), 3, paper, printer)
    bleed = re.search(r"a bleed of at most ([\d.]+) mm", error.remedy)
    if bleed:
        lie_sheet(page, float(bleed[1]), paper, printer)
    if "no bleed" in error.remedy:
        lie_sheet(page, 0, paper, printer)
    margin_ways = dict(re.findall(r"(left|right|head|foot) at most ([\d.]+) mm", error.remedy))
    if margin_ways:
        nearer: dict[str, Any] = {f"margin_{edge}": float(mm) for edge, mm in margin_ways.items()}
        lie_sheet(page, 3, paper, replace(printer, **nearer))


def test_bleed_in_the_margin_is_an_error() -> None:
    # 420 + 2 * 3 = 426 on a 432 mm roll: the printer's 5 mm edges eat the bleed.
    error = refuse(A4, 3, Paper(sheet=Size(432, 329)), Printer())
    assert "4.5 mm at the left edge" in error.what


def test_pages_larger_than_the_sheet() -> None:
    error = refuse(A4, 0, Paper(sheet=Size(400, 290)), Printer())
    assert "10 mm at the left edge" in error.what
    assert "3.5 mm at the head" in error.what
    assert "bleed of" not in error.remedy


def test_without_bleed_hidden_edges_are_a_warning() -> None:
    (finding,) = find_hidden_edges(A4, 0, A3, Printer())
    assert "5 mm at the left edge" in finding.message
    assert "3 mm at the foot" in finding.message
    assert find_hidden_edges(A4, 3, Paper(), Printer()) == ()


def test_margins_turn_with_the_sheet() -> None:
    printer = Printer(margin_left=1, margin_right=2, margin_head=3, margin_foot=4)
    upright = lie_sheet(Size(100, 300), 3, Paper(), printer)
    assert upright.sheet == Size(329, 483)
    # A quarter clockwise: left to head, head to right, right to foot, foot to left.
    p = upright.printable
    assert (p.y, upright.sheet.width - p.right, upright.sheet.height - p.bottom, p.x) == (
        pytest.approx((1, 3, 2, 4))
    )

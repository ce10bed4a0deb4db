"""Marks: where cuts, folds and steps must lie, and that the printer can print them all."""

import itertools
from dataclasses import replace

import pytest

from wayfold.base.geometry import Rect, Size
from wayfold.book.materials import Binding, Duplex, Paper, Printer
from wayfold.drawing.items import Drawing, Shape, Text
from wayfold.plan.model import Gathering
from wayfold.press.model import PressSheet
from wayfold.press.sheets import lay_sheets

A4 = Size(210, 297)


def lay(
    *gatherings: Gathering,
    trim: Size = A4,
    bleed: float = 3,
    paper: Paper | None = None,
    printer: Printer | None = None,
) -> tuple[PressSheet, ...]:
    return lay_sheets(gatherings, trim, bleed, paper or Paper(), printer or Printer(), Binding())


def list_shapes(drawing: Drawing) -> list[Shape]:
    return [item for item in drawing.items if isinstance(item, Shape)]


def extent(shape: Shape) -> Rect:
    xs = [p.x for c in shape.contours for p in c.points]
    ys = [p.y for c in shape.contours for p in c.points]
    return Rect(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))


def words(drawing: Drawing) -> dict[str, str]:
    return {i.key: i.paragraphs[0].plain for i in drawing.items if isinstance(i, Text)}


def find_step(drawing: Drawing) -> Rect | None:
    found = [extent(s) for s in list_shapes(drawing) if s.fill]
    assert len(found) <= 1
    return found[0] if found else None


def test_trim_marks_point_at_the_cuts_and_keep_off_the_bleed() -> None:
    (sheet,) = lay(Gathering(1, 1, 1))
    for side in (sheet.front, sheet.back):
        lines = [extent(s) for s in list_shapes(side.marks) if s.stroke and not s.stroke.dash]
        upright = sorted({r.x for r in lines if r.width == 0})
        level = sorted({r.y for r in lines if r.height == 0})
        assert upright == pytest.approx([31.5, 451.5])
        assert level == pytest.approx([16, 313])
        assert len(lines) == 8
        bleed = Rect(31.5, 16, 420, 297).grown(3)
        for r in lines:
            assert max(r.width, r.height) == pytest.approx(5)
            assert bleed.overlap(r.grown(0.1)) is None


def test_inner_sheets_are_cut_where_the_outer_one_is() -> None:
    sheets = lay(Gathering(1, 3, 1), paper=Paper(caliper_um=240))
    for sheet in sheets:
        lines = [extent(s) for s in list_shapes(sheet.front.marks) if s.stroke]
        creep = 1.2 * 0.24 * (sheet.index - 1)
        assert max(r.x for r in lines if r.width == 0) == pytest.approx(451.5 - creep)


def test_fold_marks_lie_on_the_fold_outside_the_trim() -> None:
    (sheet,) = lay(Gathering(1, 1, 1))
    folds = [extent(s) for s in list_shapes(sheet.back.marks) if s.stroke and s.stroke.dash]
    assert [r.x for r in folds] == pytest.approx([241.5, 241.5])
    assert sorted(r.bottom <= 13 for r in folds) == [False, True]
    assert sorted(r.y >= 316 for r in folds) == [False, True]


def test_steps_make_an_unbroken_diagonal() -> None:
    # Roberts & Etherington, "black step": 6 by 24 pt = 2.12 x 8.47 mm, each a length lower.
    sheets = lay(*(Gathering(n, 2, 8 * n - 7) for n in range(1, 41)))
    steps = []
    for sheet in sheets:
        assert find_step(sheet.back.marks) is None
        step = find_step(sheet.front.marks)
        assert (step is not None) == (sheet.index == 1)
        if step:
            assert [step.width, step.height] == pytest.approx([2.1167, 8.4667], abs=1e-3)
            assert step.center.x == pytest.approx(241.5)
            steps.append(step)
    # 30 steps fit on 297 mm with 20 mm kept clear at each end; the 31st starts anew.
    assert steps[30].y == pytest.approx(steps[0].y) == pytest.approx(16 + 20)
    for a, b in itertools.pairwise(steps[:30]):
        assert b.y == pytest.approx(a.bottom)
    assert steps[29].bottom <= 16 + 297 - 20


def test_small_books_still_have_a_step() -> None:
    for height in (5.0, 30.0, 60.0):
        sheets = lay(Gathering(1, 1, 1), Gathering(2, 1, 5), trim=Size(60, height))
        for sheet in sheets:
            step = find_step(sheet.front.marks)
            assert step
            head = (sheet.size.height - height) / 2
            assert head - 1e-6 <= step.y
            assert step.bottom <= head + height + 1e-6


def test_signature_and_label() -> None:
    sheets = lay(Gathering(1, 2, 1), Gathering(2, 3, 9))
    assert words(sheets[3].front.marks)["signature"] == "B 2"
    assert "signature" not in words(sheets[3].back.marks)
    assert words(sheets[3].back.marks)["sheet label"] == (
        "back · gathering 2 (B), sheet 2 of 3 · pages 12 and 17 · this edge is the head"
    )
    by_hand = replace(Printer(), duplex=Duplex.MANUAL)
    (sheet,) = lay(Gathering(1, 1, 1), printer=by_hand)
    assert "turn the pile" in words(sheet.front.marks)["sheet label"]
    assert "turn the pile" not in words(sheet.back.marks)["sheet label"]


@pytest.mark.parametrize("duplex", Duplex)
@pytest.mark.parametrize(
    "printer",
    [Printer(), Printer("far foot", 3, 3, 1, 10), Printer("uneven", 20, 1, 0, 3)],
)
@pytest.mark.parametrize("trim", [A4, Size(100, 300), Size(150, 150), Size(40, 60)])
@pytest.mark.parametrize("bleed", [0.0, 3.0])
def test_marks_stay_where_the_printer_prints_and_off_the_pages(
    duplex: Duplex, printer: Printer, trim: Size, bleed: float
) -> None:
    printer = replace(printer, duplex=duplex)
    for sheet in lay(Gathering(1, 3, 1), trim=trim, bleed=bleed, printer=printer):
        w, h = sheet.size.width, sheet.size.height
        margins = (
            printer.margin_left,
            printer.margin_head,
            printer.margin_right,
            printer.margin_foot,
        )
        if w < h:  # the landscape sheet turned a quarter clockwise
            margins = (margins[3], margins[0], margins[1], margins[2])
        left, head, right, foot = margins
        printable = Rect(left, head, w - left - right, h - head - foot)
        for side in (sheet.front, sheet.back):
            assert side.marks.size == sheet.size
            kept = side.trim.grown(bleed)
            assert len(list_shapes(side.marks)) >= 6
            for item in side.marks.items:
                box = item.box if isinstance(item, Text) else None
                if isinstance(item, Shape):
                    box = extent(item)
                assert box
                assert printable.contains(box)
                if not (isinstance(item, Shape) and item.fill):
                    assert kept.overlap(box.grown(0.01)) is None


def test_turned_backs_turn_their_words() -> None:
    printer = replace(Printer(), duplex=Duplex.LONG_EDGE)
    (sheet,) = lay(Gathering(1, 1, 1), printer=printer)
    (label,) = (i for i in sheet.back.marks.items if isinstance(i, Text))
    assert label.turn_deg == 180
    assert label.box.y > sheet.size.height / 2, "the head lies at the foot of the printed image"
    assert label.box.x > sheet.size.width / 2


def test_no_marks_where_there_is_no_room() -> None:
    paper = Paper(sheet=Size(420, 297))
    (sheet,) = lay(Gathering(1, 1, 1), bleed=0, paper=paper)
    assert [s.fill is not None for s in list_shapes(sheet.front.marks)] == [True]
    assert sheet.back.marks.items == ()

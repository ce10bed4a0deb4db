"""Translucent sheets: where each leaf lies on its sheet, how far it is moved, what its marks say.

Where leaves fall and how far they stand out: geometry of folding and of nested folds, worked by
hand beside each check. Widths of glue strips and stubs are common practice, no single source.
"""

from dataclasses import replace

import pytest

from tests.press.test_marks import extent, list_shapes, words
from tests.press.test_sheets import A4, fold
from wayfold.base.errors import UserError
from wayfold.base.geometry import Point, Rect, Size
from wayfold.book.materials import Binding, Duplex, LeafInk, Paper, Printer, Translucent
from wayfold.plan.model import EndRole, Gathering, Interleaf, InterleafEnd, Plan
from wayfold.press.creep import move_to_fold
from wayfold.press.interleaves import lay_interleaves
from wayfold.press.leaf_ink import choose_mirrored
from wayfold.press.model import InterleafSheet, SheetSide
from wayfold.press.sheets import lay_sheets

FOLD = 483 / 2
"""The middle of the sheet of A3+ (329 x 483 mm, common practice)."""
HARD = Binding(creep_coefficient=1.0)
PAPER, VELLUM = Paper(caliper_um=240), Translucent(caliper_um=90)


def end(after: int, role: EndRole = EndRole.PLAIN) -> InterleafEnd:
    over = after + 1 if role is EndRole.WANTED else None
    return InterleafEnd(after, role, over)


def wrap(gathering: int, depth: int, first: int, second: int) -> Interleaf:
    return Interleaf(gathering, depth, (end(first, EndRole.WANTED), end(second)))


def tip_in(gathering: int, after: int) -> Interleaf:
    return Interleaf(gathering, None, (end(after, EndRole.WANTED),))


def plan(*interleaves: Interleaf, sheets: tuple[int, ...] = (4, 3)) -> Plan:
    gatherings, first = [], 1
    for number, count in enumerate(sheets, start=1):
        gatherings.append(Gathering(number, count, first))
        first += 4 * count
    return Plan((), tuple(gatherings), (), interleaves)


def lay(
    *interleaves: Interleaf,
    sheets: tuple[int, ...] = (4, 3),
    trim: Size = A4,
    binding: Binding = HARD,
    translucent: Translucent = VELLUM,
    printer: Printer | None = None,
) -> tuple[InterleafSheet, ...]:
    asked = plan(*interleaves, sheets=sheets)
    return lay_interleaves(asked, trim, PAPER, translucent, printer or Printer(), binding)


def faces(side: SheetSide) -> list[int]:
    return [slot.page for slot in side.slots]


def left_edges(side: SheetSide) -> list[float]:
    return [slot.transform.apply(Point(0, 0)).x for slot in side.slots]


def test_no_interleaves_no_sheets() -> None:
    assert lay() == ()


@pytest.mark.parametrize("duplex", Duplex)
@pytest.mark.parametrize("trim", [A4, Size(100, 300), Size(150, 150)])
def test_a_folded_sheet_reads_on_and_lies_back_to_back(duplex: Duplex, trim: Size) -> None:
    """Folded by the paper sheets' own test: first leaf recto and verso, second recto and verso."""
    printer = replace(Printer(), duplex=duplex)
    sheets = lay(wrap(1, 2, 4, 12), wrap(2, 1, 18, 26), trim=trim, printer=printer)
    for number, sheet in enumerate(sheets, start=1):
        assert (sheet.number, sheet.folded) == (number, True)
        read = fold([sheet], trim, duplex)  # type: ignore[list-item]
        assert read == [4 * number - 3 + face for face in range(4)]


def test_leaves_are_named_in_the_plans_order() -> None:
    sheets = lay(wrap(1, 2, 4, 12), tip_in(1, 8), wrap(2, 1, 18, 26), tip_in(2, 20), tip_in(2, 24))
    # Folded ones first; then single leaves, two to a sheet, the odd one alone.
    assert [(s.leaves, s.folded) for s in sheets] == [
        (((0, 0), (0, 1)), True),
        (((2, 0), (2, 1)), True),
        (((1, 0), (3, 0)), False),
        (((4, 0),), False),
    ]
    assert [s.label for s in sheets] == [f"interleaf sheet {n}" for n in (1, 2, 3, 4)]


def test_a_single_leaf_alone_leaves_the_other_half_bare() -> None:
    (sheet,) = lay(tip_in(1, 8))
    # First leaf: right half of the front, and behind it the left half of the back.
    assert faces(sheet.front) == [1]
    assert faces(sheet.back) == [2]
    assert left_edges(sheet.front)[0] >= FOLD - 1
    assert sheet.front.slots[0].clip.x == pytest.approx(FOLD)
    assert sheet.back.slots[0].clip.right == pytest.approx(FOLD)


def test_two_single_leaves_have_their_spines_at_the_cut() -> None:
    (sheet,) = lay(tip_in(1, 8), tip_in(2, 20))
    assert (faces(sheet.front), faces(sheet.back)) == ([4, 1], [2, 3])
    for side in (sheet.front, sheet.back):
        left, right = side.slots
        assert left.clip.right == pytest.approx(FOLD) == pytest.approx(right.clip.x)


# Hard folds, paper 0.24 and translucent sheet 0.09 mm: outer to inner 0.24, 0.24, 0.09, 0.24 stand
# out by 0 / 0.24 / 0.48 / 0.57 mm (geometry of nested folds, worked by hand).
MIXED = (0.0, 0.24, 0.57), 0.48


def test_mixed_papers_in_one_gathering() -> None:
    paper, leaf = MIXED
    nest = move_to_fold(3, 240, HARD, (2,), 90)
    assert nest.paper == pytest.approx(paper)
    assert nest.interleaves == pytest.approx((leaf,))


def test_mixed_papers_on_their_sheets() -> None:
    interleaf = wrap(1, 2, 4, 8)
    sheets = lay_sheets(
        plan(sheets=(3,)).gatherings, A4, 3, PAPER, Printer(), HARD, (interleaf,), VELLUM
    )
    for sheet, creep in zip(sheets, MIXED[0], strict=True):
        for side in (sheet.front, sheet.back):
            assert left_edges(side) == pytest.approx([FOLD - 210 + creep, FOLD - creep])
            assert side.trim.width == pytest.approx(420 - 2 * creep)
    (leaf,) = lay(interleaf, sheets=(3,))
    for side in (leaf.front, leaf.back):
        assert left_edges(side) == pytest.approx([FOLD - 210 + 0.48, FOLD - 0.48])
        assert side.trim.width == pytest.approx(420 - 2 * 0.48)


@pytest.mark.parametrize(
    ("depths", "paper", "leaves"),
    [
        # 0.10 mm leaves round 0.25 mm paper, three sheets. Round all: everything 0.10 further out.
        ((0,), (0.10, 0.35, 0.60), (0.0,)),
        # In the centre: it moves nothing, and has all three sheets outside it.
        ((3,), (0.0, 0.25, 0.50), (0.75,)),
        # Two at one depth: the one named first lies outside.
        ((1, 1), (0.0, 0.45, 0.70), (0.25, 0.35)),
        ((1, 2), (0.0, 0.35, 0.70), (0.25, 0.60)),
    ],
)
def test_leaves_at_every_depth(
    depths: tuple[int, ...], paper: tuple[float, ...], leaves: tuple[float, ...]
) -> None:
    nest = move_to_fold(3, 250, HARD, depths, 100)
    assert nest.paper == pytest.approx(paper)
    assert nest.interleaves == pytest.approx(leaves)


def test_uncut_leaves_are_not_moved() -> None:
    nest = move_to_fold(3, 250, Binding(trim_fore_edge=False), (1, 3), 100)
    assert set(nest.paper) | set(nest.interleaves) == {0.0}


def test_a_single_leaf_goes_with_the_page_it_is_tipped_to() -> None:
    # Four sheets: before page 5 (third leaf, two sheets outside it) and before page 9 (the first
    # leaf of the innermost sheet's second half, three outside it).
    (sheet,) = lay(tip_in(1, 4), tip_in(1, 8))
    left, right = sheet.front.slots
    assert right.transform.apply(Point(0, 0)).x == pytest.approx(FOLD - 2 * 0.24)
    assert left.transform.apply(Point(0, 0)).x == pytest.approx(FOLD - 210 + 3 * 0.24)
    assert right.clip.right == pytest.approx(FOLD + 210 - 2 * 0.24)
    assert left.clip.x == pytest.approx(FOLD - 210 + 3 * 0.24)


@pytest.mark.parametrize(
    ("interleaf", "sheets", "words_", "pages"),
    [
        # Wrapped round the inner m of n sheets: after pages 2(n-m) and 2n+2m of the gathering.
        (wrap(1, 2, 4, 12), (4,), "round the inner 2 of 4 sheets", "4 and 12"),
        (wrap(1, 0, 0, 16), (4,), "round the inner 4 of 4 sheets", "0 and 16"),
        (wrap(1, 2, 4, 8), (3,), "round the inner 1 of 3 sheets", "4 and 8"),
        (wrap(1, 2, 4, 16), (5,), "round the inner 3 of 5 sheets", "4 and 16"),
        (wrap(2, 4, 16, 16), (2, 4), "in its middle", "16 and 16"),
    ],
)
def test_a_label_says_where_the_sheet_goes(
    interleaf: Interleaf, sheets: tuple[int, ...], words_: str, pages: str
) -> None:
    (sheet,) = lay(interleaf, sheets=sheets)
    for side in (sheet.front, sheet.back):
        label = words(side.marks)["sheet label"]
        assert f"{words_} · leaves after pages {pages}" in label
        assert label.startswith(f"{side.name} · interleaf sheet 1 · gathering ")


def test_a_label_says_what_is_tipped_in() -> None:
    two, one = lay(tip_in(1, 4), tip_in(2, 22), tip_in(2, 26))
    assert (
        "to be tipped in: leaves after pages 4 and 22 (gathering A and B)"
        in (words(two.front.marks)["sheet label"])
    )
    assert "leaf after page 26" in words(one.back.marks)["sheet label"]


def lines(side: SheetSide) -> list[Rect]:
    return [extent(s) for s in list_shapes(side.marks) if s.stroke and not s.stroke.dash]


def test_folded_sheets_have_a_fold_and_single_leaves_a_cut_and_a_strip() -> None:
    folded, cut = lay(wrap(1, 2, 4, 12), tip_in(1, 8), tip_in(2, 20))
    for side in (folded.front, folded.back):
        dashed = [s for s in list_shapes(side.marks) if s.stroke and s.stroke.dash]
        assert [extent(s).x for s in dashed] == pytest.approx([FOLD, FOLD])
    for side in (cut.front, cut.back):
        assert not [s for s in list_shapes(side.marks) if s.stroke and s.stroke.dash]
        assert [r.x for r in lines(side) if r.width == 0].count(FOLD) == 2
        # Brackets at head and foot over 3 mm on either side of the cut.
        strips = [r for r in lines(side) if r.width == pytest.approx(3.0) and r.height > 0]
        assert sorted(round(r.x, 3) for r in strips) == [FOLD - 3, FOLD - 3, FOLD, FOLD]


def test_a_strip_is_marked_only_where_a_leaf_is() -> None:
    (sheet,) = lay(tip_in(1, 8))
    for side, x in ((sheet.front, FOLD), (sheet.back, FOLD - 3)):
        strips = [r for r in lines(side) if r.width == pytest.approx(3.0) and r.height > 0]
        assert [r.x for r in strips] == pytest.approx([x, x])


def test_a_stub_is_cut_on_its_own_half() -> None:
    """The second leaf lies left on the front and right on the back, and so does its cut."""
    stub = Interleaf(1, 2, (end(4, EndRole.WANTED), end(12, EndRole.STUB)))
    (sheet,) = lay(stub)
    for side, x in ((sheet.front, FOLD - 10), (sheet.back, FOLD + 10)):
        assert [r.x for r in lines(side) if r.width == 0].count(x) == 2
    first = Interleaf(1, 2, (end(4, EndRole.STUB), end(12, EndRole.WANTED)))
    (sheet,) = lay(first)
    for side, x in ((sheet.front, FOLD + 10), (sheet.back, FOLD - 10)):
        assert [r.x for r in lines(side) if r.width == 0].count(x) == 2
    assert "leaves after pages 4 (a stub) and 12" in words(sheet.front.marks)["sheet label"]


def test_marks_stay_off_the_leaves_and_where_the_printer_prints() -> None:
    printable = Rect(5, 3, 473, 323)
    for sheet in lay(wrap(1, 2, 4, 12), tip_in(1, 8), tip_in(2, 20), tip_in(2, 22)):
        for side in (sheet.front, sheet.back):
            for shape in list_shapes(side.marks):
                assert printable.contains(extent(shape))
                assert side.trim.overlap(extent(shape).grown(0.01)) is None


def test_a_sheet_too_small_for_two_leaves_is_refused() -> None:
    with pytest.raises(UserError, match="vellum"):
        lay(wrap(1, 2, 4, 12), translucent=Translucent("vellum", Size(297, 210)))


def test_trimmed_flush_every_leaf_is_as_wide_as_the_paper_round_it() -> None:
    """Nest all: each fold stands out by the creep, and the knife goes straight down."""
    interleaf = wrap(1, 2, 4, 12)
    paper = lay_sheets(
        plan(sheets=(4,)).gatherings, A4, 3, PAPER, Printer(), HARD, (interleaf,), VELLUM
    )
    (leaf,) = lay(interleaf, sheets=(4,))
    outside = (0.0, 0.24, 0.57, 0.81)
    edges = [s.front.trim.right - FOLD + out for s, out in zip(paper, outside, strict=True)]
    edges.append(leaf.front.trim.right - FOLD + 0.48)
    assert edges == pytest.approx([210] * 5)


ONE_SIDE = replace(VELLUM, ink=LeafInk.ONE_SIDE)
BOTH_RECTOS = {(0, 0): (True, False), (0, 1): (True, False)}


# A bifolium's rectos lie on opposite sides of the sheet, and so do its versos (geometry of one
# fold): the first leaf's recto and the second's verso on the front.
@pytest.mark.parametrize(
    ("first", "second", "mirrored"),
    [
        ((True, False), (True, False), (False, True)),  # front and back: the echo is turned
        ((True, False), (False, True), (False, False)),  # both on the front: one pass as they are
        ((False, True), (True, False), (False, False)),  # both on the back
        ((False, True), (False, True), (False, True)),
        (
            (True, True),
            (True, False),
            (False, False),
        ),  # the first needs both sides whatever is done
        ((True, False), (False, False), (False, False)),
    ],
)
def test_one_side_mirrors_only_what_lies_on_the_other(
    first: tuple[bool, bool], second: tuple[bool, bool], mirrored: tuple[bool, bool]
) -> None:
    leaves = [((0, 0), end(4, EndRole.WANTED)), ((0, 1), end(12, EndRole.ECHO))]
    inked = {(0, 0): first, (0, 1): second}
    assert choose_mirrored(leaves, ONE_SIDE, inked) == mirrored
    assert choose_mirrored(leaves, VELLUM, inked) == (False, False)


def test_the_leaf_that_was_wanted_keeps_its_side() -> None:
    leaves = [((0, 0), end(4, EndRole.ECHO)), ((0, 1), end(12, EndRole.WANTED))]
    assert choose_mirrored(leaves, ONE_SIDE, BOTH_RECTOS) == (True, False)


def test_single_leaves_are_chosen_by_the_page_they_follow() -> None:
    leaves = [((0, 0), end(4, EndRole.WANTED)), ((0, 1), end(12, EndRole.ECHO))]
    through = replace(VELLUM, read_through=(4,))
    assert choose_mirrored(leaves, through, BOTH_RECTOS) == (True, False)
    kept = replace(ONE_SIDE, both_sides=(12,))
    assert choose_mirrored(leaves, kept, BOTH_RECTOS) == (False, False)
    stub = [((0, 0), end(4, EndRole.STUB)), ((0, 1), end(12, EndRole.WANTED))]
    assert choose_mirrored(stub, through, BOTH_RECTOS) == (False, False)


@pytest.mark.parametrize("duplex", list(Duplex))
def test_a_mirrored_leaf_lies_at_the_same_spots_of_the_paper(duplex: Duplex) -> None:
    """Ink on either face at the same spot: what is printed behind shows where it would lie."""
    printer = Printer(duplex=duplex)
    asked = plan(wrap(1, 2, 4, 12))
    own, through = (
        lay_interleaves(asked, A4, PAPER, t, printer, HARD, BOTH_RECTOS)[0]
        for t in (VELLUM, ONE_SIDE)
    )
    assert through.mirrored == (False, True)
    # Face 3, the second leaf's recto, lies on the back; mirrored it lies on the front.
    (back,) = (s for s in own.back.slots if s.page == 3)
    (front,) = (s for s in through.front.slots if s.page == 3)
    for spot in (Point(0, 0), Point(210, 0), Point(30, 200)):
        seen, printed = back.transform.apply(spot), front.transform.apply(spot)
        turned = (
            Point(seen.x, own.size.height - seen.y)
            if duplex is Duplex.LONG_EDGE
            else Point(own.size.width - seen.x, seen.y)
        )
        assert (printed.x, printed.y) == pytest.approx((turned.x, turned.y))
    assert front.transform.a * front.transform.d < 0  # left and right have changed
    assert any("mirrored" in text for text in words(through.front.marks).values())
    assert not any("need not" in text for text in words(through.front.marks).values())
    assert any("need not" in text for text in words(through.back.marks).values())
    assert not any("need not" in text for text in words(own.back.marks).values())

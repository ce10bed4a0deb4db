"""What the printer can take of a cover, and which way a spine title runs.

Paper sizes: A3+ as 329 x 483 mm (a trade size). ISO 6357:1985 has spine titles run from head to
tail; which languages keep to the other habit is from memory.
"""

from dataclasses import replace

import pytest

from tests.bench.making import gather
from tests.case.making import make_book
from wayfold.base.geometry import TOLERANCE, Rect, Size
from wayfold.book.casing import CaseStyle, Material, SpineTurn, Stock
from wayfold.book.materials import Grain, Paper
from wayfold.book.state import Book
from wayfold.case.lettering import CoverPicture
from wayfold.case.printing import find_printable
from wayfold.case.spine_turn import choose_spine_turn
from wayfold.case.work import CaseWork, prepare_case
from wayfold.drawing.items import Picture, Text

PLAN = gather(2, 2, 2, 2, 2, 2, 2, 2)


def prepare(style: CaseStyle, **fields: object) -> CaseWork:
    return prepare_case(replace(make_book(style=style), **fields), PLAN)  # type: ignore[arg-type]


def test_a_full_wrap_for_a4_does_not_fit_and_what_would() -> None:
    work = prepare(CaseStyle.PRINTED_CLOTH)
    (found,) = [f for f in work.findings if f.rule == "cover-print"]
    # 303 + 2 x 16 mm of cloth against 329 mm less margins of 3 at head and foot.
    assert "12.0 mm along" in found.message
    for way in ("cloth in three pieces", "printed paper sides", "printed labels"):
        assert way in found.remedy
    assert "a sheet of at least" in found.remedy
    assert work.printed.sheets == ()


def test_an_a5_wrap_fits() -> None:
    work = prepare(CaseStyle.PRINTED_CLOTH, trim=Size(148, 210))
    stock = work.printed.sheets[0].stock
    assert stock.size == Size(329, 483)
    # It lies across, so its grain would too: that is said.
    assert [f.rule for f in work.findings if f.where.startswith("stock")] == ["grain"]
    short = Stock(Material.PRINT_CLOTH, Size(329, 483), Grain.SHORT)
    book = make_book(style=CaseStyle.PRINTED_CLOTH)
    book = replace(book, trim=Size(148, 210), bench=replace(book.bench, stocks=(short,)))
    assert [f for f in prepare_case(book, PLAN).findings if f.rule == "grain"] == []


@pytest.mark.parametrize(
    ("style", "pieces"),
    [
        (CaseStyle.FULL_CLOTH, {"front label", "spine label"}),
        (CaseStyle.THREE_PIECE, {"front side", "back side", "spine"}),
        (CaseStyle.QUARTER_CLOTH, {"front side", "back side", "spine label"}),
    ],
)
def test_every_piece_lies_on_what_the_printer_reaches(style: CaseStyle, pieces: set[str]) -> None:
    work = prepare(style)
    placed = [p for sheet in work.printed.sheets for p in sheet.placed]
    assert {p.piece.name for p in placed} == pieces
    for sheet in work.printed.sheets:
        assert sheet.printable == find_printable(sheet.size, work.book.printer)
        for one in sheet.placed:
            assert sheet.printable.contains(one.box, TOLERANCE)
            assert one.box.size == one.piece.drawing.size
        boxes = [p.box for p in sheet.placed]
        assert all(a.overlap(b) is None for a in boxes for b in boxes if a is not b)


def test_an_upright_sheet_is_the_landscape_one_turned() -> None:
    book = Book("A Trip")
    printer = replace(book.printer, margin_left=1, margin_right=2, margin_head=3, margin_foot=4)
    assert find_printable(Size(483, 329), printer) == Rect(1, 3, 480, 322)
    # A quarter turn clockwise brings the foot to the left and the left edge to the head.
    assert find_printable(Size(329, 483), printer) == Rect(4, 1, 322, 480)


def test_a_printer_for_small_sheets_takes_no_sides() -> None:
    a4 = Paper(sheet=Size(297, 210))
    stocks = (Stock(Material.COVER_PAPER, Size(210, 297), Grain.LONG),)
    book = make_book()
    book = replace(book, paper=a4, bench=replace(book.bench, stocks=stocks))
    work = prepare_case(book, PLAN)
    refused = {piece.name for piece, _ in work.printed.refused}
    assert refused == {"front side", "back side"}
    assert len([f for f in work.findings if f.rule == "cover-print"]) == 2


@pytest.mark.parametrize(
    ("language", "turn"),
    [
        ("en", SpineTurn.HEAD_TO_TAIL),
        ("nl", SpineTurn.HEAD_TO_TAIL),
        ("sv-SE", SpineTurn.HEAD_TO_TAIL),
        ("fr", SpineTurn.TAIL_TO_HEAD),
        ("it-IT", SpineTurn.TAIL_TO_HEAD),
        ("es", SpineTurn.TAIL_TO_HEAD),
    ],
)
def test_spine_titles_by_language(language: str, turn: SpineTurn) -> None:
    assert choose_spine_turn(SpineTurn.BY_LANGUAGE, language) is turn
    assert choose_spine_turn(SpineTurn.HEAD_TO_TAIL, language) is SpineTurn.HEAD_TO_TAIL


@pytest.mark.parametrize(("language", "turn_deg"), [("en", 90.0), ("fr", -90.0)])
def test_the_spine_is_lettered_that_way(language: str, turn_deg: float) -> None:
    """Read from head to tail the letters' heads lie to the right: turned clockwise."""
    work = prepare(CaseStyle.THREE_PIECE, language=language)
    spine = next(p for p in work.printed.pieces if p.name == "spine")
    title = next(i for i in spine.drawing.items if isinstance(i, Text) and i.key == "spine title")
    assert title.turn_deg == turn_deg


def test_a_thin_spine_bears_no_title() -> None:
    work = prepare_case(make_book(block=3.0, board=1.0), gather(2, 2))
    assert "spine-title" in {f.rule for f in work.findings}
    assert "spine label" not in {p.name for p in work.printed.pieces}


def test_every_part_of_the_case_is_cut_or_printed_once() -> None:
    for style in (CaseStyle.FULL_CLOTH, CaseStyle.THREE_PIECE, CaseStyle.QUARTER_CLOTH):
        work = prepare(style)
        cut = sum(len(plan.pieces) for plan in work.cutting)
        printed = sum(
            p.piece.name in ("front side", "back side", "spine")
            for sheet in work.printed.sheets
            for p in sheet.placed
        )
        assert cut + printed == sum(part.count for part in work.parts)
        for plan in work.cutting:
            laid = [one for sheet in plan.sheets for one in sheet.laid]
            assert sorted(one.piece for one in laid) == list(range(len(plan.pieces)))
            assert not any(one.turned for one in laid)


@pytest.mark.parametrize("aspect", [0.5, 0.75, 1.0, 1.5, 3.0])
def test_a_photograph_is_let_into_the_front_undistorted(aspect: float) -> None:
    """Geometry: the part shown has the box's shape, and its middle is the picture's."""
    work = prepare_case(make_book(), PLAN, CoverPicture("abc", aspect))
    front = next(p for p in work.printed.pieces if p.name == "front side")
    (picture,) = (i for i in front.drawing.items if isinstance(i, Picture))
    crop, box = picture.crop, picture.box
    assert crop.width * aspect / crop.height == pytest.approx(box.width / box.height)
    assert (crop.center.x, crop.center.y) == pytest.approx((0.5, 0.5))
    assert min(crop.width, crop.height) > 0
    assert max(crop.width, crop.height) == pytest.approx(1.0)
    # It keeps inside the visible board: turn-ins of 16 mm at head, tail and fore-edge.
    side = front.drawing.size
    assert Rect(0.0, 16.0, side.width - 16.0, side.height - 32.0).contains(box)
    assert not any(isinstance(i, Picture) for i in work.printed.pieces[1].drawing.items)

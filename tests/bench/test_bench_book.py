"""A binder can work from the bench book: every measure, every caution, every page is on it."""

from dataclasses import replace

import pytest

from tests.bench.making import gather, lay_out, tell, wrap
from wayfold.base.geometry import Size
from wayfold.bench.bench_book import BenchBook, draw_bench_book
from wayfold.bench.case_sheets import draw_case_sheets
from wayfold.bench.collation import draw_collation
from wayfold.bench.costs import InkLoad
from wayfold.bench.dummy import draw_dummy, dummy_leaf
from wayfold.bench.model import PlannedBook
from wayfold.bench.templates import A_SIZES
from wayfold.book.casing import (
    Back,
    BenchChoices,
    CaseStyle,
    Casing,
    Pocket,
    PocketItem,
    Sewing,
    SewingMethod,
)
from wayfold.case.work import CaseWork, prepare_case
from wayfold.drawing.items import Drawing, Placed, Text
from wayfold.plan.model import EndRole
from wayfold.typeset.engine import Typesetter

W, E = EndRole.WANTED, EndRole.ECHO
POCKET = Pocket((PocketItem("leaflet", 148.0, 210.0, 3.0),))


@pytest.fixture(scope="module")
def typesetter() -> Typesetter:
    return Typesetter()


def plan_book(**fields: object) -> tuple[PlannedBook, CaseWork]:
    plan = gather(
        3, 3, 2, interleaves=(wrap(1, 1, (2, E, None), (10, W, 11)), wrap(2, None, (18, W, 19)))
    )
    planned = lay_out(plan, tell())
    planned = replace(planned, book=replace(planned.book, bench=BenchChoices(**fields)))  # type: ignore[arg-type]
    return planned, prepare_case(planned.book, plan)


def words_of(drawing: Drawing) -> list[str]:
    found = []
    for item in drawing.items:
        if isinstance(item, Text):
            found += [p.plain for p in item.paragraphs]
        elif isinstance(item, Placed):
            found += words_of(item.drawing)
    return found


def draw(planned: PlannedBook, work: CaseWork, typesetter: Typesetter) -> tuple[Drawing, ...]:
    return draw_bench_book(BenchBook(planned, work, (InkLoad(1e6, 0.4),)), typesetter)


@pytest.fixture(scope="module")
def sheets(typesetter: Typesetter) -> tuple[Drawing, ...]:
    return draw(*plan_book(pocket=POCKET), typesetter)


def sheet_text(sheets: tuple[Drawing, ...], title: str) -> str:
    return " ".join(
        word for sheet in sheets if sheet.label.startswith(title) for word in words_of(sheet)
    )


@pytest.mark.parametrize(
    ("style", "back"),
    [*((style, Back.FLAT) for style in CaseStyle), (CaseStyle.QUARTER_CLOTH, Back.ROUND)],
)
def test_no_words_run_over_their_place(
    style: CaseStyle, back: Back, typesetter: Typesetter
) -> None:
    planned, work = plan_book(
        pocket=POCKET,
        casing=Casing(style=style, back=back),
        sewing=Sewing(method=SewingMethod.TAPES),
    )
    hand = planned.hand
    drawn = (*draw(planned, work, typesetter), *draw_case_sheets(work, hand))
    assert [f.message for d in drawn for f in typesetter.page_pdf(d).findings] == []


def test_a_back_is_rounded_with_its_cautions_and_measures(
    sheets: tuple[Drawing, ...], typesetter: Typesetter
) -> None:
    # Block 12 mm: over the round 12 x 1.2092 = 14.5, its middle 12 x 0.2887 = 3.5 out, and the
    # spine piece a board more (a third of a circle).
    round_ones = draw(*plan_book(casing=Casing(back=Back.ROUND, block=12.0)), typesetter)
    told = sheet_text(round_ones, "Endpapers, mull and lining")
    assert "an even third of a circle" in told
    assert "3.5 mm out at the middle, 14.5 mm over the round" in told
    assert "Keep the fingers off the spine while the hammer falls" in told
    assert "16.5 × 303.0 mm, from card" in sheet_text(round_ones, "Boards")
    assert "lies on the round of the block" in sheet_text(round_ones, "Boards")
    assert "third of a circle" not in sheet_text(sheets, "Endpapers, mull and lining")


def test_the_sheets_stand_in_the_order_of_the_work(sheets: tuple[Drawing, ...]) -> None:
    titles = list(dict.fromkeys(s.label.rpartition(",")[0] for s in sheets))
    assert titles == [
        "The work ahead",
        "Materials",
        "Printing",
        "Folding and gathering",
        "Pricking",
        "Sewing",
        "Pressing and measuring",
        "Endpapers, mull and lining",
        "Cutting plans",
        "Boards",
        "Cover",
        "Casing in",
        "Pocket",
        "collation",
    ]


def test_the_measures_of_this_very_book_are_on_them(sheets: tuple[Drawing, ...]) -> None:
    _, work = plan_book(pocket=POCKET)
    case = work.case
    boards = sheet_text(sheets, "Boards")
    assert f"{case.board.width:.1f} × {case.board.height:.1f} mm" in boards
    assert f"{case.spine.width:.1f} × {case.spine.height:.1f} mm" in boards
    pricking = sheet_text(sheets, "Pricking")
    for hole in work.stations.holes:
        assert f"{hole:.2f}".rstrip("0").rstrip(".") in pricking.split()
    cover = sheet_text(sheets, "Cover")
    assert f"side {case.side.width:.1f}" in cover if case.side else False
    assert f"{case.wrap.width:.1f} × {case.wrap.height:.1f} mm" in cover
    assert "in at 1, out at 2, in at 3" in sheet_text(sheets, "Sewing")
    pieces = sheet_text(sheets, "Materials")
    for part in work.parts:
        assert f"{part.size.width:.1f} × {part.size.height:.1f} mm" in pieces


@pytest.mark.parametrize(
    ("title", "caution"),
    # Usual cautions: knives and cutters (NSEAD health and safety), awls, presses (common practice).
    [
        ("Boards", "holding hand behind the blade"),
        ("Folding", "holding hand behind the blade"),
        ("Pricking", "never towards a hand"),
        ("Sewing", "corks on awl and needles"),
        ("Pressing", "Fingers out"),
        ("Endpapers", "maker of the adhesive"),
        ("Casing in", "Fingers out"),
        ("Casing in", "maker of the adhesive"),
        ("Cutting", "steel rule"),
    ],
)
def test_cautions_stand_at_their_step(
    title: str, caution: str, sheets: tuple[Drawing, ...]
) -> None:
    assert caution in sheet_text(sheets, title)


@pytest.mark.parametrize(
    ("title", "wait"),
    # 24 h before folding inkjet prints, 48 to 72 for translucent ones; a night to a day in press.
    [("Printing", "24 hours"), ("Printing", "48 to 72 hours"), ("Casing in", "24 hours")],
)
def test_drying_times(title: str, wait: str, sheets: tuple[Drawing, ...]) -> None:
    assert wait in sheet_text(sheets, title)


def test_an_unmeasured_block_is_warned_of_and_a_measured_one_not(typesetter: Typesetter) -> None:
    assert "not measured yet" in sheet_text(draw(*plan_book(), typesetter), "Boards")
    measured = draw(*plan_book(casing=Casing(block=9.0)), typesetter)
    assert "not measured yet" not in sheet_text(measured, "Boards")


def test_every_page_is_on_the_collation_sheets_once_and_in_order() -> None:
    planned, _ = plan_book()
    drawn = [
        item
        for sheet in draw_collation(planned)
        for item in sheet.items
        if isinstance(item, Placed)
    ]
    assert [item.drawing.label for item in drawn] == [p.label for p in planned.pages]
    # Within a gathering they stand from left to right.
    xs = [item.clip.x for item in drawn if item.clip is not None][:12]
    assert xs == sorted(xs)


def test_tapes_are_stretched_only_where_there_are_any(
    typesetter: Typesetter, sheets: tuple[Drawing, ...]
) -> None:
    taped = draw(*plan_book(sewing=Sewing(method=SewingMethod.TAPES)), typesetter)
    # Four tapes for a 12-inch book (Bailey 1916).
    assert "Stretch 4 tapes" in sheet_text(taped, "Sewing")
    assert "Stretch" not in sheet_text(sheets, "Sewing")


def test_the_dummy_is_two_small_pages_on_a_small_sheet() -> None:
    """ISO 216: half of A5 is A6, 105 x 148 mm; half an A4 page each way, to its rounding."""
    planned, _ = plan_book()
    leaf = dummy_leaf(planned, Size(210.0, 148.0))
    assert (leaf.width, leaf.height) == pytest.approx((105.0, 148.0), abs=1.0)
    sides = draw_dummy(planned, Size(148.0, 210.0))
    assert all(side.size == Size(210.0, 148.0) for side in sides)
    plan = planned.plan
    assert len(sides) == 2 * (sum(g.sheets for g in plan.gatherings) + len(plan.interleaves))


def test_the_dummy_folds_into_the_same_book() -> None:
    """Sheets of three nested: 12|1, 2|11; 10|3, 4|9; 8|5, 6|7 (geometry of folding)."""
    planned, _ = plan_book()
    sides = draw_dummy(planned, Size(210.0, 148.0))
    shown = []
    for side in sides[:6]:
        pages = sorted(
            (i.clip.x, i.drawing.label) for i in side.items if isinstance(i, Placed) and i.clip
        )
        shown.append([label for _, label in pages])
    first = [["12", "1"], ["2", "11"], ["10", "3"], ["4", "9"], ["8", "5"], ["6", "7"]]
    assert shown == [[f"page {n}" for n in pair] for pair in first]


def test_the_dummy_has_its_translucent_leaves_after_their_gathering() -> None:
    planned, _ = plan_book()
    labels = [side.label for side in draw_dummy(planned, Size(210.0, 148.0))]
    assert labels[6:8] == ["translucent: A, inside sheet 1"] * 2
    assert labels[8] == "B 1, outside"
    words = words_of(draw_dummy(planned, Size(210.0, 148.0))[6])
    assert "after page 2" in words
    assert "after page 10" in words


def test_a_first_side_of_31_and_1_is_not_copied() -> None:
    """Known error: a page on eight-sheet signatures says "31 and 1" once; its list has 32 and 1."""
    plan = gather(8)
    sides = draw_dummy(lay_out(plan, tell()), Size(210.0, 148.0))
    labels = [i.drawing.label for i in sides[0].items if isinstance(i, Placed) and i.clip]
    assert labels == ["page 32", "page 1"]


def test_sheet_sizes_drop_the_half_millimetre() -> None:
    """Known error not copied: "rounded to the nearest mm". ISO 216's table halves and drops.

    A0 is 841 x 1189; A3 to A5 follow, and A5 (the dummy's sheet) is 148 wide, not 149.
    """
    long, short = 1189, 841
    table = []
    for _ in range(5):
        long, short = short, long // 2
        table.append((float(short), float(long)))
    assert [(s.width, s.height) for s in A_SIZES] == [table[3], table[2]]
    dummy = BenchChoices().dummy_sheet
    assert (dummy.height, dummy.width) == table[4] == (148.0, 210.0)


def test_printing_names_the_sides_of_each_gathering(sheets: tuple[Drawing, ...]) -> None:
    """Two sides a sheet, front and back, in the order of the gatherings: 3, 3 and 2 sheets."""
    words = sheet_text(sheets, "Printing")
    for said in ("A, 3 sheets", "1 to 6", "7 to 12", "C, 2 sheets", "13 to 16"):
        assert said in words


@pytest.mark.parametrize("trim", [Size(220.0, 160.0), Size(200.0, 200.0), Size(105.0, 148.0)])
def test_a_dummy_of_any_page_is_as_large_as_its_sheet_allows(trim: Size) -> None:
    """Geometry: of the two ways a sheet may lie, the one with the larger leaf."""
    planned = lay_out(gather(2), tell(), trim)
    leaf = dummy_leaf(planned, Size(210.0, 148.0))
    assert leaf.width / leaf.height == pytest.approx(trim.width / trim.height)
    lying = draw_dummy(planned, Size(148.0, 210.0))[0].size
    assert 2 * leaf.width <= lying.width + 1e-6
    assert leaf.height <= lying.height + 1e-6
    other = min(lying.height / 2 / trim.width, lying.width / trim.height) * trim.width
    assert leaf.width >= other - 1e-6

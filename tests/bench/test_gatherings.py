"""The worksheets of gatherings: every opening, what lies in it, and nothing out of its place."""

import pytest

from tests.bench.making import draw, gather, hero, opener, tell, texts_of, wrap
from wayfold.base.geometry import Rect, Size
from wayfold.bench.worksheet import PAPER
from wayfold.drawing.items import Drawing, Placed
from wayfold.plan.facing import begins_crossing, list_crossings
from wayfold.plan.model import EndRole
from wayfold.typeset.engine import Typesetter

W, E, P, S = EndRole.WANTED, EndRole.ECHO, EndRole.PLAIN, EndRole.STUB


def shown(drawing: Drawing) -> list[str]:
    """What stands small on the sheet, in order."""
    return [item.drawing.label for item in drawing.items if isinstance(item, Placed)]


def test_every_page_stands_in_its_opening_with_its_neighbours_across_the_seams() -> None:
    first, second = draw(gather(2, 1), tell())
    assert shown(first) == [f"page {n}" for n in range(1, 10)]  # page 9 faces page 8
    assert shown(second) == [f"page {n}" for n in range(8, 13)]
    assert texts_of(first, "opening 0") == ["the book begins"]
    assert texts_of(first, "opening 4") == ["gathering 2 follows"]
    assert texts_of(second, "opening 0") == ["gathering 1 lies before"]
    assert texts_of(second, "opening 2") == ["the book ends"]


def test_sheets_are_named_at_both_their_leaves() -> None:
    _, second = draw(gather(2, 3), tell())
    # B is the second signature; leaves 1 and 6, 2 and 5, 3 and 4 are each one sheet.
    assert texts_of(second, "sheet") == ["B 1", "B 1", "B 2", "B 2", "B 3", "B 3"]
    assert texts_of(second, "lead") == ["3 sheets, pages 9–20; the centre lies between 14 and 15"]


def test_the_centre_and_pictures_over_two_pages_are_marked() -> None:
    story = tell(hero("a"), hero("b"), hero("c"), opener("o"))
    plan = gather(2, 2, ways=((4, 2, "a"), (6, 2, "b"), (8, 2, "c"), (11, 1, "o")))
    begun = {page.number for page in plan.pages if begins_crossing(story, plan, page)}
    assert begun == {page for _, page in list_crossings(story, plan)} == {4, 6, 8}
    first, second = draw(plan, story)
    assert texts_of(first, "opening 2") == ["centre", "one picture, unbroken on one sheet"]
    assert texts_of(first, "opening 3") == ["one picture on two sheets: fold with care"]
    torn = "one picture on two gatherings: its halves can part"
    assert texts_of(first, "opening 4") == ["gathering 2 follows", torn]
    assert texts_of(second, "opening 0") == ["gathering 1 lies before", torn]
    assert texts_of(second, "opening 1") == ["Lisbon begins"]


def test_each_leaf_says_what_it_is_and_where_its_other_half_lies() -> None:
    plan = gather(
        4,
        interleaves=(
            wrap(1, 0, (0, P, None), (16, W, 16)),
            wrap(1, 2, (4, W, 5), (12, E, None)),
            wrap(1, 3, (6, S, None), (10, W, 11)),
            wrap(1, 4, (8, W, 8), (8, W, 9)),
            wrap(1, None, (14, W, 15)),
        ),
    )
    (sheet,) = draw(plan, tell())
    leaf = "translucent leaf"
    assert texts_of(sheet, "opening 0")[1:] == [f"plain {leaf}; its other half after page 16"]
    assert texts_of(sheet, "opening 2") == [f"{leaf} over page 5; its other half after page 12"]
    assert texts_of(sheet, "opening 3") == [
        f"{leaf} cut back to a stub; its other half after page 10"
    ]
    assert texts_of(sheet, "opening 4") == [
        "centre",
        f"{leaf} over page 8; its other half lies beside it",
        f"{leaf} over page 9; its other half lies beside it",
    ]
    assert texts_of(sheet, "opening 6") == [f"{leaf} with a few words; its other half after page 4"]
    assert texts_of(sheet, "opening 7") == [f"{leaf} over page 15, pasted in by its edge"]
    assert texts_of(sheet, "opening 8")[1:] == [
        f"{leaf} over page 16; its other half before page 1"
    ]


def find_box(drawing: Drawing, label: str) -> list[Rect]:
    return [
        item.clip
        for item in drawing.items
        if isinstance(item, Placed) and item.drawing.label == label and item.clip
    ]


def test_a_leaf_lies_over_the_page_it_was_made_for() -> None:
    plan = gather(2, interleaves=(wrap(1, 1, (2, W, 2), (6, W, 7)),))
    (sheet,) = draw(plan, tell())
    over_verso, over_recto = find_box(sheet, "face")
    assert over_verso == find_box(sheet, "page 2")[0]
    assert over_recto == find_box(sheet, "page 7")[0]


@pytest.mark.parametrize("sheets", [1, 2, 3, 8, 16])
@pytest.mark.parametrize("trim", [Size(210.0, 297.0), Size(297.0, 210.0), Size(210.0, 210.0)])
def test_all_type_has_room_and_pages_keep_their_shape(sheets: int, trim: Size) -> None:
    last = 4 * sheets
    interleaves = (
        wrap(1, 0, (0, S, None), (last, W, last)),
        wrap(1, sheets, (2 * sheets, W, 2 * sheets), (2 * sheets, W, 2 * sheets + 1)),
    )
    plan = gather(sheets, 1, interleaves=interleaves)
    setter = Typesetter()
    for sheet in draw(plan, tell(), trim):
        assert setter.page_pdf(sheet).findings == ()
        for item in sheet.items:
            if isinstance(item, Placed):
                assert item.clip is not None
                assert item.clip.size.aspect == pytest.approx(trim.aspect)
                assert Rect(0.0, 0.0, PAPER.width, PAPER.height).contains(item.clip)

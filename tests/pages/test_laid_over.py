"""The reading file with leaves laid over: which pages it has, and what is seen on each.

What a reader sees on turning a translucent leaf is plain from any sheet of tracing paper.
"""

from wayfold.base.geometry import Rect, Size
from wayfold.book.see_through import Sheet
from wayfold.drawing.items import Drawing, Picture, Placed, Text
from wayfold.pages.interleaves import InterleafLeaf
from wayfold.pages.laid_over import ReadingPage, order_leaves, order_reading
from wayfold.plan.model import EndRole, Gathering, Interleaf, InterleafEnd, Plan, PlannedPage

TRIM = Size(210.0, 297.0)
SHEET = Sheet(0.25, 0.68)


def drawing(label: str) -> Drawing:
    """A drawing that shows its own name, so that it can be found in another."""
    return Drawing(label, TRIM, 3.0, (Text(Rect(0, 0, 10, 5), (), label),))


def leaf(
    interleaf: int, end: int, after: int, role: EndRole = EndRole.WANTED, name: str = ""
) -> InterleafLeaf:
    name = name or f"{interleaf}{'ab'[end]}"
    faces = drawing(f"{name} recto"), drawing(f"{name} verso")
    return InterleafLeaf(interleaf, end, after, role, *faces)


def plan(*depths: int | None, sheets: int = 2) -> Plan:
    pages = tuple(PlannedPage(n, None) for n in range(1, 4 * sheets + 1))
    interleaves = tuple(
        Interleaf(
            1,
            depth,
            tuple(InterleafEnd(0, EndRole.WANTED) for _ in range(1 if depth is None else 2)),
        )
        for depth in depths
    )
    return Plan(pages, (Gathering(1, sheets, 1),), (), interleaves)


PAGES = tuple(drawing(f"page {n}") for n in range(1, 9))


def seen(page: ReadingPage) -> list[str]:
    """What lies on a page, the lowest first; "~" stands for a sheet, "<" for ink seen mirrored."""
    if page.veiled is None:
        return [f"page {page.page}"]
    under = page.veiled.under
    names = [] if under is None else [under.label]
    for face in page.veiled.faces:
        names += [f"<{face.lower.label}", "~", face.upper.label]
    return names


def read(plan_: Plan, *leaves: InterleafLeaf) -> list[list[str]]:
    return [seen(page) for page in order_reading(plan_, PAGES, leaves, SHEET)]


def test_without_leaves_the_pages_alone() -> None:
    assert read(plan()) == [[f"page {n}"] for n in range(1, 9)]


def test_a_leaf_adds_the_page_it_covers_and_the_one_it_is_turned_onto() -> None:
    pages = read(plan(1), leaf(0, 0, 2))
    assert pages[:2] == [["page 1"], ["page 2"]]
    # Its recto toward the reader, the verso's ink through the leaf; then the other way about.
    assert pages[2] == ["page 3", "<0a verso", "~", "0a recto"]
    assert pages[3] == ["page 2", "<0a recto", "~", "0a verso"]
    assert pages[4:] == [[f"page {n}"] for n in range(3, 9)]


def test_left_and_right_stay_what_they_are() -> None:
    pages = order_reading(plan(1, 2), PAGES, (leaf(0, 0, 2), leaf(0, 1, 6), leaf(1, 0, 4)), SHEET)
    for place, page in enumerate(pages, start=1):
        assert page.page % 2 == place % 2
    assert [p.page for p in pages if p.veiled is None] == list(range(1, 9))


def test_a_leaf_before_the_first_page_and_one_after_the_last() -> None:
    pages = read(plan(0), leaf(0, 0, 0), leaf(0, 1, 8))
    assert pages[0] == ["page 1", "<0a verso", "~", "0a recto"]
    assert pages[1] == ["<0a recto", "~", "0a verso"]
    assert pages[2] == ["page 1"]
    assert pages[-2] == ["<0b verso", "~", "0b recto"]
    assert pages[-1] == ["page 8", "<0b recto", "~", "0b verso"]


def test_two_leaves_in_the_centre_are_turned_one_by_one() -> None:
    pages = read(plan(2), leaf(0, 0, 4), leaf(0, 1, 4))
    assert pages[4:10] == [
        ["page 5", "<0b verso", "~", "0b recto", "<0a verso", "~", "0a recto"],
        ["page 4", "<0a recto", "~", "0a verso"],
        ["page 5", "<0b verso", "~", "0b recto"],
        ["page 4", "<0a recto", "~", "0a verso", "<0b recto", "~", "0b verso"],
        ["page 5"],
        ["page 6"],
    ]


def test_a_stub_covers_nothing() -> None:
    pages = read(plan(1), leaf(0, 0, 2), leaf(0, 1, 6, EndRole.STUB))
    assert len(pages) == 8 + 2
    assert pages[-3:] == [["page 6"], ["page 7"], ["page 8"]]


def test_what_is_seen_is_a_picture_of_all_beneath_and_sharp_ink_on_top() -> None:
    veiled = [p.veiled for p in order_reading(plan(1), PAGES, (leaf(0, 0, 2),), SHEET) if p.veiled]
    for one, name in zip(veiled, ("0a recto", "0a verso"), strict=True):
        picture, ink = one.drawing.items
        assert isinstance(picture, Picture)
        assert picture.box == one.drawing.media_box
        assert isinstance(ink, Placed)
        assert ink.drawing.label == name
    assert veiled[0].asset != veiled[1].asset


def test_a_picture_is_another_where_the_page_the_ink_below_or_the_paper_is() -> None:
    def asset(pages: tuple[Drawing, ...], sheet: Sheet, name: str) -> str:
        shown = order_reading(plan(1), pages, (leaf(0, 0, 2, name=name),), sheet)
        return next(p.veiled.asset for p in shown if p.veiled)

    usual = asset(PAGES, SHEET, "a")
    assert usual == asset(PAGES, SHEET, "a")
    assert usual != asset(PAGES[::-1], SHEET, "a")
    assert usual != asset(PAGES, Sheet(0.25, 0.68, 0.1), "a")
    assert usual != asset(PAGES, SHEET, "b")


def test_of_two_sheets_at_one_depth_the_first_lies_outside() -> None:
    there = order_leaves(plan(2, 2), tuple(leaf(i, e, 4) for i in (0, 1) for e in (0, 1)))
    assert [(v.interleaf, v.end) for v in there] == [(0, 0), (1, 0), (1, 1), (0, 1)]

"""Versos carry even numbers and lie on the left, page 1 is a recto (Chicago Manual of Style, 17th
ed., 1.5: "Books are always begun on a right-hand page"; ISO 1086 counts the recto first)."""

from wayfold.app.views import PageSide, PageView
from wayfold.desk.spreads import SpreadView, pair_pages


def make_pages(sides: str) -> tuple[PageView, ...]:
    names: dict[str, PageSide] = {"r": "recto", "v": "verso"}
    return tuple(PageView(n, names[side], "", "") for n, side in enumerate(sides, 1))


def test_first_page_stands_alone_on_the_right_and_last_on_the_left() -> None:
    assert pair_pages(make_pages("rvrv")) == (
        SpreadView(None, 1),
        SpreadView(2, 3),
        SpreadView(4, None),
    )


def test_no_page_is_lost_when_sides_do_not_alternate() -> None:
    pairs = pair_pages(make_pages("vvrr"))
    assert pairs == (SpreadView(1, None), SpreadView(2, 3), SpreadView(None, 4))


def test_no_pages_give_no_spreads() -> None:
    assert pair_pages(()) == ()

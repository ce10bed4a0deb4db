"""Versos carry even numbers and lie on the left, page 1 is a recto (Chicago Manual of Style, 17th
ed., 1.5: "Books are always begun on a right-hand page"; ISO 1086 counts the recto first)."""

from wayfold.app.views import PageSide, ReadingView
from wayfold.desk.spreads import SpreadView, pair_pages


def make_pages(sides: str) -> tuple[ReadingView, ...]:
    names: dict[str, PageSide] = {"r": "recto", "v": "verso"}
    return tuple(ReadingView(n, names[side]) for n, side in enumerate(sides, 1))


def test_first_page_stands_alone_on_the_right_and_last_on_the_left() -> None:
    assert pair_pages(make_pages("rvrv"), 4) == (
        SpreadView(None, 1),
        SpreadView(2, 3),
        SpreadView(4, None),
    )


def test_no_page_is_lost_when_sides_do_not_alternate() -> None:
    pairs = pair_pages(make_pages("vvrr"), 4)
    assert pairs == (SpreadView(1, None), SpreadView(2, 3), SpreadView(None, 4))


def test_no_pages_give_no_spreads() -> None:
    assert pair_pages((), 0) == ()


def test_a_leaf_lies_on_the_right_page_and_is_turned_onto_the_left() -> None:
    # What lies where when a sheet of tracing paper between pages 2 and 3 is turned.
    reading = (
        ReadingView(1, "recto"),
        ReadingView(2, "verso"),
        ReadingView(3, "recto", 1),
        ReadingView(2, "verso", 2),
        ReadingView(3, "recto"),
        ReadingView(4, "verso"),
    )
    assert pair_pages(reading, 4) == (
        SpreadView(None, 1),
        SpreadView(2, 3, None, 1),
        SpreadView(2, 3, 2, None),
        SpreadView(4, None),
    )


def test_leaves_round_the_whole_book_lie_over_no_page_outside_it() -> None:
    reading = (
        ReadingView(1, "recto", 1),
        ReadingView(0, "verso", 2),
        ReadingView(1, "recto"),
        ReadingView(2, "verso"),
        ReadingView(3, "recto", 3),
        ReadingView(2, "verso", 4),
    )
    assert pair_pages(reading, 2) == (
        SpreadView(None, 1, None, 1),
        SpreadView(None, 1, 2, None),
        SpreadView(2, None, None, 3),
        SpreadView(2, None, 4, None),
    )

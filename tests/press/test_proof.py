"""Which pictures the proof sheet shows."""

from wayfold.base.geometry import Rect, Size
from wayfold.book.materials import Paper, Printer
from wayfold.drawing.items import Drawing, Picture
from wayfold.drawing.pictures import list_pictures
from wayfold.press.proof import draw_proof


def page(*pictures: tuple[str, float]) -> Drawing:
    items = tuple(Picture(Rect(10.0, 10.0, side, side), asset) for asset, side in pictures)
    return Drawing("page", Size(210.0, 297.0), 3.0, items)


def list_shown(*pages: Drawing) -> list[str]:
    sheet = draw_proof(pages, Printer(), Paper())
    assert sheet is not None
    return [picture.asset for picture in list_pictures(sheet)]


def test_the_largest_pictures_are_shown_in_the_books_order() -> None:
    sides = [40.0, 90.0, 70.0, 60.0, 100.0, 80.0, 30.0, 95.0]
    pages = [page((f"p{n}", side)) for n, side in enumerate(sides)]
    assert list_shown(*pages) == ["p1", "p2", "p3", "p4", "p5", "p7"]


def test_one_wash_is_among_them_the_largest() -> None:
    photos = [(f"p{n}", 100.0 + n) for n in range(6)]
    washes = [("wash-a", 60.0), ("wash-b", 80.0), ("wash-c", 70.0)]
    pages = [page(p, *washes[n : n + 1]) for n, p in enumerate(photos)]
    assert list_shown(*pages) == ["p1", "wash-b", "p2", "p3", "p4", "p5"]


def test_a_book_without_pictures_has_none() -> None:
    assert draw_proof([page()], Printer(), Paper()) is None

"""Facing compositions begin on one line where they nearly do."""

import pytest

from wayfold.base.geometry import Rect
from wayfold.book.families import Arrange
from wayfold.layout.facing import align_heads
from wayfold.layout.model import PageLayout, PictureFrame


def page(number: int, top: float, arranged: Arrange | None = Arrange.SLICED) -> PageLayout:
    frames = (
        PictureFrame(Rect(20, top, 80, 60), "a"),
        PictureFrame(Rect(20, top + 64, 80, 60), "b"),
    )
    return PageLayout(number, "any", frames, arranged=arranged)


def heads(*pages: PageLayout) -> list[float]:
    aligned = align_heads({p.number: p for p in pages})
    return [aligned[n].frames[0].box.y for n in sorted(aligned)]


@pytest.mark.parametrize(
    ("left", "right", "expected"),
    [
        (page(2, 22), page(3, 30), [22, 22]),
        (page(2, 33), page(3, 22), [22, 22]),
        (page(2, 22), page(3, 60), [22, 60]),
        # Bordered pictures share their middle; texts and bled pages stay where they are.
        (page(2, 40, Arrange.ALONE), page(3, 48, Arrange.ALONE), [40, 48]),
        (page(2, 40, Arrange.ALONE), page(3, 48), [40, 40]),
        (page(2, 22, None), page(3, 30), [22, 30]),
        # Pages 3 and 4 are two sides of a leaf, not a spread.
        (page(3, 22), page(4, 30), [22, 30]),
    ],
)
def test_heads_nearly_on_a_line_are_put_on_it(left, right, expected):
    assert heads(left, right) == expected


def test_a_raised_page_moves_as_a_whole():
    raised = align_heads({2: page(2, 22), 3: page(3, 30)})[3]
    assert [f.box.y for f in raised.frames] == [22, 86]

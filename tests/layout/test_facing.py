"""Facing compositions begin on one line where they nearly do."""

import pytest

from tests.layout.conftest import build_matter
from wayfold.base.geometry import Rect
from wayfold.book.families import Arrange, Family
from wayfold.layout.alone import lay_alone
from wayfold.layout.facing import align_heads, match_companions
from wayfold.layout.matter import Matter
from wayfold.layout.model import PageLayout, PictureFrame, TextFrame
from wayfold.story.model import BlockKind

FRAMED = Family("framed", Arrange.ALONE)
SMALL, QUIET = (Family("less", Arrange.ALONE, size=size) for size in (0.66, 0.45))
LONG = "The ferry, an hour late and nobody minding, " * 6


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


def stand_alone(
    number: int,
    aspect: float,
    caption: str = "",
    family: Family = FRAMED,
    kind: BlockKind = BlockKind.SINGLE,
) -> tuple[Matter, PageLayout]:
    captions = {0: caption} if caption else {}
    matter = build_matter([aspect], (number,), kind, captions)
    return matter, next(lay_alone(matter, family)).pages[0]


def match(*alone: tuple[Matter, PageLayout]) -> list[PageLayout]:
    matched = match_companions([m for m, _ in alone], {p.number: p for _, p in alone})
    return [matched[p.number] for _, p in alone]


# A4: the picture area is 168 x 247 mm; a wide picture takes its width, 168 mm.
def test_the_taller_of_two_companions_comes_down_to_the_other():
    wide, less = stand_alone(2, 1.5, "Steps"), stand_alone(3, 1.333, "Nets")
    assert [p.frames[0].box.height for _, p in (wide, less)] == pytest.approx([112.0, 126.03], 1e-3)
    left, right = match(wide, less)
    assert left == wide[1]
    box, caption = right.frames[0].box, right.frames[1]
    assert (box.y, box.height) == pytest.approx((left.frames[0].box.y, 112.0))
    assert box.width == pytest.approx(112.0 * 1.333)
    area = less[0].grid.picture_area(True)
    assert box.center.x == pytest.approx(area.center.x)
    assert isinstance(caption, TextFrame)
    assert (caption.box.x, caption.box.y) == pytest.approx((box.x, box.bottom + 2.6))


def test_a_large_picture_becomes_as_small_as_its_companion():
    large, small = match(stand_alone(2, 1.5), stand_alone(3, 1.5, family=SMALL))
    assert large.frames[0].box.width == pytest.approx(0.66 * 168.0)
    assert large.frames[0].box.height == pytest.approx(small.frames[0].box.height)
    assert large.frames[0].box.y == pytest.approx(small.frames[0].box.y)


def test_pictures_of_one_block_are_companions_where_each_has_a_page(make_matter, lay_by):
    matter = make_matter([1.5, 1.333], (2, 3))
    laid = lay_by(matter, "facing")
    matched = match_companions([matter], {p.number: p for p in laid.pages})
    heights = [matched[n].frames[0].box.height for n in (2, 3)]
    assert heights == pytest.approx([112.0, 112.0])


def test_companions_stand_where_the_longer_caption_has_room():
    left, right = match(stand_alone(2, 0.75, "Steps"), stand_alone(3, 0.667, LONG))
    tops = [(p.frames[0].box.y, p.frames[0].box.height) for p in (left, right)]
    assert tops[0] == pytest.approx(tops[1])
    # The foot margin is 28 mm.
    assert max(f.box.bottom for p in (left, right) for f in p.frames) <= 297.0 - 28.0 + 1e-6


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (stand_alone(2, 1.5), stand_alone(3, 1.25)),
        (stand_alone(2, 1.5), stand_alone(3, 0.667)),
        (stand_alone(2, 1.5), stand_alone(3, 1.4, family=QUIET)),
        (stand_alone(2, 1.5, kind=BlockKind.HERO), stand_alone(3, 1.4, family=SMALL)),
        (stand_alone(3, 1.5), stand_alone(4, 1.4)),
    ],
    ids=[
        "a fifth apart",
        "wide and upright",
        "meant to be small",
        "singled out",
        "two sides of a leaf",
    ],
)
def test_others_stay_as_they_are(one, other):
    assert match(one, other) == [one[1], other[1]]

"""Groups on one page and on facing ones."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wayfold.base.geometry import Rect, Size
from wayfold.layout.captions import name_positions
from wayfold.layout.composed import MOST_ALIGNED
from wayfold.layout.model import PictureFrame, TextFrame
from wayfold.photos.look import Face, Look, Salience

TRIMS = [Size(210.0, 297.0), Size(148.0, 210.0), Size(210.0, 210.0), Size(297.0, 210.0)]
aspects = st.lists(
    st.sampled_from([1.5, 0.667, 1.333, 0.75, 1.778, 1.0, 2.4]), min_size=2, max_size=6
)
CAPTION = "Boats laid up for the winter under the wall"


def check_page(matter, page) -> list[str]:
    """Check one page's frames and give its photographs."""
    recto = page.number % 2 == 1
    area = matter.grid.picture_area(recto)
    pictures = [f for f in page.frames if isinstance(f, PictureFrame)]
    texts = [f for f in page.frames if isinstance(f, TextFrame)]
    for frame in pictures:
        assert area.contains(frame.box, 1e-4)
        # A little may go, so that gutters lie on one line; what is shown is never distorted.
        assert frame.crop.area >= 1 - MOST_ALIGNED - 1e-9
        shown = frame.crop.width / frame.crop.height * matter.aspect(frame.photo)
        assert frame.box.width / frame.box.height == pytest.approx(shown, rel=1e-9)
    for i, one in enumerate(pictures):
        for other in pictures[i + 1 :]:
            assert one.box.grown(3.99).overlap(other.box) is None
        assert all(one.box.overlap(t.box) is None for t in texts)
    # Captions may hang into the foot margin a little, never as far as the folio.
    assert all(t.box.bottom < area.bottom + 0.35 * matter.grid.picture_margins.foot for t in texts)
    return [f.photo for f in pictures]


@given(aspects, st.sampled_from(TRIMS), st.sampled_from([2, 3]), st.integers(0, 6))
@settings(max_examples=60, deadline=None)
def test_one_page(make_matter, lay_by, shapes, trim, number, captioned):
    captions = dict.fromkeys(range(min(captioned, len(shapes))), CAPTION)
    matter = make_matter(shapes, (number,), captions=captions, trim=trim)
    (page,) = lay_by(matter, "group").pages
    assert check_page(matter, page) == list(matter.block.photos)


@given(aspects, st.sampled_from(TRIMS))
@settings(max_examples=60, deadline=None)
def test_facing_pages_hang_from_one_line(make_matter, lay_by, shapes, trim):
    matter = make_matter(shapes, (2, 3), captions={0: CAPTION}, trim=trim)
    left, right = lay_by(matter, "facing").pages
    assert check_page(matter, left) + check_page(matter, right) == list(matter.block.photos)
    heads = [
        min(f.box.y for f in page.frames if isinstance(f, PictureFrame)) for page in (left, right)
    ]
    assert heads[0] == pytest.approx(heads[1], abs=1e-6)


@pytest.mark.parametrize("n", [7, 8, 9, 10, 14])
def test_many_pictures_on_one_page(make_matter, lay_by, n):
    shapes = [(1.5, 0.75, 1.333, 1.0, 1.778)[i % 5] for i in range(n)]
    matter = make_matter(shapes, (2,), captions=dict.fromkeys(range(n), CAPTION))
    (page,) = lay_by(matter, "group").pages
    assert check_page(matter, page) == list(matter.block.photos)


@pytest.mark.parametrize(
    ("rects", "names"),
    [
        ([Rect(0, 0, 80, 50), Rect(84, 0, 80, 50)], ("Left", "Right")),
        ([Rect(0, 0, 80, 50), Rect(0, 54, 80, 50)], ("Top", "Bottom")),
        (
            [Rect(0, 0, 80, 50), Rect(0, 54, 80, 50), Rect(84, 0, 80, 104)],
            ("Top left", "Bottom left", "Right"),
        ),
        (
            [Rect(0, 0, 50, 50), Rect(54, 0, 50, 50), Rect(108, 0, 50, 50)],
            ("Left", "Centre", "Right"),
        ),
        (
            [Rect(0, 0, 30, 30), Rect(34, 0, 30, 30), Rect(68, 0, 30, 30), Rect(102, 0, 30, 30)],
            ("First", "Second", "Third", "Fourth"),
        ),
    ],
)
def test_positions_are_named_as_the_eye_sees_them(rects, names):
    assert name_positions(rects, "en") == names


def test_what_may_not_be_cropped_is_not(make_matter, lay_by):
    """A face at every edge: the same pictures whole, where without faces some lose a little."""
    shapes = [1.5, 0.667, 1.333, 1.0, 0.75, 1.778, 1.5]
    matter = make_matter(shapes, (2,))
    (free,) = lay_by(matter, "group").pages
    assert any(f.crop.area < 1 - 1e-6 for f in free.frames)
    edges = ((0.0, 0.4), (0.8, 0.4), (0.4, 0.0), (0.4, 0.8))
    faces = tuple(Face(Rect(x, y, 0.2, 0.2), 1.0) for x, y in edges)
    look = Look(faces, Salience(1, 1, (1.0,)), (), 1.4, 0.3, 2000, 0.0, 55.0)
    photos = {name: replace(photo, look=look) for name, photo in matter.photos.items()}
    (held,) = lay_by(replace(matter, photos=photos), "group").pages
    assert all(f.crop == Rect(0.0, 0.0, 1.0, 1.0) for f in held.frames)

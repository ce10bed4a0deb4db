"""Ways to lay pictures: what each family does, what a person's own does, and others to choose."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from wayfold.base.geometry import Rect
from wayfold.book.arranging import Arranging
from wayfold.book.families import Arrange, Family, Place
from wayfold.layout.arrange import LaidBlocks, finish_pages, list_alternatives
from wayfold.layout.model import PictureFrame, TextFrame
from wayfold.layout.spreads import choose_ways
from wayfold.layout.ways import Tried, list_ways
from wayfold.photos.look import Face, Look, Salience
from wayfold.photos.model import SizePx
from wayfold.story.model import BlockKind

shapes = st.sampled_from([1.5, 0.667, 1.333, 0.75, 1.778, 1.0, 2.4])


def with_family(matter, *families):
    book = replace(matter.book, arranging=Arranging(families=families))
    return replace(matter, book=book)


def pictures_of(laid):
    return [f for page in laid.pages for f in page.frames if isinstance(f, PictureFrame)]


@given(st.lists(shapes, min_size=1, max_size=6), st.sampled_from([(2,), (3,), (2, 3)]))
@settings(max_examples=40, deadline=None)
def test_there_is_always_a_way_and_each_shows_every_picture_once(make_matter, aspects, numbers):
    kind = BlockKind.GROUP if len(aspects) > 1 else BlockKind.SINGLE
    matter = make_matter(aspects, numbers, kind, {0: "Boats laid up for the winter"})
    ways = list_ways(matter)
    assert ways
    assert len({way.name for way in ways}) == len(ways)
    assert [way.worth for way in ways] == sorted((w.worth for w in ways), reverse=True)
    for way in ways:
        assert tuple(page.number for page in way.laid.pages) == numbers
        assert {f.photo for f in pictures_of(way.laid)} == set(matter.block.photos)
        for page in way.laid.pages:
            for i, frame in enumerate(page.frames):
                if isinstance(frame, TextFrame):
                    assert all(frame.box.overlap(other.box) is None for other in page.frames[:i]), (
                        way.name
                    )


@given(st.floats(1.2, 1.9), st.booleans())
@settings(max_examples=25, deadline=None)
def test_a_picture_reaches_over_the_fold_from_one_fore_edge(make_matter, lay_by, aspect, captioned):
    captions = {0: "The bridge at low water"} if captioned else {}
    matter = make_matter([aspect], (4, 5), BlockKind.HERO, captions)
    laid = lay_by(matter, "reaching")
    assume(laid is not None)
    left, right = (next(f for f in p.frames if isinstance(f, PictureFrame)) for p in laid.pages)
    assert right.box == left.box.moved(-210.0, 0.0)
    # On one side it bleeds off, on the other it leaves half of the page and more white.
    at_left = left.box.x == pytest.approx(-3.0)
    at_right = right.box.right == pytest.approx(213.0)
    assert at_left != at_right
    assert right.box.right <= 105.0 + 1e-6 if at_left else left.box.x >= 105.0 - 1e-6
    assert left.box.y >= matter.grid.picture_margins.head - 1e-6
    assert left.box.bottom <= 297.0 - matter.grid.picture_margins.foot + 1e-6
    texts = [(p.number, f) for p in laid.pages for f in p.frames if isinstance(f, TextFrame)]
    assert len(texts) == captioned
    assert all(number == (5 if at_left else 4) for number, _ in texts)


def test_a_face_in_the_middle_keeps_a_picture_from_crossing_but_not_from_reaching(
    make_matter, lay_by
):
    matter = make_matter([1.5], (4, 5), BlockKind.HERO)
    shares = tuple(1 / 96 for _ in range(96))
    face = Face(Rect(0.46, 0.3, 0.08, 0.12), 0.9)
    look = Look((face,), Salience(12, 8, shares), (), 1.4, 0.3, 2000, 0.0, 55.0)
    seen = {name: replace(photo, look=look) for name, photo in matter.photos.items()}
    matter = replace(matter, photos=seen)
    assert lay_by(matter, "across") is None
    laid = lay_by(matter, "reaching")
    assert laid is not None
    box = pictures_of(laid)[0].box
    face_left = box.x + face.box.x * box.width
    face_right = box.x + face.box.right * box.width
    assert face_right <= 210 - 12 or face_left >= 210 + 12


def test_the_weightiest_picture_stands_alone_and_the_rest_face_it(make_matter, lay_by):
    matter = make_matter([1.5, 0.75, 1.5, 1.0], (2, 3))
    starred = {**matter.photos, "p2": replace(matter.photos["p2"], rating=5)}
    left, right = lay_by(replace(matter, photos=starred), "one-and-rest").pages
    assert [f.photo for f in left.frames] == ["p0", "p1", "p3"]
    assert [f.photo for f in right.frames] == ["p2"]


def test_a_strip_is_for_scenes(make_matter):
    matter = make_matter([1.5] * 4, (2,))
    assert "strip" not in {way.name for way in list_ways(matter)}
    scene = replace(matter, block=replace(matter.block, scene=True))
    best = list_ways(scene)[0]
    assert best.name == "strip"
    frames = pictures_of(best.laid)
    assert len({round(f.box.height, 6) for f in frames}) == 1
    assert all(b.box.x - a.box.right == pytest.approx(1.0) for a, b in pairwise(frames))


def test_panoramas_are_stacked_at_one_width(make_matter):
    best = list_ways(make_matter([2.2, 2.6], (2,)))[0]
    assert best.name == "panoramas"
    assert len({round(f.box.width, 6) for f in pictures_of(best.laid)}) == 1


def test_a_family_of_ones_own_lays_pictures_where_it_says(make_matter):
    """Places are fractions of the picture area: 168 x 247 mm on A4 (20 + 22, 22 + 28 off)."""
    family = Family(
        "window",
        Arrange.PLACES,
        2,
        2,
        worth=1.5,
        places=(Place(Rect(0.0, 0.0, 0.5, 0.3)), Place(Rect(0.0, 0.5, 1.0, 0.5), fills=True)),
    )
    matter = with_family(make_matter([1.5, 1.35], (3,)), family)
    best = list_ways(matter)[0]
    assert best.name == "window"
    whole, filled = pictures_of(best.laid)
    # A 3:2 picture in 84 x 74.1 mm: 84 x 56, in the middle of the height.
    assert whole.box == Rect(20.0, pytest.approx(22 + (74.1 - 56) / 2), 84.0, pytest.approx(56.0))
    assert whole.crop == Rect(0.0, 0.0, 1.0, 1.0)
    assert filled.box == Rect(20.0, pytest.approx(22 + 123.5), 168.0, pytest.approx(123.5))
    assert filled.crop.width < 1.0 or filled.crop.height < 1.0


def test_a_coarse_picture_stays_small_and_is_passed_over_where_it_would_be_large(make_matter):
    """At 180 pixels an inch (fair at arm's length) 709 pixels bear 100 mm: 709 / 180 x 25.4."""
    matter = make_matter([0.7], (3,), BlockKind.SINGLE)
    assert list_ways(matter)[0].name == "bled"
    coarse = replace(matter.photos["p0"], size=SizePx(709, 1013))
    matter = replace(matter, photos={"p0": coarse})
    best = list_ways(matter)[0]
    assert best.name == "framed"
    (frame,) = pictures_of(best.laid)
    assert frame.box.width == pytest.approx(100.0, abs=0.1)


def test_a_coarse_picture_weighs_less_in_a_group(make_matter):
    matter = make_matter([1.5, 1.5], (2,))
    small = replace(matter.photos["p1"], size=SizePx(600, 400))
    lighter = replace(matter, photos={**matter.photos, "p1": small})
    assert lighter.weight("p1") < lighter.weight("p0") == matter.weight("p0")


def test_a_lone_panorama_runs_from_edge_to_edge_of_its_page(make_matter):
    matter = make_matter([3.0], (3,), BlockKind.SINGLE, {0: "The long shore"})
    best = list_ways(matter)[0]
    assert best.name == "band"
    picture, caption = best.laid.pages[0].frames
    # 216 mm with the bleed at 3:1 is 72 mm high; the optical centre lies at 0.46 of 297 mm.
    assert picture.box == Rect(-3.0, pytest.approx(0.46 * 297 - 36), 216.0, pytest.approx(72.0))
    assert picture.crop == Rect(0.0, 0.0, 1.0, 1.0)
    assert caption.box.x == pytest.approx(20.0)


def test_a_soft_picture_is_never_a_stamp_and_a_hero_is_as_large_as_its_pixels_bear(make_matter):
    shares = tuple(1 / 96 for _ in range(96))
    soft = Look((), Salience(12, 8, shares), (), 14.0, 0.3, 2000, 0.0, 55.0)
    matter = make_matter([1.5], (3,), BlockKind.SINGLE)
    seen = {"p0": replace(matter.photos["p0"], look=soft)}
    matter = replace(matter, photos=seen)
    assert matter.largest("p0") == pytest.approx(120.0)
    hero = replace(matter, block=replace(matter.block, kind=BlockKind.HERO))
    # 4500 pixels at 150 an inch, the least that is bearable.
    assert hero.largest("p0") == pytest.approx(4500 / 150 * 25.4)


def test_families_of_the_style_are_at_hand(make_matter):
    matter = make_matter([1.5], (3,), BlockKind.SINGLE)
    mine = Family("one of the style", Arrange.ALONE, worth=2.0, size=0.8)
    style = replace(matter.book.style, families=(mine,))
    styled = replace(matter, book=replace(matter.book, style=style))
    assert list_ways(styled)[0].family == mine
    # The person's own of the same name wins.
    own = replace(mine, size=0.5)
    assert list_ways(with_family(styled, own))[0].family == own


@pytest.mark.parametrize("aspects", [[1.6, 1.6], [1.5, 0.667], [1.5, 0.667, 1.0], [1.5] * 5])
def test_the_ways_offered_look_unlike_each_other(make_matter, aspects):
    matter = make_matter(aspects, (2, 3))
    tried = Tried()
    (way,) = choose_ways([matter], (), {}, tried)
    blocks = LaidBlocks((matter,), (2, 3), {"b": way.laid}, {"b": way}, (), tried)
    offered = list_alternatives(blocks, 2, 5)
    pages = [finish_pages(blocks, ways).pages for ways in ((), *offered)]
    shown = {tuple(page.frames for page in each) for each in pages}
    assert len(shown) == len(pages)
    # Two have a page each, and there is one way for that.
    assert bool(offered) == (len(aspects) > 2)


def test_a_hero_short_of_pixels_crosses_with_white_rather_than_not_at_all(make_matter):
    """2560 px bear 434 mm at 150 to the inch: enough for both pages, not for a crop of them."""
    matter = make_matter([1.6], (4, 5), BlockKind.HERO)
    photos = {"p0": replace(matter.photos["p0"], size=SizePx(2560, 1600))}
    best, *_ = list_ways(replace(matter, photos=photos))
    assert best.family.name == "across"
    (left, right) = pictures_of(best.laid)
    assert left.crop == right.crop == Rect(0.0, 0.0, 1.0, 1.0)
    sharp = {"p0": replace(matter.photos["p0"], size=SizePx(5120, 3200))}
    best, *_ = list_ways(replace(matter, photos=sharp))
    assert pictures_of(best.laid)[0].box.bottom > 297.0

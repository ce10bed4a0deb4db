"""How well words would stand on a page: light before dark, calm before busy, never over type.

Lightness is CIE 1976 L* (CIE 15), with its table values from memory: luminance 0.18 has L* 49.5,
0.008856 has 8.
"""

import pytest

from wayfold.base.geometry import Point, Rect
from wayfold.layout.model import PageLayout, PictureFrame, TextFrame
from wayfold.pages.ground import AROUND, FACE, OVER_TYPE, read_ground
from wayfold.photos.lightness import Lightness
from wayfold.photos.look import Face, Look, Salience

BOX = Rect(50, 50, 40, 20)


def flat(luminance: float) -> Lightness:
    return Lightness(4, (luminance,) * 16)


def judge(picture: Lightness | None, box: Rect = BOX, place: Rect | None = None) -> float:
    frame = PictureFrame(place or Rect(0, 0, 210, 297), "p")
    lightness = {} if picture is None else {"p": picture}
    return read_ground(PageLayout(7, "any", (frame,)), lightness).judge(box)


@pytest.mark.parametrize(
    ("luminance", "l_star"), [(1.0, 100.0), (0.18, 49.5), (0.008856, 8.0), (0.0, 0.0)]
)
def test_an_even_ground_is_worth_its_lightness(luminance: float, l_star: float) -> None:
    assert judge(flat(luminance)) == pytest.approx(l_star / 100, abs=0.0005)


def test_white_paper_is_best() -> None:
    assert read_ground(None, {}).judge(BOX) == 1.0
    assert read_ground(PageLayout(7, "blank", ()), {}).judge(BOX) == 1.0
    assert judge(flat(0.0), place=Rect(100, 100, 100, 150)) == 1.0


def test_the_worst_patch_decides() -> None:
    # Equal means; one is even, the other half black and half white.
    checks = Lightness(4, (0.0, 1.0) * 8)
    assert judge(checks) < judge(flat(0.5))
    # A black patch anywhere under the words is worse than a ground that is grey throughout.
    patch = Lightness(4, (0.5,) * 5 + (0.0,) * 2 + (0.5,) * 9)
    assert judge(patch, Rect(20, 20, 170, 257)) < judge(flat(0.5))


def test_a_picture_is_read_where_it_lies_under_the_words() -> None:
    # Left half black, right half white, on a page 200 mm wide.
    halves = Lightness(4, (0.0, 0.0, 1.0, 1.0) * 4)
    page = Rect(0, 0, 200, 297)
    assert judge(halves, Rect(20, 100, 50, 20), page) == pytest.approx(0.0)
    assert judge(halves, Rect(130, 100, 50, 20), page) == pytest.approx(1.0)


def test_only_the_shown_part_of_a_cropped_picture_counts() -> None:
    halves = Lightness(4, (0.0, 0.0, 1.0, 1.0) * 4)
    frame = PictureFrame(Rect(0, 0, 210, 297), "p", crop=Rect(0.5, 0.0, 0.5, 1.0))
    ground = read_ground(PageLayout(7, "any", (frame,)), {"p": halves})
    assert ground.judge(Rect(10, 10, 60, 20)) == pytest.approx(1.0)


def test_what_is_clipped_away_is_paper() -> None:
    # A picture across the fold: on this page only what lies within the trim.
    frame = PictureFrame(Rect(-210, 0, 420, 200), "p", clip=Rect(0, 0, 210, 200))
    ground = read_ground(PageLayout(7, "any", (frame,)), {"p": flat(0.0)})
    assert ground.judge(Rect(20, 220, 60, 20)) == 1.0
    assert ground.judge(Rect(20, 20, 60, 20)) == pytest.approx(0.0)


def test_words_half_on_a_dark_picture_are_no_better_than_on_it() -> None:
    """The darkest tenth is dark either way, and the ground is uneven besides."""
    place = Rect(0, 0, 210, 100)
    across_the_edge = judge(flat(0.0), Rect(50, 80, 60, 40), place)
    assert across_the_edge < judge(flat(0.0), Rect(50, 20, 60, 40), place) + 1e-9


def test_unknown_pictures_do_not_count() -> None:
    assert judge(None) == 1.0


def test_words_over_other_words_are_worst() -> None:
    text = TextFrame(Rect(50, 50, 40, 20).grown(AROUND), "t", ())
    ground = read_ground(PageLayout(7, "text", (text,)), {})
    assert ground.judge(BOX) == pytest.approx(1.0 - OVER_TYPE)
    assert ground.judge(BOX) < judge(flat(0.0))
    # Beside them it is white paper again; within the distance it is not.
    assert ground.judge(BOX.moved(0, 20 + 2 * AROUND + 1)) == 1.0
    assert ground.judge(BOX.moved(0, 20 + AROUND)) < 1.0


def test_the_eye_goes_to_faces_before_all_and_nowhere_on_paper() -> None:
    # Four cells, all to be seen in the second of the upper row: four times the mean.
    seen = Salience(2, 2, (0.0, 1.0, 0.0, 0.0))
    face = Face(Rect(0.0, 0.75, 0.25, 0.25), 1.0)
    frame = PictureFrame(Rect(0, 0, 200, 200), "p")
    look = Look((face,), seen, (), 1.0, 0.0, 100, 0.0, 50.0)
    ground = read_ground(PageLayout(7, "any", (frame,)), {}, {"p": look})
    assert ground.watch_at(Point(150, 50)) == 4.0
    assert ground.watch_at(Point(50, 50)) == 0.0
    assert ground.watch_at(Point(20, 180)) == FACE > 4.0
    assert ground.watch_at(Point(205, 50)) == 0.0
    assert ground.watch(Rect(110, 10, 80, 80)) == pytest.approx(4.0)
    assert read_ground(None, {}).watch(BOX) == 0.0


def test_a_box_lies_in_a_picture_or_beside_it_or_across_its_edge() -> None:
    frame = PictureFrame(Rect(-3, -3, 216, 150), "p", clip=Rect(0, 0, 210, 140))
    ground = read_ground(PageLayout(7, "any", (frame,)), {})
    assert not ground.is_crossed(Rect(20, 20, 80, 30))
    assert not ground.is_crossed(Rect(20, 150, 80, 30))
    assert ground.is_crossed(Rect(20, 130, 80, 30))

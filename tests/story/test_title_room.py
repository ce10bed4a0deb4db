"""Which pictures bear a title on the translucent leaf over them.

By hand, for two-flux theory (Kubelka and Munk 1931: R = R0 + T^2 Rg / (1 - R0 Rg)) with R0 = 0.25
and T = 0.68, ink that gives 0.04 back, and WCAG 2.1's 4.5 to 1: the leaf must show
4.5 x 0.09 - 0.05 = 0.355, so the page must give (R - R0) / (T^2 + R0 (R - R0)) = 0.2148, which is a
luminance of 0.2033 where white paper gives 0.9 and black ink 0.04.
"""

from dataclasses import replace

import pytest

from wayfold.base.geometry import Rect
from wayfold.book.materials import Translucent
from wayfold.book.state import Book, ChapterChoice
from wayfold.photos.lightness import Lightness
from wayfold.photos.model import Photo
from wayfold.story.openings import list_bearing
from wayfold.story.tell import tell_story
from wayfold.story.title_room import judge_title

BOOK = Book("B", translucent=Translucent(reflectance=0.25, transmittance=0.68))
WHOLE = Rect(0.0, 0.0, 1.0, 1.0)
A4 = 210 / 297


def flat(luminance: float) -> Lightness:
    return Lightness(8, (luminance,) * 96)


def rows(*luminances: float) -> Lightness:
    return Lightness(8, tuple(v for v in luminances for _ in range(8)))


@pytest.mark.parametrize(("luminance", "bears"), [(0.2, False), (0.207, True), (1.0, True)])
def test_the_least_light_under_a_title(luminance: float, bears: bool) -> None:
    assert (judge_title(flat(luminance), WHOLE, A4, BOOK) >= 1.0) is bears


def test_one_light_band_is_enough_and_a_narrow_one_is_not() -> None:
    # A tenth of the page's height is needed, of a map's names a quarter.
    dark, light = [0.02] * 8, [0.8] * 4
    band = rows(*dark, *light, *dark)
    assert judge_title(band, WHOLE, A4, BOOK) > 1.5
    assert judge_title(band, WHOLE, A4, BOOK, mapped=True) < 1.0
    assert judge_title(rows(*dark, 0.8, *dark), WHOLE, A4, BOOK) < 1.0


def test_only_what_fills_the_page_counts() -> None:
    # A picture twice as wide as the page, light in its outer quarters: the middle is dark.
    sides = Lightness(8, (0.9, 0.9, 0.02, 0.02, 0.02, 0.02, 0.9, 0.9) * 12)
    assert judge_title(sides, WHOLE, 2 * A4, BOOK) < 1.0
    assert judge_title(sides, Rect(0.0, 0.0, 0.5, 1.0), 2 * A4, BOOK) > 1.0


def test_a_clearer_sheet_asks_for_more_light() -> None:
    # It gives less back by itself: over black (0.2, 0.75) has 3.0 to 1, (0.4, 0.55) has 5.1.
    dark = flat(0.0)
    for reflectance, transmittance, over_black in ((0.2, 0.75, 3.0), (0.4, 0.55, 5.1)):
        book = replace(BOOK, translucent=Translucent(reflectance=reflectance,
                                                     transmittance=transmittance))  # fmt: skip
        assert 4.5 * judge_title(dark, WHOLE, A4, book) == pytest.approx(over_black, abs=0.06)


LINES = """
    a 2025-05-03T10:00 Alba 5 4000x5600
    b 2025-05-03T10:05 Alba 4 4000x5600
    c 2025-05-03T10:10 Alba 3 4000x5600
    d 2025-05-03T10:15 Alba 5 6000x4000
"""


def opening(teller, light: dict[str, float], photo: str | None = None) -> tuple[str, list[str]]:
    trip, photos = teller.read(LINES)
    asked: list[str] = []

    def read(photo: Photo) -> Lightness | None:
        asked.append(photo.id)
        return flat(light[photo.id]) if photo.id in light else None

    chapter = ChapterChoice("Alba", interleaf=True, opening_photo=photo)
    story = tell_story(trip, replace(BOOK, chapters=(chapter,)), photos, {}, read_lightness=read)
    return story.block("opener:0").photos[0], asked


def test_a_chapter_opens_with_the_best_picture_that_bears_its_title(teller):
    assert opening(teller, {"a": 0.9, "b": 0.9, "c": 0.9}) == ("a", ["a"])
    assert opening(teller, {"a": 0.1, "b": 0.9, "c": 0.9}) == ("b", ["a", "b"])
    assert opening(teller, {"a": 0.1, "b": 0.05, "c": 0.9}) == ("c", ["a", "b", "c"])


def test_where_none_bears_it_the_nearest_opens(teller):
    assert opening(teller, {"a": 0.05, "b": 0.15, "c": 0.1})[0] == "b"
    assert opening(teller, {"c": 0.01})[0] == "c"  # the others cannot be read


def test_the_persons_word_stands_however_dark(teller):
    assert opening(teller, {"a": 0.9, "b": 0.9, "c": 0.01}, "c") == ("c", [])


def test_pictures_that_would_bear_a_title_are_named(teller):
    _, photos = teller.read(LINES)
    light = {"a": 0.05, "b": 0.9, "c": 0.9, "d": 0.9}
    found = list_bearing(photos.values(), BOOK, lambda p: flat(light[p.id]), False)
    assert [photo.id for photo in found] == ["b", "c"]  # d, wide, fills no page

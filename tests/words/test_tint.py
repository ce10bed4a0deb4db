"""Tints from palettes: our own rules, and circular means as directional statistics has them."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wayfold.base.geometry import Rect
from wayfold.drawing.colour import BLACK, Colour
from wayfold.drawing.contrast import contrast, luminance
from wayfold.drawing.oklab import make_oklch, read_oklab, turn_between
from wayfold.photos.look import Face, Look, Salience, Tone
from wayfold.words.tint import (
    Tint,
    choose_chapter_tint,
    list_tones,
    vary_tint,
)

EVEN = Salience(1, 1, (1.0,))


def tone(share: float, lightness: float, chroma: float, hue: float) -> Tone:
    seen = make_oklch(lightness, chroma, hue)
    return Tone(share, seen.lightness, seen.a, seen.b)


def look(*tones: Tone, faces: tuple[Face, ...] = ()) -> Look:
    return Look(faces, EVEN, tones, 1.4, 1.0, 1000, 0.0, 50.0)


tones = st.builds(
    tone, st.floats(0.03, 1.0), st.floats(0.0, 1.0), st.floats(0.0, 0.3), st.floats(0.0, 360.0)
)
looks = st.lists(st.lists(tones, min_size=1, max_size=6).map(lambda t: look(*t)), max_size=4)
colours = st.builds(Colour, *[st.integers(0, 255)] * 3)


@given(looks, st.none() | colours)
def test_every_tint_is_a_pastel(pictures: list[Look], accent: Colour | None) -> None:
    tint = choose_chapter_tint(pictures, accent)
    # 0.004: what rounding to 8 bits may do.
    assert 0.925 - 0.004 <= tint.seen.lightness <= 0.955 + 0.004
    assert tint.seen.chroma <= 0.045 + 0.004
    assert contrast(luminance(BLACK), luminance(tint.colour)) >= 12.0


@given(looks, looks, colours)
def test_a_chapters_tints_agree_with_its_accent(
    whole: list[Look], near: list[Look], accent: Colour
) -> None:
    tint, given_hue = choose_chapter_tint(whole, accent), read_oklab(accent)
    wash = vary_tint(tint, near)
    if tint.hue_deg is not None and wash.hue_deg is not None and given_hue.chroma >= 0.04:
        assert abs(turn_between(given_hue.hue_deg, tint.hue_deg)) <= 20.0 + 1e-6
        assert abs(turn_between(given_hue.hue_deg, wash.hue_deg)) <= 40.0 + 1e-6


@given(looks, looks, looks)
def test_washes_of_a_chapter_are_of_one_family(
    whole: list[Look], one: list[Look], other: list[Look]
) -> None:
    chapter = choose_chapter_tint(whole)
    first, second = vary_tint(chapter, one), vary_tint(chapter, other)
    if first.hue_deg is not None and second.hue_deg is not None:
        assert abs(turn_between(first.hue_deg, second.hue_deg)) <= 40.0 + 1e-6


def test_the_hue_is_the_mean_of_angles() -> None:
    # Two equal directions at 350 and 30 degrees: their mean is 10, not 190.
    tint = choose_chapter_tint([look(tone(0.5, 0.6, 0.1, 350.0), tone(0.5, 0.6, 0.1, 30.0))])
    assert tint.hue_deg == pytest.approx(10.0)


def test_area_and_chroma_weigh() -> None:
    # tan(h) = (0.2 * 0.2) / (0.4 * 0.1) = 1
    tint = choose_chapter_tint([look(tone(0.4, 0.6, 0.1, 0.0), tone(0.2, 0.6, 0.2, 90.0))])
    assert tint.hue_deg == pytest.approx(45.0)


def test_colours_all_round_give_the_neutral_warm() -> None:
    around = [tone(0.25, 0.6, 0.1, hue) for hue in (0.0, 90.0, 180.0, 270.0)]
    for pictures in ([look(*around)], [look(tone(1.0, 0.5, 0.01, 200.0))], []):
        tint = choose_chapter_tint(pictures)
        assert tint.hue_deg is None
        assert tint.seen.hue_deg == pytest.approx(75.0, abs=8.0)
        assert tint.seen.chroma == pytest.approx(0.02, abs=0.004)


def test_agreement_below_a_third_is_none() -> None:
    # Unit vectors at +-alpha have a mean length of cos(alpha).
    for length, agreed in ((0.28, False), (0.32, True)):
        angle = math.degrees(math.acos(length))
        tint = choose_chapter_tint([look(tone(0.5, 0.6, 0.1, angle), tone(0.5, 0.6, 0.1, -angle))])
        assert (tint.hue_deg is not None) is agreed


def test_skin_is_left_out_as_far_as_faces_go() -> None:
    skin, sea = tone(0.3, 0.7, 0.08, 50.0), tone(0.1, 0.6, 0.1, 230.0)
    face = Face(Rect(0.2, 0.2, 0.6, 0.5), 0.9)
    without = choose_chapter_tint([look(skin, sea)])
    assert without.hue_deg is not None and abs(turn_between(without.hue_deg, 50.0)) < 30.0
    portrait = choose_chapter_tint([look(skin, sea, faces=(face,))])
    assert portrait.hue_deg == pytest.approx(230.0)
    small = Face(Rect(0.2, 0.2, 0.1, 0.1), 0.9)
    left = list_tones([look(skin, sea, faces=(small,))])
    assert [t.share for t in left] == pytest.approx([0.29, 0.1])


def test_a_new_picture_seldom_moves_a_tint() -> None:
    chapter = [look(tone(0.6, 0.5, 0.1, 231.0), tone(0.2, 0.7, 0.08, 220.0)) for _ in range(8)]
    added = look(tone(0.5, 0.5, 0.1, 240.0))
    assert choose_chapter_tint(chapter) == choose_chapter_tint([*chapter, added])


def test_a_wash_beside_colourless_pictures_takes_the_chapters_tint() -> None:
    chapter = choose_chapter_tint([look(tone(0.6, 0.5, 0.1, 230.0))])
    assert vary_tint(chapter, [look(tone(1.0, 0.5, 0.0, 0.0))]) == chapter
    assert isinstance(chapter, Tint)

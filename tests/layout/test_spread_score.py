"""Scores of facing pages: by hand, and what must not change them or must make them worse."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wayfold.base.geometry import Rect, Size
from wayfold.layout.spread_score import (
    Shown,
    join_scores,
    measure_alignment,
    measure_balance,
    measure_clearness,
    measure_colour,
    measure_facing,
    measure_whiteness,
    score_spread,
)
from wayfold.photos.look import Tone

SPREAD = Size(420.0, 297.0)
FIELDS = (Rect(22, 22, 168, 247), Rect(230, 22, 168, 247))
# Whole even numbers of mm: mirror images then fall on the cells by which white is measured.
boxes = st.builds(
    lambda x, y, w, h: Rect(2.0 * x, 2.0 * y, 2.0 * w, 2.0 * h),
    st.integers(0, 150),
    st.integers(0, 100),
    st.integers(10, 60),
    st.integers(10, 48),
)
tones = st.builds(
    Tone, st.floats(0.05, 1.0), st.floats(0.0, 1.0), st.floats(-0.2, 0.2), st.floats(-0.2, 0.2)
)
pictures = st.builds(
    Shown,
    boxes,
    st.floats(0.0, 1.0),
    st.sampled_from([-1.0, -0.4, 0.0, 0.6]),
    st.lists(tones, max_size=3).map(tuple),
)


def mirror(shown: Shown) -> Shown:
    r = shown.rect
    turned = Rect(SPREAD.width - r.right, r.y, r.width, r.height)
    return replace(shown, rect=turned, facing=-shown.facing)


def test_one_bad_score_spoils_the_whole():
    # The check published with the formula: the plain mean would be 0.7.
    assert join_scores([1.0, 1.0, 0.1], [1.0, 1.0, 1.0]) == pytest.approx(0.25)
    assert join_scores([0.5, 1.0], [1.0, 1.0], power=2.0) == pytest.approx(math.sqrt(1 / 2.5))


@given(st.lists(st.floats(0.05, 1.0), min_size=1, max_size=6), st.floats(0.5, 4.0))
def test_the_joined_score_lies_between_the_worst_and_the_mean(scores, power):
    joined = join_scores(scores, [1.0] * len(scores), power)
    assert min(scores) - 1e-9 <= joined <= sum(scores) / len(scores) + 1e-9


@given(st.lists(pictures, min_size=1, max_size=4))
@settings(max_examples=40, deadline=None)
def test_the_mirror_image_is_as_good(shown):
    one = score_spread(shown, SPREAD, FIELDS, 0.45)
    other = score_spread([mirror(s) for s in shown], SPREAD, FIELDS, 0.45)
    for name in ("balance", "alignment", "clearness", "facing", "colour", "white", "total"):
        assert 0.0 <= getattr(one, name) <= 1.0 + 1e-9
        assert getattr(one, name) == pytest.approx(getattr(other, name), abs=1e-6)


def test_balance_by_hand():
    half = math.hypot(210.0, 148.5)
    middle = Shown(Rect(160, 0.48 * 297 - 40, 100, 80))
    assert measure_balance([middle], SPREAD) == pytest.approx(1.0)
    aside = Shown(middle.rect.moved(63.0, 0.0))
    assert measure_balance([aside], SPREAD) == pytest.approx(1.0 - 63.0 / half)
    # Of two alike left and right of the middle, the one of strong contrast weighs twice as much.
    left = Shown(middle.rect.moved(-90.0, 0.0), contrast=0.0)
    right = Shown(middle.rect.moved(90.0, 0.0), contrast=1.0)
    assert measure_balance([left, right], SPREAD) == pytest.approx(1.0 - 30.0 / half)


def test_alignment_by_hand():
    left, right = Rect(22, 40, 120, 80), Rect(278, 40, 120, 80)
    assert measure_alignment([left], SPREAD) == 1.0
    assert measure_alignment([left, right], SPREAD) == 1.0
    assert measure_alignment([left, Rect(250, 130, 90, 60)], SPREAD) == 0.0
    # The same picture 30 mm lower: three of the six kinds have two lines.
    assert measure_alignment([left, right.moved(0, 30)], SPREAD) == pytest.approx(0.5)


def test_edges_nearly_on_one_line():
    left, right = Rect(22, 40, 120, 80), Rect(278, 40, 120, 80)
    assert measure_clearness([left, right.moved(0, 0.3)]) == 1.0
    assert measure_clearness([left, right.moved(0, 4)]) == pytest.approx(1 / 2.2)
    assert measure_clearness([left, right.moved(0, 20)]) == 1.0


def test_looking_into_the_book():
    left, right = Rect(22, 40, 100, 80), Rect(278, 40, 100, 80)
    assert measure_facing([Shown(left, facing=1.0), Shown(right, facing=-1.0)], SPREAD) == 1.0
    assert measure_facing([Shown(left, facing=-1.0), Shown(right, facing=-1.0)], SPREAD) == 0.5
    assert measure_facing([Shown(left, facing=-0.4)], SPREAD) == pytest.approx(0.6)
    assert measure_facing([Shown(left), Shown(right)], SPREAD) == 1.0
    assert measure_facing([Shown(Rect(150, 40, 120, 80), facing=1.0)], SPREAD) == 1.0


def test_colours_of_facing_pages():
    left, right = Rect(22, 40, 100, 80), Rect(278, 40, 100, 80)
    sea, sand = Tone(1.0, 0.55, -0.05, -0.08), Tone(1.0, 0.8, 0.02, 0.08)

    def rate(one: Tone, other: Tone) -> float:
        shown = [Shown(left, palette=(one,)), Shown(right, palette=(other,))]
        return measure_colour(shown, SPREAD)

    assert rate(sea, sea) == 1.0
    apart = math.dist((0.55, -0.05, -0.08), (0.8, 0.02, 0.08))
    assert rate(sea, sand) == pytest.approx(max(0.0, 1 - (apart - 0.12) / 0.2))
    # The same grey in warm and in cold light, near as palettes, is a jump.
    warm, cold = Tone(1.0, 0.7, 0.01, 0.02), Tone(1.0, 0.7, -0.01, -0.02)
    assert rate(warm, cold) == pytest.approx(1 - (0.06 - 0.015) / 0.045)
    assert measure_colour([Shown(left, palette=(sea,)), Shown(right)], SPREAD) == 1.0


def test_white_by_hand():
    filled = [Rect(22, 22, 168, 247 * 0.55), Rect(230, 22, 168, 247 * 0.55)]
    assert measure_whiteness(filled, SPREAD, FIELDS, 0.45) == pytest.approx(1.0, abs=1e-6)
    # 0.2 too much and 0.08 too little count alike.
    for wanted in (0.25, 0.53):
        white = measure_whiteness(filled, SPREAD, FIELDS, wanted)
        assert white == pytest.approx(math.exp(-1), abs=1e-6)
    # A ring of four pictures shuts in 100 x 120 mm, a tenth of the spread.
    ring = [
        Rect(22, 22, 168, 40),
        Rect(22, 66, 34, 116),
        Rect(156, 66, 34, 116),
        Rect(22, 186, 168, 40),
    ]
    assert measure_whiteness(ring, SPREAD, FIELDS, 0.45) == 0.0
    # A gate wide enough for the eye opens it.
    ring[2] = Rect(156, 66, 34, 90)
    assert measure_whiteness(ring, SPREAD, FIELDS, 0.45) > 0.0


def test_what_is_worse_scores_less():
    warm, cold = (Tone(1.0, 0.7, 0.05, 0.08),), (Tone(1.0, 0.4, -0.05, -0.1),)
    left = Shown(Rect(22, 40, 168, 126), facing=0.8, palette=warm)
    right = Shown(Rect(230, 40, 168, 126), facing=-0.8, palette=warm)
    best = score_spread([left, right], SPREAD, FIELDS, 0.45).total
    for worse in (
        replace(right, facing=0.8),
        replace(right, palette=cold),
        replace(right, rect=right.rect.moved(0, 4)),
        replace(right, rect=Rect(300, 190, 60, 45)),
    ):
        assert score_spread([left, worse], SPREAD, FIELDS, 0.45).total < best


def test_nothing_has_no_score():
    with pytest.raises(ValueError, match="without pictures"):
        score_spread([], SPREAD, FIELDS, 0.45)

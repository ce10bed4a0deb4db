"""Which of several pictures nearly alike is proposed, and why; worked by hand."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wayfold.base.geometry import Rect
from wayfold.photos.look import Face, Look, Salience
from wayfold.photos.model import Photo, SizePx
from wayfold.story.entries import Entry
from wayfold.story.ranking import rank_alike

START = datetime(2025, 5, 3, 10)


def shown(name, *, rating=0, edge=1.4, faces=0, clipped=0.0, size=(6000, 4000), kind="JPEG", **k):
    box = Rect(0.4, 0.4, 0.1, 0.2)
    look = Look(
        (Face(box, 0.9),) * faces, Salience(1, 1, (1.0,)), (), edge, 0.1, 3000, clipped, 50.0
    )
    if k.get("unseen"):
        look = None
    photo = Photo(name, name, f"/{name}.jpg", SizePx(*size), file_format=kind, look=look)
    when = START + timedelta(seconds=ord(name[0]))
    return Entry(name, when, 0, size[0] / size[1], rating), photo


def order(*pictures):
    return "".join(r.entry.photo for r in rank_alike(pictures))


@pytest.mark.parametrize(
    ("a", "b", "why"),
    [
        ({"rating": 1}, {"edge": 1.4, "faces": 2}, "best rated"),
        ({"edge": 9.0}, {"kind": "camera raw"}, "finished file"),
        ({"faces": 2, "edge": 3.0}, {"faces": 1}, "most faces"),
        ({"faces": 1, "edge": 2.0}, {"faces": 1, "edge": 3.0}, "sharper where the faces are"),
        ({"edge": 2.0}, {"edge": 3.0}, "sharper where the eye goes"),
        ({"clipped": 0.01}, {"clipped": 0.2}, "black and white"),
        ({"size": (6100, 4000)}, {}, "most pixels"),
        ({"size": (6100, 4000), "unseen": True}, {}, "most pixels"),
    ],
)
def test_each_ground_by_itself(a, b, why):
    ranked = rank_alike([shown("a", **a), shown("b", **b)])
    assert [r.entry.photo for r in ranked] == ["a", "b"]
    assert ranked[0].ahead is not None and why in ranked[0].ahead.ahead
    assert ranked[1].lags is ranked[0].ahead
    # The same the other way round: what was taken last is no ground while there is a better one.
    assert order(shown("b", **b), shown("a", **a)) == "ab"


@pytest.mark.parametrize(
    "b", [{"edge": 1.55}, {"clipped": 0.015}, {"edge": 1.0}, {}, {"unseen": True, "edge": 9.0}]
)
def test_what_nobody_would_see_does_not_decide(b):
    ranked = rank_alike([shown("a"), shown("b", **b)])
    assert [r.entry.photo for r in ranked] == ["b", "a"]
    assert ranked[0].ahead is None and ranked[1].lags is None


def test_the_ground_that_is_told_is_the_one_that_decided():
    ranked = rank_alike([
        shown("a", faces=1, edge=2.0), shown("b", faces=0), shown("c", faces=1, edge=4.0),
    ])  # fmt: skip
    assert [r.entry.photo for r in ranked] == ["a", "c", "b"]
    assert "sharper where the faces are" in ranked[0].ahead.ahead
    assert "less sharp where the faces are" in ranked[1].lags.lags
    assert "fewer faces" in ranked[2].lags.lags


ROWS = st.lists(
    st.tuples(
        st.integers(0, 5), st.floats(1.0, 9.0), st.integers(0, 3), st.floats(0.0, 0.5),
        st.sampled_from([(6000, 4000), (3000, 2000)]), st.booleans(),
    ),
    min_size=1, max_size=6,
)  # fmt: skip


@given(ROWS)
def test_stars_win_and_each_picture_has_one_place(rows):
    pictures = [
        shown(chr(97 + i), rating=r, edge=e, faces=f, clipped=c, size=s, unseen=u)
        for i, (r, e, f, c, s, u) in enumerate(rows)
    ]
    ranked = rank_alike(pictures)
    assert sorted(r.entry.photo for r in ranked) == sorted(e.photo for e, _ in pictures)
    ratings = [r.entry.rating for r in ranked]
    assert ratings == sorted(ratings, reverse=True)
    assert ranked[0].lags is None
    assert rank_alike(pictures) == ranked

"""Numbers and letters on cutting plans: every one can be read. Common practice, no source."""

from __future__ import annotations

import itertools
import math

from hypothesis import given
from hypothesis import strategies as st

from wayfold.base.geometry import Point, Rect
from wayfold.bench.cutting_marks import ClearPlaces, Mark, offer_for_piece, offer_on_cut

SHEET = Rect(0, 0, 80, 60)
DOT = 1.75
points = st.builds(Point, st.integers(0, 80), st.integers(0, 60))


def distance(one: Mark, other: Mark) -> float:
    return math.dist((one.at.x, one.at.y), (other.at.x, other.at.y))


def test_numbers_of_cuts_side_by_side_stand_clear_of_each_other_on_their_cuts() -> None:
    places = ClearPlaces(SHEET)
    cuts = [(Point(x, 0), Point(x, 60)) for x in (10.0, 11.1, 12.2, 13.0)]
    marks = [places.take(offer_on_cut(*cut), DOT) for cut in cuts]
    assert [mark.at.x for mark in marks] == [10.0, 11.1, 12.2, 13.0]
    assert not any(mark.leader for mark in marks)
    assert all(distance(a, b) >= 2 * DOT for a, b in itertools.combinations(marks, 2))


def test_a_cut_that_its_number_would_hide_has_it_beyond_its_end() -> None:
    start, end = Point(20, 30), Point(21.3, 30)
    mark = ClearPlaces(SHEET).take(offer_on_cut(start, end), DOT)
    assert (mark.at.y, mark.leader) == (30, end)
    assert mark.at.x - DOT > end.x
    # At the sheet's edge there is room on the other side only.
    mark = ClearPlaces(SHEET).take(offer_on_cut(Point(78, 30), Point(79.5, 30)), DOT)
    assert mark.leader == Point(78, 30)


def test_a_letter_lies_in_its_piece_or_is_led_to_it_past_the_others() -> None:
    assert ClearPlaces(SHEET).take(offer_for_piece(Rect(5, 5, 20, 30), ()), 1.4).leader is None
    narrow, neighbour = Rect(30, 5, 1.2, 40), Rect(31.2, 5, 20, 40)
    mark = ClearPlaces(SHEET).take(offer_for_piece(narrow, (neighbour,)), 1.4)
    assert mark.leader
    assert (mark.leader.x, mark.at.x < narrow.x) == (narrow.center.x, True)


@given(st.lists(st.tuples(points, points), min_size=1, max_size=9))
def test_a_sign_covers_another_only_where_nothing_better_was_offered(
    cuts: list[tuple[Point, Point]],
) -> None:
    places, taken = ClearPlaces(SHEET), list[Mark]()
    for cut in cuts:
        offered = list(offer_on_cut(*cut))
        chosen = places.take(offered, DOT)
        assert chosen in offered
        inside = [m for m in offered if DOT <= m.at.x <= 80 - DOT and DOT <= m.at.y <= 60 - DOT]
        clear = [m for m in inside if all(distance(m, other) >= 2 * DOT for other in taken)]
        assert not clear or chosen == clear[0]
        taken.append(chosen)

"""Events by their pauses, held against the rule as its paper states it and worked cases of it.

J. Platt, M. Czerwinski, B. Field, "PhotoTOC: automatic clustering for browsing personal
photographs", 2003: a boundary where log g_i >= K + the mean of log g over i-d … i+d, K = log 17,
d = 10. As that mean holds the pause itself, it must be 17^(21/20) = 19.6 times the others.
"""

import math
from datetime import UTC, datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wayfold.base.world import LonLat
from wayfold.trip.events import find_events
from wayfold.trip.model import Moment

START = datetime(2025, 6, 1, 9)


def moments(pauses_s: list[float], places: list[LonLat | None] | None = None) -> list[Moment]:
    at = START
    made = [Moment("0", at, 0, place=places[0] if places else None)]
    for n, pause in enumerate(pauses_s, start=1):
        at += timedelta(seconds=pause)
        made.append(Moment(str(n), at, 0, place=places[n] if places else None))
    return made


def boundaries(made: list[Moment]) -> list[int]:
    numbers = find_events(made)
    return [i for i, (a, b) in enumerate(pairwise(numbers), start=1) if a != b]


@pytest.mark.parametrize("pause", [1, 60, 600, 7200])
def test_constant_pauses_part_nothing(pause: float) -> None:
    assert boundaries(moments([pause] * 40)) == []


def test_eight_hours_among_ten_minutes_part_once() -> None:
    pauses = [600.0] * 29
    pauses[14] = 8 * 3600
    assert boundaries(moments(pauses)) == [15]


def test_two_hours_among_ten_minutes_part_nothing() -> None:
    pauses = [600.0] * 29
    pauses[14] = 2 * 3600  # twelve times
    assert boundaries(moments(pauses)) == []


def test_the_ratio_that_parts_is_19_6() -> None:
    ratio = 17 ** (21 / 20)
    assert ratio == pytest.approx(19.6, abs=0.05)
    for factor, found in ((0.99, []), (1.01, [21])):
        pauses = [100.0] * 41
        pauses[20] = 100 * ratio * factor
        assert boundaries(moments(pauses)) == found


@given(st.lists(st.integers(0, 20_000), min_size=1, max_size=45))
def test_the_rule_as_the_paper_states_it(pauses: list[int]) -> None:
    gaps = [max(1, g) for g in pauses]
    expected = []
    for i, gap in enumerate(gaps):
        window = [math.log(gaps[k]) for k in range(i - 10, i + 11) if 0 <= k < len(gaps)]
        over = math.log(gap) - sum(window) / len(window) - math.log(17)
        if abs(over) < 1e-9:
            return  # as near as rounding
        if over > 0:
            expected.append(i + 1)
    assert boundaries(moments([float(p) for p in pauses])) == expected


@given(st.lists(st.integers(0, 20_000), min_size=1, max_size=30), st.sampled_from([2, 3, 60]))
def test_pace_does_not_matter(pauses: list[int], factor: int) -> None:
    """A journey lived so many times slower has the same events."""
    quick = [float(max(1, p)) for p in pauses]
    assert boundaries(moments([p * factor for p in quick])) == boundaries(moments(quick))


def test_a_way_makes_a_pause_longer() -> None:
    """Twelve times the pause parts with 5 km between: 12 x (1 + 5000/50)^0.5 = 120 times."""
    pauses = [600.0] * 29
    pauses[14] = 2 * 3600
    here, there = LonLat(7.0, 45.0), LonLat(7.0, 45.045)
    assert boundaries(moments(pauses, [here] * 15 + [there] * 15)) == [15]
    assert boundaries(moments(pauses, [here] * 30)) == []


def test_instants_count_where_they_are_known() -> None:
    """An hour given back by the clock is no pause less."""
    made = moments([600.0] * 20)
    aware = [
        Moment(m.photo, m.local, 0, utc=START.replace(tzinfo=UTC) + timedelta(minutes=10 * n))
        for n, m in enumerate(made)
    ]
    jump = timedelta(hours=9)
    moved = [
        Moment(m.photo, m.local + jump if n > 9 and m.local else m.local, 0, utc=m.utc)
        for n, m in enumerate(aware)
    ]
    assert boundaries(moved) == []


def test_nothing_and_one() -> None:
    assert find_events([]) == ()
    assert find_events(moments([])) == (0,)

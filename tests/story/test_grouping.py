"""Groups by nearness in time, none with a picture left over; the division against all others."""

from dataclasses import replace
from datetime import datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wayfold.story.entries import Entry
from wayfold.story.grouping import SIZE_COST, divide_into_groups
from wayfold.story.model import Start
from wayfold.story.pictures import offer_group_pages


def entries(*minutes: float, aspects: tuple[float, ...] = ()) -> list[Entry]:
    start = datetime(2025, 5, 3, 8)
    return [
        Entry(str(i), start + timedelta(minutes=m), 0, aspects[i] if aspects else 1.5)
        for i, m in enumerate(minutes)
    ]


def sizes(groups):
    return [len(g) for g in groups]


@pytest.mark.parametrize("count", range(2, 40))
def test_no_picture_is_left_over(count):
    groups = divide_into_groups(entries(*range(count)))
    assert sum(sizes(groups)) == count
    assert all(2 <= size <= 6 for size in sizes(groups))


def test_few():
    assert divide_into_groups([]) == []
    assert sizes(divide_into_groups(entries(0))) == [1]


def test_a_long_pause_parts_groups():
    assert sizes(divide_into_groups(entries(0, 1, 2, 3, 4, 300, 301, 302))) == [5, 3]
    assert sizes(divide_into_groups(entries(0, 1, 300, 301, 302, 303))) == [2, 4]


def test_another_stop_parts_groups():
    walk = entries(0, 1, 2, 3, 4, 5, 6)
    moved = [Entry(e.photo, e.local, 0 if i < 3 else 1, 1.5) for i, e in enumerate(walk)]
    assert sizes(divide_into_groups(moved)) == [3, 4]


def test_another_event_parts_groups():
    walk = entries(0, 1, 2, 3, 4, 5, 6)
    parted = [replace(e, event=0 if i < 3 else 1) for i, e in enumerate(walk)]
    assert sizes(divide_into_groups(parted)) == [3, 4]
    parted = [replace(e, event=0 if i < 4 else 1) for i, e in enumerate(walk)]
    assert sizes(divide_into_groups(parted)) == [4, 3]


def test_undated_pictures_keep_their_order():
    undated = [Entry(str(i), None, None, 1.5) for i in range(7)]
    groups = divide_into_groups(undated)
    assert [e.photo for g in groups for e in g] == [str(i) for i in range(7)]


def all_divisions(count: int) -> list[list[int]]:
    if count == 0:
        return [[]]
    return [[s, *rest] for s in SIZE_COST if s <= count for rest in all_divisions(count - s)]


def cost_of(run: list[Entry], division: list[int]) -> float:
    """The costs as the module's words tell them, written anew."""
    gaps = sorted(max(1.0, (b.local - a.local).total_seconds()) for a, b in pairwise(run))
    middle = len(gaps) // 2
    usual = gaps[middle] if len(gaps) % 2 else (gaps[middle - 1] + gaps[middle]) / 2
    total, start = 0.0, 0
    for size in division:
        group = run[start : start + size]
        start += size
        total += {2: 1.0, 3: 0.0, 4: 0.2, 5: 1.0, 6: 1.5}[size]
        uprights = [e.aspect < 1 for e in group]
        total += 0.3 if all(uprights) or not any(uprights) else 0.0
        for a, b in pairwise(group):
            pause = max(1.0, (b.local - a.local).total_seconds())
            while pause > usual * 2:
                total, pause = total + 0.4, pause / 2
            if pause > usual:
                # The rest of a doubling, by bisection instead of a logarithm.
                low, high = 0.0, 1.0
                for _ in range(50):
                    half = (low + high) / 2
                    low, high = (half, high) if usual * 2**half < pause else (low, half)
                total += 0.4 * low
    return total


@given(
    st.lists(st.integers(0, 400), min_size=2, max_size=11),
    st.lists(st.sampled_from([0.67, 1.5]), min_size=11, max_size=11),
)
def test_the_division_is_the_cheapest_of_all(minutes, aspects):
    run = entries(*sorted(minutes), aspects=tuple(aspects))
    found = cost_of(run, sizes(divide_into_groups(run)))
    least = min(cost_of(run, division) for division in all_divisions(len(run)))
    assert found == pytest.approx(least, abs=1e-9)


@pytest.mark.parametrize("pictures", range(2, 10))
def test_ways_to_lay_a_group(pictures):
    ways = offer_group_pages(pictures)
    assert {w.pages for w in ways} == {1, 2}
    assert ways[0].cost == 0 < ways[1].cost
    assert ways[0].pages == (1 if pictures <= 4 else 2)
    # Facing pages are a verso and the recto after it.
    assert all(w.start is Start.VERSO for w in ways if w.pages == 2)

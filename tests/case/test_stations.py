"""Holes where college rules have them, and a thread that goes in and out by turns."""

import itertools

import pytest

from wayfold.book.casing import Sewing, SewingMethod
from wayfold.case.stations import place_stations, room_between, trace_thread


@pytest.mark.parametrize(
    ("kettle", "holes"),
    [
        (10.0, (10, 74.25, 84.25, 143.5, 153.5, 212.75, 222.75, 287)),
        (15.0, (15, 76.75, 86.75, 143.5, 153.5, 210.25, 220.25, 282)),
    ],
)
def test_link_stitch_on_a4(kettle: float, holes: tuple[float, ...]) -> None:
    """University of Brighton book arts, sewing-hole guide: four spaces, pairs 5 mm to each side."""
    assert place_stations(297.0, Sewing(kettle=kettle)).holes == pytest.approx(holes)


def test_a_printed_hole_list_off_its_own_rule_is_not_copied() -> None:
    """Known error: the same college's L4 sheet prints 65/75 and 135/145 for 210 mm.

    Its own rule gives 68.3/78.3 and 131.7/141.7: ours does that, within 5 mm of the printed ones.
    """
    holes = place_stations(210.0, Sewing(kettle=10.0)).holes
    assert holes == pytest.approx((10, 68.333, 78.333, 131.667, 141.667, 200), abs=0.001)
    printed = (10, 65, 75, 135, 145, 200)
    assert holes != pytest.approx(printed, abs=0.5)
    assert holes == pytest.approx(printed, abs=5.0)


@pytest.mark.parametrize(("height", "tapes"), [(8 * 25.4, 3), (297.0, 4), (12 * 25.4, 4)])
def test_tapes_by_height(height: float, tapes: int) -> None:
    """Bailey, Library Bookbinding (1916): three tapes for 8-inch books, four for 12-inch ones."""
    stations = place_stations(height, Sewing(method=SewingMethod.TAPES))
    assert len(stations.pairs) == tapes
    assert len(stations.holes) == 2 * tapes + 2
    # A tape of 10 mm with a millimetre to each side.
    assert all(b - a == pytest.approx(12.0) for a, b in stations.pairs)


@pytest.mark.parametrize("gathering", [1, 2])
def test_the_thread_runs_outside_across_every_pair(gathering: int) -> None:
    stations = place_stations(297.0, Sewing())
    way = trace_thread(stations, gathering)
    holes = range(len(stations.holes))
    assert [p.inside for p in way] == [True, False] * 3 + [True]
    assert way[0].start == (0 if gathering % 2 else holes[-1])
    assert all(a.end == b.start for a, b in itertools.pairwise(way))
    outside = {tuple(sorted((p.start, p.end))) for p in way if not p.inside}
    assert outside == {(1, 2), (3, 4), (5, 6)}


def test_holes_too_near_are_known() -> None:
    assert room_between(place_stations(105.0, Sewing(spaces=12))) < 6.0
    assert room_between(place_stations(297.0, Sewing())) == pytest.approx(10.0)

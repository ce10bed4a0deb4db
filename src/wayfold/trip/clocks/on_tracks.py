"""Pictures of known place and unknown time, against tracks: when was the party there?"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from itertools import pairwise

from wayfold.base.days import say_day
from wayfold.base.world import LonLat
from wayfold.trip.clocks.evidence import Nominal
from wayfold.trip.clocks.model import Hint, Kind
from wayfold.trip.earth import to_ecef
from wayfold.trip.tracks import Fix, Track, speed_and_way
from wayfold.trip.tracks_place import HOLD_GAP_S, HOLD_M, JOIN_GAP_S, interpolate

NEAR_M = 300.0
"""A track this near was at the picture's place."""
SHARP_M = 40.0
"""Of a pass, the part counts that is no farther than this beyond its nearest point."""
STEP_M = 100.0
CELL_M = 500.0
TRACK_WEIGHT = 1.0
REACH_S = 26 * 3600.0
"""Two zones are at most 26 h apart; a clock on another day altogether is not sought here."""

Sample = tuple[datetime, float, float, float]


class TrackVisits:
    """Tracks laid out by place, to ask when they passed it."""

    def __init__(self, tracks: Sequence[Track]) -> None:
        self._runs: list[list[Sample]] = [_sample(t.fixes) for t in tracks if t.segments]
        self._cells: dict[tuple[int, int, int], list[tuple[int, int]]] = {}
        for number, run in enumerate(self._runs):
            for index, (_, x, y, z) in enumerate(run):
                self._cells.setdefault(_cell(x, y, z), []).append((number, index))

    def find_visits(self, place: LonLat) -> list[tuple[datetime, datetime]]:
        """Give the spans of time (naive, UTC) when the party was at ``place``.

        A visit is a stretch within ``NEAR_M``; while passing, only its nearest part counts.
        """
        here = to_ecef(place.longitude, place.latitude)
        row, column, layer = _cell(*here)
        near: list[tuple[int, int, float]] = []
        for i in (row - 1, row, row + 1):
            for j in (column - 1, column, column + 1):
                for k in (layer - 1, layer, layer + 1):
                    for number, index in self._cells.get((i, j, k), ()):
                        away_m = math.dist(here, self._runs[number][index][1:])
                        if away_m <= NEAR_M:
                            near.append((number, index, away_m))
        near.sort()
        visits = []
        start = 0
        for at in range(1, len(near) + 1):
            if at == len(near) or self._parted(near[at - 1], near[at]):
                visits.append(self._sharpen(near[start:at]))
                start = at
        return visits

    def _parted(self, one: tuple[int, int, float], other: tuple[int, int, float]) -> bool:
        if one[0] != other[0] or other[1] != one[1] + 1:
            return True
        run = self._runs[one[0]]
        return (run[other[1]][0] - run[one[1]][0]).total_seconds() > HOLD_GAP_S

    def _sharpen(self, visit: Sequence[tuple[int, int, float]]) -> tuple[datetime, datetime]:
        least_m = min(away for _, _, away in visit)
        close = [self._runs[n][i][0] for n, i, away in visit if away <= least_m + SHARP_M]
        return min(close), max(close)


def find_track_hints(
    nominal: Nominal, places: Mapping[str, LonLat], visits: TrackVisits
) -> list[Hint]:
    """Give a hint for each time a track passed the place of a picture."""
    hints = []
    seen: list[tuple[datetime, LonLat]] = []
    for photo, shown in sorted(nominal.shown.items(), key=lambda s: (s[1], s[0])):
        place = places.get(photo)
        if place is None or any(
            p == place and abs(shown - at) <= timedelta(seconds=60) for at, p in seen[-3:]
        ):
            continue
        seen.append((shown, place))
        for first, last in visits.find_visits(place):
            low_s, high_s = (shown - last).total_seconds(), (shown - first).total_seconds()
            if low_s <= REACH_S and high_s >= -REACH_S:
                words = (
                    f"the track was there {first:%H:%M:%S}–{last:%H:%M:%S} UTC on {say_day(first)}"
                )
                hints.append(Hint(Kind.TRACK, shown, low_s, high_s, TRACK_WEIGHT, words))
    return hints


def _sample(fixes: Sequence[Fix]) -> list[Sample]:
    """Give instants (naive) and positions (m), filled up between fixes that belong together."""
    samples: list[Sample] = []
    for one, other in pairwise(fixes):
        samples.append(_at(one.utc, one.place))
        gap_s = (other.utc - one.utc).total_seconds()
        way_m = speed_and_way(one, other)[1]
        steps = 0
        if gap_s <= JOIN_GAP_S:
            steps = min(int(way_m / STEP_M), 200)
        elif gap_s <= HOLD_GAP_S and way_m < HOLD_M:
            steps = 1
        for step in range(1, steps + 1):
            share = step / (steps + 1)
            at = one.utc + timedelta(seconds=gap_s * share)
            samples.append(_at(at, interpolate(one.place, other.place, share)))
    if fixes:
        samples.append(_at(fixes[-1].utc, fixes[-1].place))
    return samples


def _at(utc: datetime, place: LonLat) -> Sample:
    return (utc.replace(tzinfo=None), *to_ecef(place.longitude, place.latitude))


def _cell(x: float, y: float, z: float) -> tuple[int, int, int]:
    return math.floor(x / CELL_M), math.floor(y / CELL_M), math.floor(z / CELL_M)

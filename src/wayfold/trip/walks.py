"""Walks out of recorded tracks: what was gone on foot near some places."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from wayfold.base.world import LonLat
from wayfold.trip.earth import distance_m
from wayfold.trip.tracks import Fix, Track, speed_and_way

FASTEST_MS = 2.8
"""Ten kilometres an hour: what is faster for long is no walk (common practice)."""
_NEAR_M = 600.0
"""A walk is shown as far as this from the places of the map."""
_LEAST_M = 150.0


@dataclass(frozen=True, slots=True)
class _Reach:
    """Where walks are looked for."""

    places: Sequence[LonLat]

    def holds(self, place: LonLat) -> bool:
        return any(distance_m(place, other) <= _NEAR_M for other in self.places)


def find_walks(tracks: Iterable[Track], places: Sequence[LonLat]) -> tuple[tuple[LonLat, ...], ...]:
    """Give the parts of tracks that were walked near ``places``, each at least 150 m long.

    A part is walked where its whole way over its whole time is no faster than 10 km/h; lines
    without times are taken for walks where all of them lies near.
    """
    reach = _Reach(places)
    walks: list[tuple[LonLat, ...]] = []
    for track in tracks:
        for segment in track.segments:
            for run in _split_runs(segment, reach):
                way = sum(speed_and_way(a, b)[1] for a, b in pairwise(run))
                seconds = (run[-1].utc - run[0].utc).total_seconds()
                if way >= _LEAST_M and way <= FASTEST_MS * seconds:
                    walks.append(tuple(fix.place for fix in run))
        walks += [line for line in track.lines if line and all(reach.holds(p) for p in line)]
    return tuple(walks)


def _split_runs(segment: Sequence[Fix], reach: _Reach) -> list[list[Fix]]:
    runs: list[list[Fix]] = [[]]
    for fix in segment:
        if reach.holds(fix.place):
            runs[-1].append(fix)
        elif runs[-1]:
            runs.append([])
    return [run for run in runs if len(run) > 1]

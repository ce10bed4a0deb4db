"""The days' tracks of the demo: from picture to picture on foot, with a receiver in the pocket."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path

from wayfold.base.world import LonLat
from wayfold.demo.model import Journey, Shot
from wayfold.demo.tracks import write_track
from wayfold.demo.walk import Stop, follow_way
from wayfold.trip.earth import distance_m
from wayfold.trip.tracks import Fix

LINGER = timedelta(seconds=75)
"""How long before and after a picture one stands where it is taken."""
PACE_MS = 1.2
LONGEST_M = 9000.0
"""What lies farther apart was driven, with the receiver in the luggage."""
_MEANDER_DEG = 0.0004


def write_strolls(folder: Path, journey: Journey, *, leave_out: Sequence[str] = ()) -> None:
    """Write a track for each day on which two pictures or more know their place.

    ``leave_out`` are chapters whose days have tracks of their own.
    """
    by_day: dict[str, list[Shot]] = {}
    for chapter in journey.chapters:
        for shot in chapter.shots if chapter.key not in leave_out else ():
            if shot.place is not None:
                by_day.setdefault(f"{shot.taken:%Y-%m-%d}", []).append(shot)
    for day, shots in sorted(by_day.items()):
        fixes = [*_stroll(sorted(shots, key=lambda shot: shot.taken))]
        write_track(folder / f"{day}.gpx", day, fixes)


def _stroll(shots: Sequence[Shot]) -> Iterable[Fix]:
    stops = [_stop(shot) for shot in shots]
    for number, stop in enumerate(stops):
        yield from _stand(stop)
        if number + 1 < len(stops):
            yield from _go(stop, stops[number + 1])


def _stop(shot: Shot) -> Stop:
    assert shot.place is not None
    taken = shot.taken.astimezone(UTC)
    return Stop(shot.place, taken - LINGER, taken + LINGER)


def _stand(stop: Stop) -> Iterable[Fix]:
    at = stop.at
    while at <= stop.until:
        yield Fix(at, stop.place)
        at += timedelta(seconds=30)


def _go(one: Stop, other: Stop) -> Iterable[Fix]:
    way = _meander(one.place, other.place)
    metres = sum(distance_m(a, b) for a, b in pairwise(way))
    needed = timedelta(seconds=metres / PACE_MS)
    if metres > LONGEST_M or other.at - one.until < needed:
        return
    # One sets out late and is there in time.
    start: datetime = other.at - needed
    yield from follow_way([(p.longitude, p.latitude) for p in way], start, other.at)


def _meander(one: LonLat, other: LonLat) -> list[LonLat]:
    """Give a way that bends a little to either side, for paths are never straight."""
    steps = max(2, round(distance_m(one, other) / 150.0))
    across = (other.latitude - one.latitude, one.longitude - other.longitude)
    length = max((across[0] ** 2 + across[1] ** 2) ** 0.5, 1e-9)
    way = []
    for n in range(steps + 1):
        share = n / steps
        aside = 0.0 if n in (0, steps) else _MEANDER_DEG * (1 if n % 2 else -1) / length
        way.append(
            LonLat(
                one.longitude + share * (other.longitude - one.longitude) + aside * across[0],
                one.latitude + share * (other.latitude - one.latitude) + aside * across[1],
            )
        )
    return way

"""The ways between stays: by what was said, booked, recorded, or cannot have been otherwise."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta
from itertools import pairwise

from wayfold.book.trip_choices import LegChoice, Mode
from wayfold.trip.bookings.model import Source, Way, ZonedTime
from wayfold.trip.bookings.times import read_said
from wayfold.trip.geodesy import geodesic_m
from wayfold.trip.journey.model import Leg, Stay
from wayfold.trip.journey.timeline import Stretch, zone_of
from wayfold.trip.tracks import Fix, speed_and_way

FLIGHT_KM_H = 350.0
"""Over the shortest way nothing on the ground goes as fast from door to door."""
FOOT_KM_H = 8.0
TRAIN_KM_H = 170.0
"""Faster than any road allows, slower than aeroplanes fly."""
ENDS_M = 5_000.0
"""A track is of the whole way if it begins and ends this near to the stays."""
TRACK_GAP = timedelta(minutes=20)
TOP_SHARE = 0.95
"""The speed that all but one in twenty steps keep under is the track's top speed."""


def join_leg(
    index: int,
    stays: Sequence[Stay],
    stretches: Sequence[Stretch],
    ways: Sequence[Way],
    runs: Sequence[Sequence[Fix]],
) -> Leg:
    """Give the leg from stay ``index`` to the next, as told by all but the person's overrides."""
    here, there = stays[index], stays[index + 1]
    shared = set(stretches[index].departures) & set(stretches[index + 1].arrivals)
    if shared:
        return _of_way(index, ways[min(shared)])
    track = _find_track(here, there, runs)
    leg = Leg(
        index,
        index + 1,
        there.first,
        geodesic_m(here.place, there.place),
        here.place,
        there.place,
    )
    if track:
        return _of_track(leg, track, zone_of(here.spot), zone_of(there.spot))
    hours = (there.seen_first - here.seen_last).total_seconds() / 3600.0
    if leg.distance_m / 1000.0 > FLIGHT_KM_H * max(hours, 0.01):
        return replace(leg, mode=Mode.FLIGHT, mode_source=Source.SPEED)
    return leg


def _of_way(index: int, way: Way) -> Leg:
    length = geodesic_m(way.start.place, way.end.place)
    if way.distance_km is not None:
        length = way.distance_km * 1000.0
    return Leg(
        index,
        index + 1,
        way.day,
        length,
        way.start.place,
        way.end.place,
        way.mode,
        way.depart,
        way.arrive,
        way.service,
        way.note,
        mode_source=(way.mode_source or way.source) if way.mode else None,
        time_source=way.source if way.depart or way.arrive else None,
    )


def _find_track(here: Stay, there: Stay, runs: Sequence[Sequence[Fix]]) -> Sequence[Fix]:
    """Give the recording of the whole way from one stay to the next, or nothing."""
    for fixes in runs:
        part = [f for f in fixes if here.seen_last <= f.utc <= there.seen_first]
        if len(part) < 2 or any(
            after.utc - before.utc > TRACK_GAP for before, after in pairwise(part)
        ):
            continue
        begins = geodesic_m(part[0].place, here.place) <= ENDS_M
        if begins and geodesic_m(part[-1].place, there.place) <= ENDS_M:
            return part
    return ()


def _of_track(leg: Leg, track: Sequence[Fix], start_zone: str, end_zone: str) -> Leg:
    steps = [speed_and_way(a, b) for a, b in pairwise(track)]
    speeds = sorted(speed * 3.6 for speed, _ in steps)
    top = speeds[min(len(speeds) - 1, int(TOP_SHARE * len(speeds)))]
    mode = None
    if top > FLIGHT_KM_H:
        mode = Mode.FLIGHT
    elif top > TRAIN_KM_H:
        mode = Mode.TRAIN
    elif top <= FOOT_KM_H:
        mode = Mode.FOOT
    moving = [i for i, (speed, _) in enumerate(steps) if speed * 3.6 > 1.0]
    depart = arrive = None
    if moving:
        depart = ZonedTime(track[moving[0]].utc, start_zone)
        arrive = ZonedTime(track[moving[-1] + 1].utc, end_zone)
    return replace(
        leg,
        distance_m=sum(way for _, way in steps),
        along_track=True,
        track=tuple(fix.place for fix in track),
        mode=mode,
        mode_source=Source.TRACK if mode else None,
        depart=depart,
        arrive=arrive,
        time_source=Source.TRACK if depart else None,
        day=depart.local.date() if depart else leg.day,
    )


def says_of(choice: LegChoice, leg: Leg, stays: Sequence[Stay]) -> bool:
    """Whether the person's words are of this leg: its ends by name, and its day if told."""
    names = stays[leg.start].name, stays[leg.end].name
    if names != (choice.start, choice.end):
        return False
    on = choice.on
    return on is None or stays[leg.start].last <= on <= stays[leg.end].first or on == leg.day


def apply_choice(leg: Leg, choice: LegChoice, stays: Sequence[Stay]) -> Leg:
    """Give the leg as the person has it; what they leave open stays as it was told."""
    depart = read_said(choice.depart, zone_of(stays[leg.start].spot)) or leg.depart
    arrive = read_said(choice.arrive, zone_of(stays[leg.end].spot)) or leg.arrive
    timed = choice.depart is not None or choice.arrive is not None
    return replace(
        leg,
        mode=choice.mode or leg.mode,
        mode_source=Source.SAID if choice.mode else leg.mode_source,
        depart=depart,
        arrive=arrive,
        time_source=Source.SAID if timed else leg.time_source,
        service=leg.service if choice.service is None else choice.service,
        note=leg.note if choice.note is None else choice.note,
        distance_m=choice.distance_km * 1000.0 if choice.distance_km else leg.distance_m,
        along_track=leg.along_track and choice.distance_km is None,
        day=depart.local.date() if depart else choice.day or leg.day,
    )

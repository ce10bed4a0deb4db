"""Where one slept each night, as well as it can be told; never a guess between two places."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from wayfold.trip.bookings.model import Lodging
from wayfold.trip.earth import distance_m
from wayfold.trip.journey.model import Leg, Night, Stay
from wayfold.trip.journey.timeline import SAME_PLACE_M

LATE_HOUR, EARLY_HOUR = 20, 9
"""Seen at a place so late in the evening or so early in the morning, one slept there."""


def tell_nights(
    stays: Sequence[Stay],
    legs: Sequence[Leg],
    lodgings: Sequence[Lodging],
    hours: Sequence[tuple[int, int]],
) -> tuple[Night, ...]:
    """Give all nights from the first day to the last, and one after that if a lodging tells it.

    ``hours`` are the local hours at which each stay was first and last seen.
    """
    if not stays:
        return ()
    first, last = stays[0].first, max(stay.last for stay in stays)
    told = [
        _tell(first + timedelta(days=n), stays, legs, lodgings, hours)
        for n in range((last - first).days + 1)
    ]
    return tuple(night for night in told if night.evening < last or night.lodging)


def _tell(
    evening: date,
    stays: Sequence[Stay],
    legs: Sequence[Leg],
    lodgings: Sequence[Lodging],
    hours: Sequence[tuple[int, int]],
) -> Night:
    lodging = next((s for s in lodgings if s.covers(evening)), None)
    if lodging is not None:
        return Night(evening, _stay_of(lodging, evening, stays), None, lodging)
    morning = evening + timedelta(days=1)
    for number, stay in enumerate(stays):
        if stay.first <= evening and stay.last >= morning:
            return Night(evening, number)
    for number, leg in enumerate(legs):
        if leg.depart and leg.arrive and leg.depart.local.date() <= evening:
            aboard = leg.arrive.local.date() >= morning and leg.duration
            if aboard and leg.duration and leg.duration > timedelta(hours=3):
                return Night(evening, None, number)
    before = max((i for i, s in enumerate(stays) if s.last <= evening), default=None)
    after = before + 1 if before is not None and before + 1 < len(stays) else None
    return Night(evening, _between(evening, before, after, stays, legs, hours))


def _stay_of(lodging: Lodging, evening: date, stays: Sequence[Stay]) -> int | None:
    if lodging.spot is None:
        return None
    morning = evening + timedelta(days=1)
    for number, stay in enumerate(stays):
        # One who lands past midnight still sleeps there, the rest of the night.
        if stay.first <= morning and evening <= stay.last and _holds(stay, lodging):
            return number
    return None


def _holds(stay: Stay, lodging: Lodging) -> bool:
    return lodging.spot is not None and distance_m(stay.place, lodging.spot.place) <= SAME_PLACE_M


def _between(
    evening: date,
    before: int | None,
    after: int | None,
    stays: Sequence[Stay],
    legs: Sequence[Leg],
    hours: Sequence[tuple[int, int]],
) -> int | None:
    """Give the stay of a night between two: by when one left or came, or was seen late or early."""
    if before is None:
        return None
    if after is None:
        return before
    if stays[before].spot == stays[after].spot:
        return before
    leg = legs[before]
    if leg.depart and leg.depart.local.date() > evening:
        return before
    if leg.arrive and leg.arrive.local.date() <= evening:
        return after
    if stays[before].last == evening and hours[before][1] >= LATE_HOUR:
        return before
    if stays[after].first == evening + timedelta(days=1) and hours[after][0] < EARLY_HOUR:
        return after
    return None

"""What of the calendars is the journey's: the days and places of its pictures."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from wayfold.base.world import LonLat
from wayfold.photos.model import Photo

AROUND = timedelta(days=3)
"""Calendars are read from so long before the first picture to so long after the last."""
CELL_DEG = 0.1
"""Places of pictures this close together tell namesakes apart as one."""


def calendar_days(photos: Sequence[Photo]) -> tuple[date, date] | None:
    """Give the days that calendars are read for; None where no picture tells its day."""
    days = [photo.taken.local.date() for photo in photos if photo.taken]
    return (min(days) - AROUND, max(days) + AROUND) if days else None


def journey_places(photos: Sequence[Photo]) -> tuple[LonLat, ...]:
    """Give the places that pictures were taken at, one for each small area."""
    areas: dict[tuple[int, int], LonLat] = {}
    for photo in photos:
        if photo.place is not None:
            place = photo.place
            area = round(place.longitude / CELL_DEG), round(place.latitude / CELL_DEG)
            areas.setdefault(area, place)
    return tuple(areas.values())

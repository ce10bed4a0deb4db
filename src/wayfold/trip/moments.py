"""When and where each picture was taken, its camera's clock set right."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from wayfold.base.world import LonLat
from wayfold.photos.model import Photo
from wayfold.trip.clocks.model import State
from wayfold.trip.clocks.read import Clocks
from wayfold.trip.tracks_place import Tracks
from wayfold.trip.zones import find_zone, find_zones, instant_of, offset_minutes, wall_time


@dataclass(frozen=True, slots=True)
class Taken:
    """A dated picture: ``local`` wall time, and what else is known of its moment."""

    photo: Photo
    local: datetime
    utc: datetime | None = None
    zone: str | None = None
    place: LonLat | None = None
    doubtful: bool = False


def date_photos(photos: Sequence[Photo], clocks: Clocks, tracks: Tracks) -> list[Taken]:
    """Give the dated pictures in order of time.

    By instants, once a zone and at least one clock are known; a picture whose clock is not known
    then goes where it belongs if it showed the local time of those days. With nothing but wall
    times to compare, by those. Equal times go by path.
    """
    own = {photo for r in clocks.readings if r.state is State.OWN for photo in r.body.photos}
    taken = [_date(p, clocks, tracks, tagged=p.id in own) for p in photos if p.taken]
    by_instant = clocks.zones.sightings and any(t.utc for t in taken)

    def order(one: Taken) -> tuple[datetime, str, str]:
        at = _assume(one, clocks) if by_instant else one.local
        return at, one.photo.path, one.photo.id

    return sorted(taken, key=order)


def _date(photo: Photo, clocks: Clocks, tracks: Tracks, *, tagged: bool) -> Taken:
    assert photo.taken is not None
    shown = photo.taken.local.replace(tzinfo=None)
    utc = clocks.instants.get(photo.id)
    if utc is None:
        return Taken(photo, shown, place=photo.place)
    place, doubtful = photo.place, False
    if place is None:
        located = tracks.locate(utc)
        place, doubtful = located.place, located.doubtful
    offset = photo.taken.offset_minutes
    zone = _choose_zone(place, utc, offset, clocks)
    if tagged and offset is not None and (
        zone is None or offset_minutes(utc, zone) == offset
    ):  # fmt: skip
        return Taken(photo, shown, utc, zone, place, doubtful)
    if zone is None:
        return Taken(photo, _tell_by_camera(photo, shown, utc, clocks), utc, None, place, doubtful)
    return Taken(photo, wall_time(utc, zone), utc, zone, place, doubtful)


def _choose_zone(
    place: LonLat | None, utc: datetime, offset: int | None, clocks: Clocks
) -> str | None:
    """Give the zone of the place; at sea, or where it is not known, the party's at the time.

    Where zones overlap or a border is near, the telephone's own idea of the hour decides.
    """
    if place is not None:
        zones = find_zones(place)
        agreeing = [z for z in zones if offset is not None and offset_minutes(utc, z) == offset]
        if agreeing:
            return agreeing[0]
        if zones:
            return find_zone(place)
    return clocks.zones.zone_at(utc)


def _tell_by_camera(photo: Photo, shown: datetime, utc: datetime, clocks: Clocks) -> datetime:
    """Give the time in the zone that the clock was set to: no place tells a better one."""
    for reading in clocks.readings:
        if photo.id in reading.body.photos:
            span = reading.span_at(shown)
            if span is not None and span.zone_minutes is not None and photo.taken:
                tag = photo.taken.offset_minutes
                east = tag if tag is not None else span.zone_minutes
                return (utc + timedelta(minutes=east)).replace(tzinfo=None)
    return shown


def _assume(one: Taken, clocks: Clocks) -> datetime:
    """Give the instant (naive, UTC), or what it would be if the camera showed local time."""
    if one.utc is not None:
        return one.utc.replace(tzinfo=None)
    own = find_zone(one.place) if one.place else None
    zone = own or clocks.zones.zone_at(one.local.replace(tzinfo=UTC))
    if zone is None:
        nearest = min(
            clocks.zones.sightings,
            key=lambda s: abs(s.utc.replace(tzinfo=None) - one.local),
        )
        zone = nearest.zone
    return instant_of(one.local, zone).replace(tzinfo=None)

"""Time zones of places, and local wall time by the rules of the tz database.

The rules come from the package ``tzdata``, never from the machine, so that one journey gives the
same times everywhere.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import UTC, datetime, timedelta
from functools import cache
from importlib.resources import files
from zoneinfo import ZoneInfo

from wayfold.base.errors import UserError
from wayfold.base.world import LonLat

Zones = tuple[str, ...]
Asked = Callable[[LonLat], Zones]


@cache
def ask_map(place: LonLat) -> Zones:
    """Give what ``find_zones`` does, of the map of all zones, which takes a while to load."""
    from tzfpy import get_tzs

    names: list[str] = get_tzs(place.longitude, place.latitude)
    return tuple(sorted(name for name in names if not name.startswith("Etc/")))


_asked: ContextVar[Asked] = ContextVar("asked", default=ask_map)


@contextmanager
def ask_zones(asked: Asked) -> Iterator[None]:
    """Have the zones of places asked of ``asked``, which knows what ``ask_map`` gave before."""
    before = _asked.set(asked)
    try:
        yield
    finally:
        _asked.reset(before)


def find_zones(place: LonLat) -> Zones:
    """Give the names of the zones whose areas hold ``place``; none on the open sea.

    Areas may overlap where two states claim the ground. At sea the time zones are by meridian
    and nobody lives by them.
    """
    return _asked.get()(place)


def find_zone(place: LonLat) -> str | None:
    """Give the name of the zone at ``place`` ("Europe/Madrid"); None on the open sea."""
    zones = find_zones(place)
    if len(zones) < 2:
        return zones[0] if zones else None
    return _choose(place, zones)


@cache
def _choose(place: LonLat, zones: Zones) -> str:
    from tzfpy import get_tz

    first: str = get_tz(place.longitude, place.latitude)
    return first if first in zones else zones[0]


@cache
def load_zone(name: str) -> ZoneInfo:
    """Give the rules of the zone called ``name``. Raises UserError for a name that is none."""
    parts = name.split("/")
    if name and all(part.replace("_", "").replace("-", "").replace("+", "").isalnum()
                    for part in parts):  # fmt: skip
        source = files("tzdata").joinpath("zoneinfo", *parts)
        if source.is_file():
            with source.open("rb") as file:
                try:
                    return ZoneInfo.from_file(file, key=name)
                except ValueError:  # a list of the package, no zone
                    pass
    raise UserError(
        f"There is no time zone called “{name}”.",
        remedy="Write a name of the tz database such as Europe/Madrid, or an offset: +02:00.",
    )


def wall_time(utc: datetime, zone: str) -> datetime:
    """Give the local wall time (naive; ``fold`` 1 in a repeated hour) of an aware instant."""
    return utc.astimezone(load_zone(zone)).replace(tzinfo=None)


def offset_minutes(utc: datetime, zone: str) -> float:
    """Give the minutes east of UTC that clocks at ``zone`` show at an aware instant."""
    offset = utc.astimezone(load_zone(zone)).utcoffset()
    return (offset or timedelta()).total_seconds() / 60.0


def instant_of(wall: datetime, zone: str) -> datetime:
    """Give the instant (aware, UTC) of a wall time at ``zone``.

    Of an hour that comes twice the first, unless ``wall.fold`` is 1. A time that the clocks
    skipped counts as if they had not been put forward yet (PEP 495).
    """
    return wall.replace(tzinfo=load_zone(zone)).astimezone(UTC)


def is_skipped(wall: datetime, zone: str) -> bool:
    """Whether clocks at ``zone`` never showed ``wall``, being put forward over it."""
    plain = wall.replace(fold=0)
    return wall_time(instant_of(plain, zone), zone).replace(fold=0) != plain


def is_repeated(wall: datetime, zone: str) -> bool:
    """Whether clocks at ``zone`` showed ``wall`` twice, being put back over it."""
    first, second = (instant_of(wall.replace(fold=fold), zone) for fold in (0, 1))
    return first < second

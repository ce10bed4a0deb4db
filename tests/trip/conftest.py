"""A small world: three towns on one meridian, and photographs to order."""

from collections.abc import Callable
from datetime import datetime

import pytest

from wayfold.base.world import LonLat
from wayfold.photos.model import CaptureTime, Photo, SizePx
from wayfold.trip.gazetteer import Gazetteer, Town

# 0.1 degrees of latitude are 11.1 km (WGS84): Near lies 22 km from Alba, Far 111 km.
ALBA = Town("Alba", "IT", LonLat(8.0, 45.0), 30_000)
NEAR = Town("Near", "IT", LonLat(8.0, 45.2), 5_000)
FAR = Town("Far", "CH", LonLat(8.0, 46.0), 50_000)


@pytest.fixture
def gazetteer() -> Gazetteer:
    return Gazetteer([ALBA, NEAR, FAR])


TOWNS = {"A": ALBA.place, "N": NEAR.place, "F": FAR.place, "-": None}


def make_photo(name: str, when: str | None = None, where: str = "-", offset: int | None = None):
    """A photograph called ``name``, taken at an ISO time, at the town of that letter."""
    taken = CaptureTime(datetime.fromisoformat(when), offset) if when else None
    return Photo(
        name,
        f"content of {name}",
        f"/p/{name}.jpg",
        SizePx(6000, 4000),
        taken=taken,
        place=TOWNS[where],
    )


@pytest.fixture
def timeline() -> Callable[[str], list[Photo]]:
    """Photographs from lines of "name time town", the time "?" where it is not known."""

    def read(lines: str) -> list[Photo]:
        rows = (line.split() for line in lines.strip().splitlines())
        return [make_photo(name, None if at == "?" else at, town) for name, at, town in rows]

    return read

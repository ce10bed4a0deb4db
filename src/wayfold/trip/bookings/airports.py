"""Airports by their IATA codes."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from wayfold.base.world import LonLat


@dataclass(frozen=True, slots=True)
class Airport:
    """An airport: its code, the town it serves, its country (ISO 3166-1) and zone."""

    code: str
    city: str
    country: str
    place: LonLat
    zone: str


@cache
def _load() -> Any:
    import airportsdata

    return airportsdata.load("IATA")


def find_airport(code: str) -> Airport | None:
    """Give the airport with an IATA code, or None for a code that no airport has."""
    row = _load().get(code)
    if row is None:
        return None
    place = LonLat(float(row["lon"]), float(row["lat"]))
    city = str(row["city"] or row["name"])
    return Airport(code, city, str(row["country"]), place, str(row["tz"]))

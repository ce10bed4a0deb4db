"""Places on the earth (WGS84 degrees)."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class LonLat:
    """Longitude (-180..180, east positive) and latitude (-90..90), in degrees on WGS84.

    Raises ValueError outside these ranges.
    """

    longitude: float
    latitude: float

    def __post_init__(self) -> None:
        if not (-180.0 <= self.longitude <= 180.0 and -90.0 <= self.latitude <= 90.0):
            raise ValueError(f"no place on earth: {self.longitude}, {self.latitude}")

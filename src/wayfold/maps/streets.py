"""What a city map is drawn from: streets, water, parks and coast in longitude and latitude."""

from __future__ import annotations

from dataclasses import dataclass

from shapely import LineString, Polygon

from wayfold.base.findings import Finding

CREDIT = "© OpenStreetMap contributors, openstreetmap.org/copyright"
"""What the Open Database License (ODbL 1.0, 4.3) asks to be printed with a map made from the data;
on paper the address is spelt out (OpenStreetMap Foundation, Attribution Guidelines)."""


@dataclass(frozen=True, slots=True, eq=False)
class Street:
    """A stretch of street in degrees: ``rank`` 1 (main road) to 5 (footpath)."""

    line: LineString
    rank: int
    name: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class StreetPlan:
    """What an extract holds of a map's part of the world, uncut, in degrees (WGS84).

    Longitudes run on over the date line where the map does. ``coast`` has land on its left and
    sea on its right (OpenStreetMap's rule). ``credit`` is what the licence asks to be printed.
    """

    streets: tuple[Street, ...] = ()
    rails: tuple[LineString, ...] = ()
    rivers: tuple[LineString, ...] = ()
    water: tuple[Polygon, ...] = ()
    parks: tuple[Polygon, ...] = ()
    coast: tuple[LineString, ...] = ()
    credit: str = CREDIT
    findings: tuple[Finding, ...] = ()

    @property
    def is_empty(self) -> bool:
        """Whether there is nothing to draw a map from."""
        return not (self.streets or self.water or self.parks or self.coast or self.rivers)

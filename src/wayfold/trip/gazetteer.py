"""The nearest town to a place, searched exactly on the earth's ellipsoid.

Towns lie in order of latitude, and those of the rows that a search comes to, in cells
(``trip.earth``). A search looks at every cell that its circle can touch, so nothing nearer can be
missed. A journey comes to few rows, so the others are never divided.
"""

from __future__ import annotations

import gzip
import json
import math
from array import array
from bisect import bisect_left
from collections.abc import Iterable
from dataclasses import dataclass
from importlib.resources import files
from typing import Protocol

from wayfold.base.errors import UserError
from wayfold.base.world import LonLat
from wayfold.trip.earth import CELL_DEG, cell_of, list_cells, to_ecef

FARTHEST_M = 150_000.0
"""Beyond this no town gives a picture its name: it was taken at sea or in the wilds."""

CITY_REACH_M = 12_000.0
"""How far, at most, a city's name reaches over its quarters and suburbs."""

CITY_DENSITY_KM2 = 2_500.0
"""People to a square kilometre of a built-up area (common practice, no single source)."""


@dataclass(frozen=True, slots=True)
class Town:
    """A populated place; ``country`` is its ISO 3166-1 alpha-2 code."""

    name: str
    country: str
    place: LonLat
    population: int = 0

    @property
    def reach_m(self) -> float:
        """How far its name reaches: the radius of a round town of its population."""
        radius_km = math.sqrt(self.population / (math.pi * CITY_DENSITY_KM2))
        return min(CITY_REACH_M, radius_km * 1000.0)


class TownFinder(Protocol):
    """Knows which town a place is named after."""

    def find(self, place: LonLat) -> Town | None:
        """Give the town a picture taken at ``place`` is named after, or None far from any."""


Position = tuple[float, float, float]
"""Earth-centred, in metres."""


class Gazetteer:
    """Towns in arrays, and the cells they lie in."""

    def __init__(self, towns: Iterable[Town]) -> None:
        rows = (
            (t.place.latitude, t.place.longitude, t.name, t.country, t.population) for t in towns
        )
        self._fill(sorted(rows))

    @classmethod
    def of_rows(cls, rows: list[tuple[float, float, str, str, int]]) -> Gazetteer:
        """Take rows of latitude, longitude, name, country code, population, in any order."""
        gazetteer = cls(())
        gazetteer._fill(sorted(rows))
        return gazetteer

    def _fill(self, rows: list[tuple[float, float, str, str, int]]) -> None:
        self._latitudes = array("d", (row[0] for row in rows))
        self._longitudes = array("d", (row[1] for row in rows))
        self._names = [row[2] for row in rows]
        self._countries = [row[3] for row in rows]
        self._populations = array("q", (row[4] for row in rows))
        self._rows: dict[int, dict[int, list[tuple[int, Position]]]] = {}

    def __len__(self) -> int:
        return len(self._names)

    def town(self, index: int) -> Town:
        """Give the town at ``index`` in order of latitude."""
        place = LonLat(self._longitudes[index], self._latitudes[index])
        return Town(self._names[index], self._countries[index], place, self._populations[index])

    def nearest(self, place: LonLat, within_m: float = FARTHEST_M) -> Town | None:
        """Give the town nearest to ``place``, or None where there is none ``within_m`` metres."""
        radii = [r for r in (CITY_REACH_M, 4.0 * CITY_REACH_M) if r < within_m]
        for radius_m in (*radii, within_m):
            near = self._list_within(place, radius_m)
            if near:
                return self.town(min(near)[1])
        return None

    def find(self, place: LonLat) -> Town | None:
        """Give the town a picture taken at ``place`` is named after.

        That is the nearest one, unless larger ones of the same country reach over ``place`` (see
        ``Town.reach_m``), for a quarter or a suburb yields to its city: to the largest, or to the
        nearest of those that reach the full ``CITY_REACH_M``, for great cities side by side do
        not yield to each other.
        """
        nearest = self.nearest(place)
        if nearest is None or nearest.reach_m >= CITY_REACH_M:
            return nearest
        reaching = [
            (away_m, town)
            for away_m, town in self._list_larger(place, nearest)
            if away_m <= town.reach_m
        ]
        great = [r for r in reaching if r[1].reach_m >= CITY_REACH_M]
        if great:
            return min(great, key=lambda r: r[0])[1]
        return max((town for _, town in reaching), key=lambda t: t.population, default=nearest)

    def _list_larger(self, place: LonLat, nearest: Town) -> list[tuple[float, Town]]:
        """Give distances and towns of more people than the nearest, within a city's reach."""
        return [
            (away_m, self.town(index))
            for away_m, index in self._list_within(place, CITY_REACH_M)
            if self._populations[index] > nearest.population
            and self._countries[index] == nearest.country
        ]

    def _list_within(self, place: LonLat, radius_m: float) -> list[tuple[float, int]]:
        """Give the straight distance and index of every town within ``radius_m`` of ``place``."""
        here = to_ecef(place.longitude, place.latitude)
        near = []
        for row, column in list_cells(place, radius_m):
            for index, there in self._find_row(row).get(column, ()):
                away_m = math.dist(here, there)
                if away_m <= radius_m:
                    near.append((away_m, index))
        return near

    def _find_row(self, row: int) -> dict[int, list[tuple[int, Position]]]:
        """Give the towns of a row of cells by their columns, divided when first asked for."""
        if row not in self._rows:
            cells = self._rows[row] = {}
            start, end = (bisect_left(self._latitudes, n * CELL_DEG) for n in (row, row + 1))
            for index in range(start, end):
                position = self._longitudes[index], self._latitudes[index]
                towns = cells.setdefault(cell_of(*position)[1], [])
                towns.append((index, to_ecef(*position)))
        return self._rows[row]


def load_gazetteer() -> Gazetteer:
    """Read the towns of the world that come with Wayfold (GeoNames, 1,000 people and more).

    The one place in this package that opens a file. Raises UserError where it is not there.
    """
    source = files("wayfold.trip") / "gazetteer" / "geocode.gz"
    rows: list[tuple[float, float, str, str, int]] = []

    def keep(entry: dict[str, object]) -> None:
        # Taking each town as it is parsed spares a dictionary for each of 155,000.
        rows.append(_read_row(entry))

    try:
        json.loads(gzip.decompress(source.read_bytes()), object_hook=keep)
    except (OSError, EOFError, ValueError, KeyError, TypeError) as error:
        raise UserError(
            f"The list of towns cannot be read ({error}).",
            where="wayfold/trip/gazetteer/geocode.gz",
            remedy="Install Wayfold again: the list is part of it.",
        ) from error
    return Gazetteer.of_rows(rows)


def _read_row(entry: dict[str, object]) -> tuple[float, float, str, str, int]:
    latitude, longitude = entry["latitude"], entry["longitude"]
    population = entry["population"]
    if not (isinstance(latitude, float | int) and isinstance(longitude, float | int)):
        raise TypeError("a town without a position")
    if not isinstance(population, int):
        raise TypeError("a town without a population")
    row = (float(latitude), float(longitude), str(entry["city"]), str(entry["country_code"]))
    return (*row, population)

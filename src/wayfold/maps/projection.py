"""The projection of a map, chosen by how little it distorts the very area shown.

Sources: J. P. Snyder, Map Projections, USGS Professional Paper 1395 (1987), for the candidates;
Tissot's indicatrix as PROJ gives it for the measure.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

_SAMPLES = 25
WORLDS = ("Equal Earth", "Natural Earth", "Robinson")
"""The projections that show the earth whole, cut open along one meridian."""
_REGIONAL_DEG = 70.0
"""Areas that reach farther than this from their middle are shown as the world is."""


@dataclass(frozen=True)
class Projection:
    """A map projection on WGS84, x to the east and y to the north in metres.

    ``distortion`` is the root mean square of sqrt((ln² a + ln² b) / 2), a and b being the axes of
    Tissot's indicatrix over their median, on the samples it was chosen by (0.001 = 0.1 %).
    """

    name: str
    definition: str
    longitude: float
    """The meridian in the middle, degrees."""
    distortion: float = 0.0

    @cached_property
    def _proj(self) -> Any:
        import pyproj

        return pyproj.Proj(self.definition)

    @property
    def is_cut_open(self) -> bool:
        """Whether ways over the meridian opposite the middle leave at one edge of the map."""
        return self.name in WORLDS

    def forward(self, longitudes: Floats, latitudes: Floats) -> tuple[Floats, Floats]:
        """Project degrees; what cannot be shown comes out infinite."""
        x, y = self._proj(longitudes, latitudes)
        return np.asarray(x, dtype=float), np.asarray(y, dtype=float)

    def inverse(self, x: Floats, y: Floats) -> tuple[Floats, Floats]:
        """Give degrees; longitudes lie within half a turn of the middle meridian."""
        lon, lat = self._proj(x, y, inverse=True)
        lon, lat = np.asarray(lon, dtype=float), np.asarray(lat, dtype=float)
        with np.errstate(invalid="ignore"):
            lon = self.longitude + np.mod(lon - self.longitude + 180.0, 360.0) - 180.0
        return lon, lat

    def measure(self, longitudes: Floats, latitudes: Floats) -> float:
        """Give the distortion at samples; infinite where one cannot be shown."""
        factors = self._proj.get_factors(longitudes, latitudes)
        a, b = np.asarray(factors.tissot_semimajor), np.asarray(factors.tissot_semiminor)
        if not (np.isfinite(a).all() and np.isfinite(b).all() and (b > 0).all()):
            return math.inf
        middle = float(np.median(np.sqrt(a * b)))
        error = (np.log(a / middle) ** 2 + np.log(b / middle) ** 2) / 2
        return float(np.sqrt(error.mean()))


@dataclass(frozen=True, slots=True)
class Extent:
    """A box of longitude and latitude; ``west`` < ``east`` even over the date line."""

    west: float
    south: float
    east: float
    north: float

    @property
    def middle(self) -> tuple[float, float]:
        """Longitude (-180..180) and latitude of the middle; a pole where the box goes round it."""
        longitude = (self.west + self.east) / 2
        latitude = (self.south + self.north) / 2
        if self.east - self.west > 180.0 and min(abs(self.south), abs(self.north)) > 45.0:
            latitude = math.copysign(90.0, latitude)
        # To the digits that a definition has, so that the seam of a world map is where it is said.
        return round((longitude + 180.0) % 360.0 - 180.0, 6), round(latitude, 6)

    def sample(self) -> tuple[Floats, Floats]:
        """Give a grid of 25 by 25 positions; the poles themselves are left out."""
        lon = np.linspace(self.west, self.east, _SAMPLES)
        lat = np.linspace(max(self.south, -89.5), min(self.north, 89.5), _SAMPLES)
        lons, lats = np.meshgrid((lon + 180.0) % 360.0 - 180.0, lat)
        return lons.ravel(), lats.ravel()


def find_extent(longitudes: Floats, latitudes: Floats) -> Extent:
    """Give the smallest box round positions: it leaves out the widest empty gap of longitudes."""
    lon = np.unique(np.mod(longitudes + 180.0, 360.0) - 180.0)
    gaps = np.diff(np.append(lon, lon[0] + 360.0))
    widest = int(np.argmax(gaps))
    west = float(lon[(widest + 1) % len(lon)])
    east = float(lon[widest])
    if east < west:
        east += 360.0
    return Extent(west, float(latitudes.min()), east, float(latitudes.max()))


def join_extents(extents: Sequence[Extent]) -> Extent:
    """Give the smallest box round boxes (at least one): it leaves out the widest gap between."""
    spans = sorted(((e.west + 180.0) % 360.0 - 180.0, e.east - e.west) for e in extents)
    first = spans[0][0]
    reach = first
    widest, west, east = -math.inf, first, first
    for start, width in [*spans, (first + 360.0, 0.0)]:
        if start - reach > widest:
            widest, west, east = start - reach, start, reach
        reach = max(reach, start + width)
    east += 360.0 if east < west else 0.0
    # Boxes that leave no gap go all the way round.
    if widest <= 0.0:
        west, east = -180.0, 180.0
    west = (west + 180.0) % 360.0 - 180.0
    east = west + (east - west) % 360.0 if widest > 0.0 else east
    south, north = min(e.south for e in extents), max(e.north for e in extents)
    return Extent(west, south, west + (east - west), north)


def choose_projection(extent: Extent) -> Projection:
    """Give the candidate that distorts the area least; of equals, the one named first."""
    longitudes, latitudes = extent.sample()
    best: Projection | None = None
    for name, definition in list_candidates(extent):
        candidate = Projection(name, definition, extent.middle[0])
        error = candidate.measure(longitudes, latitudes)
        # A tenth of a part in a thousand is nothing that a page shows: let the first stand.
        if best is None or error < best.distortion - 1e-4:
            best = Projection(name, definition, extent.middle[0], error)
    if best is None:
        raise RuntimeError("no projection was offered")
    return best


def list_candidates(extent: Extent) -> tuple[tuple[str, str], ...]:
    """Give names and PROJ definitions of the projections worth measuring for an area.

    Cones touch a sixth of the range inside its ends (Deetz & Adams 1934; Snyder 1987).
    """
    lon, lat = extent.middle
    where = f"+lat_0={lat:.6f} +lon_0={lon:.6f}"
    tail = "+ellps=WGS84 +units=m +no_defs"
    if _reach_deg(extent) > _REGIONAL_DEG:
        names = zip(WORLDS, ("eqearth", "natearth", "robin"), strict=True)
        return tuple((name, f"+proj={proj} +lon_0={lon:.6f} {tail}") for name, proj in names)
    candidates = [
        ("Lambert azimuthal equal-area", f"+proj=laea {where} {tail}"),
        ("stereographic", f"+proj=stere {where} {tail}"),
    ]
    if abs(lat) < 89.0:
        if (extent.east - extent.west) < 60.0:
            candidates.append(("transverse Mercator", f"+proj=tmerc {where} {tail}"))
        candidates.append(("equirectangular", f"+proj=eqc +lat_ts={lat:.6f} {where} {tail}"))
        sixth = (extent.north - extent.south) / 6
        low, high = extent.south + sixth, extent.north - sixth
        if abs(low + high) > 1.0 and high - low > 0.01:
            cone = f"+lat_1={low:.6f} +lat_2={high:.6f} {where} {tail}"
            candidates.append(("Lambert conformal conic", f"+proj=lcc {cone}"))
            candidates.append(("Albers equal-area conic", f"+proj=aea {cone}"))
    return tuple(candidates)


def _reach_deg(extent: Extent) -> float:
    """How far the box reaches from its middle, along great circles."""
    lons, lats = extent.sample()
    lon0, lat0 = np.radians(extent.middle)
    lam, phi = np.radians(lons), np.radians(lats)
    cosine = np.sin(lat0) * np.sin(phi) + np.cos(lat0) * np.cos(phi) * np.cos(lam - lon0)
    return float(np.degrees(np.arccos(np.clip(cosine, -1.0, 1.0))).max())

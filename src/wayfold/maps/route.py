"""Legs on the page: the geodesic or the track, cut into points and bent into arcs."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from shapely import LineString

from wayfold.base.geometry import Point
from wayfold.base.world import LonLat
from wayfold.maps.arcs import ArcLeg, choose_arcs
from wayfold.maps.model import MapLeg
from wayfold.maps.projection import Floats
from wayfold.maps.sheet import Sheet

_POINTS = 49
_TRACK_TOLERANCE_MM = 0.1


def trace_geodesic(start: LonLat, end: LonLat, points: int = _POINTS) -> tuple[Floats, Floats]:
    """Give longitudes and latitudes of evenly spaced points of the geodesic on WGS84."""
    import pyproj

    geod = pyproj.Geod(ellps="WGS84")
    ends = (start.longitude, start.latitude, end.longitude, end.latitude)
    between = np.array(geod.npts(*ends, points - 2), dtype=float).reshape(-1, 2)
    line = np.vstack([ends[:2], between, ends[2:]])
    return line[:, 0], line[:, 1]


@dataclass(frozen=True, slots=True, eq=False)
class Ways:
    """The lines (mm) of each leg of a route.

    One line a leg, or more where it leaves the map at one edge and comes back at the other.
    """

    lines: tuple[tuple[Floats, ...], ...]


def draw_legs(
    legs: Sequence[MapLeg], places: Sequence[LonLat], at: Sequence[Point], sheet: Sheet
) -> Ways:
    """Draw each leg: its track where it has one, else an arc between two of the ``places``.

    Those lie ``at`` these points of the page.
    """
    marks = np.array([(p.x, p.y) for p in at], dtype=float).reshape(-1, 2)
    traced = [_trace(leg, places) for leg in legs]
    runs = [_split_at_seam(lon, lat, sheet) for lon, lat in traced]
    drawn = [[np.column_stack(sheet.to_page(lon, lat)) for lon, lat in run] for run in runs]
    bent = [n for n, leg in enumerate(legs) if not leg.track and len(drawn[n]) == 1]
    for n in bent:
        # A place in an inset is not where the ground would have it.
        drawn[n] = [_hold_ends(drawn[n][0], marks[legs[n].start], marks[legs[n].end])]
    arcs = choose_arcs([ArcLeg(drawn[n][0], legs[n].start, legs[n].end) for n in bent], marks)
    for n, arc in zip(bent, arcs, strict=True):
        drawn[n] = [arc]
    return Ways(
        tuple(
            tuple(_plain(line) if leg.track else line for line in lines)
            for leg, lines in zip(legs, drawn, strict=True)
        )
    )


def _trace(leg: MapLeg, places: Sequence[LonLat]) -> tuple[Floats, Floats]:
    """Give the longitudes and latitudes of a leg, two points at least."""
    if not leg.track:
        return trace_geodesic(places[leg.start], places[leg.end])
    track = leg.track if len(leg.track) > 1 else leg.track * 2
    return np.array([p.longitude for p in track]), np.array([p.latitude for p in track])


def _hold_ends(line: Floats, start: Floats, end: Floats) -> Floats:
    """Give a line that begins and ends at two places, straight where it would not."""
    if np.hypot(*(line[0] - start)) < 0.01 and np.hypot(*(line[-1] - end)) < 0.01:
        return line
    return np.linspace(start, end, len(line))


def _split_at_seam(lon: Floats, lat: Floats, sheet: Sheet) -> list[tuple[Floats, Floats]]:
    """Part a way where it crosses the meridian along which a map of the earth is cut open."""
    if not sheet.projection.is_cut_open:
        return [(lon, lat)]
    middle = sheet.projection.longitude
    east = np.mod(lon - middle + 180.0, 360.0) - 180.0
    breaks = np.flatnonzero(np.abs(np.diff(east)) > 180.0)
    pieces = []
    first: tuple[list[float], list[float]] = ([], [])
    begin = 0
    for k in breaks.tolist():
        side = math.copysign(180.0 - 1e-7, east[k])
        gap = abs(side - east[k]) + abs(-side - east[k + 1])
        share = abs(side - east[k]) / gap if gap else 0.0
        height = float(lat[k] + share * (lat[k + 1] - lat[k]))
        ends = np.array([middle + side]), np.array([height])
        pieces.append(_join_run(first, lon[begin : k + 1], lat[begin : k + 1], ends))
        first = [middle - side], [height]
        begin = k + 1
    pieces.append(_join_run(first, lon[begin:], lat[begin:], (np.array([]), np.array([]))))
    return pieces


def _join_run(
    first: tuple[list[float], list[float]],
    lon: Floats,
    lat: Floats,
    last: tuple[Floats, Floats],
) -> tuple[Floats, Floats]:
    return np.concatenate([first[0], lon, last[0]]), np.concatenate([first[1], lat, last[1]])


def _plain(line: Floats) -> Floats:
    return np.asarray(LineString(line).simplify(_TRACK_TOLERANCE_MM).coords)

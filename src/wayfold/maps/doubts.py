"""Positions that cannot be meant: a missing fix written as 0, 0, and coordinates swapped."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import shapely

from wayfold.base.findings import Finding, Severity
from wayfold.base.world import LonLat
from wayfold.maps.model import MapLeg, MapPlace, Outline

_ZERO_DEG = 0.001
_NEAR_DEG = 0.5
"""A place this near to a visited country counts as in it: piers, islets, coarse coasts."""


@dataclass(frozen=True, slots=True)
class Believed:
    """The places and legs to draw, and what is to be said about the others."""

    places: tuple[MapPlace, ...]
    legs: tuple[MapLeg, ...]
    findings: tuple[Finding, ...]


def leave_out_zero(places: Sequence[MapPlace], legs: Sequence[MapLeg]) -> Believed:
    """Leave out places at 0° 0° (with their legs), unless there is no other place."""
    zero = [_is_zero(p.place) for p in places]
    if not any(zero) or all(zero):
        return Believed(
            tuple(places), tuple(legs), tuple(_say_zero(p) for p in places if any(zero))
        )
    number: dict[int, int] = {}
    for n, left_out in enumerate(zero):
        if not left_out:
            number[n] = len(number)
    kept = [
        replace(leg, start=number[leg.start], end=number[leg.end])
        for leg in legs
        if leg.start in number and leg.end in number
    ]
    findings = [_say_zero(p) for p, left_out in zip(places, zero, strict=True) if left_out]
    return Believed(tuple(places[n] for n in number), tuple(kept), tuple(findings))


def find_swapped(
    places: Sequence[MapPlace], outlines: Sequence[Outline], visited: Sequence[str]
) -> tuple[Finding, ...]:
    """Say which places lie in no visited country, but would with longitude and latitude swapped."""
    lands = [o.land for o in outlines if o.code in set(visited)]
    if not lands:
        return ()
    findings = []
    for place in places:
        lon, lat = place.place.longitude, place.place.latitude
        if abs(lon) > 90.0 or _lies_in(lands, lon, lat):
            continue
        if _lies_in(lands, lat, lon):
            findings.append(
                Finding(
                    "map-place",
                    Severity.WARN,
                    place.name,
                    f"“{place.name}” lies far from the countries of the journey "
                    f"(latitude {lat:g}, longitude {lon:g}); with the two numbers swapped it "
                    "would lie in one of them.",
                    "Look at the positions its photographs or tracks carry.",
                )
            )
    return tuple(findings)


def _lies_in(lands: Sequence[shapely.MultiPolygon], lon: float, lat: float) -> bool:
    point = shapely.Point(lon, lat)
    return any(
        shapely.box(*land.bounds).distance(point) < _NEAR_DEG and land.distance(point) < _NEAR_DEG
        for land in lands
    )


def _is_zero(place: LonLat) -> bool:
    return abs(place.longitude) < _ZERO_DEG and abs(place.latitude) < _ZERO_DEG


def _say_zero(place: MapPlace) -> Finding:
    return Finding(
        "map-place",
        Severity.WARN,
        place.name,
        f"“{place.name}” is said to lie at 0° N 0° E, in the sea off Africa; most often that is "
        "how a missing position is written. It is left off the map.",
        "Give its photographs their right position.",
    )

"""What OpenStreetMap's tags mean for a map in a book (wiki.openstreetmap.org, Map features)."""

from __future__ import annotations

from collections.abc import Mapping

KEYS = ("highway", "railway", "waterway", "natural", "leisure", "landuse")
"""The keys by which anything that is drawn is known."""
KEPT = (*KEYS, "name", "area", "tunnel", "service")

RANKS = {
    **dict.fromkeys(("motorway", "trunk", "primary"), 1),
    **dict.fromkeys(("motorway_link", "trunk_link", "primary_link", "secondary"), 2),
    **dict.fromkeys(("secondary_link", "tertiary", "tertiary_link"), 3),
    **dict.fromkeys(("residential", "unclassified", "living_street", "pedestrian", "road"), 4),
    **dict.fromkeys(("footway", "path", "steps", "track", "cycleway", "bridleway"), 5),
}
"""Streets in five ranks. Drives, car parks' aisles and works are no streets of a walker's map."""
_WATER = {
    "natural": {"water", "bay"},
    "waterway": {"riverbank", "dock"},
    "landuse": {"basin", "reservoir"},
}
_PARKS = {
    "leisure": {"park", "garden", "nature_reserve", "golf_course", "dog_park"},
    "landuse": {"forest", "recreation_ground", "cemetery", "meadow", "village_green", "grass"},
    "natural": {"wood", "heath", "scrub", "grassland"},
}
_RAILS = {"rail", "light_rail", "narrow_gauge", "funicular"}
_RIVERS = {"river", "canal", "stream"}
_BELOW = {"yes", "culvert", "building_passage", "covered"}


def area_kind(tags: Mapping[str, str]) -> str:
    """Give "water" or "park" for what is drawn as an area, else ""."""
    for kind, known in (("water", _WATER), ("park", _PARKS)):
        if any(tags.get(key) in values for key, values in known.items()):
            return kind
    return ""


def street_rank(tags: Mapping[str, str]) -> int:
    """Give the rank of a street, 0 for what is none, is a square, or lies in a tunnel."""
    if tags.get("area") == "yes" or tags.get("tunnel") == "yes":
        return 0
    return RANKS.get(tags.get("highway", ""), 0)


def line_kind(tags: Mapping[str, str]) -> str:
    """Give "coast", "rail" or "river" for what else is drawn as a line, else ""."""
    if tags.get("natural") == "coastline":
        return "coast"
    if tags.get("tunnel") in _BELOW:
        return ""
    if tags.get("railway") in _RAILS and "service" not in tags:
        return "rail"
    return "river" if tags.get("waterway") in _RIVERS else ""

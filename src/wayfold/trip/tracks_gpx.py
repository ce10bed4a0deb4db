"""Read GPX files (versions 1.0 and 1.1), safely and keeping all that can be kept."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

from wayfold.base.errors import UserError
from wayfold.base.findings import Finding, Severity
from wayfold.base.world import LonLat
from wayfold.trip.tracks import Fix, Track
from wayfold.trip.tracks_clean import clean_segments

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

FIRST_YEAR = 1990
"""No hand-held receiver wrote files before; 1901 and 1970 are what an unset clock writes."""

# xsd:dateTime; GPX says that times are in UTC, so one without a zone is in UTC too.
_TIME = re.compile(
    r"(\d{4})-(\d\d)-(\d\d)[T ](\d\d):(\d\d):(\d\d)(?:[.,](\d+))?\s*(Z|[+-]\d\d:?\d\d)?$"
)


def parse_gpx(data: bytes, where: str = "") -> Track:
    """Read one GPX file. ``where`` names it in errors and findings.

    Raises UserError for what is no GPX, is damaged, or holds a document type or entities (which
    GPX has no use for, and which can make a small file fill the memory or read other files).
    A single bad point or time only costs itself, and a finding counts it.
    """
    root = _parse_tree(data, where)
    if _name(root) != "gpx":
        raise UserError(
            f"This is XML, but no GPX: it begins with <{_name(root)}>.",
            where=where,
            remedy="Export the track as GPX from the program that recorded it.",
        )
    skipped: Counter[str] = Counter()
    timed: list[list[Fix]] = []
    lines: list[tuple[LonLat, ...]] = []
    for points in _list_point_runs(root):
        fixes, line = _read_points(points, skipped)
        timed.append(fixes)
        if len(line) > 1:
            lines.append(tuple(line))
    segments, remarks = clean_segments(timed)
    told = [_describe(what, count, where) for what, count in skipped.items()]
    told += [Finding(f"tracks.{r.rule}", Severity.NOTE, where, r.message) for r in remarks]
    if not segments and not lines:
        told.append(
            Finding(
                "tracks.empty",
                Severity.WARN,
                where,
                "The file holds no track that could be used.",
                "Look whether the recording was exported with its points and times.",
            )
        )
    return Track(_track_name(root) or where, segments, tuple(lines), tuple(told))


def _parse_tree(data: bytes, where: str) -> Element:
    from xml.etree.ElementTree import ParseError

    from defusedxml import DefusedXmlException
    from defusedxml.ElementTree import fromstring

    try:
        root: Element = fromstring(data, forbid_dtd=True)
    except DefusedXmlException as error:
        raise UserError(
            "The file declares a document type or entities; GPX has neither, so it was refused.",
            where=where,
            remedy="Export the track anew from the program that recorded it.",
        ) from error
    except (ParseError, ValueError, LookupError) as error:
        raise UserError(
            f"The file is no whole XML ({error}).",
            where=where,
            remedy="Copy it again from where it was recorded; it may have been cut off.",
        ) from error
    return root


def _name(element: Element) -> str:
    # GPX 1.0, 1.1 and files without a namespace use the same names for what is read here.
    return str(element.tag).rsplit("}", 1)[-1]


def _children(element: Element, name: str) -> Iterator[Element]:
    return (child for child in element if _name(child) == name)


def _text(element: Element, name: str) -> str:
    return next((c.text.strip() for c in _children(element, name) if c.text), "")


def _track_name(root: Element) -> str:
    return next((n for track in _children(root, "trk") if (n := _text(track, "name"))), "")


def _list_point_runs(root: Element) -> Iterator[list[Element]]:
    """Give the points of each track segment, then of each route; waypoints are no way."""
    for track in _children(root, "trk"):
        for segment in _children(track, "trkseg"):
            yield list(_children(segment, "trkpt"))
    for route in _children(root, "rte"):
        yield list(_children(route, "rtept"))


def _read_points(points: list[Element], skipped: Counter[str]) -> tuple[list[Fix], list[LonLat]]:
    """Give the fixes of a run; and the whole run as a line, if not every point has a time."""
    fixes: list[Fix] = []
    line: list[LonLat] = []
    for point in points:
        place = _read_place(point, skipped)
        if place is None:
            continue
        line.append(place)
        utc = _read_time(_text(point, "time"), skipped)
        if utc is not None:
            hdop = _number(_text(point, "hdop"))
            fixes.append(Fix(utc, place, _number(_text(point, "ele")), hdop))
    return fixes, line if len(fixes) < len(line) else []


def _read_place(point: Element, skipped: Counter[str]) -> LonLat | None:
    latitude, longitude = _number(point.get("lat", "")), _number(point.get("lon", ""))
    if latitude is None or longitude is None:
        skipped["placeless"] += 1
    elif latitude == 0 and longitude == 0:
        skipped["null"] += 1
    elif abs(latitude) > 90 and abs(longitude) <= 90 and abs(latitude) <= 180:
        skipped["swapped"] += 1
    elif abs(latitude) > 90 or abs(longitude) > 180:
        skipped["outside"] += 1
    else:
        return LonLat(longitude, latitude)
    return None


def _read_time(text: str, skipped: Counter[str]) -> datetime | None:
    if not text:
        skipped["timeless"] += 1
        return None
    utc = parse_time(text)
    if utc is None:
        skipped["mistimed"] += 1
    elif utc.year < FIRST_YEAR:
        skipped["unset"] += 1
        return None
    return utc


def parse_time(text: str) -> datetime | None:
    """Read an xsd:dateTime as an aware instant in UTC; None for anything else."""
    match = _TIME.match(text.strip())
    if match is None:
        return None
    year, month, day, hour, minute, second = (int(p) for p in match.groups()[:6])
    micro = int((match[7] or "0")[:6].ljust(6, "0"))
    zone = match[8] or "Z"
    try:
        # A leap second is written as second 60, which datetime does not know.
        utc = datetime(year, month, day, hour, minute, min(second, 59), micro, UTC)
        if zone != "Z":
            east = timedelta(hours=int(zone[1:3]), minutes=int(zone[-2:]))
            utc += east if zone[0] == "-" else -east
    except (ValueError, OverflowError):
        return None
    return utc


def _number(text: str) -> float | None:
    try:
        value = float(text)
    except ValueError:
        return None
    return value if math.isfinite(value) else None


_TOLD = {
    "placeless": ("without a position were left out", ""),
    "null": (
        "at 0° 0°, which receivers write without a fix, were left out",
        "",
    ),
    "swapped": (
        "whose latitude is beyond 90° were left out; latitude and longitude may be exchanged",
        "If so, export the track again from the program that recorded it.",
    ),
    "outside": ("outside ±90° of latitude or ±180° of longitude were left out", ""),
    "timeless": (
        "tell no time: they can be drawn on a map, but place no picture",
        "Export the recording itself, not a planned route, if it should place pictures.",
    ),
    "mistimed": ("have a time that cannot be read; they place no picture", ""),
    "unset": (
        f"are dated before {FIRST_YEAR}, as by a receiver whose clock was not set; they place "
        "no picture",
        "",
    ),
}


def _describe(what: str, count: int, where: str) -> Finding:
    message, remedy = _TOLD[what]
    points = "1 point" if count == 1 else f"{count:,} points"
    return Finding(f"tracks.{what}", Severity.NOTE, where, f"{points} {message}.", remedy)

"""XMP packets (ISO 16684-1), inside pictures and in sidecar files: caption, rating, time, place."""

from __future__ import annotations

import re
from dataclasses import dataclass
from xml.etree import ElementTree

from wayfold.base.world import LonLat
from wayfold.photos.model import CaptureTime
from wayfold.photos.moments import parse_xmp_time

_RDF = "{http://www.w3.org/1999/02/22-rdf-syntax-ns#}"
_DC = "{http://purl.org/dc/elements/1.1/}"
_XMP = "{http://ns.adobe.com/xap/1.0/}"
_EXIF = "{http://ns.adobe.com/exif/1.0/}"
_PHOTOSHOP = "{http://ns.adobe.com/photoshop/1.0/}"
_AUX = "{http://ns.adobe.com/exif/1.0/aux/}"
_LANG = "{http://www.w3.org/XML/1998/namespace}lang"

_COORDINATE = re.compile(r"(\d{1,3}),(\d{1,2}(?:\.\d+)?)(?:,(\d{1,2}(?:\.\d+)?))?([NSEW])$")


@dataclass(frozen=True, slots=True)
class XmpData:
    """What of an XMP packet is of use here. ``created`` is the second best moment.

    ``rating`` is 0-5; the "rejected" of the standard (-1) counts as 0.
    """

    caption: str | None = None
    rating: int | None = None
    taken: CaptureTime | None = None
    created: CaptureTime | None = None
    place: LonLat | None = None
    serial: str = ""
    creator: str = ""
    rights: str = ""


def parse_xmp(packet: bytes | str) -> XmpData:
    """Read a packet; one that is no well-formed XML gives what it can, at worst nothing."""
    root = _parse_tree(packet)
    if root is None:
        return XmpData()
    found: dict[str, str] = {}
    caption: str | None = None
    creators: list[str] = []
    rights = ""
    # A property is an attribute or a child of an rdf:Description; both forms mean the same.
    for description in root.iter(f"{_RDF}Description"):
        for name, value in description.attrib.items():
            found.setdefault(name, value.strip())
        for child in description:
            if child.tag == f"{_DC}description":
                caption = caption or _pick_language(child)
            elif child.tag == f"{_DC}creator":
                creators = creators or _list_texts(child)
            elif child.tag == f"{_DC}rights":
                rights = rights or _pick_language(child) or ""
            elif child.text and child.text.strip():
                found.setdefault(child.tag, child.text.strip())
    return XmpData(
        caption=caption or found.get(f"{_DC}description") or None,
        rating=_rating(found.get(f"{_XMP}Rating", "")),
        taken=parse_xmp_time(found.get(f"{_EXIF}DateTimeOriginal", ""))
        or parse_xmp_time(found.get(f"{_PHOTOSHOP}DateCreated", "")),
        created=parse_xmp_time(found.get(f"{_XMP}CreateDate", "")),
        place=_place(found.get(f"{_EXIF}GPSLatitude", ""), found.get(f"{_EXIF}GPSLongitude", "")),
        serial=found.get(f"{_AUX}SerialNumber", ""),
        creator=", ".join(creators) or found.get(f"{_DC}creator", ""),
        rights=rights or found.get(f"{_DC}rights", ""),
    )


def _parse_tree(packet: bytes | str) -> ElementTree.Element | None:
    data = packet.encode() if isinstance(packet, str) else packet
    # Padding and a wrapper surround the tree; XMP has no document type, so entities need none.
    start, end = data.find(b"<"), data.rfind(b">")
    data = data[start : end + 1].strip(b"\0")
    if start < 0 or b"<!DOCTYPE" in data or b"<!ENTITY" in data:
        return None
    for attempt in (data, data.decode("latin-1").encode()):
        try:
            return ElementTree.fromstring(attempt)
        except (ElementTree.ParseError, ValueError, LookupError):
            continue
    return None


def _pick_language(element: ElementTree.Element) -> str | None:
    """Give the default language's text of a language alternative, else the first."""
    items = list(element.iter(f"{_RDF}li"))
    items.sort(key=lambda li: li.get(_LANG) != "x-default")
    texts = [li.text.strip() for li in items if li.text and li.text.strip()]
    plain = (element.text or "").strip()
    return texts[0] if texts else plain or None


def _list_texts(element: ElementTree.Element) -> list[str]:
    """Give the texts of an ordered list, or the element's own."""
    texts = [li.text.strip() for li in element.iter(f"{_RDF}li") if li.text and li.text.strip()]
    return texts or [text for text in [(element.text or "").strip()] if text]


def _rating(text: str) -> int | None:
    try:
        return max(0, min(5, round(float(text))))
    except (ValueError, OverflowError):
        return None


def _place(latitude: str, longitude: str) -> LonLat | None:
    lat, lon = _coordinate(latitude, "NS"), _coordinate(longitude, "EW")
    if lat is None or lon is None or (lat == 0 and lon == 0):
        return None
    try:
        return LonLat(lon, lat)
    except ValueError:
        return None


def _coordinate(text: str, letters: str) -> float | None:
    match = _COORDINATE.match(text.strip())
    if match is None or match[4] not in letters:
        return None
    degrees = int(match[1]) + float(match[2]) / 60 + float(match[3] or 0) / 3600
    return -degrees if match[4] in "SW" else degrees

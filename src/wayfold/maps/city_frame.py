"""How a city map lies in its frame: the part that shows the town, the scale bar, the key."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from wayfold.base.errors import UserError
from wayfold.base.geometry import Rect
from wayfold.base.world import LonLat
from wayfold.maps.key import Key, lay_key
from wayfold.maps.model import KeyEntry, MapFrame, MapPlace, WidthMeasurer
from wayfold.maps.overview import check_frame, lay_sheet
from wayfold.maps.projection import Extent
from wayfold.maps.sheet import Sheet
from wayfold.maps.streets import CREDIT
from wayfold.maps.strip import Strip, lay_strip
from wayfold.maps.style import MapStyle

FINEST_M = 2.5
"""A millimetre shows at least this many metres (1 : 2 500), for a single place has no extent."""
_AIR = 0.1
"""Places keep this share of the window away from its edge."""
_OVER = 4.0
_GAP = 5.0
_ASIDE_ASPECT = 1.25
"""In frames wider than this the key stands beside the map, else beneath it."""
_ASIDE_SHARE = 0.3
_LEAST_WINDOW = 40.0


@dataclass(frozen=True, slots=True)
class CityFrame:
    """The parts of a city map in mm: where the town is seen (``seen`` has the bleed), and the rest.

    ``extent`` is what to read from an extract.
    """

    frame: MapFrame
    sheet: Sheet
    window: Rect
    seen: Rect
    strip: Strip
    strip_at: Rect
    key: Key
    key_at: Rect

    @property
    def extent(self) -> Extent:
        """The box of longitude and latitude that the window shows, with a little over."""
        return self.sheet.find_window(self.seen.grown(_OVER))


def lay_city(
    places: Sequence[MapPlace],
    walks: Sequence[Sequence[LonLat]],
    frame: MapFrame,
    style: MapStyle,
    widths: WidthMeasurer,
    credit: str = CREDIT,
) -> CityFrame:
    """Divide a frame between town and key, and fit places and walks into the town's part.

    ``credit`` is printed beside the scale bar, or beneath it where it is too long. North is up.
    Raises UserError without a place or walk, or for a frame too small.
    """
    check_frame(frame)
    positions = [p.place for p in places] + [p for walk in walks for p in walk]
    if not positions:
        raise UserError(
            "There is no place in the town to draw a map of.",
            where="city map",
            remedy="Name the places that the map should show, or add the track of a walk.",
        )
    entries = [KeyEntry(n, p.name, p.note) for n, p in enumerate(places, start=1)]
    room, size = frame.room, frame.size
    if entries and size.aspect > _ASIDE_ASPECT:
        key = lay_key(entries, room.width * _ASIDE_SHARE, style, widths, beside=True)
        left = room.right - key.column_width
        strip = lay_strip(credit, key.column_width, style, widths)
        strip_at = Rect(left, room.bottom - strip.height, key.column_width, strip.height)
        window = Rect(0.0, 0.0, left - _GAP, size.height)
        key_at = Rect(left, room.y, key.column_width, key.height)
        seen = Rect(-frame.bleed, -frame.bleed, window.width + frame.bleed, frame.media.height)
        crowded = key_at.bottom + _GAP > strip_at.y
    else:
        key = lay_key(entries, room.width, style, widths)
        strip = lay_strip(credit, room.width, style, widths)
        gap = _GAP if entries else 0.0
        top = room.bottom - key.height - gap - strip.height - _GAP / 2
        window = Rect(0.0, 0.0, size.width, top)
        strip_at = Rect(room.x, top + _GAP / 2, room.width, strip.height)
        key_at = Rect(room.x, strip_at.bottom + gap, room.width, key.height)
        seen = Rect(-frame.bleed, -frame.bleed, frame.media.width, top + frame.bleed)
        crowded = window.height < _LEAST_WINDOW
    if crowded or window.width < _LEAST_WINDOW:
        raise UserError(
            f"A key of {len(entries)} places leaves no room for the map in a frame of "
            f"{size.width:.0f} × {size.height:.0f} mm.",
            where="city map",
            remedy="Give the map a larger frame, or show fewer places on it.",
        )
    inner = _inner(window, frame)
    lon = np.array([p.longitude for p in positions])
    lat = np.array([p.latitude for p in positions])
    sheet = lay_sheet(lon, lat, inner, FINEST_M)
    return CityFrame(frame, sheet, window, seen, strip, strip_at, key, key_at)


def _inner(window: Rect, frame: MapFrame) -> Rect:
    """Give where places may lie: clear of the margin, or of the window's edge where that is in."""
    across, up = window.width * _AIR, window.height * _AIR
    x, y = max(frame.margin, across), max(frame.margin, up)
    return Rect(window.x + x, window.y + y, window.width - 2 * x, window.height - 2 * y)

"""The EXIF block of a picture: time, place, camera body, orientation, description."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING, Any

from wayfold.base.world import LonLat
from wayfold.photos.model import Camera, CaptureTime
from wayfold.photos.moments import parse_exif_time

if TYPE_CHECKING:
    from PIL.Image import Exif

# Tag numbers of EXIF 2.32 (CIPA DC-008) and DNG 1.7.
_MAKE, _MODEL, _DESCRIPTION, _ORIENTATION = 0x010F, 0x0110, 0x010E, 0x0112
_ARTIST, _COPYRIGHT = 0x013B, 0x8298
_EXIF_IFD, _GPS_IFD, _INTEROP_IFD = 0x8769, 0x8825, 0xA005
_TAKEN, _TAKEN_FRACTION, _TAKEN_OFFSET = 0x9003, 0x9291, 0x9011
_DIGITISED, _DIGITISED_FRACTION, _DIGITISED_OFFSET = 0x9004, 0x9292, 0x9012
_BODY_SERIAL, _DNG_SERIAL = 0xA431, 0xC62F
_INTEROP_INDEX = 0x0001
_GPS_STATUS, _GPS_TIME, _GPS_DATE = 9, 7, 29
_FIRST_GPS_YEAR = 1990  # No receiver was in a camera before; unset ones write 1970 or 1980.
_DCF_ADOBE_RGB = "R03"  # DCF 2.0: an "option file" is in Adobe RGB, often with no profile inside.


@dataclass(frozen=True, slots=True)
class ExifData:
    """What of the EXIF block is of use here. ``digitised``: the second best moment."""

    orientation: int = 1
    taken: CaptureTime | None = None
    digitised: CaptureTime | None = None
    place: LonLat | None = None
    camera: Camera | None = None
    description: str = ""
    is_adobe_rgb: bool = False
    gps_utc: datetime | None = None
    artist: str = ""
    copyright: str = ""


def read_exif(exif: Exif) -> ExifData:
    """Give the useful parts of an EXIF block; what is missing or senseless stays empty."""
    return read_directories(
        exif,
        _directory(exif, _EXIF_IFD),
        _directory(exif, _GPS_IFD),
        _directory(exif, _INTEROP_IFD),
    )


def read_directories(
    main: Mapping[int, Any],
    inner: Mapping[int, Any],
    gps: Mapping[int, Any],
    interop: Mapping[int, Any],
) -> ExifData:
    """Give the useful parts of EXIF's four directories, where a file keeps them apart."""
    orientation = main.get(_ORIENTATION, 1)
    return ExifData(
        orientation=orientation if orientation in range(1, 9) else 1,
        taken=_moment(inner, _TAKEN, _TAKEN_FRACTION, _TAKEN_OFFSET),
        digitised=_moment(inner, _DIGITISED, _DIGITISED_FRACTION, _DIGITISED_OFFSET),
        place=read_place(gps),
        camera=_camera(main, inner),
        description=_text(main, _DESCRIPTION),
        is_adobe_rgb=_text(interop, _INTEROP_INDEX) == _DCF_ADOBE_RGB,
        gps_utc=read_gps_time(gps),
        artist=_text(main, _ARTIST),
        copyright=_text(main, _COPYRIGHT),
    )


def read_place(gps: Mapping[int, Any]) -> LonLat | None:
    """Give the place of a GPS directory; None where the receiver had no fix.

    The point 0° 0° is what receivers without a fix write, so it counts as no place.
    """
    if _text(gps, _GPS_STATUS) == "V":  # GPSStatus: measurement void
        return None
    latitude = _degrees(gps.get(2), _text(gps, 1), "N", "S")
    longitude = _degrees(gps.get(4), _text(gps, 3), "E", "W")
    if latitude is None or longitude is None or (latitude == 0 and longitude == 0):
        return None
    try:
        return LonLat(longitude, latitude)
    except ValueError:
        return None


def read_gps_time(gps: Mapping[int, Any]) -> datetime | None:
    """Give the receiver's time (UTC) of a GPS directory; None without a fix or a full date.

    GPSDateStamp ``YYYY:MM:DD`` and GPSTimeStamp, three numbers (EXIF 2.32, 4.6.7).
    """
    if _text(gps, _GPS_STATUS) == "V":
        return None
    day = re.match(r"(\d{4})[:\-/.](\d{2})[:\-/.](\d{2})", _text(gps, _GPS_DATE))
    try:
        hour, minute, second = (float(v) for v in gps.get(_GPS_TIME, ()))
        if day is None or not (0 <= hour < 24 and 0 <= minute < 60 and 0 <= second < 61):
            return None
        midnight = datetime(int(day[1]), int(day[2]), int(day[3]), tzinfo=UTC)
        # Some receivers write fractions of hours or minutes, which the standard allows.
        stamp = midnight + timedelta(hours=hour, minutes=minute, seconds=second)
    except (TypeError, ValueError, ZeroDivisionError, OverflowError):
        return None
    return stamp if stamp.year >= _FIRST_GPS_YEAR else None


def _directory(exif: Exif, tag: int) -> Mapping[int, Any]:
    # A directory that points outside the block makes Pillow raise whatever it stumbles over.
    try:
        return dict(exif.get_ifd(tag))
    except Exception:
        return {}


def _degrees(value: Any, sign: str, positive: str, negative: str) -> float | None:
    sign = sign[:1].upper()
    if sign not in (positive, negative):
        return None
    try:
        parts = [float(v) for v in value]
        total = parts[0] + parts[1] / 60 + (parts[2] / 3600 if len(parts) > 2 else 0.0)
    except (TypeError, ValueError, ZeroDivisionError, IndexError, OverflowError):
        return None
    if not math.isfinite(total):
        return None
    return -total if sign == negative else total


def _moment(tags: Mapping[int, Any], time: int, fraction: int, offset: int) -> CaptureTime | None:
    return parse_exif_time(_text(tags, time), _text(tags, fraction), _text(tags, offset))


def _camera(outer: Mapping[int, Any], inner: Mapping[int, Any]) -> Camera | None:
    camera = Camera(
        _text(outer, _MAKE),
        _text(outer, _MODEL),
        _text(inner, _BODY_SERIAL) or _text(outer, _DNG_SERIAL),
    )
    return camera if camera.make or camera.model else None


def _text(tags: Mapping[int, Any], tag: int) -> str:
    """Give a tag as text. EXIF says ASCII, yet cameras and programs write UTF-8."""
    value: Any = tags.get(tag)
    if isinstance(value, tuple) and value:
        value = value[0]
    if isinstance(value, str):
        try:
            value = value.encode("latin-1")
        except UnicodeEncodeError:
            return str(value).split("\0")[0].strip()
    if isinstance(value, bytes):
        raw = value.split(b"\0")[0]
        try:
            return raw.decode("utf-8").strip()
        except UnicodeDecodeError:
            return raw.decode("cp1252", "replace").strip()
    return str(value) if isinstance(value, int) else ""

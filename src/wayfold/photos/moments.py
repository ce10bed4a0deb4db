"""Dates and times as picture files write them: EXIF, XMP, IPTC, and clear time stamps in names."""

from __future__ import annotations

import re
from datetime import datetime
from pathlib import PurePath

from wayfold.photos.model import CaptureTime

_EARLIEST_YEAR = 1826  # The oldest photograph there is; an unset clock writes 0000.

_EXIF = re.compile(r"(\d{4})[:\-/.](\d{2})[:\-/.](\d{2})[ T](\d{2}):(\d{2})(?::(\d{2}))?")
_OFFSET = re.compile(r"([+-])(\d{2}):?(\d{2})$")
_XMP = re.compile(
    r"(\d{4})-(\d{2})-(\d{2})T(\d{2}):(\d{2})(?::(\d{2})(?:[.,](\d+))?)?(Z|[+-]\d{2}:?\d{2})?$"
)
# Date AND time to the second, as cameras and telephones write them; a bare date is no moment.
_NAME = re.compile(
    r"(?<!\d)((?:19|20)\d{2})([-_.]?)(\d{2})\2(\d{2})(?:[ _T.-]|_at_| at )"
    r"(\d{2})([-_.:h]?)(\d{2})\6(\d{2})(?:[._]?(\d{3}))?(?!\d)"
)


def parse_exif_time(text: str, fraction: str = "", offset: str = "") -> CaptureTime | None:
    """Read ``YYYY:MM:DD HH:MM:SS`` with SubSec digits and an offset ``+HH:MM`` (EXIF 2.31)."""
    match = _EXIF.match(text.strip(" \0"))
    return _capture(match.groups(), fraction, offset) if match else None


def parse_xmp_time(text: str) -> CaptureTime | None:
    """Read an ISO 8601 date with time, as XMP writes it; a date without a time gives None."""
    match = _XMP.match(text.strip())
    if match is None:
        return None
    *parts, fraction, offset = match.groups()
    return _capture(tuple(parts), fraction or "", offset or "")


def parse_iptc_time(date: str, time: str) -> CaptureTime | None:
    """Read IPTC's Date Created ``YYYYMMDD`` and Time Created ``HHMMSS±HHMM``."""
    if not (re.fullmatch(r"\d{8}", date) and re.match(r"\d{6}", time)):
        return None
    parts = (date[:4], date[4:6], date[6:], time[:2], time[2:4], time[4:6])
    return _capture(parts, "", time[6:])


def parse_name_time(name: str) -> CaptureTime | None:
    """Read a moment out of a file name, only where it is a full time stamp.

    Names that begin with ``PXL_`` count in UTC (the telephones that write them say so).
    """
    stem = PurePath(name).stem
    match = _NAME.search(stem)
    if match is None:
        return None
    year, _, month, day, hour, _, minute, second, fraction = match.groups()
    offset = "+00:00" if stem.startswith("PXL_") else ""
    return _capture((year, month, day, hour, minute, second), fraction or "", offset)


def parse_offset(text: str) -> int | None:
    """Read ``+HH:MM``, ``+HHMM`` or ``Z`` as minutes east of UTC; None outside ±14 hours."""
    text = text.strip(" \0")
    if text == "Z":
        return 0
    match = _OFFSET.match(text)
    if match is None:
        return None
    minutes = int(match[2]) * 60 + int(match[3])
    if minutes > 14 * 60 or int(match[3]) > 59:
        return None
    return -minutes if match[1] == "-" else minutes


def _capture(parts: tuple[str | None, ...], fraction: str, offset: str) -> CaptureTime | None:
    year, month, day, hour, minute, second = (int(p or 0) for p in parts)
    digits = re.match(r"\d+", fraction.strip(" \0"))
    micro = int(digits[0][:6].ljust(6, "0")) if digits else 0
    if year < _EARLIEST_YEAR:
        return None
    try:
        local = datetime(year, month, day, hour, minute, second, micro)
    except ValueError:
        return None
    return CaptureTime(local, parse_offset(offset))

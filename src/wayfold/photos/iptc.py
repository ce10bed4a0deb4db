"""IPTC-IIM records: the caption and the date of creation, in the right character set."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from wayfold.photos.model import CaptureTime
from wayfold.photos.moments import parse_iptc_time

# Record and data set numbers of IIM 4.2.
_CHARSET, _DATE, _TIME, _CAPTION = (1, 90), (2, 55), (2, 60), (2, 120)
_UTF8 = b"\x1b%G"  # ISO 2022 escape that announces UTF-8


@dataclass(frozen=True, slots=True)
class IptcData:
    """What of the records is of use here."""

    caption: str | None = None
    taken: CaptureTime | None = None


def read_iptc(records: Mapping[tuple[int, int], Any]) -> IptcData:
    """Give caption and date of IPTC records as Pillow lists them."""
    announced = _UTF8 in _first(records, _CHARSET)
    caption = _decode(_first(records, _CAPTION), announced).strip(" \0\r\n\t")
    date, time = (_first(records, key).decode("latin-1") for key in (_DATE, _TIME))
    return IptcData(caption or None, parse_iptc_time(date, time))


def _first(records: Mapping[tuple[int, int], Any], key: tuple[int, int]) -> bytes:
    value = records.get(key, b"")
    if isinstance(value, list):
        value = value[0] if value else b""
    return value if isinstance(value, bytes) else b""


def _decode(data: bytes, announced_utf8: bool) -> str:
    if announced_utf8:
        return data.decode("utf-8", "replace")
    # Most programs write UTF-8 without saying so; what is valid UTF-8 is hardly ever chance.
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        return data.decode("cp1252", "replace")

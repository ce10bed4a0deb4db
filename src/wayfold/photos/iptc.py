"""IPTC-IIM records: caption, date of creation, maker and rights, in the right character set."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from wayfold.photos.model import CaptureTime
from wayfold.photos.moments import parse_iptc_time

# Record and data set numbers of IIM 4.2.
_CHARSET, _DATE, _TIME, _CAPTION = (1, 90), (2, 55), (2, 60), (2, 120)
_BY_LINE, _COPYRIGHT = (2, 80), (2, 116)
_UTF8 = b"\x1b%G"  # ISO 2022 escape that announces UTF-8


@dataclass(frozen=True, slots=True)
class IptcData:
    """What of the records is of use here."""

    caption: str | None = None
    taken: CaptureTime | None = None
    by_line: str = ""
    copyright: str = ""


def read_iptc(records: Mapping[tuple[int, int], Any]) -> IptcData:
    """Give what of IPTC records is of use here, as Pillow lists them."""
    announced = _UTF8 in _first(records, _CHARSET)
    caption, by_line, rights = (
        _decode(_first(records, key), announced).strip(" \0\r\n\t")
        for key in (_CAPTION, _BY_LINE, _COPYRIGHT)
    )
    date, time = (_first(records, key).decode("latin-1") for key in (_DATE, _TIME))
    return IptcData(caption or None, parse_iptc_time(date, time), by_line, rights)


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

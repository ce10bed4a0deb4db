"""Whether a JPEG file goes on to its end, by its markers alone (ITU-T T.81, annex B)."""

from __future__ import annotations

import re
from pathlib import Path

_PREFIX, _END, _SCAN = 0xFF, 0xD9, 0xDA
_MARKER_BYTES = _LENGTH_BYTES = 2
_FIRST_BARE, _LAST_BARE = 0xD0, 0xD8  # restart and start markers have no length (B.1.1.3)
# In a scan's data 0xFF stands before a zero, a restart marker or another 0xFF; else it ends there.
_SCAN_END = re.compile(rb"\xff[^\x00\xd0-\xd7\xff]")


def has_whole_scans(path: str) -> bool:
    """Whether every segment and scan of the first picture in the file is followed by another.

    The decoder asks the same of the file, after ten times the work: a file that ends, or is
    filled with zeros, before its end marker is cut. False also where the markers make no sense.
    Raises OSError.
    """
    data = Path(path).read_bytes()
    at, scans = 0, 0
    while at + _MARKER_BYTES <= len(data):
        if data[at] != _PREFIX:
            return False
        marker = data[at + 1]
        if marker == _END:
            return scans > 0
        if marker == _PREFIX:  # a fill byte (B.1.1.2)
            at += 1
            continue
        at += _MARKER_BYTES
        if _FIRST_BARE <= marker <= _LAST_BARE:
            continue
        length = int.from_bytes(data[at : at + _LENGTH_BYTES], "big")
        if length < _LENGTH_BYTES:
            return False
        at += length
        if marker == _SCAN:
            scans += 1
            end = _SCAN_END.search(data, at)
            if end is None:
                return False
            at = end.start()
    return False

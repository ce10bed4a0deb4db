"""How many signs a font file claims to have, counted before anything reads them.

Whoever reads a font's table "cmap" lists every sign that it names. A damaged one can name four
thousand million of them in twelve bytes; the typesetter would end for want of memory, and the desk
with it.
"""

from __future__ import annotations

import struct
from collections.abc import Iterator

MOST = 1 << 24
"""Far more than Unicode has room for (0x110000), in tables for several systems at once."""
COLLECTION, SFNT_ENTRY, RECORD = b"ttcf", 16, 8
SEGMENTS, GROUPS = 4, (8, 12, 13)
"""Formats of subtables that name signs from one to another (ISO/IEC 14496-22, table "cmap")."""


def claims_too_much(font: bytes) -> bool:
    """Whether the tables of a font file, or collection, name more signs than there can be."""
    total = 0
    for at in _list_subtables(font):
        total += _count_signs(font, at)
        if total > MOST:
            return True
    return False


def _list_subtables(font: bytes) -> Iterator[int]:
    """Give where the subtables of "cmap" begin, in every font of the file."""
    starts = [0]
    if font[:4] == COLLECTION:
        count = _read(font, 8, ">I")
        starts = [_read(font, 12 + 4 * n, ">I") for n in range(min(count, len(font) // 4))]
    for start in starts:
        for n in range(_read(font, start + 4, ">H")):
            entry = start + 12 + SFNT_ENTRY * n
            if font[entry : entry + 4] == b"cmap":
                table = _read(font, entry + 8, ">I")
                for record in range(_read(font, table + 2, ">H")):
                    yield table + _read(font, table + 4 + RECORD * record + 4, ">I")


def _count_signs(font: bytes, at: int) -> int:
    kind = _read(font, at, ">H")
    if kind == SEGMENTS:
        count = _read(font, at + 6, ">H") // 2
        ends, begins = (_read_all(font, at + 14 + n, count, "H") for n in (0, 2 + 2 * count))
        return sum(max(0, end - begin + 1) for end, begin in zip(ends, begins, strict=False))
    if kind in GROUPS:
        first = at + 12 + (8192 if kind == GROUPS[0] else 0)
        numbers = _read_all(font, first + 4, 3 * _read(font, first, ">I"), "I")
        pairs = zip(numbers[::3], numbers[1::3], strict=False)
        return sum(max(0, end - begin + 1) for begin, end in pairs)
    return 0  # the others name no more than their own length, or the signs of two bytes


def _read(font: bytes, at: int, form: str) -> int:
    """Give a number; 0 where the file ends before it."""
    if at < 0 or at + struct.calcsize(form) > len(font):
        return 0
    return int(struct.unpack_from(form, font, at)[0])


def _read_all(font: bytes, at: int, count: int, kind: str) -> tuple[int, ...]:
    """Give so many numbers, or as many as there are in the file."""
    size = struct.calcsize(kind)
    there = font[at : at + count * size]
    whole = len(there) // size
    return struct.unpack(f">{whole}{kind}", there[: whole * size])

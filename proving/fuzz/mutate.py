"""Spoiling bytes and texts: what disks, networks, other programs and bad people do to files."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from random import Random

SIZES = (0, 1, 2, 0x7F, 0x80, 0xFF, 0x7FFF, 0x8000, 0xFFFF, 0x7FFFFFFF, 0x80000000, 0xFFFFFFFF)
NUMBERS = (
    "0", "-0", "-1", "1e308", "1e999", "-1e999", "nan", "inf", "-inf", "0x7fffffff", "1_000",
    "2147483648", "9223372036854775808", "-9223372036854775809", "9" * 400, "9" * 5000,
    "0x" + "f" * 4000, "1e-320", "٣", "½", "1,5", "0000-00-00", "9999-12-31", "0001-01-01",
    "2025-02-30", "24:00:00", "true", "[]", "{}", '""', "1979-05-27T07:32:00Z",
)  # fmt: skip
STRINGS = (
    "", " ", "\0", "\x1b[31m", "\ufeff", "\u202e", "\u2028", "\ud7ff", "\U0010ffff", "a" * 20_000,
    "../../../../etc/passwd", "/etc/passwd", "C:\\con", "con.gpx", ".", "..", "~", "%s%n", "{0}",
    "#let x = 1", '#include "/etc/passwd"', "<script>", "&lt;&#0;", "]]>", "<!ENTITY a 'b'>",
    "$(id)", "\r", "\r\n\r\n", "é", "e\u0301" * 300, "\U0001f469\u200d\U0001f467" * 40, "\u05e9",
    "\u200b", "'", '"', "\\", "\\u0000", "[" * 3000, "{" * 3000, "<a>" * 3000, "(" * 3000,
    "> " * 3000, "*" * 3000, "[^1]: [^1]", "\t" * 500,
)  # fmt: skip
MOST_LONG = 2_000_000
"""A case does not grow longer than about so much by repeating a line of it."""
_NUMBER = re.compile(r"-?\d[\d_.:T+eE-]*")
_WORD = re.compile(r'"[^"\n]*"|[A-Za-z_]{3,}')


def spoil(data: bytes, rng: Random, others: Sequence[bytes] = (), head: bool = False) -> bytes:
    """Give ``data`` with one to eight wounds; with ``head`` most of them near its beginning."""
    work = bytearray(data)
    for _ in range(rng.choice((1, 1, 1, 2, 2, 4, 8))):
        wound = rng.choice(_WOUNDS)
        work = wound(work, _pick(work, rng, head), rng)
        if others and rng.random() < 0.03:
            other = rng.choice(others)
            at = _pick(work, rng, head)
            work = work[:at] + bytearray(other[rng.randrange(len(other) + 1) :])
    return bytes(work)


def spoil_text(text: str, rng: Random) -> bytes:
    """Give a text with figures, words and lines changed for what nobody expects; seldom bytes."""
    for _ in range(rng.choice((1, 1, 1, 2, 2, 4))):
        text = rng.choice(_EDITS)(text, rng)
    data = text.encode("utf-8", "surrogatepass")
    if rng.random() < 0.15:
        return spoil(data, rng)
    if rng.random() < 0.03:
        return text.encode(rng.choice(("utf-16", "utf-8-sig", "cp1252")), "replace")
    return data


def hostile_string(rng: Random) -> str:
    """Give words that nobody expects."""
    return rng.choice(STRINGS)


def _pick(work: bytearray, rng: Random, head: bool) -> int:
    most = len(work)
    if head and rng.random() < 0.7:
        most = min(most, 2 ** rng.randint(3, 12))
    return rng.randrange(most + 1)


def _flip(work: bytearray, at: int, rng: Random) -> bytearray:
    if at < len(work):
        work[at] ^= 1 << rng.randrange(8)
    return work


def _overwrite(work: bytearray, at: int, rng: Random) -> bytearray:
    long = rng.choice((1, 1, 2, 4, 16, 64))
    work[at : at + long] = rng.randbytes(long)
    return work


def _resize(work: bytearray, at: int, rng: Random) -> bytearray:
    long = rng.choice((1, 2, 2, 4, 4, 8))
    value = rng.choice(SIZES) & ((1 << (8 * long)) - 1)
    work[at : at + long] = value.to_bytes(long, rng.choice(("big", "little")))
    return work


def _cut_out(work: bytearray, at: int, rng: Random) -> bytearray:
    del work[at : at + 2 ** rng.randint(0, 10)]
    return work


def _double(work: bytearray, at: int, rng: Random) -> bytearray:
    piece = work[at : at + 2 ** rng.randint(0, 10)]
    work[at:at] = piece * rng.choice((1, 1, 2, 50))
    return work


def _insert(work: bytearray, at: int, rng: Random) -> bytearray:
    work[at:at] = rng.randbytes(2 ** rng.randint(0, 8))
    return work


def _blank(work: bytearray, at: int, rng: Random) -> bytearray:
    long = len(work[at : at + 2 ** rng.randint(0, 12)])
    work[at : at + long] = bytes([rng.choice((0, 255, 32))]) * long
    return work


def _truncate(work: bytearray, at: int, _rng: Random) -> bytearray:
    return work[:at]


def _exchange(work: bytearray, at: int, rng: Random) -> bytearray:
    long, other = 2 ** rng.randint(1, 10), rng.randrange(len(work) + 1)
    one, two = work[at : at + long], work[other : other + long]
    work[at : at + long], work[other : other + long] = two, one
    return work


_WOUNDS: tuple[Callable[[bytearray, int, Random], bytearray], ...] = (
    _flip, _flip, _overwrite, _resize, _resize, _cut_out, _double, _insert, _blank, _truncate,
    _exchange,
)  # fmt: skip


def _replace_found(text: str, pattern: re.Pattern[str], new: str, rng: Random) -> str:
    found = list(pattern.finditer(text))
    if not found:
        return text + new
    one = rng.choice(found)
    return text[: one.start()] + new + text[one.end() :]


def _change_number(text: str, rng: Random) -> str:
    return _replace_found(text, _NUMBER, rng.choice(NUMBERS), rng)


def _change_word(text: str, rng: Random) -> str:
    new = rng.choice((*STRINGS, *NUMBERS))
    return _replace_found(text, _WORD, rng.choice((f'"{new}"', new)), rng)


def _borrow_word(text: str, rng: Random) -> str:
    words = _WORD.findall(text) or ["x"]
    return _replace_found(text, _WORD, rng.choice(words), rng)


def _put_in(text: str, rng: Random) -> str:
    at = rng.randrange(len(text) + 1)
    return text[:at] + hostile_string(rng) + text[at:]


def _move_lines(text: str, rng: Random) -> str:
    lines = text.splitlines(keepends=True) or [""]
    at, other = rng.randrange(len(lines)), rng.randrange(len(lines))
    match rng.randrange(4):
        case 0:
            lines.insert(other, lines[at])
        case 1:
            del lines[at]
        case 2:
            lines[at], lines[other] = lines[other], lines[at]
        case _:
            lines[at:at] = [lines[at]] * min(
                rng.choice((2, 2, 20, 300)), MOST_LONG // (len(lines[at]) + 1)
            )
    return "".join(lines)


def _cut_text(text: str, rng: Random) -> str:
    at = rng.randrange(len(text) + 1)
    return text[:at] if rng.random() < 0.5 else text[:at] + text[at + rng.randrange(1, 40) :]


_EDITS: tuple[Callable[[str, Random], str], ...] = (
    _change_number, _change_number, _change_number, _change_word, _change_word, _borrow_word,
    _put_in, _move_lines, _move_lines, _cut_text,
)  # fmt: skip

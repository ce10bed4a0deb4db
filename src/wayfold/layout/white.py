"""White between pictures: which of it is wide open, in how many pieces, and what is shut in."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class White:
    """Open white in cells: the largest piece, and all pieces that no edge of the field meets."""

    largest: int
    trapped: int


def measure_white(
    columns: int, rows: int, covered: Iterable[tuple[int, int, int, int]], least: int
) -> White:
    """Measure the white of a field of cells, open where a square of ``least`` cells fits.

    ``covered`` gives left, upper, right and lower lines of what lies there, within the field.
    """
    # The field is one number: a bit a cell, row by row, and one column more that is always 0, so
    # that nothing runs over from row to row.
    step, row = columns + 1, (1 << columns) - 1
    every = sum(1 << (y * step) for y in range(rows))
    free = row * every
    for left, top, right, bottom in covered:
        band = (1 << right) - (1 << left)
        free &= ~(
            band * ((every >> (top * step) & (1 << ((bottom - top) * step)) - 1) << top * step)
        )
    opened = free
    for shift in (1, step):
        opened = _all_of(opened, shift, least)
    for shift in (1, step):
        opened = _any_of(opened, shift, least)
    edge = row | row << ((rows - 1) * step) | (1 | 1 << (columns - 1)) * every
    largest = trapped = 0
    while opened:
        piece = _flood(opened & -opened, opened, step, max(columns, rows))
        opened &= ~piece
        size = piece.bit_count()
        largest = max(largest, size)
        if not piece & edge:
            trapped += size
    return White(largest, trapped)


def _all_of(bits: int, shift: int, least: int) -> int:
    """Keep the bits that ``least`` - 1 others follow, each ``shift`` on."""
    kept = bits
    for i in range(1, least):
        kept &= bits >> (i * shift)
    return kept


def _any_of(bits: int, shift: int, least: int) -> int:
    """Add ``least`` - 1 bits behind each, each ``shift`` on."""
    grown = bits
    for i in range(1, least):
        grown |= bits << (i * shift)
    return grown


def _flood(piece: int, within: int, step: int, most: int) -> int:
    """Give all that hangs together with ``piece``; nothing is over ``most`` cells wide or high."""
    while True:
        grown = piece
        for shift in (1, step):
            grown = _run_on(grown, within, shift, most)
        if grown == piece:
            return piece
        piece = grown


def _run_on(piece: int, within: int, shift: int, most: int) -> int:
    """Go on from ``piece`` both ways while there is ground, in steps twice as long each time."""
    ahead = back = within
    while most > 0:
        piece |= ahead & (piece << shift) | back & (piece >> shift)
        ahead &= ahead << shift
        back &= back >> shift
        shift, most = 2 * shift, most // 2
    return piece

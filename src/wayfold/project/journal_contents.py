"""What files once held, kept by content: a whole file, or as what was written in another's place.

An edit changes a few lines of a file that may hold thousands of tables, so of most contents only
those lines are kept, with the note of the change. Now and then a content is kept whole, so that
none is far from one that is.
"""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import accumulate
from operator import index
from pathlib import Path
from typing import Any

from wayfold.base.errors import UserError
from wayfold.base.hashing import hash_bytes
from wayfold.disk.placing import write_whole

MOST_STEPS = 100
"""So many steps a content may be from one that is kept whole."""
PORTION = 1 << 16
"""So many bytes are compared at once."""
AT_HAND = 8
"""So many contents are kept in memory: an edit changes what the one before it wrote."""
LEAST_SAVED = 2
"""What would be written instead has to be so many times smaller than the whole."""
LINE, BREAK = b"\n", b"\n\n"
"""Between the pieces of a file that change one by one, as the tables of photographs."""

Piece = tuple[int, int, str]
"""Bytes from here to there, and what stands in their place."""


@dataclass(frozen=True, slots=True)
class Rewriting:
    """A content as what to write in another one's place; pieces in order, apart from each other."""

    of: str
    pieces: tuple[Piece, ...]

    def apply(self, base: bytes) -> bytes:
        """Give the content, of the other one's bytes."""
        parts, at = [], 0
        for start, end, text in self.pieces:
            parts += [base[at:start], text.encode()]
            at = end
        return b"".join([*parts, base[at:]])

    def describe(self) -> dict[str, Any]:
        """Give it as plain values."""
        return {"of": self.of, "pieces": [list(piece) for piece in self.pieces]}

    @staticmethod
    def read(described: Any) -> Rewriting:
        """Read what ``describe`` gave. Raises ValueError, TypeError, KeyError for anything else."""
        # Whole numbers as they are: others cannot be meant, and JSON's 1e999 reads as infinity.
        pieces = tuple((index(s), index(e), str(t)) for s, e, t in described["pieces"])
        return Rewriting(str(described["of"]), pieces)


class KeptContents:
    """The contents that were kept in a folder, and those that the notes of changes tell of."""

    def __init__(self, folder: Path) -> None:
        """Look for whole contents in ``folder``."""
        self._folder = folder
        self._rewritings: dict[str, Rewriting] = {}
        self._steps: dict[str, int] = {}
        self._at_hand: dict[str, bytes] = {}

    def learn(self, told: dict[str, Rewriting]) -> None:
        """Learn of contents that the note of a change tells of, by their identities."""
        for identity, rewriting in told.items():
            self._rewritings[identity] = rewriting
            self._steps[identity] = self._steps.get(rewriting.of, 0) + 1

    def holds(self, identity: str) -> bool:
        """Whether a content can be read."""
        return identity in self._rewritings or self._whole(identity).is_file()

    def keep(self, identity: str, data: bytes, before: str | None) -> Rewriting | None:
        """Keep ``data`` whole; or give how it is to be noted, as what to write into ``before``."""
        rewriting = None
        if before is not None and self._steps.get(before, 0) < MOST_STEPS:
            with contextlib.suppress(UserError):  # then this one is kept whole
                rewriting = _rewrite(before, self.read(before), data)
        if rewriting is None:
            write_whole(self._whole(identity), data)
        self._lay_at_hand(identity, data)
        return rewriting

    def read(self, identity: str) -> bytes:
        """Give a content. Raises UserError for one that is not kept whole any more."""
        known = self._at_hand.get(identity)
        if known is not None:
            return known
        steps: list[Rewriting] = []
        at = identity
        while at in self._rewritings and not self._whole(at).is_file():
            if len(steps) > len(self._rewritings):
                break  # they go round: what comes out is not what was asked for
            steps.append(self._rewritings[at])
            at = steps[-1].of
        whole = self._whole(at)
        data = whole.read_bytes() if whole.is_file() else b""
        for rewriting in reversed(steps):
            data = rewriting.apply(data)
        if hash_bytes(data) != identity:
            raise UserError(
                "What a file held earlier is not there any more.",
                where=str(whole),
                remedy="The book as it is now is not touched by that; only this one step back "
                "cannot be gone.",
            )
        self._lay_at_hand(identity, data)
        return data

    def _lay_at_hand(self, identity: str, data: bytes) -> None:
        self._at_hand[identity] = data
        for oldest in list(self._at_hand)[:-AT_HAND]:
            self._at_hand.pop(oldest, None)

    def _whole(self, identity: str) -> Path:
        return self._folder / identity


def _rewrite(of: str, base: bytes, data: bytes) -> Rewriting | None:
    """Give ``data`` as a rewriting of ``base``; None where that is not worth it, or is no text."""
    try:
        pieces = tuple((start, end, text.decode()) for start, end, text in _compare(base, data))
    except UnicodeDecodeError:
        return None
    written = sum(len(text) for _, _, text in pieces)
    return Rewriting(of, pieces) if LEAST_SAVED * written <= len(data) else None


def _compare(base: bytes, data: bytes) -> Iterator[tuple[int, int, bytes]]:
    """Give the lines of ``base`` that are others in ``data``, and what stands there instead.

    As many pieces as before: those that are the same stay, however many lie between.
    """
    start, end = _find_same_ends(base, data, BREAK)
    was, became = base[start : len(base) - end], data[start : len(data) - end]
    old, new = was.split(BREAK), became.split(BREAK)
    if len(old) != len(new):
        old, new = [was], [became]
    starts = accumulate((len(piece) + len(BREAK) for piece in old), initial=start)
    for at, piece, other in zip(starts, old, new, strict=False):
        if piece != other:
            first, last = _find_same_ends(piece, other, LINE)
            yield at + first, at + len(piece) - last, other[first : len(other) - last]


def _find_same_ends(base: bytes, data: bytes, mark: bytes) -> tuple[int, int]:
    """Give how many bytes two contents share at the beginning, to a mark, and from one at the end.

    Both marks are among the bytes that are shared.
    """
    one, other, most = len(base), len(data), min(len(base), len(data))
    start = _count_same(lambda a, b: base[a:b] == data[a:b], most)
    begun = base.rfind(mark, 0, start)
    start = 0 if begun < 0 else begun + len(mark)
    end = _count_same(
        lambda a, b: base[one - b : one - a] == data[other - b : other - a], most - start
    )
    ended = base.find(mark, one - end)
    return start, 0 if ended < 0 else one - ended


def _count_same(is_same: Callable[[int, int], bool], most: int) -> int:
    """Give how many of ``most`` bytes are the same; it is asked from which to which."""
    low = 0
    while low < most and is_same(low, min(low + PORTION, most)):
        low = min(low + PORTION, most)
    high = min(low + PORTION, most)
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if is_same(low, middle) else (low, middle - 1)
    return low

"""A file that is not there: bytes in memory and files on disk, read as one after another."""

from __future__ import annotations

import bisect
import io
from collections.abc import Sequence
from pathlib import Path

Part = bytes | tuple[Path, int]
"""Bytes, or a file and its length."""


class JoinedParts(io.RawIOBase):
    """Reads parts as one file. A file on disk is open only while something of it is read.

    Raises OSError when a file has grown shorter since its length was taken.
    """

    def __init__(self, parts: Sequence[Part]) -> None:
        self._parts = tuple(parts)
        self._starts: list[int] = []
        end = 0
        for part in self._parts:
            self._starts.append(end)
            end += len(part) if isinstance(part, bytes) else part[1]
        self._end = end
        self._at = 0

    def readable(self) -> bool:
        """Always."""
        return True

    def seekable(self) -> bool:
        """Always."""
        return True

    def tell(self) -> int:
        """Where the next read begins."""
        return self._at

    def seek(self, offset: int, whence: int = io.SEEK_SET) -> int:
        """Go to ``offset`` from the start, from here or from the end."""
        base = {io.SEEK_SET: 0, io.SEEK_CUR: self._at, io.SEEK_END: self._end}[whence]
        self._at = max(0, base + offset)
        return self._at

    def readinto(self, buffer: bytearray | memoryview) -> int:  # type: ignore[override]
        """Fill ``buffer`` as far as the part at hand goes."""
        if self._at >= self._end or len(buffer) == 0:
            return 0
        # The last part that starts here or before: parts of no length share a start with the next.
        index = bisect.bisect_right(self._starts, self._at) - 1
        part, inside = self._parts[index], self._at - self._starts[index]
        if isinstance(part, bytes):
            data = part[inside : inside + len(buffer)]
        else:
            path, length = part
            data = _read_range(path, inside, min(len(buffer), length - inside))
        buffer[: len(data)] = data
        self._at += len(data)
        return len(data)


def _read_range(path: Path, start: int, length: int) -> bytes:
    with path.open("rb", buffering=0) as file:
        file.seek(start)
        data = file.read(length)
    if not data:
        raise OSError(f"{path} is shorter than it was")
    return data

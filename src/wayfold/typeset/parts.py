"""Files for a PDF library that does not bear errors: what goes wrong is kept and told after."""

from __future__ import annotations

import bisect
import io
from collections.abc import Sequence
from pathlib import Path

Part = bytes | tuple[Path, int]
"""Bytes, or a file and its length."""


class JoinedParts(io.RawIOBase):
    """Reads bytes in memory and files on disk as one file; none stays open between reads.

    ``failure`` is the first file that could not be read, and why: qpdf takes an error while it
    copies a stream for a damaged PDF, and goes on with an empty one.
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
        self.failure: tuple[Path, str] | None = None

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
        """Fill ``buffer`` across parts: qpdf takes less than it asked for to be the file's end."""
        filled = 0
        while filled < len(buffer) and self._at < self._end:
            data = self._read_part(len(buffer) - filled)
            buffer[filled : filled + len(data)] = data
            filled += len(data)
            self._at += len(data)
        return filled

    def _read_part(self, most: int) -> bytes:
        """Read at most so many bytes of the part at hand."""
        # The last part that starts here or before: parts of no length share a start with the next.
        index = bisect.bisect_right(self._starts, self._at) - 1
        part, inside = self._parts[index], self._at - self._starts[index]
        if isinstance(part, bytes):
            return part[inside : inside + most]
        path, length = part
        return self._read_file(path, inside, min(most, length - inside))

    def _read_file(self, path: Path, start: int, length: int) -> bytes:
        try:
            with path.open("rb", buffering=0) as file:
                file.seek(start)
                data = file.read(length)
            if not data:
                raise OSError("it has become shorter")
        except OSError as error:
            self.failure = self.failure or (path, error.strerror or str(error))
            raise
        return data


class PatientSink(io.RawIOBase):
    """Writes to a file; after a failure it takes everything and writes nothing.

    ``failure`` is the first error. An error raised while qpdf writes (a full disk) would end the
    whole process.
    """

    def __init__(self, file: io.BufferedWriter) -> None:
        self._file = file
        self._at = 0
        self.failure: OSError | None = None

    def writable(self) -> bool:
        """Always."""
        return True

    def seekable(self) -> bool:
        """Never: a PDF is written from its head to its end."""
        return False

    def tell(self) -> int:
        """How much was taken."""
        return self._at

    def write(self, data: bytes | bytearray | memoryview) -> int:  # type: ignore[override]
        """Write all of ``data``, or keep why not."""
        if self.failure is None:
            try:
                self._file.write(data)
            except OSError as error:
                self.failure = error
        self._at += len(data)
        return len(data)

    def finish(self) -> None:
        """Bring everything to the disk. Raises the OSError that was kept."""
        if self.failure is not None:
            raise self.failure
        self._file.flush()

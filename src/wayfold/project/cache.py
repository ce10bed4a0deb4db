"""The cache beside a book: files named by content. Deleting it costs time and nothing else."""

from __future__ import annotations

import contextlib
import os
import stat
import zlib
from collections.abc import Mapping
from functools import cached_property
from pathlib import Path

from wayfold.disk.placing import write_passing, write_whole

KEY_LONG, SUM_LONG = 32, 10
"""Bytes of a record's key, and of its check sum with a space on either side."""
MOST_NUMBERS = 60_000
"""A list of numbers that has grown longer begins anew."""
EDITIONS_KEPT = 2
"""Records of so many editions lie side by side: who goes back to one finds it as it was."""


class DiskCache:
    """Records and files by key, in one folder a stage.

    A record carries a check sum: one that a disk spoilt, or that was written over, counts as not
    kept. Files are as other programs want them, and carry none.
    """

    def __init__(self, root: Path, stage: str, suffix: str = "") -> None:
        """Keep the stage's files under ``root / stage``; ``suffix`` ends their names."""
        self._folder = root / stage
        self._suffix = suffix
        self._made: set[str] = set()

    def path(self, key: str) -> Path:
        """Where ``key``'s file lies or will lie; its folder is made."""
        folder = self._folder / key[:2]
        if key[:2] not in self._made:
            folder.mkdir(parents=True, exist_ok=True)
            self._made.add(key[:2])
        return folder / f"{key}{self._suffix}"

    def has(self, key: str) -> bool:
        """Whether something is kept under ``key``; a link is not what was kept."""
        try:
            found = (self._folder / key[:2] / f"{key}{self._suffix}").lstat()
        except OSError:
            return False
        return stat.S_ISREG(found.st_mode)

    def get(self, key: str) -> bytes | None:
        """What was put under ``key``, or None; a link is not what was kept."""
        kept = self.get_file(key)
        if kept is None:
            return None
        data = kept[SUM_LONG:]
        return data if kept[:SUM_LONG] == _sum_up(data) else None

    def get_file(self, key: str) -> bytes | None:
        """What the file at ``path(key)`` holds, or None; a link is not what was kept."""
        path = self._folder / key[:2] / f"{key}{self._suffix}"
        try:
            with open(path, "rb", opener=_open_no_link) as file:
                return file.read()
        except OSError:
            return None

    def put(self, key: str, data: bytes) -> None:
        """Keep ``data`` under ``key``."""
        # One that is torn tells so by its sum, so there is no waiting for the disk.
        write_passing(self.path(key), _sum_up(data) + data)

    def put_file(self, key: str, data: bytes) -> None:
        """Write ``data`` as the file at ``path(key)``."""
        write_whole(self.path(key), data, lasting=False)


def _open_no_link(path: str, flags: int) -> int:
    return os.open(path, flags | getattr(os, "O_NOFOLLOW", 0))


class RecordCache:
    """Small records by key, thousands in one file, which is read at once; keys as `hash_values`.

    One that a power cut tore, or that was written over, counts as not kept. ``edition`` names what
    made the records: those of other editions are never given, and all but the last are let go.
    """

    def __init__(self, root: Path, stage: str, edition: str = "all") -> None:
        """Keep the stage's records under ``root / stage``."""
        self._file = root / stage / f"{edition}.records"

    @cached_property
    def _lines(self) -> dict[bytes, bytes]:
        try:
            data = self._file.read_bytes()
        except OSError:
            return {}
        return {line[:KEY_LONG]: line for line in data.split(b"\n")}

    def get(self, key: str) -> bytes | None:
        """What is kept under ``key``, or None."""
        line = self._lines.get(key.encode())
        if line is None:
            return None
        data = line[KEY_LONG + SUM_LONG :]
        return data if line[KEY_LONG : KEY_LONG + SUM_LONG] == _sum_up(data) else None

    def put(self, key: str, data: bytes) -> None:
        """Keep ``data``, which is of one line, under ``key``."""
        self.put_all({key: data})

    def put_all(self, records: Mapping[str, bytes]) -> None:
        """Keep ``records`` by their keys; where the disk refuses, for as long as this lives."""
        lines = _write_lines(records)
        self._lines.update(lines)
        with contextlib.suppress(OSError):
            if not self._file.is_file():
                self._let_go()
            with self._file.open("ab") as file:
                # The line before may have been torn; begun anew, this one is whole.
                file.write(b"".join(b"\n" + line for line in lines.values()))

    def replace_all(self, records: Mapping[str, bytes]) -> None:
        """Keep ``records`` and nothing else. Raises UserError where that cannot be written."""
        lines = _write_lines(records)
        write_passing(self._file, b"\n".join(lines.values()))
        self._lines = lines

    def _let_go(self) -> None:
        """Let go of old editions."""
        folder = self._file.parent
        folder.mkdir(parents=True, exist_ok=True)
        editions = sorted(folder.glob("*.records"), key=lambda path: path.stat().st_mtime_ns)
        for path in editions[: -(EDITIONS_KEPT - 1)]:
            path.unlink(missing_ok=True)


def _write_lines(records: Mapping[str, bytes]) -> dict[bytes, bytes]:
    return {key.encode(): key.encode() + _sum_up(data) + data for key, data in records.items()}


def _sum_up(data: bytes) -> bytes:
    return b" %08x " % zlib.crc32(data)


class NumberCache:
    """Numbers by key in one file, a line each: thousands of small things, written at once.

    A line that a power cut tore is passed over.
    """

    def __init__(self, root: Path, stage: str) -> None:
        """Keep the stage's numbers under ``root / stage``."""
        self._file = root / stage / "numbers.txt"

    @cached_property
    def _known(self) -> dict[str, float]:
        try:
            text = self._file.read_text(encoding="ascii", errors="replace")
        except FileNotFoundError:
            return {}
        lines = text.split("\n")[:-1]
        if len(lines) > MOST_NUMBERS:
            self._file.unlink(missing_ok=True)
            return {}
        return dict(pair for line in lines if (pair := _read_line(line)))

    def get(self, key: str) -> float | None:
        """What is kept under ``key``, or None."""
        return self._known.get(key)

    def put(self, numbers: Mapping[str, float]) -> None:
        """Keep all of ``numbers`` by their keys; where the disk refuses, as long as this lives."""
        self._known.update(numbers)
        text = "".join(f"{key} {value!r} .\n" for key, value in numbers.items())
        with contextlib.suppress(OSError):
            self._file.parent.mkdir(parents=True, exist_ok=True)
            with self._file.open("a", encoding="ascii", newline="\n") as file:
                file.write(text)


def _read_line(line: str) -> tuple[str, float] | None:
    match line.split(" "):
        case [key, value, "."]:
            try:
                return key, float(value)
            except ValueError:
                return None
    return None

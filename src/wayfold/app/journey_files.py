"""Tracks and calendars in a book's folder: kept under names that harm nothing, taken away, back."""

from __future__ import annotations

import enum
import unicodedata
from dataclasses import dataclass
from pathlib import Path

from wayfold.base.errors import NotFoundError
from wayfold.base.hashing import hash_bytes, hash_values
from wayfold.disk.placing import write_whole
from wayfold.disk.refusals import explain_os_errors
from wayfold.project.files import BookFolder

LONGEST_NAME = 80
_ALLOWED = " -_.(),'"
_RESERVED = {"con", "prn", "aux", "nul", *(f"{d}{n}" for d in ("com", "lpt") for n in range(10))}
"""Names that some systems keep for devices."""


class FileKind(enum.StrEnum):
    """What a file tells of the journey."""

    TRACK = "track"
    CALENDAR = "calendar"

    @property
    def ending(self) -> str:
        """What its names end with."""
        return ".gpx" if self is FileKind.TRACK else ".ics"


@dataclass(frozen=True, slots=True)
class KeptFile:
    """A track or calendar of a book; ``away`` where it is kept, but does not count."""

    kind: FileKind
    path: Path
    away: bool = False

    @property
    def handle(self) -> str:
        """What tells it from the others; says nothing of the disk."""
        return hash_values(self.kind.value, self.away, self.path.as_posix())[:16]


def find_home(folder: BookFolder, kind: FileKind, *, away: bool = False) -> Path:
    """Give where files of a kind lie; ``away`` where those are kept that were taken away."""
    root = folder.private / "taken-away" if away else folder.root
    return root / ("tracks" if kind is FileKind.TRACK else "calendars")


def list_files(folder: BookFolder) -> tuple[KeptFile, ...]:
    """Give all tracks and calendars, those that were taken away last."""
    used = [KeptFile(FileKind.TRACK, path) for path in folder.list_tracks()]
    used += [KeptFile(FileKind.CALENDAR, path) for path in folder.list_calendars()]
    away = [
        KeptFile(kind, path, away=True)
        for kind in FileKind
        for path in sorted(find_home(folder, kind, away=True).glob("*"))
        if path.is_file()
    ]
    return (*used, *away)


def find_file(folder: BookFolder, handle: str) -> KeptFile:
    """Give the file of a handle. Raises NotFoundError where there is none (any more)."""
    for file in list_files(folder):
        if file.handle == handle:
            return file
    raise NotFoundError("This file is not there (any more).", remedy="Look at the list anew.")


def keep_file(folder: BookFolder, kind: FileKind, name: str, data: bytes) -> tuple[KeptFile, bool]:
    """Write a file into the book's folder, over no other; say whether it was new.

    One whose content is there already is not written again. The name is made of ``name``'s last
    part, without what means something to a disk.
    """
    folder.require()
    home = find_home(folder, kind)
    with explain_os_errors(home):
        content = hash_bytes(data)
        for file in list_files(folder):
            same = file.kind is kind and not file.away
            if same and hash_bytes(file.path.read_bytes()) == content:
                return file, False
        target = _find_free(home, clean_name(name, kind))
        write_whole(target, data)
    return KeptFile(kind, target), True


def take_away(folder: BookFolder, file: KeptFile) -> KeptFile:
    """Put a file where it is kept but does not count."""
    return _move(folder, file, away=True)


def put_back(folder: BookFolder, file: KeptFile) -> KeptFile:
    """Let a file count again that was taken away."""
    return _move(folder, file, away=False)


def _move(folder: BookFolder, file: KeptFile, *, away: bool) -> KeptFile:
    folder.require()
    home = find_home(folder, file.kind, away=away)
    with explain_os_errors(file.path):
        home.mkdir(parents=True, exist_ok=True)
        target = _find_free(home, file.path.name)
        file.path.rename(target)
    return KeptFile(file.kind, target, away)


def clean_name(name: str, kind: FileKind) -> str:
    """Give a file's name of letters, digits and little else, with the ending of its kind."""
    last = unicodedata.normalize("NFC", name).replace("\\", "/").rpartition("/")[2]
    if last.lower().endswith(kind.ending):
        last = last[: -len(kind.ending)]
    kept = "".join(c if c.isalnum() or c in _ALLOWED else " " for c in last)
    stem = " ".join(kept.split()).strip(" .-")[:LONGEST_NAME].strip(" .-")
    if not stem or stem.partition(".")[0].lower() in _RESERVED:
        stem = f"{kind.value} {stem}".strip()
    return stem + kind.ending


def _find_free(home: Path, name: str) -> Path:
    stem, _, ending = name.rpartition(".")
    target, number = home / name, 2
    while target.exists():
        target = home / f"{stem} {number}.{ending}"
        number += 1
    return target

"""Which files lie in the folders: pictures, sidecars, and how many others."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from wayfold.base.findings import Finding, Severity
from wayfold.photos.kinds import is_other_picture, kind_of_name

# What file systems, archives and network disks leave lying about.
_FOREIGN_FOLDERS = frozenset(
    ["@eadir", "#recycle", "__macosx", "$recycle.bin", "system volume information", "lost+found"]
)
_BOOK_FILE, _BOOK_OUTPUT = "book.toml", "out"


@dataclass(frozen=True, slots=True)
class FoundFile:
    """A file with a picture's ending, as it lay there when the folder was read."""

    path: str
    size: int
    mtime_ns: int


@dataclass(slots=True)
class Scan:
    """All that was found. Paths are absolute, in posix form."""

    pictures: dict[str, FoundFile] = field(default_factory=dict)
    sidecars: dict[str, str] = field(default_factory=dict)
    """Lower-case path of an XMP file -> its path."""
    unread_pictures: list[str] = field(default_factory=list)
    others: list[str] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)


def scan_folders(folders: Sequence[Path]) -> Scan:
    """Walk the folders to the bottom, links followed, no folder twice.

    Hidden files and folders and the output of a book are passed over. A folder that is not there
    or may not be read is a finding.
    """
    scan = Scan()
    visited: set[tuple[int, int]] = set()
    for folder in folders:
        _walk(os.path.normpath(folder.absolute()), scan, visited)
    return scan


def _walk(top: str, scan: Scan, visited: set[tuple[int, int]]) -> None:
    waiting = [top]
    while waiting:
        folder = waiting.pop()
        try:
            status = Path(folder).stat()
            if (status.st_dev, status.st_ino) in visited:
                continue
            visited.add((status.st_dev, status.st_ino))
            entries = sorted(_list_entries(folder), key=lambda e: e.name)
        except OSError as error:
            scan.findings.append(_judge_folder(folder, error))
            continue
        names = {entry.name for entry in entries}
        for entry in reversed(entries):
            if _is_passed_over(entry.name, names):
                continue
            try:
                if entry.is_dir():
                    waiting.append(entry.path)
                else:
                    _note_file(entry, scan)
            except OSError as error:
                scan.findings.append(_judge_entry(entry.path, error))


def _list_entries(folder: str) -> Iterator[os.DirEntry[str]]:
    with os.scandir(folder) as entries:
        yield from entries


def _is_passed_over(name: str, siblings: set[str]) -> bool:
    if name.startswith(".") or name.lower() in _FOREIGN_FOLDERS:
        return True
    # Only a book's own output: a folder of photographs may well be called "out".
    return name == _BOOK_OUTPUT and _BOOK_FILE in siblings


def _note_file(entry: os.DirEntry[str], scan: Scan) -> None:
    path = entry.path.replace(os.sep, "/")
    if not _is_text(path):
        scan.findings.append(_judge_name(path))
    elif entry.name.lower().endswith(".xmp"):
        scan.sidecars[path.lower()] = path
    elif kind_of_name(entry.name) is not None:
        status = entry.stat()
        if stat.S_ISREG(status.st_mode):  # A pipe or device would hold the reader for ever.
            scan.pictures[path] = FoundFile(path, status.st_size, status.st_mtime_ns)
        else:
            scan.others.append(path)
    elif is_other_picture(entry.name):
        scan.unread_pictures.append(path)
    else:
        scan.others.append(path)


def _is_text(path: str) -> bool:
    try:
        path.encode("utf-8")
    except UnicodeEncodeError:
        return False
    return True


def _judge_name(path: str) -> Finding:
    shown = path.encode("utf-8", "replace").decode()
    return Finding(
        "photos.name",
        Severity.WARN,
        shown,
        "The file's name is not valid text, so the book cannot refer to it.",
        "Rename the file.",
    )


def _judge_folder(folder: str, error: OSError) -> Finding:
    if isinstance(error, PermissionError):
        words, remedy = "Looking into the folder is not permitted.", "Give yourself the right to."
    elif isinstance(error, NotADirectoryError):
        words, remedy = "This is a file, not a folder.", "Name the folder that holds it."
    elif isinstance(error, FileNotFoundError):
        words = "The folder is not there."
        remedy = "Put it back (is a disk or card taken out?), or name the folder where it is now."
    else:
        words = f"The folder cannot be read: {error.strerror or error}."
        remedy = "Check the disk or card."
    shown = folder.encode("utf-8", "replace").decode()
    return Finding("photos.folder", Severity.WARN, shown, words, remedy)


def _judge_entry(path: str, error: OSError) -> Finding:
    return Finding(
        "photos.vanished",
        Severity.WARN,
        path.encode("utf-8", "replace").decode(),
        "The file is there by name only: its link leads nowhere, or it has just been removed "
        f"({error.strerror or error}).",
        "Put the file back, or take the link away.",
    )

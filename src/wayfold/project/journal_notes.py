"""The list of a book's changes as it was noted, a line each, and what follows from it."""

from __future__ import annotations

import contextlib
import enum
import json
import os
import re
import threading
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from io import FileIO
from pathlib import Path, PureWindowsPath

from wayfold.base.errors import UserError
from wayfold.disk.placing import sync_folder
from wayfold.disk.refusals import explain_os_errors
from wayfold.project.journal_contents import KeptContents, Rewriting
from wayfold.project.journal_placing import Staged

Contents = Mapping[str, str | None]
"""File name within the book's folder -> identity of its content; None where there is no file."""


class Kind(enum.StrEnum):
    """How files came to change."""

    EDIT = "edit"
    BY_HAND = "by hand"
    """Changed by something else than Wayfold, as an editor."""
    NOTED = "noted"
    """By Wayfold on its own account, as new photographs and plans are; not undone by itself."""
    UNDO = "undo"
    REDO = "redo"
    ELSEWHERE = "elsewhere"
    """Noted by another machine, of the book as it was there: told, and never undone here."""
    WITHDRAWN = "withdrawn"
    """A change taken back because no book could be made of it: as if it had never been."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One change; ``number`` counts from 1. ``of`` is the entry that is undone or redone."""

    number: int
    kind: Kind
    what: str
    at: str
    before: Contents
    after: Contents
    of: int | None = None


JOURNAL = "journal.jsonl"
VERSION, JOURNAL_VERSION = "version", 2
"""Which format a line is of: of the first are those that do not say so."""
KEPT = "kept"
"""The key of a line under which contents are told as rewritings of others."""
STAGED = "staged"
"""The key under which a line tells what waits beside its place for the line to be on the disk."""
IDENTITY = re.compile(r"[0-9a-f]{8,128}")
LONGEST_NAME = 255
"""Signs of a file's name; none of the usual file systems takes more."""
TAIL = 64
"""So many bytes are read again, to see that what was read before is still what stands there."""


class Notes:
    """All that was noted of one book. It is read as it grows: what was read once is not again.

    Threads may share it.
    """

    def __init__(self, home: Path, name: str = JOURNAL) -> None:
        """Look for the list in the folder ``home``, which need not be there."""
        self._file = home / name
        self._home = home
        self._lock = threading.RLock()
        self._forget()

    def _forget(self) -> None:
        self._stamp: tuple[int, int, int] | None = None
        self._read_to, self._tail = 0, b""
        self.contents = KeptContents(self._home / "contents")
        """What files held."""
        self._entries: list[Entry] = []
        self._by_number: dict[int, Entry] = {}
        self._known: dict[str, str | None] = {}
        self._staged: Staged = {}
        self._done: list[Entry] = []
        self._undone: list[Entry] = []

    @property
    def entries(self) -> tuple[Entry, ...]:
        """All changes, the oldest first."""
        with self._lock:
            return tuple(self._entries)

    @property
    def count(self) -> int:
        """How many changes there are."""
        return len(self._entries)

    @property
    def last(self) -> Entry | None:
        """The last change."""
        return self._entries[-1] if self._entries else None

    @property
    def known(self) -> Mapping[str, str | None]:
        """What each file held when it was last noted."""
        with self._lock:
            return dict(self._known)

    @property
    def staged(self) -> Staged:
        """What waited for its place when the last change was noted."""
        return self._staged

    @property
    def stacks(self) -> tuple[tuple[Entry, ...], tuple[Entry, ...]]:
        """What can be undone and what can be done again, the next one last."""
        with self._lock:
            return tuple(self._done), tuple(self._undone)

    def catch_up(self) -> None:
        """Read what was noted since."""
        with self._lock:
            try:
                found = self._file.stat()
            except FileNotFoundError:
                self._forget()
                return
            stamp = (found.st_ino, found.st_size, found.st_mtime_ns)
            if stamp == self._stamp:
                return
            try:
                if not self._read_on():
                    self._forget()
                    self._read_on()
            except UserError:
                self._forget()  # what was taken in of it would be taken in again
                raise
            self._stamp = stamp

    def _read_on(self) -> bool:
        """Read from where it was read to; whether what was read before still stands there."""
        with self._file.open("rb") as file:
            file.seek(self._read_to - len(self._tail))
            data = file.read()
        if not data.startswith(self._tail):
            return False
        fresh = data[len(self._tail) :]
        *lines, last = fresh.split(b"\n")
        for line in lines:
            self._take(line)
        # A last line without an end is torn, or about to be written to the end.
        read = len(fresh) - len(last) if not self._take(last) else len(fresh)
        self._read_to += read
        self._tail = (self._tail + fresh[:read])[-TAIL:]
        return True

    def _take(self, line: bytes) -> bool:
        """Take in the change that a line notes; whether it does: a torn one is passed over."""
        version: object = 1
        try:
            fields = json.loads(line)
            version = fields.pop(VERSION, 1)
            told = {key: Rewriting.read(one) for key, one in fields.pop(KEPT, {}).items()}
            staged = {str(name): str(part) for name, part in fields.pop(STAGED, {}).items()}
            entry = Entry(**{**fields, "kind": Kind(fields["kind"])})
            require_sound(entry, told, staged)
        except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
            self._require_known(version)
            return False
        self._require_known(version)
        self._add(entry, told)
        self._staged = staged
        return True

    def _require_known(self, version: object) -> None:
        if isinstance(version, int) and version > JOURNAL_VERSION:
            raise UserError(
                "This book's history was written by a newer Wayfold "
                f"(format {version}; this one knows {JOURNAL_VERSION}).",
                where=self._file.name,
                remedy="Update Wayfold, then open the book again. Nothing was changed.",
            )

    def _add(self, entry: Entry, told: dict[str, Rewriting]) -> None:
        self.contents.learn(told)
        self._entries.append(entry)
        self._by_number[entry.number] = entry
        if entry.kind is not Kind.ELSEWHERE:
            self._known.update(entry.after)
        if entry.kind is Kind.WITHDRAWN:
            self._done, self._undone = [], []
            for one in self._list_standing():
                self._stack(one)
        else:
            self._stack(entry)

    def _list_standing(self) -> Iterator[Entry]:
        """Give the changes but for those that were withdrawn."""
        gone = {
            number
            for entry in self._entries
            if entry.kind is Kind.WITHDRAWN
            for number in (entry.of, entry.number)
        }
        return (entry for entry in self._entries if entry.number not in gone)

    def _stack(self, entry: Entry) -> None:
        if entry.kind in (Kind.EDIT, Kind.BY_HAND):
            self._done.append(entry)
            self._undone.clear()
        elif entry.of is not None and entry.kind in (Kind.UNDO, Kind.REDO):
            turned = self._by_number.get(entry.of)
            source, target = (
                (self._done, self._undone)
                if entry.kind is Kind.UNDO
                else (self._undone, self._done)
            )
            # Of a list that a disk spoilt, lines may be lacking.
            if turned is not None and turned in source:
                source.remove(turned)
                target.append(turned)

    def append(self, entry: Entry, told: dict[str, Rewriting], staged: Staged) -> None:
        """Note a change; once this returns it outlasts a power cut. Where it raises, none is noted.

        ``staged`` waits for its place until then.
        """
        fields: dict[str, object] = {VERSION: JOURNAL_VERSION}
        fields |= {name: getattr(entry, name) for name in Entry.__dataclass_fields__}
        if told:
            fields[KEPT] = {key: one.describe() for key, one in told.items()}
        if staged:
            fields[STAGED] = dict(staged)
        line = json.dumps(fields, ensure_ascii=False).encode() + b"\n"
        with self._lock, explain_os_errors(self._file, len(line)):
            self._home.mkdir(parents=True, exist_ok=True)
            is_new = not self._file.is_file()
            # Without a buffer: what is taken back must not be written after all on closing.
            with self._file.open("a+b", buffering=0) as file:
                if is_new:
                    for folder in (self._home, *self._home.parents[:2]):
                        sync_folder(folder)
                before = file.seek(0, os.SEEK_END)
                try:
                    # A line that a power cut tore is ended here, and passed over when it is read.
                    _write_all(file, b"\n" * (not _ends_well(file)) + line)
                    os.fsync(file.fileno())
                except BaseException:
                    # Of such a line it is not sure that it is on the disk.
                    with contextlib.suppress(OSError):
                        file.truncate(before)
                    raise
        self.catch_up()


def require_sound(entry: Entry, told: Mapping[str, Rewriting], staged: Staged) -> None:
    """Raise ValueError or TypeError for a note that Wayfold never wrote, of whatever kind it is.

    A book's folder may come from elsewhere: no note leads out of it.
    """
    if type(entry.number) is not int or not (entry.of is None or type(entry.of) is int):
        raise TypeError("no number of an entry")
    if type(entry.what) is not str or type(entry.at) is not str:
        raise TypeError("no words")
    contents = [*entry.before.values(), *entry.after.values(), *told]
    contents += [one.of for one in told.values()]
    if not all(content is None or IDENTITY.fullmatch(content) for content in contents):
        raise ValueError("no identity of a content")
    for name in (*entry.before, *entry.after, *staged, *staged.values()):
        path = PureWindowsPath(name)  # takes the separators of all systems for such
        if path.anchor or ".." in path.parts or "\0" in name or not name:
            raise ValueError("no file of the book")
        name.encode()  # ValueError too, for what is no text and so no name
        if any(len(part) > LONGEST_NAME for part in path.parts):
            raise ValueError("no name that a disk takes")


def _write_all(file: FileIO, data: bytes) -> None:
    while data:
        data = data[file.write(data) :]


def _ends_well(file: FileIO) -> bool:
    """Whether a file is empty or its last line has its end."""
    if not file.seek(0, os.SEEK_END):
        return True
    file.seek(-1, os.SEEK_END)
    return file.read(1) == b"\n"


@lru_cache(maxsize=8)
def open_notes(home: Path) -> Notes:
    """Give the notes in a folder, those read before; ``catch_up`` with them."""
    return Notes(home)

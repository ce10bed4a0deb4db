"""Journals of other machines, which lie beside the book's own where both wrote one at once.

Whatever keeps two machines' folders in step lays the other's journal beside ours, under a longer
name. What it notes and ours does not is taken over, so that nothing another machine ever kept is
out of reach; then the file has done its service.
"""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from pathlib import Path

from wayfold.base.errors import UserError
from wayfold.project.journal_notes import JOURNAL, Entry, Notes


def find_other_journals(home: Path) -> tuple[Path, ...]:
    """Give the other journals in a folder, in the order of their names."""
    stem, _, ending = JOURNAL.rpartition(".")
    found = home.glob(f"{stem}?*.{ending}")
    return tuple(sorted(path for path in found if path.is_file() and not path.is_symlink()))


def list_unknown(path: Path, ours: Notes) -> Iterator[tuple[Entry, dict[str, bytes]]]:
    """Give what another journal notes and ours does not, each with the contents that ours lacks.

    Raises UserError where it was written by a newer Wayfold.
    """
    theirs = Notes(path.parent, path.name)
    theirs.catch_up()
    known = {_mark(entry) for entry in ours.entries}
    for entry in theirs.entries:
        if _mark(entry) not in known:
            yield entry, dict(_read_lacking(entry, theirs, ours))


def _mark(entry: Entry) -> tuple[object, ...]:
    """What one change is known by: numbers are given by each machine for itself."""
    return (entry.at, entry.what, *sorted(entry.after.items(), key=str))


def _read_lacking(entry: Entry, theirs: Notes, ours: Notes) -> Iterator[tuple[str, bytes]]:
    for identity in (*entry.before.values(), *entry.after.values()):
        if identity and not ours.contents.holds(identity):
            with contextlib.suppress(UserError):  # it never came here
                yield identity, theirs.contents.read(identity)

"""What was changed in a book, and back again."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from wayfold.base.errors import ConflictError, NotFoundError
from wayfold.base.mends import Mend
from wayfold.disk.placing import write_whole
from wayfold.project.files import BookFolder
from wayfold.project.journal import Journal
from wayfold.project.journal_notes import Entry, Kind

HOW = {
    Kind.UNDO: "undone: ",
    Kind.REDO: "done again: ",
    Kind.WITHDRAWN: "taken back: ",
    Kind.ELSEWHERE: "on another machine: ",
}


def undo_change(root: Path) -> Entry:
    """Put back what the last change replaced. Raises NotFoundError where there is none."""
    return _open(root).undo()


def redo_change(root: Path) -> Entry:
    """Do again what was undone last. Raises NotFoundError where there is none."""
    return _open(root).redo()


def list_changes(root: Path) -> tuple[Entry, ...]:
    """Give all changes of the book in ``root``, the oldest first, those by hand up to now too."""
    journal = _open(root)
    journal.catch_up()
    return journal.entries


def take_files_out(root: Path, number: int, into: Path) -> tuple[str, ...]:
    """Write what the files of change ``number`` held before and after it into the folder ``into``.

    They lie in its folders "before" and "after"; the book is not touched. Gives their names.
    Raises NotFoundError for a change there is none of, ConflictError where there are files already.
    """
    journal = _open(root)
    journal.catch_up()
    entry = next((one for one in journal.entries if one.number == number), None)
    if entry is None:
        raise NotFoundError(
            f"There is no change {number}.", remedy=f"List those there are: {Mend.HISTORY}."
        )
    sides = dict(zip(("before", "after"), journal.read_states(entry), strict=True))
    files = {
        into / side / name: data
        for side, held in sides.items()
        for name, data in held.items()
        if data is not None
    }
    there = next((path for path in files if path.exists()), None)
    if there is not None:
        raise ConflictError(
            "There is such a file already, and it is not written over.",
            where=str(there),
            remedy="Name another folder.",
        )
    for path, data in files.items():
        write_whole(path, data)
    return tuple(path.relative_to(into).as_posix() for path in files)


def tell_turn(entry: Entry) -> str:
    """Say what was undone or done again."""
    done = "Undone" if entry.kind is Kind.UNDO else "Done again"
    return f"{done}: {_say(entry)}. Make the book again to see it: {Mend.MAKE}"


def tell_changes(entries: tuple[Entry, ...]) -> Iterator[str]:
    """Say the changes in lines of words, the latest first."""
    for entry in reversed(entries):
        day, _, clock = entry.at.partition("T")
        yield f"{entry.number:>4}  {day} {clock[:8]}  {_say(entry)}"


def describe_changes(entries: tuple[Entry, ...]) -> dict[str, Any]:
    """Give the changes as plain values."""
    changes = [
        {
            "number": entry.number,
            "kind": entry.kind.value,
            "what": entry.what,
            "at": entry.at,
            "files": sorted(entry.after),
            "of": entry.of,
        }
        for entry in entries
    ]
    return {"changes": changes}


def _open(root: Path) -> Journal:
    folder = BookFolder(root.resolve())
    folder.require()
    return Journal(folder)


def _say(entry: Entry) -> str:
    files = f" ({', '.join(sorted(entry.after))})" if entry.after else ""
    return f"{HOW.get(entry.kind, '')}{entry.what}{files}"

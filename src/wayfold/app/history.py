"""What was changed in a book, and back again."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from wayfold.base.mends import Mend
from wayfold.project.files import BookFolder
from wayfold.project.journal import Journal
from wayfold.project.journal_notes import Entry, Kind


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
    turned = {Kind.UNDO: "undone: ", Kind.REDO: "done again: "}.get(entry.kind, "")
    return f"{turned}{entry.what}{files}"

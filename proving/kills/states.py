"""What lies in a book's folder, by its content: to tell one state from another."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from wayfold.base.hashing import hash_bytes
from wayfold.project.files import BookFolder

State = Mapping[str, str]
"""File name within the book's folder -> identity of its content."""


def look(book: BookFolder) -> State:
    """Give what the person and the printer have put into a book."""
    more = [book.ledger_file, book.private / "printed-before.lock.toml"]
    for home in (book.root / "tracks", book.calendars, book.private / "taken-away"):
        more += [path for path in home.rglob("*") if path.suffix in (".gpx", ".ics")]
    return _identify(book.root, [*book.list_decisions(), *(p for p in more if p.is_file())])


def look_made(book: BookFolder) -> State:
    """Give what was made of a book."""
    files = [p for p in book.out.rglob("*") if p.is_file() and not p.name.startswith(".")]
    return _identify(book.out, files)


def _identify(root: Path, files: list[Path]) -> State:
    return {p.relative_to(root).as_posix(): hash_bytes(p.read_bytes()) for p in sorted(files)}


def look_at_originals(book: BookFolder) -> Mapping[str, tuple[str, int, int]]:
    """Give content, time of change and permissions of the photographs."""
    found = {}
    for path in sorted((book.root / "photographs").iterdir()):
        stat = path.stat()
        found[path.name] = (hash_bytes(path.read_bytes()), stat.st_mtime_ns, stat.st_mode)
    return found


def tell_difference(now: State, states: list[State]) -> str:
    """Name the files in which a state differs from each of others."""
    return "; ".join(
        str(sorted(n for n in {*now, *state} if now.get(n) != state.get(n))) for state in states
    )

"""The print files and papers of a book, by names of our own: what the browser may open."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Literal

from wayfold.app.session import Session
from wayfold.base.errors import NotFoundError

Use = Literal["first", "sheets", "hand", "again", "bench", "reading"]
FILES: tuple[tuple[str, Use], ...] = (
    ("registration", "first"),
    ("turning", "first"),
    ("trial", "first"),
    ("proof", "first"),
    ("sheets", "sheets"),
    ("interleaves", "sheets"),
    ("fronts", "hand"),
    ("backs", "hand"),
    ("reprint", "again"),
    ("reprint-interleaves", "again"),
    ("plan", "bench"),
    ("bench", "bench"),
    ("dummy", "bench"),
    ("case", "bench"),
    ("templates", "bench"),
    ("measuring", "bench"),
    ("reading", "reading"),
    ("leaves", "reading"),
)
"""Every file that may be opened, and what one does with it, in the order of the work."""


@dataclass(frozen=True, slots=True)
class PrintFile:
    """A file that lies there: when it was made, and how large it is."""

    name: str
    use: Use
    made_at: str
    bytes: int


def list_files(session: Session) -> Iterator[PrintFile]:
    """Give the files that lie there."""
    for name, use in FILES:
        path = session.folder.out / f"{name}.pdf"
        if path.is_file():
            stat = path.stat()
            at = datetime.fromtimestamp(stat.st_mtime).astimezone().isoformat(timespec="minutes")
            yield PrintFile(name, use, at, stat.st_size)


def find_file(session: Session, name: str) -> Path:
    """Give where a file lies. Raises NotFoundError for another name and for what is not made."""
    path = session.folder.out / f"{name}.pdf"
    if name not in dict(FILES):
        raise NotFoundError("There is no print file of that name.")
    if not path.is_file():
        raise NotFoundError(
            "This file is not made, or the book has no use for it.",
            remedy="Make the print files, and look at what there is then.",
        )
    return path

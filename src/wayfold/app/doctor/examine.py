"""All trials in their order: the program, the crafts, the desk, the disk, and a book."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from pathlib import Path

from wayfold.app.doctor.book import try_book
from wayfold.app.doctor.crafts import try_crafts
from wayfold.app.doctor.disk import try_folder
from wayfold.app.doctor.program import try_desk, try_program
from wayfold.app.doctor.tried import Report, Tried

SCRATCH = "The system's place for passing files"


def examine(root: Path | None = None) -> Report:
    """Try all that Wayfold leans on, and the book in ``root``. Raises NotFoundError without one."""
    return Report(tuple(_try_everything(root)))


def _try_everything(root: Path | None) -> Iterator[Tried]:
    book = tuple(try_book(root)) if root is not None else ()
    yield from try_program()
    yield from try_crafts()
    yield from try_desk()
    yield from try_folder(Path(tempfile.gettempdir()), SCRATCH)
    yield from book

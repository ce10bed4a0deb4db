"""Starting a book."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from wayfold.base.errors import NotFoundError
from wayfold.project.files import BookFolder
from wayfold.project.store import start_book


def begin_book(root: Path, title: str, photographs: Sequence[Path]) -> None:
    """Start a book in ``root`` from folders of photographs (default: root/photographs).

    Raises NotFoundError for a folder that is not there, ConflictError where a book lies already.
    """
    for folder in photographs:
        if not folder.is_dir():
            raise NotFoundError(
                "There is no such folder of photographs.",
                where=str(folder),
                remedy="Check its name, or connect the drive it lies on.",
            )
    start_book(BookFolder(root.resolve()), title, photographs or [root / "photographs"])

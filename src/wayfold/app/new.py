"""Starting a book."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from wayfold.app.stages import read_catalogue
from wayfold.base.errors import NotFoundError
from wayfold.base.progress import Progress
from wayfold.book.state import Book, PhotoChoice
from wayfold.project.files import BookFolder
from wayfold.project.store import load_book, remember_photos, start_book, write_choices
from wayfold.project.style_files import list_styles, read_style


def begin_book(
    root: Path, title: str, photographs: Sequence[Path], style: str | None = None
) -> None:
    """Start a book in ``root`` from folders of photographs (default: root/photographs).

    ``style`` names one of the styles there are. Raises NotFoundError for a folder or a style that
    is not there, ConflictError where a book lies already.
    """
    for place in photographs:
        if not place.is_dir():
            raise NotFoundError(
                "There is no such folder of photographs.",
                where=str(place),
                remedy="Check its name, or connect the drive it lies on.",
            )
    folder = BookFolder(root.resolve())
    found = tuple(p.resolve().as_posix() for p in photographs)
    book = Book(title, photographs=found) if found else Book(title)
    start_book(folder, replace(book, style=read_style(style, folder).style) if style else book)


def list_looks() -> tuple[tuple[str, str], ...]:
    """Give the styles that a new book can have: their names, and what they are like."""
    return tuple((entry.style.name, entry.about) for entry in list_styles())


def decide_by_path(root: Path, choices: Mapping[Path, PhotoChoice], progress: Progress) -> None:
    """Write down decisions on photographs named by their files.

    Files that could not be read as photographs are passed over.
    """
    folder = BookFolder(root.resolve())
    stored = load_book(folder)
    catalogue = read_catalogue(folder, stored, progress)
    remember_photos(folder, stored.known, catalogue.photos)
    by_path = {path.resolve().as_posix(): choice for path, choice in choices.items()}
    write_choices(folder, {p.id: by_path[p.path] for p in catalogue.photos if p.path in by_path})

"""Trying one book: it can be read, its photographs and its printer's profile are where it says."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from pathlib import Path

from wayfold.app.doctor.disk import try_folder
from wayfold.app.doctor.tried import Standing, Tried, try_one
from wayfold.app.fonts import open_typesetter
from wayfold.base.counts import count_of
from wayfold.base.mends import Mend
from wayfold.book.state import Book
from wayfold.checks.soft_proof import PrinterProfile
from wayfold.photos.scan import scan_folders
from wayfold.project.files import BookFolder
from wayfold.project.store import load_book

BOOK = "This book"
_READ_IT = "Mend the file that is named, or take the last change back."


def try_book(root: Path) -> Iterator[Tried]:
    """Try the book in ``root``. Raises NotFoundError where none lies there."""
    folder = BookFolder(root.resolve())
    folder.require()
    books: list[Book] = []

    def read() -> str:
        books.append(load_book(folder).book)
        return f"“{books[0].title}” can be read."

    yield try_one(BOOK, "Its files", read, _READ_IT)
    for book in books:
        yield try_one(BOOK, "Photographs", partial(_try_photographs, folder, book))
        yield try_one(BOOK, "Fonts", partial(_try_fonts, folder))
        yield try_one(BOOK, "Printer's profile", partial(_try_profile, folder, book))
        yield try_one(BOOK, "Streets for city maps", partial(_try_streets, folder))
    yield from try_folder(folder.root, BOOK)


def _try_photographs(folder: BookFolder, book: Book) -> Tried:
    scan = scan_folders(folder.photo_folders(book.photographs))
    told = (
        f"{count_of(len(scan.pictures), 'picture')} in {count_of(len(book.photographs), 'folder')}."
    )
    if scan.findings:
        first = scan.findings[0]
        what = f"{first.where}: {first.message}"
        return Tried(BOOK, "Photographs", Standing.FAILS, what, first.remedy)
    if not scan.pictures:
        remedy = f"Name the folders that the pictures lie in: {Mend.PHOTOGRAPHS}."
        return Tried(BOOK, "Photographs", Standing.FAILS, "No picture is there.", remedy)
    return Tried(BOOK, "Photographs", Standing.WORKS, told)


def _try_fonts(folder: BookFolder) -> str:
    return f"{', '.join(open_typesetter(folder).fonts.families)}."


def _try_profile(folder: BookFolder, book: Book) -> Tried:
    if not book.printer.profile:
        return Tried(
            BOOK,
            "Printer's profile",
            Standing.WITHOUT,
            "No colour profile is named, so pages cannot be shown as they will print.",
            f"Put the printer's ICC profile for this paper into the book's folder: {Mend.PROFILE}.",
        )
    profile = PrinterProfile.read(folder.root / book.printer.profile)
    return Tried(BOOK, "Printer's profile", Standing.WORKS, f"{profile.name} ({profile.space}).")


def _try_streets(folder: BookFolder) -> Tried:
    found = folder.list_extracts()
    name = "Streets for city maps"
    if found:
        return Tried(BOOK, name, Standing.WORKS, f"{', '.join(path.name for path in found)}.")
    return Tried(
        BOOK,
        name,
        Standing.WITHOUT,
        "No street data lies in the book's folder, so no city map can be drawn.",
        "An extract of OpenStreetMap (.osm.pbf) goes into its folder streets.",
    )

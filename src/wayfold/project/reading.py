"""Reading the many files and tables of a book, each remembered as long as it is the same."""

from __future__ import annotations

import os
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path

from wayfold.base.errors import UserError
from wayfold.photos.catalogue import KnownFile
from wayfold.project.files import BookFolder
from wayfold.project.photos_file import MOST_PIECES, read_tables
from wayfold.project.schema import PHOTOS_VERSION, PhotosFile, PhotoTable
from wayfold.project.toml_edge import check_shape, read_toml


def read_photo_tables(folder: BookFolder) -> Mapping[str, PhotoTable]:
    """Give the tables of photos.toml by the photographs' ids. Raises UserError as ``load_book``."""
    path = folder.photos_file
    if not path.is_file():
        return {}
    try:
        tables = read_tables(path.read_text(encoding="utf-8"))
    except UnicodeDecodeError:
        tables = None  # the reader of the whole says where
    if tables is None:
        data = read_toml(path, "photos.toml", PHOTOS_VERSION)
        tables = check_shape(data, PhotosFile, path, "photos.toml").photo
    return tables


@lru_cache(maxsize=MOST_PIECES)
def know_file(root: str, name: str, content: str) -> KnownFile:
    """Give a file of a book as it is known; thousands are the same after every edit."""
    return KnownFile(os.path.normpath(Path(root) / name), content)


def read_texts(folder: BookFolder) -> dict[str, str]:
    """Give the book's texts by their keys. Raises UserError for one that is no text."""
    texts = {}
    for path in sorted(folder.texts.glob("*.md")):
        if not path.is_file():
            continue  # a folder of that name, or the lock of an editor, a link to nowhere
        try:
            texts[path.stem] = path.read_text(encoding="utf-8")
        except UnicodeDecodeError as error:
            raise UserError(
                f"The text is not UTF-8 (byte {error.start}).",
                where=f"texts/{path.name}",
                remedy="Save it as UTF-8 in your editor.",
            ) from error
    return texts

"""What the last make was made from and gave: how a second one knows there is nothing to do."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field

from wayfold.app.identity import code_key, library_key, list_key
from wayfold.app.stages import photo_folders
from wayfold.base.hashing import hash_bytes, hash_values
from wayfold.book.state import Book
from wayfold.project.files import BookFolder, write_whole


@dataclass(frozen=True, slots=True)
class Made:
    """The record of one make. ``pages`` and ``sides`` hold the identity of the ink on each."""

    inputs: str = ""
    outputs: str = ""
    pages: Mapping[str, str] = field(default_factory=dict)
    sides: Mapping[str, str] = field(default_factory=dict)


def read_made(folder: BookFolder) -> Made:
    """Give the record of the last make, or an empty one."""
    try:
        return Made(**json.loads(folder.made_file.read_text(encoding="utf-8")))
    except (FileNotFoundError, ValueError, TypeError):
        return Made()  # it lies in the cache: losing it costs a make


def write_made(folder: BookFolder, made: Made) -> None:
    """Keep the record of a make."""
    fields = {
        "inputs": made.inputs,
        "outputs": made.outputs,
        "pages": dict(made.pages),
        "sides": dict(made.sides),
    }
    write_whole(folder.made_file, json.dumps(fields).encode())


def inputs_key(folder: BookFolder, book: Book) -> str:
    """Give the identity of all that a make reads: decisions, photographs, code, libraries."""
    decisions = [folder.book_file, folder.photos_file, folder.plan_file]
    decisions += sorted(folder.texts.glob("*.md"))
    return hash_values(
        [[p.name, hash_bytes(p.read_bytes())] for p in decisions if p.is_file()],
        list_key(photo_folders(folder, book)),
        code_key(),
        library_key(),
    )

"""photos.toml: one table a photograph. Edits touch only the tables that change.

The file may hold thousands of tables and the person's own comments. So it is cut at the table
headers, only the changed tables are rewritten (comments inside them survive), new ones are added
at the end, and everything else keeps its bytes.
"""

from __future__ import annotations

import itertools
import re
import tomllib
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

import tomlkit
from pydantic import ValidationError

from wayfold.base.errors import UserError
from wayfold.project.schema import PHOTOS_VERSION, PhotoTable

HEAD = f"""# What you decided on single photographs. Wayfold adds a table for each picture it finds.
#   pick = "hero" | "take" | "leave"     caption = "…"     alone = true
#   interleaf = true                     a translucent leaf over it, which carries the caption
#   crop = [left, top, width, height]    in fractions of the upright picture
#   text = "hotel"                       texts/hotel.md tells of it, on the same page
version = {PHOTOS_VERSION}
"""

MOST_PIECES = 20_000
"""So many tables are remembered as read: an edit changes one of thousands."""
TEXTS_KEPT = 4
"""So many whole texts are remembered, cut: one is read after it was written."""
# Without a ^ before it, which makes looking through a long text three times slower.
_HEADER = re.compile(r'\[photo\."?([\w-]+)"?\][ \t]*(?:#.*)?$', re.MULTILINE)

Fields = Mapping[str, object]


def change_tables(text: str, changes: Mapping[str, Fields]) -> str:
    """Give the file's text after ``changes``: photo id -> keys to set (None takes a key away).

    Raises UserError where the text is such that a change would not come out as meant; the file
    is then left as it is.
    """
    text = text or HEAD
    before = _read_fields(text)
    head, cut = _cut(text)
    pieces = [head]
    for key, table in cut:
        change = changes.get(key)
        pieces.append(_change_table(key, table, change) if change else table)
    for key in [k for k in changes if k not in before]:
        if not pieces[-1].endswith("\n\n"):
            pieces.append("\n" if pieces[-1].endswith("\n") else "\n\n")
        pieces.append(_write_table(key, changes[key]))
    result = "".join(pieces)
    _prove(before, changes, result)
    return result


def read_tables(text: str) -> Mapping[str, PhotoTable] | None:
    """Give the tables of a file's text by the photographs' ids, those read before remembered.

    None for a text that has to be read as a whole: it is of another form, or something in it is
    wrong, which the reader of the whole can explain.
    """
    head, cut = _cut(text)
    if _read_piece(head) != {"version": PHOTOS_VERSION}:
        return None
    tables: dict[str, PhotoTable] = {}
    for key, piece in cut:
        table = _read_table(key, piece)
        if table is None or key in tables:
            return None
        tables[key] = table
    return tables


@lru_cache(maxsize=TEXTS_KEPT)
def _cut(text: str) -> tuple[str, tuple[tuple[str, str], ...]]:
    """Cut a text at the headers of its tables: what comes before, and each with its id."""
    found = ((header, header.start()) for header in _HEADER.finditer(text))
    headers = [header for header, at in found if at == 0 or text[at - 1] == "\n"]
    starts = [header.start() for header in headers] + [len(text)]
    pieces = [text[start:end] for start, end in itertools.pairwise(starts)]
    keys = (header[1] for header in headers)
    return text[: starts[0]], tuple(zip(keys, pieces, strict=True))


@lru_cache(maxsize=TEXTS_KEPT)
def _read_fields(text: str) -> Mapping[str, Fields]:
    """Give the keys of each table as they stand in the text, those read before remembered."""
    head, cut = _cut(text)
    found = {key: read for key, piece in cut if (read := _read_alone(key, piece)) is not None}
    if len(found) < len(cut) or "photo" in (_read_piece(head) or {"photo": None}):
        whole: Mapping[str, Fields] = tomllib.loads(text).get("photo", {})
        return whole
    return found


@lru_cache(maxsize=MOST_PIECES)
def _read_table(key: str, piece: str) -> PhotoTable | None:
    fields = _read_alone(key, piece)
    if fields is None:
        return None
    try:
        return PhotoTable.model_validate(fields)
    except ValidationError:
        return None


@lru_cache(maxsize=MOST_PIECES)
def _read_alone(key: str, piece: str) -> Fields | None:
    """Give the keys of the one table that a piece is; None where it is anything else.

    Nobody may change the answer.
    """
    read = _read_piece(piece)
    if read is None or read.keys() != {"photo"} or read["photo"].keys() != {key}:
        return None
    fields: Fields = read["photo"][key]
    return fields


@lru_cache(maxsize=MOST_PIECES)
def _read_piece(piece: str) -> dict[str, Any] | None:
    """Read a piece of a file; None where it is no TOML by itself. Nobody may change the answer."""
    try:
        return tomllib.loads(piece)
    except (ValueError, RecursionError):
        return None


def _change_table(key: str, table: str, change: Fields) -> str:
    document = tomlkit.parse(table)
    # One whose id has other signs than ours was no header to cut at: it lies in this piece too.
    inner = document["photo"][key]
    for key, value in change.items():
        if value is None:
            inner.pop(key, None)
        else:
            inner[key] = value
    return tomlkit.dumps(document)


def _write_table(key: str, fields: Fields) -> str:
    table = tomlkit.table()
    for name, value in fields.items():
        if value is not None:
            table[name] = value
    return f"[photo.{key}]\n{table.as_string()}"


def _prove(before: Mapping[str, Fields], changes: Mapping[str, Fields], result: str) -> None:
    """Read the result back: cutting text must never lose a decision."""
    expected = dict(before)
    for key, change in changes.items():
        merged = {**expected.get(key, {}), **change}
        expected[key] = {name: value for name, value in merged.items() if value is not None}
    if _read_fields(result) != expected:
        raise UserError(
            "The file is written in a way that cannot be changed safely.",
            where="photos.toml",
            remedy="Write each photograph as its own table, [photo.ID], with one key a line.",
        )

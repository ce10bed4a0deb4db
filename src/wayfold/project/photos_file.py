"""photos.toml: one table a photograph. Edits touch only the tables that change.

The file may hold thousands of tables and the person's own comments. So it is cut at the table
headers, only the changed tables are rewritten (comments inside them survive), new ones are added
at the end, and everything else keeps its bytes.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping

import tomlkit

from wayfold.base.errors import UserError
from wayfold.project.schema import PHOTOS_VERSION

HEAD = f"""# What you decided on single photographs. Wayfold adds a table for each picture it finds.
#   pick = "hero" | "take" | "leave"     caption = "…"     alone = true
#   interleaf = true                     a translucent leaf over it, which carries the caption
#   crop = [left, top, width, height]    in fractions of the upright picture
#   text = "hotel"                       texts/hotel.md tells of it, on the same page
version = {PHOTOS_VERSION}
"""

_HEADER = re.compile(r'^\[photo\."?([\w-]+)"?\][ \t]*(?:#.*)?$', re.MULTILINE)

Fields = Mapping[str, object]


def change_tables(text: str, changes: Mapping[str, Fields]) -> str:
    """Give the file's text after ``changes``: photo id -> keys to set (None takes a key away).

    Raises UserError where the text is such that a change would not come out as meant; the file
    is then left as it is.
    """
    text = text or HEAD
    before = tomllib.loads(text).get("photo", {})
    headers = list(_HEADER.finditer(text))
    starts = [h.start() for h in headers] + [len(text)]
    pieces = [text[: starts[0]]]
    for header, start, end in zip(headers, starts, starts[1:], strict=False):
        table = text[start:end]
        change = changes.get(header[1])
        pieces.append(_change_table(table, change) if change else table)
    for key in [k for k in changes if k not in before]:
        if not pieces[-1].endswith("\n\n"):
            pieces.append("\n" if pieces[-1].endswith("\n") else "\n\n")
        pieces.append(_write_table(key, changes[key]))
    result = "".join(pieces)
    _prove(before, changes, result)
    return result


def _change_table(table: str, change: Fields) -> str:
    document = tomlkit.parse(table)
    (inner,) = document["photo"].values()
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
    expected = {key: dict(fields) for key, fields in before.items()}
    for key, change in changes.items():
        merged = {**expected.get(key, {}), **change}
        expected[key] = {name: value for name, value in merged.items() if value is not None}
    if tomllib.loads(result).get("photo", {}) != expected:
        raise UserError(
            "The file is written in a way that cannot be changed safely.",
            where="photos.toml",
            remedy="Write each photograph as its own table, [photo.ID], with one key a line.",
        )

"""Changing tables of book.toml in place: all else, comments too, stays as it was written."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import tomlkit

from wayfold.project.files import BookFolder


def set_tables(folder: BookFolder, tables: Mapping[str, Mapping[str, object]]) -> None:
    """Set keys of tables (None takes one away); a mapping as a value is a table within."""
    document = tomlkit.parse(folder.book_file.read_text(encoding="utf-8"))
    for name, values in tables.items():
        table = document.setdefault(name, tomlkit.table())
        for key, value in values.items():
            _set_key(table, key, value)
    folder.write(folder.book_file, tomlkit.dumps(document).encode())


def set_rows(
    folder: BookFolder, keys: tuple[str, ...], wanted: Sequence[Mapping[str, Any]]
) -> None:
    """Make an array of tables the one wanted; rows that stay keep their comments."""
    document = tomlkit.parse(folder.book_file.read_text(encoding="utf-8"))
    table: Any = document
    for key in keys[:-1]:
        table = table.setdefault(key, tomlkit.table(is_super_table=True))
    before = list(table.get(keys[-1], []))
    if not isinstance(table.get(keys[-1]), tomlkit.items.AoT):
        table[keys[-1]] = tomlkit.aot()  # nothing yet, or rows written in one line
    rows = table[keys[-1]]
    rows.clear()
    for row in wanted:
        same = next((old for old in before if old.unwrap() == row), None)
        if same is not None:
            before.remove(same)
        rows.append(same or _write_row(row))
    if not wanted:
        table.pop(keys[-1])
    folder.write(folder.book_file, tomlkit.dumps(document).encode())


def _write_row(row: Mapping[str, Any]) -> Any:
    table = tomlkit.table()
    table.update(row)
    table.add(tomlkit.nl())
    return table


def set_chapter(folder: BookFolder, place: str, values: Mapping[str, object]) -> None:
    """Set keys of the table of a place's chapter in book.toml (None takes one away)."""
    document = tomlkit.parse(folder.book_file.read_text(encoding="utf-8"))
    chapters: Any = document.setdefault("chapter", tomlkit.aot())
    table = next((chapter for chapter in chapters if chapter["place"] == place), None)
    if table is None:
        table = tomlkit.table()
        table["place"] = place
        chapters.append(table)
        table = chapters[-1]
    for key, value in values.items():
        _set_key(table, key, value)
    folder.write(folder.book_file, tomlkit.dumps(document).encode())


def _set_key(table: Any, key: str, value: object) -> None:
    if isinstance(value, Mapping):
        within = table.setdefault(key, tomlkit.table())
        for name, one in value.items():
            _set_key(within, name, one)
    elif value is None:
        table.pop(key, None)
    else:
        table[key] = value

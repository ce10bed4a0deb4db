"""Named papers, printers and materials: those that come with Wayfold, and the person's own.

``materials.toml`` in the book's folder has the same form as the one beside this module. book.toml
takes one with ``use = "name"`` in its table; keys written there go before those of the entry.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from wayfold.base.errors import UserError
from wayfold.book.materials import Source
from wayfold.project.bench_schema import CaseTable, SewingTable
from wayfold.project.files import BookFolder
from wayfold.project.schema import PaperTable, PrinterTable, TranslucentTable
from wayfold.project.toml_edge import read_toml

MATERIALS_VERSION = 1
STARTERS = Path(__file__).with_name("materials.toml")
KINDS = {
    "paper": ("paper", PaperTable.model_fields),
    "translucent": ("translucent", TranslucentTable.model_fields),
    "printer": ("printer", PrinterTable.model_fields),
    "thread": (
        "sewing",
        {key: of for key, of in SewingTable.model_fields.items() if key.startswith("thread")},
    ),
    "board": (
        "case",
        {key: of for key, of in CaseTable.model_fields.items() if key.startswith("board")},
    ),
}
"""A kind of entry: the table of book.toml that it fills, and the keys it may have."""
MARKS = tuple(mark.value for mark in Source)


@dataclass(frozen=True, slots=True)
class Material:
    """An entry: its kind and name, values by the keys of book.toml, and where numbers come from."""

    kind: str
    name: str
    values: Mapping[str, Any]
    sources: Mapping[str, Source]
    own: bool

    def tell(self) -> Iterator[str]:
        """Give its values in words, each number with where it comes from."""
        for key, value in self.values.items():
            words = " × ".join(f"{v:g}" for v in value) if isinstance(value, list) else value
            mark = self.sources.get(key)
            yield f"{key} {words}" + (f" ({mark.value})" if mark else "")


def read_materials(folder: BookFolder) -> dict[tuple[str, str], Material]:
    """Give all entries by kind and name. Raises UserError naming file, entry and key."""
    found = {}
    own = folder.materials_file
    for path, name in ((STARTERS, "materials.toml of Wayfold"), (own, "materials.toml")):
        if path.is_file():
            data = read_toml(path, name, MATERIALS_VERSION)
            for material in _read_entries(data, name, own=path == own):
                found[material.kind, material.name] = material
    return found


def fill_tables(data: dict[str, Any], folder: BookFolder) -> dict[str, Any]:
    """Give the tables of book.toml with the entries that they use filled in."""
    used = [kind for kind, (table, _) in KINDS.items() if _named(data, table, kind) is not None]
    if not used:
        return data
    materials = read_materials(folder)
    filled = dict(data)
    for kind in used:
        table, _ = KINDS[kind]
        name = _named(data, table, kind)
        material = materials.get((kind, str(name)))
        if material is None:
            raise _unknown(kind, str(name), materials)
        written = {k: v for k, v in filled[table].items() if k != _key(table, kind)}
        values = dict(material.values)
        if "caliper_um" in values and "caliper_um" not in written:
            values["caliper_source"] = material.sources["caliper_um"].value
        filled[table] = {**values, **written}
    return filled


def _key(table: str, kind: str) -> str:
    """``use`` where a table is of one kind; ``use_thread`` under [sewing], ``use_board``."""
    return "use" if table == kind else f"use_{kind}"


def _named(data: Mapping[str, Any], table: str, kind: str) -> object:
    found = data.get(table)
    return found.get(_key(table, kind)) if isinstance(found, Mapping) else None


def _read_entries(data: Mapping[str, Any], file: str, *, own: bool) -> Iterator[Material]:
    for kind, entries in data.items():
        if kind == "version":
            continue
        if kind not in KINDS or not isinstance(entries, Mapping):
            raise _wrong(file, kind, f"there is no kind {kind!r}", f"Kinds: {', '.join(KINDS)}.")
        for name, values in entries.items():
            where = f"{kind}.{name}"
            if not isinstance(values, Mapping):
                raise _wrong(file, where, "an entry is a table", f"Begin it with [{where}].")
            yield _read_entry(file, kind, name, values, own=own)


def _read_entry(
    file: str, kind: str, name: str, written: Mapping[str, Any], *, own: bool
) -> Material:
    values: dict[str, Any] = {}
    sources: dict[str, Source] = {}
    for key, value in written.items():
        where = f"{kind}.{name}.{key}"
        known = [k for k in KINDS[kind][1] if k != "caliper_source"]
        if key not in known:
            near = difflib.get_close_matches(key, known, n=1)
            advice = f"Did you mean {near[0]}?" if near else f"Known: {', '.join(known)}."
            raise _wrong(file, where, "this key is not known", advice)
        if isinstance(value, str) and _is_of_words(kind, key):
            values[key] = value
            continue
        wanted = 2 if key == "sheet_mm" else 1
        if not isinstance(value, list) or len(value) != wanted + 1 or value[-1] not in MARKS:
            numbers = "483, 329" if wanted == 2 else "240"
            raise _wrong(
                file,
                where,
                f"{value!r} does not say where the number comes from",
                f'Write [{numbers}, "measured"]; the marks are {", ".join(MARKS)}.',
            )
        numbers_given = value[:-1]
        if not all(isinstance(v, int | float) and not isinstance(v, bool) for v in numbers_given):
            raise _wrong(file, where, f"{value!r} is no number", "Write figures, without units.")
        values[key] = numbers_given if wanted == 2 else numbers_given[0]
        sources[key] = Source(value[-1])
    return Material(kind, name, values, sources, own)


def _is_of_words(kind: str, key: str) -> bool:
    wanted = KINDS[kind][1][key].annotation
    return isinstance(wanted, type) and issubclass(wanted, str)


def _unknown(kind: str, name: str, materials: Mapping[tuple[str, str], Material]) -> UserError:
    known = [n for k, n in materials if k == kind]
    near = difflib.get_close_matches(name, known, n=1)
    advice = f"Did you mean {near[0]}?" if near else f"There are: {', '.join(known)}."
    return UserError(
        f"There is no {kind} called {name!r}.",
        where=f"book.toml, [{KINDS[kind][0]}]",
        remedy=f"{advice} Your own belong into materials.toml, as [{kind}.{name}].",
    )


def _wrong(file: str, where: str, what: str, remedy: str) -> UserError:
    return UserError(f"{where}: {what}.", where=file, remedy=remedy)

"""printed.lock.toml: which sheets lie printed, and what ink is on them."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

import tomlkit

from wayfold.base.errors import UserError
from wayfold.base.hashing import plain
from wayfold.base.mends import Mend
from wayfold.base.revive import revive
from wayfold.press.ledger import SheetInk
from wayfold.project.schema import LEDGER_VERSION, LedgerFile
from wayfold.project.toml_edge import check_shape, read_toml

HEAD = (
    "# The sheets that lie printed, with what ink is on them, so that after an edit only those\n"
    "# that changed are printed again. Wayfold writes this file; free a sheet with\n"
    "# `wayfold printed BOOK SHEET --free`.\n"
)


@dataclass(frozen=True, slots=True)
class PrintedSheet:
    """A sheet as it was printed.

    ``looks`` are the identities of what front and back showed to ``viewer``; ``code`` that of
    Wayfold and its libraries then; ``day`` when it was marked (ISO 8601).
    """

    ink: SheetInk
    looks: tuple[str, str]
    viewer: str
    code: str
    day: str


def read_ledger(path: Path) -> Mapping[str, PrintedSheet]:
    """Give the printed sheets by their labels. Raises UserError for a file that is no ledger."""
    if not path.is_file():
        return {}
    file = check_shape(read_toml(path, path.name, LEDGER_VERSION), LedgerFile, path, path.name)
    sheets = {}
    for table in file.sheet:
        try:
            ink = revive(json.loads(table.ink), SheetInk)
        except (ValueError, RecursionError) as error:
            raise UserError(
                f"What is said of {table.label} cannot be read: {error}.",
                where=path.name,
                remedy="Undo what was changed in it by hand, or take that [[sheet]] out and mark "
                f"the sheet again: {Mend.PRINTED}.",
            ) from error
        sheets[table.label] = PrintedSheet(ink, table.looks, table.viewer, table.code, table.day)
    return sheets


def dump_ledger(sheets: Iterable[PrintedSheet]) -> bytes:
    """Write the printed sheets, in the order given, as the ledger's file has them."""
    tables = tomlkit.aot()
    for sheet in sheets:
        table = tomlkit.table()
        table["label"] = sheet.ink.label
        table["day"] = sheet.day
        table["looks"] = list(sheet.looks)
        table["viewer"] = sheet.viewer
        table["code"] = sheet.code
        table["ink"] = json.dumps(plain(sheet.ink), ensure_ascii=False, separators=(",", ":"))
        tables.append(table)
    document = tomlkit.document()
    document["version"] = LEDGER_VERSION
    document["sheet"] = tables
    return (HEAD + tomlkit.dumps(document)).encode()

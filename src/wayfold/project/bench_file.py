"""bench.lock.toml: what is done of the work with the hands, and what has been got for it.

It lies beside the ledger of printed sheets, and is like it no decision: a board that is cut stays
cut whatever is undone at the desk, so the journal leaves it alone.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

import tomlkit
from pydantic import BaseModel, ConfigDict

from wayfold.disk.placing import write_whole
from wayfold.project.toml_edge import check_shape, read_toml

BENCH_VERSION = 1
HEAD = (
    "# What is done at the bench, and what has been got for it. Wayfold's desk writes this file.\n"
    "# `said` is what the worksheets said when it was ticked: so one sees what has changed since.\n"
)


@dataclass(frozen=True, slots=True)
class Tick:
    """Something done: ``item`` of the list or task ``of``, by what was ``said`` on that ``day``.

    The day is ISO 8601.
    """

    of: str
    item: str
    said: str
    day: str


class _TickTable(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)

    of: str
    item: str
    said: str = ""
    day: str = ""


class _BenchFile(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)

    version: int
    done: list[_TickTable] = []


def read_ticks(path: Path) -> tuple[Tick, ...]:
    """Give what is done, in the order it was. Raises UserError naming line, key and mend."""
    if not path.is_file():
        return ()
    file = check_shape(read_toml(path, path.name, BENCH_VERSION), _BenchFile, path, path.name)
    return tuple(Tick(t.of, t.item, t.said, t.day) for t in file.done)


def write_ticks(path: Path, ticks: Iterable[Tick]) -> None:
    """Keep what is done."""
    tables = tomlkit.aot()
    for tick in ticks:
        table = tomlkit.table()
        table.update({"of": tick.of, "item": tick.item, "said": tick.said, "day": tick.day})
        tables.append(table)
    document = tomlkit.document()
    document["version"] = BENCH_VERSION
    document["done"] = tables
    write_whole(path, (HEAD + tomlkit.dumps(document)).encode())

"""The door for the files that a person writes, and for plan and ledgers, which are open to read."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path
from random import Random
from typing import Any

import tomlkit
from pydantic import BaseModel

from proving.fuzz.book_files import FILES, PHOTO, STYLE, write_files
from proving.fuzz.door import Door, Entrance, HarmError
from proving.fuzz.mutate import spoil_text
from proving.fuzz.schema import SchemaMaker
from wayfold.book.edits import SetCaption, SetDayNote, SetText, SetTitle
from wayfold.project.bench_file import read_ticks
from wayfold.project.files import BookFolder
from wayfold.project.ledger_file import read_ledger
from wayfold.project.materials_file import read_materials
from wayfold.project.plan_file import read_plan
from wayfold.project.schema import BookFile, LedgerFile, PhotosFile, PlanFile
from wayfold.project.store import load_book, load_style, write_edit, write_settings
from wayfold.project.style_files import list_styles
from wayfold.project.style_schema import StyleFile
from wayfold.project.trip_schema import TripFile

MODELS: Mapping[str, type[BaseModel]] = {
    "book.toml": BookFile, "photos.toml": PhotosFile, "trip.toml": TripFile, STYLE: StyleFile,
    "plan.lock.toml": PlanFile, "printed.lock.toml": LedgerFile,
}  # fmt: skip
READERS: Mapping[str, Callable[[Path], object]] = {
    "plan.lock.toml": read_plan, "printed.lock.toml": read_ledger, "bench.lock.toml": read_ticks,
}  # fmt: skip
CHANGED = 8
"""Of so many readable cases one is then changed by an edit, which costs waiting for the disk."""


def prepare_toml(room: Path) -> Entrance:
    """Make the door for a book's files ready; a case's first line names its file."""
    root = room / "book"
    folder = write_files(root)
    load_book(folder)  # what is spoilt must be whole before
    for name, read in READERS.items():
        read(root / name)
    schemas = {name: model.model_json_schema() for name, model in MODELS.items()}

    def make(rng: Random) -> bytes:
        name = rng.choice((*FILES, "book.toml", "trip.toml", "photos.toml"))
        data = spoil_text(FILES[name], rng)
        if name in schemas and rng.random() < 0.4:
            data = _make_table(schemas[name], rng)
            data = spoil_text(data.decode(), rng) if rng.random() < 0.2 else data
        return f"{name}\n".encode() + data

    def enter(case: bytes) -> None:
        line, _, data = case.partition(b"\n")
        name = line.decode("utf-8", "replace")
        name = name if name in FILES else "book.toml"
        (root / name).write_bytes(data)
        try:
            _read(folder, name)
            if len(case) % CHANGED == 0:
                _change(folder, name)
            elif (root / name).read_bytes() != data:
                raise HarmError(f"reading changed {name}")
        finally:
            (root / name).write_text(FILES[name], encoding="utf-8")
            if len(case) % CHANGED == 0:
                write_files(root)

    return Entrance(make, enter)


def _make_table(schema: Mapping[str, Any], rng: Random) -> bytes:
    lures = {"version": (1,), "": (PHOTO, "day 1", "Porto", "Bilbao", "own", "porto", "own sheet")}
    maker = SchemaMaker(schema.get("$defs", {}), lures, wrong=rng.choice((0.0, 0.01, 0.05)))
    made = maker.make(schema, rng)
    if not isinstance(made, dict):
        return b"version = 1\n"
    try:
        return tomlkit.dumps(_drop_nothing(made)).encode("utf-8", "replace")
    except (ValueError, TypeError, tomlkit.exceptions.TOMLKitError):
        return b"version = 1\n"


def _drop_nothing(value: Any) -> Any:
    """Leave out what TOML has no word for."""
    if isinstance(value, dict):
        return {key: _drop_nothing(inner) for key, inner in value.items() if inner is not None}
    if isinstance(value, list):
        return [_drop_nothing(inner) for inner in value if inner is not None]
    return value


def _read(folder: BookFolder, name: str) -> None:
    if name in READERS:
        READERS[name](folder.root / name)
        return
    load_book(folder)
    load_style(folder)
    list_styles(folder)
    read_materials(folder)


def _change(folder: BookFolder, name: str) -> None:
    """Make a change that is written into the file; afterwards it says what was asked."""
    match name:
        case "photos.toml":
            write_edit(folder, SetCaption(PHOTO, "New\nwords"))
            choice = load_book(folder).book.choices.get(PHOTO)
            if choice is None or choice.caption != "New\nwords":
                raise HarmError("a caption that was kept is not there")
        case "trip.toml":
            write_edit(folder, SetDayNote(date(2025, 5, 4), "Sun."))
            if "Sun." not in [day.note for day in load_book(folder).book.journey.days]:
                raise HarmError("a day's note that was kept is not there")
        case "book.toml":
            write_edit(folder, SetTitle("Porto", "P", None))
            write_settings(folder, {"paper": {"caliper_um": 150}})
            if load_book(folder).book.paper.caliper_um != 150:
                raise HarmError("a setting that was kept is not there")
        case _:
            write_edit(folder, SetText("porto", "Other words."))


TOML = Door("toml", "the files of a book and of a style (TOML)", prepare_toml)

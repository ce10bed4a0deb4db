"""The door for what Wayfold keeps for itself beside a book: history, and records of the cache."""

from __future__ import annotations

import json
import os
import zlib
from collections.abc import Callable, Mapping
from pathlib import Path
from random import Random
from typing import Any

from proving.fuzz.book_files import PHOTO, write_files
from proving.fuzz.door import Door, Entrance, HarmError
from proving.fuzz.mutate import spoil, spoil_text
from wayfold.base.errors import UserError
from wayfold.book.edits import SetCaption, SetText
from wayfold.photos.facts import decode_outcome
from wayfold.photos.look import Look, Salience
from wayfold.photos.look_record import pack_look, unpack_look
from wayfold.project.files import BookFolder
from wayfold.project.journal import Journal
from wayfold.project.journal_notes import open_notes
from wayfold.project.store import load_book, write_edit

TURNED, CHANGED = 2, 4
"""Of so many histories one is gone through back and forth, and one of so many is written on."""


def prepare_kept(room: Path) -> Entrance:
    """Make the door for history and cache ready: files that Wayfold wrote, spoilt."""
    root = room / "book"
    folder = write_files(root)
    for number in range(6):
        write_edit(folder, SetText("porto", f"Words of day {number}.\n\n" * (3 + number)))
        write_edit(folder, SetCaption(PHOTO, f"Caption {number}"))
    Journal(folder).undo()
    Journal(folder).undo()
    Journal(folder).redo()
    whole = {p.relative_to(root).as_posix(): p.read_bytes()
             for p in root.rglob("*") if p.is_file()}  # fmt: skip
    notes = ".wayfold/history/journal.jsonl"
    spoilt = [notes] * 6 + [n for n in whole if n.startswith(".wayfold/history/contents/")][:6]
    records = _list_records()

    def make(rng: Random) -> bytes:
        if rng.random() < 0.3:
            name = rng.choice(sorted(records))
            return f"{name}\n".encode() + _spoil_json(records[name][0], rng)
        name = rng.choice(spoilt)
        data = whole[name]
        lines = data.decode("utf-8", "replace").splitlines(keepends=True)
        if name == notes and rng.random() < 0.6:
            one = rng.randrange(len(lines))
            lines[one] = _spoil_json(lines[one].encode(), rng).decode("utf-8", "replace") + "\n"
            return f"{name}\n".encode() + "".join(lines).encode()
        text = data.decode("utf-8", "replace")
        damaged = spoil_text(text, rng) if rng.random() < 0.5 else spoil(data, rng)
        return f"{name}\n".encode() + damaged

    def enter(case: bytes) -> None:
        line, _, data = case.partition(b"\n")
        name = line.decode("utf-8", "replace")
        if name in records:
            records[name][1](data)
            return
        name = name if name in whole else notes
        (root / name).write_bytes(data)
        try:
            _leaf_through(folder, zlib.crc32(case))
        finally:
            open_notes.cache_clear()
            _put_back(root, whole)

    return Entrance(make, enter)


def _leaf_through(folder: BookFolder, lot: int) -> None:
    """Read the history as the desk does; by lot go a step back and forth, and note a change."""
    open_notes.cache_clear()
    journal = Journal(folder)
    journal.catch_up()  # which may finish what was broken off
    before = _read_decisions(folder)
    journal.catch_up()
    journal.next_turns()
    list(journal.list_earlier(folder.texts / "porto.md"))
    if _read_decisions(folder) != before:
        raise HarmError("reading the history changed the book")
    stopped: UserError | None = None
    for turn in (journal.undo, journal.redo) if lot % TURNED == 0 else ():
        try:
            turn()
        except UserError as error:  # nothing to undo is an answer; one told is enough
            stopped = error
    load_book(folder)
    if lot % CHANGED == 0:
        write_edit(folder, SetText("porto", "A new word."))
        if load_book(folder).book.texts["porto"] != "A new word.":
            raise HarmError("a text that was kept is not there")
    if stopped is not None and stopped.remedy:
        raise stopped


def _read_decisions(folder: BookFolder) -> dict[Path, bytes]:
    return {path: path.read_bytes() for path in folder.list_decisions()}


def _put_back(root: Path, whole: Mapping[str, bytes]) -> None:
    there = {Path(top, name) for top, _, names in os.walk(root) for name in names}
    for name, data in whole.items():
        path = root / name
        if path not in there or path.read_bytes() != data:
            path.write_bytes(data)
    for more in there - {root / name for name in whole}:
        more.unlink()


def _list_records() -> dict[str, tuple[bytes, Callable[[bytes], object]]]:
    """Give records as the cache holds them, with what reads them."""
    facts = {
        "format": "JPEG", "size": [4000, 3000], "orientation": 6,
        "taken": ["2025-05-04T09:20:31", 120], "place": [-2.9, 43.2], "camera": ["A", "B", ""],
        "profile": "sRGB", "rating": 3, "caption": "The quay", "remarks": [["r", "m", ""]],
        "credit": ["a", "b"], "gps_utc": "2025-05-04T07:20:31+00:00",
    }  # fmt: skip
    refused = {"refused": ["photos.empty", "It is empty.", "Copy it again.", True]}
    grid = Salience(2, 2, (0.25, 0.25, 0.25, 0.25))
    look = Look((), grid, (), 1.4, 0.8, 2000, 0.01, 52.0, "0123456789abcdef")
    return {
        "facts": (json.dumps(facts).encode(), decode_outcome),
        "refusal": (json.dumps(refused).encode(), decode_outcome),
        "look": (pack_look(look), unpack_look),
    }


def _spoil_json(data: bytes, rng: Random) -> bytes:
    """Change one value of a JSON text for another kind of value; or its bytes."""
    try:
        value = json.loads(data)
    except ValueError:
        return spoil(data, rng)
    if rng.random() < 0.3:
        return spoil_text(data.decode("utf-8", "replace"), rng).replace(b"\n", b" ")
    _change_inside(value, rng)
    return json.dumps(value).encode()


def _change_inside(value: Any, rng: Random) -> None:
    hostile = (
        None, True, 0, -1, 1, 3, 10**9, 10**30, 1.5, "", "x", "../../x", [], {}, [[1]], {"a": 1},
        float("nan"),
    )  # fmt: skip
    keys = list(value) if isinstance(value, dict) else list(range(len(value)))
    if not keys:
        return
    key = rng.choice(keys)
    inner = value[key]
    if isinstance(inner, dict | list) and inner and rng.random() < 0.6:
        _change_inside(inner, rng)
    elif rng.random() < 0.2:
        del value[key]
    else:
        value[key] = rng.choice(hostile)


KEPT = Door("kept", "history, and records of the cache", prepare_kept)

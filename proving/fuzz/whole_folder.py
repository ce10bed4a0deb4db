"""The door for a whole book's folder in which some files are damaged, opened as the desk does."""

from __future__ import annotations

import json
import shutil
from collections.abc import Sequence
from pathlib import Path
from random import Random

from proving.fuzz.desk_room import LEFT_OUT, DeskRoom
from proving.fuzz.door import Door, Entrance
from proving.fuzz.mutate import spoil, spoil_text
from tests.desk_book import CALENDAR, TRACK
from wayfold.base.errors import UserError

SPOILT, EMPTY, GONE, FOLDER = "spoilt", "empty", "gone", "a folder"
HARM = (SPOILT, SPOILT, SPOILT, SPOILT, EMPTY, GONE, FOLDER)
ASKED = 6
"""Of so many addresses one is asked of a book that opens: each takes as long as opening it."""
Wound = tuple[str, str, bytes]
"""A file, what befell it, and what it holds then."""


def prepare(room: Path) -> Entrance:
    """Make the door ready: a book of all kinds of files, with a warm cache and a history."""
    desk = DeskRoom(room)
    (desk.whole / "tracks").mkdir()
    (desk.whole / "tracks" / "walk.gpx").write_bytes(TRACK)
    (desk.whole / "bookings.ics").write_bytes(CALENDAR)
    desk.begin()
    addresses = [
        path for path, ways in sorted(desk.document["paths"].items())
        if "get" in ways and "{" not in path and path not in LEFT_OUT and _is_given(desk, path)
    ]  # fmt: skip
    desk.keep()
    files = [p for p in sorted(desk.whole.rglob("*")) if p.is_file()]
    own = [p for p in files if ".wayfold" not in p.parts and "photographs" not in p.parts]
    photographs = [p for p in files if "photographs" in p.parts]
    kept = [p for p in files if ".wayfold" in p.parts]

    def make(rng: Random) -> bytes:
        wounds: list[Wound] = []
        for _ in range(rng.choice((1, 1, 2, 4))):
            path = rng.choice(rng.choice((own, own, kept, photographs)))
            what, data = rng.choice(HARM), path.read_bytes()
            if what == SPOILT:
                as_text = path in own and rng.random() < 0.8
                data = (
                    spoil_text(data.decode("utf-8", "replace"), rng)
                    if as_text
                    else spoil(data, rng, head=True)
                )
            wounds.append(
                (path.relative_to(desk.whole).as_posix(), what, data if what == SPOILT else b"")
            )
        return _write(wounds)

    def enter(case: bytes) -> None:
        desk.put_back()
        for name, what, data in _read(case):
            _wound(desk.root / name, what, data)
        refused: UserError | None = None
        try:
            desk.open()
        except UserError as error:
            refused = error
        few = Random(case).sample(addresses, len(addresses) // ASKED)
        for address in few if refused is None else ("/api/desk", "/api/start"):
            try:
                desk.ask(("GET", address, b""))
            except UserError as error:
                refused = refused or error
        if refused is not None:
            raise refused

    return Entrance(make, enter)


def _is_given(desk: DeskRoom, address: str) -> bool:
    """Whether an address gives anything while the book is whole; some want more to be asked."""
    try:
        desk.ask(("GET", address, b""))
    except UserError:
        return False
    return True


def _wound(path: Path, what: str, data: bytes) -> None:
    shutil.rmtree(path, ignore_errors=True)
    path.unlink(missing_ok=True)
    if what == FOLDER:
        path.mkdir()
    elif what != GONE:
        path.write_bytes(data)


def _write(wounds: Sequence[Wound]) -> bytes:
    """Give wounds as a case: what befell which file in one line, then all that they hold."""
    told = [(name, what, len(data)) for name, what, data in wounds]
    return json.dumps(told).encode() + b"\n" + b"".join(data for _, _, data in wounds)


def _read(case: bytes) -> list[Wound]:
    line, _, rest = case.partition(b"\n")
    wounds: list[Wound] = []
    for name, what, long in json.loads(line):
        wounds.append((name, what, rest[:long]))
        rest = rest[long:]
    return wounds


WHOLE = Door("folder", "a book's folder with damaged files, opened at the desk", prepare,
             slow_s=30.0)  # fmt: skip

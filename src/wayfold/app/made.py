"""What a make gave, and what it was made from: how the next one knows there is nothing to do.

Nothing here loads a library of weight, so that finding out that nothing has changed is quick.
"""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from wayfold.app.identity import code_key, library_key, list_key
from wayfold.base.findings import Finding
from wayfold.base.hashing import hash_bytes, hash_values
from wayfold.disk.placing import write_whole
from wayfold.project.files import BookFolder

PRINTED = b"printed = "
"""How the line of plan.lock.toml begins that names the printed gatherings."""


@dataclass(frozen=True, slots=True)
class Made:
    """The record of one make, of a book of so many ``pages``.

    ``content`` is ``inputs`` but for what lies printed, which changes nothing on the sheets.
    ``sheets`` has the ink of each paper sheet, ``leaves`` that of each translucent one, in the
    order of the print files (``press.ledger.SheetInk`` in JSON's own types); ``code`` is the
    identity of Wayfold and its libraries. ``photographs`` are the folders that the book names.
    """

    inputs: str = ""
    content: str = ""
    outputs: str = ""
    code: str = ""
    pages: int = 0
    sheets: Sequence[Any] = ()
    leaves: Sequence[Any] = ()
    photographs: Sequence[str] = ()


def read_made(folder: BookFolder) -> Made:
    """Give the record of the last make, or an empty one."""
    try:
        return Made(**json.loads(folder.made_file.read_text(encoding="utf-8")))
    except (FileNotFoundError, ValueError, TypeError, RecursionError):
        return Made()  # it lies in the cache: losing it costs a make


def write_made(folder: BookFolder, made: Made) -> None:
    """Keep the record of a make."""
    data = json.dumps(dataclasses.asdict(made), separators=(",", ":"))
    write_whole(folder.made_file, data.encode(), lasting=False)


def is_current(folder: BookFolder, made: Made) -> bool:
    """Tell whether all that the last make read, and all that it left, is as it was.

    The book is not read for it: where its files are the same, so are the folders that they name.
    """
    there = made.outputs == list_key(output_files(folder))
    return there and made.inputs == inputs_key(folder, made.photographs)


def read_inputs(folder: BookFolder) -> dict[Path, bytes]:
    """Give the files of decisions, texts, styles, calendars and tracks that a make reads."""
    read = [folder.book_file, folder.photos_file, folder.trip_file, folder.plan_file]
    read.append(folder.materials_file)
    read += [
        *sorted(folder.texts.glob("*.md")),
        *sorted(folder.styles.glob("*/style.toml")),
        *folder.list_calendars(),
        *folder.list_tracks(),
    ]
    return {path: path.read_bytes() for path in read if path.is_file()}


def inputs_key(folder: BookFolder, photographs: Iterable[str], *, marks: bool = True) -> str:
    """Give the identity of all that a make reads: decisions, photographs, code, libraries.

    ``photographs`` are the folders that the book names. Without ``marks`` the plan's note of what
    lies printed is left out.
    """
    data = read_inputs(folder)
    if not marks and folder.plan_file in data:
        lines = data[folder.plan_file].split(b"\n")
        data[folder.plan_file] = b"\n".join(n for n in lines if not n.startswith(PRINTED))
    return hash_values(
        [[folder.name_of(path), hash_bytes(content)] for path, content in data.items()],
        list_key(folder.photo_folders(photographs)),
        list_key(folder.list_extracts()),
        list_key([folder.fonts]),
        code_key(),
        library_key(),
    )


@dataclass(frozen=True, slots=True)
class MakeReport:
    """What a make did. ``pages`` were set anew; ``sheets`` differ in ink from the last make.

    ``reprint`` names the printed sheets that the book has outgrown, each with the reasons.
    """

    nothing_to_do: bool
    page_count: int
    pages: tuple[int, ...]
    pictures: int
    sheets: tuple[str, ...]
    outputs: tuple[str, ...]
    findings: tuple[Finding, ...]
    reprint: tuple[str, ...] = ()

    def to_json(self) -> dict[str, Any]:
        """Give the report as plain values."""
        fields = dataclasses.asdict(self)
        return {**fields, "findings": [f.to_json() for f in self.findings]}


def output_files(folder: BookFolder) -> tuple[Path, ...]:
    """The files a make may leave; those of leaves and itinerary only where the book has any."""
    names = (
        "reading.pdf",
        "sheets.pdf",
        "leaves.pdf",
        "interleaves.pdf",
        "plan.pdf",
        "plan.json",
        "checks.json",
        "itinerary.csv",
        "itinerary.ics",
        "case.pdf",
        "bench.pdf",
        "templates.pdf",
        "dummy.pdf",
        "trial.pdf",
        "proof.pdf",
        "turning.pdf",
        "fronts.pdf",
        "backs.pdf",
    )
    return tuple(folder.out / name for name in names)


def list_outputs(folder: BookFolder) -> tuple[str, ...]:
    """Name the files that a make left."""
    return tuple(folder.name_of(path) for path in output_files(folder) if path.exists())

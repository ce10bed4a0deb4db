"""What is killed in the middle: changes of a small book, each from a known state to a known state.

The book is of our own making: five painted pictures of two towns, a text, its print files made.
"""

from __future__ import annotations

import shutil
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from importlib import import_module
from pathlib import Path

from tests.app.conftest import LISBON, PORTO, paint
from tests.desk_book import CALENDAR, TRACK
from wayfold.app.journey_files import FileKind, keep_file, list_files, take_away
from wayfold.app.ledger import mark_sheets, take_back_marks
from wayfold.app.make import make_book
from wayfold.app.new import begin_book
from wayfold.base.progress import NoProgress
from wayfold.book.edits import SetCaption, SetPicks, SetText, SetTitle
from wayfold.book.state import Pick
from wayfold.photos.workers import LOADED
from wayfold.project.files import BookFolder
from wayfold.project.journal import Journal
from wayfold.project.store import load_book, write_edit, write_settings

PICTURES = 5
for _name in ("wayfold.app.build", *LOADED):  # once, for all that is forked off
    import_module(_name)


@dataclass(frozen=True, slots=True)
class Job:
    """A change of the book; ``prepare`` is done before, undisturbed. ``weight`` of the points."""

    name: str
    do: Callable[[BookFolder], object]
    prepare: Callable[[BookFolder], object] = lambda _: None
    weight: int = 4
    again: bool = True
    """Whether doing it once more is harmless where it was done."""


def make_template(root: Path) -> None:
    """Begin the small book and make its print files."""
    for n in range(PICTURES):
        taken = datetime(2025, 5, 12, 9, 30) + timedelta(hours=7 * n)
        size = [(300, 200), (200, 300)][n % 2]
        place = LISBON if n < PICTURES // 2 else PORTO
        paint(root / "photographs" / f"{n}.jpg", size, 30 * n, taken, place)
    begin_book(root, "Two Towns", [root / "photographs"])
    folder = BookFolder(root)
    make(folder)
    write_edit(folder, SetText("foreword", "We went *west*.\n"))
    make(folder)


def make(folder: BookFolder) -> None:
    """Make the print files."""
    make_book(folder.root, NoProgress())


def _photos(folder: BookFolder) -> list[str]:
    return sorted(load_book(folder).known)


def _caption(folder: BookFolder) -> None:
    write_edit(folder, SetCaption(_photos(folder)[0], "The ferry, late."))


def _many(folder: BookFolder) -> None:
    photos = _photos(folder)
    write_edit(
        folder,
        SetPicks(((photos[1], Pick.HERO), (photos[2], Pick.LEAVE))),
        SetText("foreword", "We went *east*.\n"),
        SetText("closing", "And came home.\n"),
        SetTitle("", "Two Towns by the Sea", "On foot"),
        SetCaption(photos[3], "Rain until noon."),
    )


def _new_picture(folder: BookFolder) -> None:
    taken = datetime(2025, 5, 13, 11, 0)
    paint(folder.root / "photographs" / "new.jpg", (300, 200), 77, taken, LISBON)


def _take_track_away(folder: BookFolder) -> None:
    for file in list_files(folder):
        if not file.away:
            take_away(folder, file)


JOBS: Mapping[str, Job] = {
    job.name: job
    for job in (
        Job("caption", _caption, weight=6),
        Job("many files", _many, weight=8),
        Job("settings", lambda f: write_settings(f, {"book": {"title": "Other Towns"}})),
        Job("undo", lambda f: Journal(f).undo(), _many, weight=8, again=False),
        Job("redo", lambda f: Journal(f).redo(), lambda f: (_many(f), Journal(f).undo()), 8, False),
        Job("track", lambda f: keep_file(f, FileKind.TRACK, "walk.gpx", TRACK)),
        Job("calendar", lambda f: keep_file(f, FileKind.CALENDAR, "home.ics", CALENDAR)),
        Job(
            "track away",
            _take_track_away,
            lambda f: keep_file(f, FileKind.TRACK, "walk.gpx", TRACK),
            weight=2,
        ),
        Job("lie printed", lambda f: mark_sheets(f.root, ["all"], printed=True), weight=3),
        Job(
            "marks taken back",
            lambda f: take_back_marks(f.root),
            lambda f: mark_sheets(f.root, ["all"], printed=True),
            weight=3,
            again=False,
        ),
        Job("make", make, lambda f: (_many(f), _new_picture(f)), weight=4),
    )
}


def copy_book(source: Path, target: Path) -> BookFolder:
    """Put a copy of a book at ``target`` in the place of what was there; times are kept."""
    shutil.rmtree(target, ignore_errors=True)
    shutil.copytree(source, target)
    return BookFolder(target)

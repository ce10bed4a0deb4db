"""A book of given photographs to measure with, and ``wayfold make`` over it, watched."""

from __future__ import annotations

import json
import shutil
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from benchmarks.floor import Job
from benchmarks.measure import Taken, run
from benchmarks.timeline import Span
from wayfold.app.build import PRINT_PPI, collect_pictures
from wayfold.app.new import begin_book, decide_by_path
from wayfold.app.stages import run_stages
from wayfold.base.progress import NoProgress
from wayfold.book.state import PhotoChoice, Pick
from wayfold.photos.derive import choose_size
from wayfold.project.files import BookFolder
from wayfold.typeset.engine import Typesetter

LOOKED = ("photos", "looks")
"""What the cache keeps of photographs once they are read and looked at."""


@dataclass(frozen=True, slots=True)
class Needed:
    """What a book came to: its pages, and the print pictures it needs."""

    pages: int
    photographs: int
    jobs: tuple[Job, ...]
    captioned: str
    """A photograph on a page in the middle."""


def start_book(root: Path, photographs: Path, choose: Callable[[int], PhotoChoice]) -> BookFolder:
    """Start a book of all the photographs in a folder, with a decision on each by its number."""
    begin_book(root, "A Measured Journey", [photographs])
    files = sorted(photographs.glob("*.JPG"))
    decide_by_path(root, {p: choose(i) for i, p in enumerate(files)}, NoProgress())
    return BookFolder(root.resolve())


def choose(number: int) -> PhotoChoice:
    """Make some pictures large, so that the book has every kind of page."""
    if number % 40 == 6:
        return PhotoChoice(Pick.HERO)
    return PhotoChoice(Pick.TAKE, caption=f"Picture {number}", alone=number % 100 == 3)


def list_needed(folder: BookFolder) -> Needed:
    """Find out what a book needs; quick once it has been made."""
    results = run_stages(folder, Typesetter(), NoProgress())
    # Washes are pictures too, but no photographs.
    drawn = collect_pictures(results.drawings).values()
    pictures = [picture for picture in drawn if picture.asset in results.photos]
    jobs = []
    for picture in pictures:
        photo, crop = results.photos[picture.asset], picture.crop
        size = choose_size(photo, crop, picture.box.width, picture.box.height, PRINT_PPI)
        whole = (round(size.width_px / crop.width), round(size.height_px / crop.height))
        left, top = (
            min(round(at * full), full - part)
            for at, full, part in zip(
                (crop.x, crop.y), whole, (size.width_px, size.height_px), strict=True
            )
        )
        jobs.append(Job(photo.path, whole, (left, top, size.width_px, size.height_px)))
    shown = {picture.asset for picture in pictures}
    captioned = pictures[len(pictures) // 2].asset
    return Needed(len(results.drawings), len(shown), tuple(jobs), captioned)


def make(folder: BookFolder) -> tuple[Taken, list[Span]]:
    """Make the book as a person does; gives what it took, and when its pieces began and ended.

    Exit code 1 only says that some findings block it.
    """
    times = folder.root.parent / "times.json"
    command = [sys.executable, "-m", "benchmarks.timeline", str(times), "make", str(folder.root)]
    taken = run(command, fine=(0, 1))
    return taken, [(label, start, end) for label, start, end in json.loads(times.read_text())]


def forget(folder: BookFolder, but: tuple[str, ...] = ()) -> None:
    """Keep the decisions and what the cache has under these names, and nothing else.

    No plan and no print files are kept.
    """
    aside = folder.root.parent / "aside"
    aside.mkdir(exist_ok=True)
    kept = [name for name in but if (folder.cache / name).exists()]
    for name in kept:
        (folder.cache / name).rename(aside / name)
    shutil.rmtree(folder.private, ignore_errors=True)
    shutil.rmtree(folder.out, ignore_errors=True)
    folder.plan_file.unlink(missing_ok=True)
    folder.cache.mkdir(parents=True)
    for name in kept:
        (aside / name).rename(folder.cache / name)

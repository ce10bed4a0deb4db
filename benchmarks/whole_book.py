"""The whole book against its floor: writes the table of docs/performance.md.

The floor is the time that making the book's print pictures takes with the imaging library alone
(``floor.py``). Every figure of a run comes from the same machine in the same minutes, each from
a fresh process, and is the median of several.
"""

from __future__ import annotations

import json
import os
import shutil
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

from benchmarks.floor import Job
from benchmarks.measure import Taken, run, take_median
from benchmarks.pictures import keep_folder, make_pictures
from benchmarks.report import describe_machine, tell_table, tell_timeline, write_part
from wayfold.app.build import PRINT_PPI, collect_pictures
from wayfold.app.new import begin_book, decide_by_path
from wayfold.app.stages import run_stages
from wayfold.base.progress import NoProgress
from wayfold.book.edits import SetCaption
from wayfold.book.state import PhotoChoice, Pick
from wayfold.photos.derive import choose_size
from wayfold.project.files import BookFolder
from wayfold.project.store import write_edit
from wayfold.typeset.engine import Typesetter

PICTURES, PAGES, SPARE_PAGES = 200, 96, 4
ROUNDS = 2  # of floor and whole book, by turns
REPEATS = 3  # of the short ones


@dataclass(frozen=True, slots=True)
class Needed:
    """What the book came to: its pages, and the print pictures it needs."""

    pages: int
    jobs: tuple[Job, ...]
    captioned: str
    """A photograph on a page in the middle."""


def main() -> None:
    print("The pictures to measure with …", flush=True)
    photographs = make_pictures(PICTURES)
    with tempfile.TemporaryDirectory(prefix="book-", dir=keep_folder()) as name:
        folder = BookFolder(Path(name) / "book")
        needed = start_book(folder, photographs)
        rows = measure_all(folder, needed, Path(name))
        times = Path(name) / "times.json"
        forget(folder)
        run([sys.executable, "-m", "benchmarks.timeline", str(folder.root), str(times)])
        timeline = json.loads(times.read_text())
    weight = sum(p.stat().st_size for p in photographs.glob("*.JPG")) / PICTURES / 1e6
    pixels = sum(j.part[2] * j.part[3] for j in needed.jobs) / len(needed.jobs) / 1e6
    lines = [
        f"{needed.pages} pages, {PICTURES} photographs of 24 megapixels ({weight:.1f} MB each), "
        f"{len(needed.jobs)} print pictures of {pixels:.1f} megapixels on average. "
        + describe_machine(),
        "",
        *tell_table(rows),
        "",
        *tell_timeline(timeline),
    ]
    print("\n".join(lines))
    write_part("whole book", lines)


def start_book(folder: BookFolder, photographs: Path) -> Needed:
    """Start a book of all the photographs, some of them large, and find out what it needs."""
    begin_book(folder.root, "A Measured Journey", [photographs])
    files = sorted(photographs.glob("*.JPG"))
    decide_by_path(folder.root, {p: choose(i) for i, p in enumerate(files)}, NoProgress())
    results = run_stages(folder, Typesetter(), NoProgress())
    # Washes are pictures too, but no photographs.
    drawn = collect_pictures(results.drawings).values()
    pictures = [picture for picture in drawn if picture.asset in results.photos]
    shown = {picture.asset for picture in pictures}
    pages = len(results.drawings)
    if len(shown) != PICTURES or abs(pages - PAGES) > SPARE_PAGES:
        raise SystemExit(
            f"The book came out at {pages} pages with {len(shown)} photographs, not at about "
            f"{PAGES} with {PICTURES}: make other pictures large (choose)."
        )
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
    return Needed(pages, tuple(jobs), pictures[len(pictures) // 2].asset)


def choose(number: int) -> PhotoChoice:
    """Make some pictures large, so that the book has every kind of page."""
    if number % 40 == 6:
        return PhotoChoice(Pick.HERO)
    return PhotoChoice(Pick.TAKE, caption=f"Picture {number}", alone=number % 100 == 3)


def measure_all(
    folder: BookFolder, needed: Needed, scratch: Path
) -> list[tuple[str, Taken, str, str]]:
    """Give rows of what was done, what it took, and the goals for time and memory."""
    bare, sharpened, whole = [], [], []
    for number in range(ROUNDS):
        print(f"Floor and whole book, round {number + 1} of {ROUNDS} …", flush=True)
        bare.append(run_floor(needed.jobs, scratch, sharpen=False))
        sharpened.append(run_floor(needed.jobs, scratch, sharpen=True))
        forget(folder)
        whole.append(make(folder))
    print("The short ones …", flush=True)
    again = [make(folder) for _ in range(REPEATS)]
    caption = []
    for number in range(REPEATS):
        write_edit(folder, SetCaption(needed.captioned, f"Words number {number + 1}"))
        caption.append(make(folder))
    return [
        ("floor: the print pictures alone", take_median(bare), "", ""),
        ("the same, sharpened by the library", take_median(sharpened), "", ""),
        ("the whole book, nothing kept", take_median(whole), "≤ 2.0 × floor", "< 1200 MB"),
        ("made again, nothing changed", take_median(again), "≤ 0.5 s", ""),
        ("made again, one caption changed", take_median(caption), "≤ 1 s", ""),
    ]


def make(folder: BookFolder) -> Taken:
    """Make the book as a person does. Exit code 1 only says that some findings block it."""
    command = Path(sys.executable).with_name("wayfold")
    return run([str(command), "make", str(folder.root)], fine=(0, 1))


def forget(folder: BookFolder) -> None:
    """Keep the decisions and nothing else: no cache, no plan, no print files."""
    shutil.rmtree(folder.private, ignore_errors=True)
    shutil.rmtree(folder.out, ignore_errors=True)
    folder.plan_file.unlink(missing_ok=True)


def run_floor(jobs: tuple[Job, ...], scratch: Path, *, sharpen: bool) -> Taken:
    """Make the print pictures without Wayfold."""
    out = scratch / "floor"
    shutil.rmtree(out, ignore_errors=True)
    out.mkdir()
    listed = scratch / "jobs.json"
    listed.write_text(json.dumps([[j.source, j.whole, j.part] for j in jobs]))
    options = ["--sharpen"] if sharpen else []
    taken = run([sys.executable, "-m", "benchmarks.floor", str(listed), str(out), *options])
    if len(os.listdir(out)) != len(jobs):  # noqa: PTH208
        raise SystemExit("The floor did not make all its pictures.")
    return taken


if __name__ == "__main__":
    main()

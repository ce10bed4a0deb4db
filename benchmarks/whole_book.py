"""The whole book against its floor: the table of docs/performance.md."""

from __future__ import annotations

import json
import os
import shutil
import statistics
import sys
import tempfile
import tomllib
from pathlib import Path

from benchmarks.measure import Taken, run
from benchmarks.pictures import write_pictures
from wayfold.app.make import PRINT_PPI, collect_pictures
from wayfold.app.new import begin_book, decide_by_path
from wayfold.app.stages import run_stages
from wayfold.base.progress import NoProgress
from wayfold.book.edits import SetCaption
from wayfold.book.state import PhotoChoice, Pick
from wayfold.photos.derive import choose_size
from wayfold.project.files import BookFolder
from wayfold.project.store import write_edit
from wayfold.typeset.engine import Typesetter

PICTURES = 200
HERO_EVERY = 66
"""One picture in so many runs across two pages: the book then comes to about 100 pages."""
RUNS = 2
KEPT = Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache") / "wayfold" / "bench"
REPORT = Path(__file__).parent.parent / "docs" / "performance.md"
BEGIN, END = "<!-- whole book -->", "<!-- /whole book -->"


def main() -> None:
    photographs = KEPT / "photographs"
    print("Making the pictures to measure with …", flush=True)
    write_pictures(photographs, PICTURES)
    with tempfile.TemporaryDirectory(prefix="bench-", dir=KEPT) as name:
        folder = BookFolder(Path(name) / "book")
        begin_book(folder.root, "A Measured Journey", [photographs])
        paths = sorted(photographs.iterdir())[7::HERO_EVERY]
        heroes = {path: PhotoChoice(pick=Pick.HERO) for path in paths}
        decide_by_path(folder.root, heroes, NoProgress())
        pages, jobs = list_jobs(folder)
        shutil.rmtree(folder.private)
        floor, whole = [], []
        for _ in range(RUNS):
            floor.append(run_floor(jobs, Path(name)))
            shutil.rmtree(folder.private, ignore_errors=True)
            whole.append(run(make_command(folder)))
        again = [run(make_command(folder)) for _ in range(3)]
        caption = [edit_caption(folder, f"Words {i}.") for i in range(3)]
    write_report(pages, len(jobs), middle(floor), middle(whole), middle(again), middle(caption))


def make_command(folder: BookFolder) -> list[str]:
    return [str(Path(sys.executable).parent / "wayfold"), "make", str(folder.root)]


def list_jobs(folder: BookFolder) -> tuple[int, list[tuple[str, int, int]]]:
    """Give the book's page count, and source and size in pixels of every print picture."""
    results = run_stages(folder, Typesetter(), NoProgress())
    jobs = []
    for picture in collect_pictures(results.drawings).values():
        photo, box = results.photos[picture.asset], picture.box
        size = choose_size(photo, picture.crop, box.width, box.height, PRINT_PPI)
        jobs.append((photo.path, size.width_px, size.height_px))
    return len(results.drawings), jobs


def run_floor(jobs: list[tuple[str, int, int]], scratch: Path) -> Taken:
    (scratch / "floor").mkdir(exist_ok=True)
    (scratch / "jobs.json").write_text(json.dumps(jobs))
    script = Path(__file__).with_name("floor.py")
    return run([sys.executable, str(script), str(scratch / "jobs.json"), str(scratch / "floor")])


def edit_caption(folder: BookFolder, caption: str) -> Taken:
    photo = next(iter(tomllib.loads(folder.photos_file.read_text("utf-8"))["photo"]))
    write_edit(folder, SetCaption(photo, caption))
    return run(make_command(folder))


def middle(runs: list[Taken]) -> Taken:
    return Taken(
        statistics.median(r.seconds for r in runs), statistics.median(r.peak_mb for r in runs)
    )


def write_report(
    pages: int, pictures: int, floor: Taken, whole: Taken, again: Taken, caption: Taken
) -> None:
    rows = (
        ("floor: the print pictures alone, two processes", floor, ""),
        ("whole book, empty cache", whole, "≤ 2.0 × floor, ≤ 1200 MB"),
        ("made again, nothing changed", again, "≤ 0.5 s"),
        ("made again, one caption changed", caption, "≤ 1 s"),
    )
    lines = [
        f"{pages} pages, {PICTURES} photographs of 24 megapixels, {pictures} print pictures; "
        f"Python {sys.version.split()[0]}, {os.cpu_count()} cores.",
        "",
        "| what | seconds | × floor | peak MB | goal |",
        "|---|---|---|---|---|",
        *(
            f"| {what} | {t.seconds:.2f} | {t.seconds / floor.seconds:.2f} "
            f"| {t.peak_mb:.0f} | {goal} |"
            for what, t, goal in rows
        ),
    ]
    print("\n".join(lines))
    text = REPORT.read_text("utf-8") if REPORT.is_file() else f"# Performance\n\n{BEGIN}\n{END}\n"
    if BEGIN not in text:
        text += f"\n{BEGIN}\n{END}\n"
    head, rest = text.split(BEGIN)
    body = "\n".join(lines)
    REPORT.write_text(f"{head}{BEGIN}\n{body}\n{END}{rest.split(END)[1]}", "utf-8")


if __name__ == "__main__":
    main()

"""Reading and looking at photographs: against thumbnails of them, and the memory it takes.

The figures of time come from ``looking.py``, by turns. Memory is that of all processes while the
desk opens a book for the first time, of few and of thousands of small pictures: what is held of
each shows there as with large ones, and what it takes to decode one does not hang on how many.
"""

from __future__ import annotations

import shutil
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from benchmarks.many_pictures import make_book
from benchmarks.measure import Taken, run, take_median
from benchmarks.pictures import keep_folder, link_some, make_pictures, read_once
from benchmarks.rows import Effort, Part, Row

ALL = 500
COUNT = {Effort.QUICK: 12, Effort.USUAL: 300, Effort.LONG: 300}
FEWER = {Effort.QUICK: 6, Effort.USUAL: 60, Effort.LONG: 60}
MANY = {Effort.QUICK: (60, 300), Effort.USUAL: (300, 5000), Effort.LONG: (300, 5000)}
ROUNDS = {Effort.QUICK: 1, Effort.USUAL: 1, Effort.LONG: 3}
TIMES_GOAL, FLAT = 1.3, 1.15


def report(effort: Effort) -> Part:
    """Measure time and memory."""
    return Part((*time_reading(effort), *watch_memory(MANY[effort])))


def time_reading(effort: Effort) -> Iterator[Row]:
    photographs, count = make_pictures(ALL), COUNT[effort]
    with tempfile.TemporaryDirectory(prefix="reading-", dir=keep_folder()) as name:
        fewer = link_some(photographs, FEWER[effort], Path(name) / "fewer")
        chosen = link_some(photographs, count, Path(name) / "photographs")
        weight = read_once(chosen)
        floors, taken = [], []
        for _ in range(ROUNDS[effort]):
            floors.append(look("thumbnails-pillow", chosen))
            taken.append(look("look", chosen))
        small = look("look", fewer)
    ours, floor = take_median(taken), take_median(floors)
    about = f"{count} pictures of 24 MP ({weight:.1f} MB each)"
    floor_is = "thumbnails of 512 px, two processes"
    yield Row(
        f"Reading and looking at {about}",
        ours.wall_s, floor.wall_s, floor_is, most_times=TIMES_GOAL,
    )  # fmt: skip
    yield Row(
        "The same, of the processor",
        ours.processor_s, floor.processor_s, floor_is, "processor s",
    )  # fmt: skip
    yield Row(
        f"Memory, reading {count} pictures of 24 MP",
        ours.peak_mb, small.peak_mb, f"ours, {FEWER[effort]} pictures", "MB", most_times=FLAT,
    )  # fmt: skip


def look(what: str, folder: Path) -> Taken:
    return run([sys.executable, "-m", "benchmarks.looking", what, str(folder)])


def watch_memory(counts: tuple[int, int]) -> Iterator[Row]:
    """Open books for the first time, as nothing was kept of their pictures but decisions."""
    few, many = (open_first(make_book(count)) for count in counts)
    yield Row(
        f"Memory, first opening of {counts[1]:,} small pictures",
        many.peak_mb, few.peak_mb, f"ours, {counts[0]:,} small pictures", "MB", most_times=FLAT,
    )  # fmt: skip


def open_first(root: Path) -> Taken:
    shutil.rmtree(root / ".wayfold" / "cache", ignore_errors=True)
    return run([sys.executable, "-m", "benchmarks.many_pictures", str(root)])

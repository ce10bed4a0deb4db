"""Reading and looking at photographs: against thumbnails of them, and the memory it takes.

What is run is told in ``looking.py``. Memory is that of all processes: with a few large pictures
and with hundreds, and with some small ones and with thousands: what is held of each shows there as
with large ones, and what decoding takes does not hang on how many there are.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from benchmarks.looking import measure_looking
from benchmarks.many_pictures import make_small
from benchmarks.measure import Taken, run
from benchmarks.pictures import keep_folder, link_some, make_pictures, read_once
from benchmarks.rows import Effort, Part, Row

ALL = 500
COUNTS = {Effort.QUICK: (4, 8), Effort.USUAL: (60, 300), Effort.LONG: (60, 300)}
SMALL = {Effort.QUICK: (10, 30), Effort.USUAL: (200, 1000), Effort.LONG: (300, 5000)}
FROM = {Effort.QUICK: 300, Effort.USUAL: 5000, Effort.LONG: 5000}
ROUNDS = {Effort.QUICK: 1, Effort.USUAL: 1, Effort.LONG: 3}
TIMES_GOAL, FLAT = 1.3, 1.15


def report(effort: Effort) -> Part:
    """Measure time and memory."""
    large, small = make_pictures(ALL), make_small(FROM[effort])
    with tempfile.TemporaryDirectory(prefix="reading-", dir=keep_folder()) as name:
        timed = list(time_reading(large, COUNTS[effort], ROUNDS[effort], Path(name)))
        held = watch_memory(small, SMALL[effort], Path(name))
    return Part((*timed, held))


def time_reading(
    pictures: Path, counts: tuple[int, int], rounds: int, scratch: Path
) -> Iterator[Row]:
    """Time the larger count of pictures; memory is compared with the smaller."""
    few, many = (link_some(pictures, count, scratch / f"large-{count}") for count in counts)
    weight = read_once(many)
    floor, *_, ours = measure_looking(many, rounds)
    about = f"{counts[1]} pictures of 24 MP ({weight:.1f} MB each)"
    floor_is = f"{floor.what.removeprefix('floor: ')}, two processes"
    yield Row(
        f"Reading and looking at {about}",
        ours.taken.wall_s, floor.taken.wall_s, floor_is, most_times=TIMES_GOAL,
    )  # fmt: skip
    yield Row(
        "The same, of the processor",
        ours.taken.processor_s, floor.taken.processor_s, floor_is, "processor s",
    )  # fmt: skip
    yield Row(
        f"Memory, reading {counts[1]} pictures of 24 MP",
        ours.taken.peak_mb, look(few).peak_mb, f"ours, {counts[0]} pictures", "MB",
        most_times=FLAT,
    )  # fmt: skip


def watch_memory(pictures: Path, counts: tuple[int, int], scratch: Path) -> Row:
    """Compare the memory that many small pictures take with that of fewer."""
    few, many = (look(link_some(pictures, n, scratch / f"small-{n}")).peak_mb for n in counts)
    return Row(
        f"Memory, reading {counts[1]:,} small pictures",
        many, few, f"ours, {counts[0]:,} small pictures", "MB", most_times=FLAT,
    )  # fmt: skip


def look(folder: Path) -> Taken:
    """Read and look at a folder's pictures, as a book does that has nothing kept."""
    return run([sys.executable, "-m", "benchmarks.looking", "look", str(folder)])

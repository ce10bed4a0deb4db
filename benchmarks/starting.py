"""How soon the command line answers, and how soon the desk stands over a book of thousands.

Floors: Python that starts and ends, and the desk's own server with nothing but a greeting.
"""

from __future__ import annotations

import statistics
import sys
from collections.abc import Iterator
from pathlib import Path

from benchmarks.many_pictures import make_book, open_book
from benchmarks.measure import run
from benchmarks.rows import Effort, Part, Row
from benchmarks.serving import Served

COUNT = {Effort.QUICK: 300, Effort.USUAL: 5000, Effort.LONG: 5000}
HELPS, OPENINGS = 9, 5
HELP_GOAL_S, DESK_GOAL_S = 0.25, 1.5


def report(effort: Effort) -> Part:
    """Measure both."""
    return Part((*time_help(), *time_desk(COUNT[effort])))


def time_help() -> Iterator[Row]:
    program = str(Path(sys.executable).with_name("wayfold"))
    ours, floor = [], []
    for _ in range(HELPS):
        floor.append(run([sys.executable, "-c", "pass"]).wall_s)
        ours.append(run([program, "--help"]).wall_s)
    yield Row(
        "wayfold --help",
        statistics.median(ours), statistics.median(floor), "Python that starts and ends",
        most=HELP_GOAL_S,
    )  # fmt: skip


def time_desk(count: int) -> Iterator[Row]:
    """Time the desk until it gives the book; it was open there before, as on any day but one."""
    root = make_book(count)
    open_book(root)
    ours, floor = [], []
    for _ in range(OPENINGS):
        with Served.bare() as server:
            floor.append(server.wait_for("/"))
        with Served.desk(root) as desk:
            ours.append(desk.wait_for("/api/view"))
    yield Row(
        f"Desk ready, {count:,} photographs, open before",
        statistics.median(ours), statistics.median(floor), "the same server, saying hello",
        most=DESK_GOAL_S,
    )  # fmt: skip

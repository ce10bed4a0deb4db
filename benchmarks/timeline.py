"""Makes a book and writes down when each piece of its work began and ended.

``python -m benchmarks.timeline BOOK TIMES.json`` gives rows of label, start and end in seconds.
"""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from wayfold.base.progress import Task

START = time.perf_counter()


class _Steps:
    def advance(self, steps: int = 1) -> None:
        """Count nothing."""


class Timeline:
    """A progress that keeps the times of its tasks."""

    def __init__(self) -> None:
        self.rows: list[tuple[str, float, float]] = []

    @contextmanager
    def task(self, label: str, total: int) -> Iterator[Task]:  # noqa: ARG002
        start = time.perf_counter() - START
        yield _Steps()
        self.rows.append((label, start, time.perf_counter() - START))


def main(book: Path, times: Path) -> None:
    from wayfold.app.make import make_book

    timeline = Timeline()
    make_book(book, timeline)
    end = time.perf_counter() - START
    timeline.rows.append(("end", end, end))
    times.write_text(json.dumps(timeline.rows))


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))

"""Runs a command of Wayfold's and writes down when each piece of its work began and ended.

``python -m benchmarks.timeline TIMES.json COMMAND …`` writes rows of label, start and end in
seconds; else it does what ``wayfold COMMAND …`` does.
"""

from __future__ import annotations

import itertools
import json
import sys
import time
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path

from wayfold.base.progress import Task

START = time.perf_counter()
END = "end"
OTHER = "other"
LAYOUT = "planning and layout"
STAGES: Mapping[str, str] = {
    "Looking through the folders": "reading",
    "Reading photographs": "reading",
    "Looking at the photographs": "looking",
    "Looking into files": "reading",
    "Looking for the best plan": LAYOUT,
    "Painting washes": "washes",
    "Preparing pictures for print": "print pictures",
    "Setting the pages": "setting pages",
    "Setting the leaves": "setting pages",
    "Looking through the leaves": "setting pages",
    "Drawing the marks": "sheets",
    "Drawing the gatherings": "sheets",
    "Writing the files": "writing",
}
"""The part of the work that each of its pieces belongs to; "Drawing case.pdf" is of another."""
BEFORE: Mapping[str, str] = {
    "Looking through the folders": "starting",
    "Writing the files": "checks",
    END: "writing",
}
"""What is done before a piece without a bar of its own, where that is no part of the piece."""
THEN_LAID_OUT = ("reading", "looking", LAYOUT)
"""After these, all is laying out until the next piece of other work begins."""
ORDER = (
    "starting",
    "reading",
    "looking",
    LAYOUT,
    "washes",
    "print pictures",
    "setting pages",
    "sheets",
    "bench papers",
    "checks",
    "writing",
    OTHER,
)
Span = tuple[str, float, float]


class Timeline:
    """A progress that keeps the times of its tasks."""

    def __init__(self) -> None:
        self.rows: list[Span] = []

    @contextmanager
    def task(self, label: str, total: int) -> Iterator[Task]:  # noqa: ARG002
        """Time a task."""
        start = time.perf_counter() - START
        yield _Steps()
        self.rows.append((label, start, time.perf_counter() - START))


class _Steps:
    def advance(self, steps: int = 1) -> None:
        """Count nothing."""


def sum_stages(spans: Sequence[Span], wall_s: float) -> dict[str, float]:
    """Share ``wall_s`` seconds out among the stages, in ``ORDER``; their sum is ``wall_s``.

    Where pieces lie within each other, time is the innermost's. What passed before the first clock
    was read belongs to starting. Where nothing was done but look, all is starting.
    """
    late = wall_s - max(end for _, _, end in spans)
    pieces = [(name, start + late, end + late) for name, start, end in spans]
    edges = sorted({0.0, *(at for _, start, end in pieces for at in (start, end))})
    shared: dict[str, float] = defaultdict(float)
    before = "starting"
    for begin, until in itertools.pairwise(edges):
        within = [p for p in pieces if p[1] <= begin and until <= p[2]]
        if within:
            before = _find_stage(max(within, key=lambda p: p[1])[0])
            shared[before] += until - begin
        else:
            ahead = min((p for p in pieces if p[1] >= until), key=lambda p: (p[1], p[2]))[0]
            shared[_name_gap(before, ahead)] += until - begin
    return {stage: shared[stage] for stage in ORDER if shared[stage] > 0.0}


def _name_gap(before: str, ahead: str) -> str:
    """Name what is done between a piece of one stage and the next piece, without a bar."""
    if before == "starting":
        return before
    after = BEFORE.get(ahead) or _find_stage(ahead)
    return LAYOUT if before in THEN_LAID_OUT and after not in THEN_LAID_OUT[:2] else after


def _find_stage(label: str) -> str:
    return "bench papers" if label.endswith(".pdf") else STAGES.get(label, OTHER)


def main(times: Path, arguments: list[str]) -> int:
    """Run the command; give its exit code."""
    import wayfold.cli.progress as shown
    from wayfold.cli.main import run

    timeline = Timeline()
    shown.TerminalProgress = lambda: timeline  # type: ignore[assignment,misc,return-value]
    code = run(arguments)
    end = time.perf_counter() - START
    timeline.rows.append((END, end, end))
    times.write_text(json.dumps(timeline.rows))
    return code


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]), sys.argv[2:]))

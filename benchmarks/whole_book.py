"""Whole books against their floor: decoding, resizing and writing their print pictures alone.

Floor (``floor.py``), a book with nothing kept, and one whose photographs were read and looked at
before, as at the desk, run by turns, each in a fresh process. For the first book the time is
shared out among the stages, and drawn.
"""

from __future__ import annotations

import json
import os
import shutil
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from statistics import median

from benchmarks.book import LOOKED, Needed, choose, forget, list_needed, make, start_book
from benchmarks.floor import Job
from benchmarks.measure import Taken, run, take_median
from benchmarks.pictures import keep_folder, link_some, make_pictures, read_once
from benchmarks.rows import Effort, Part, Row
from benchmarks.stacked import Bar, draw_bars
from benchmarks.timeline import ORDER, sum_stages
from wayfold.book.edits import SetCaption
from wayfold.project.store import write_edit

SIZES = {Effort.QUICK: (16, 24), Effort.USUAL: (200, 500), Effort.LONG: (200, 500)}
ALL = 500
"""How many pictures are made, of which the books take some."""
ROUNDS = {Effort.QUICK: (1, 1), Effort.USUAL: (1, 1), Effort.LONG: (3, 3)}
LOOKED_TOO = {Effort.QUICK: (True, False), Effort.USUAL: (True, False), Effort.LONG: (True, True)}
"""For which of the books the make is measured that needs no reading and looking."""
TIMES_GOAL, MEMORY_GOAL_MB, SAME = 1.25, 700.0, 1.1
FLOOR, FRESH, LOOKED_AT = (
    "the print pictures alone",
    "the book, nothing kept",
    "the book, looked at before",
)
CAPTION, NOTHING = "one caption changed", "nothing changed"
PICTURE = "time-of-a-book.svg"


@dataclass(slots=True)
class Measured:
    """A book, and the runs of each kind: what they took, and seconds by stage."""

    needed: Needed
    runs: dict[str, list[Taken]]
    stages: dict[str, list[dict[str, float]]]

    @property
    def name(self) -> str:
        return f"{self.needed.pages} pages, {self.needed.photographs} photographs"

    def note(self, what: str, taken: Taken, stages: dict[str, float]) -> None:
        self.runs.setdefault(what, []).append(taken)
        self.stages.setdefault(what, []).append(stages)

    def bar(self, what: str) -> Bar:
        """Give medians by stage."""
        each = self.stages[what]
        names = [s for s in ORDER if any(s in stages for stages in each)]
        return Bar(what, {s: median(stages.get(s, 0.0) for stages in each) for s in names})


def report(effort: Effort) -> Part:
    """Measure the books."""
    photographs = make_pictures(ALL)
    with tempfile.TemporaryDirectory(prefix="book-", dir=keep_folder()) as name:
        scratch = Path(name)
        books, weights = [], []
        asked = zip(SIZES[effort], ROUNDS[effort], LOOKED_TOO[effort], strict=True)
        for size, rounds, looked in asked:
            chosen = link_some(photographs, size, scratch / f"photographs-{size}")
            weights.append(read_once(chosen))
            books.append(measure(scratch / str(size), chosen, rounds, looked=looked))
    drawn = draw_bars(f"Where the time goes: {books[0].name}", list(group_bars(books[0])))
    return Part(tuple(list_rows(books)), tuple(tell(books, weights)), {PICTURE: drawn})


def measure(scratch: Path, photographs: Path, rounds: int, *, looked: bool) -> Measured:
    """Measure one book; where it is ``looked`` at before, too."""
    scratch.mkdir()
    folder = start_book(scratch / "book", photographs, choose)
    forget(folder)
    first = make(folder)
    measured = Measured(list_needed(folder), {}, {})
    note_make(measured, FRESH, first)
    for number in range(rounds):
        if number:
            forget(folder)
            note_make(measured, FRESH, make(folder))
        floor = run_floor(measured.needed.jobs, scratch)
        measured.note(FLOOR, floor, {"print pictures": floor.wall_s})
        if looked:
            forget(folder, but=LOOKED)
            note_make(measured, LOOKED_AT, make(folder))
    for number in range(rounds):
        note_make(measured, NOTHING, make(folder))
        write_edit(folder, SetCaption(measured.needed.captioned, f"Words number {number}"))
        note_make(measured, CAPTION, make(folder))
    return measured


def note_make(
    measured: Measured, what: str, made: tuple[Taken, list[tuple[str, float, float]]]
) -> None:
    taken, spans = made
    measured.note(what, taken, sum_stages(spans, taken.wall_s))


def list_rows(books: list[Measured]) -> Iterator[Row]:
    for book in books:
        floor = take_median(book.runs[FLOOR])
        fresh = take_median(book.runs[FRESH])
        about = "its print pictures alone, two processes"
        yield Row(
            f"Whole book, {book.name} of 24 MP, nothing kept at all",
            fresh.wall_s, floor.wall_s, about, most_times=TIMES_GOAL,
        )  # fmt: skip
        if LOOKED_AT in book.runs:
            yield Row(
                f"Whole book, {book.needed.pages} pages, photographs read and looked at before",
                take_median(book.runs[LOOKED_AT]).wall_s, floor.wall_s, about,
            )  # fmt: skip
        yield Row(
            f"Whole book, {book.needed.pages} pages: most memory of all processes",
            fresh.peak_mb, floor.peak_mb, about, "MB", most=MEMORY_GOAL_MB,
        )  # fmt: skip
    peaks = [take_median(book.runs[FRESH]).peak_mb for book in books]
    yield Row(
        f"Memory, {books[-1].needed.photographs} photographs",
        peaks[-1], peaks[0], f"ours, {books[0].needed.photographs} photographs", "MB",
        most_times=SAME,
    )  # fmt: skip


def tell(books: list[Measured], weights: list[float]) -> Iterator[str]:
    yield "## A whole book"
    yield ""
    yield f"![Bars of the time that each stage takes](pictures/{PICTURE})"
    for book, weight in zip(books, weights, strict=True):
        pixels = sum(j.part[2] * j.part[3] for j in book.needed.jobs) / len(book.needed.jobs) / 1e6
        yield ""
        yield (
            f"{book.name} of 24 megapixels ({weight:.1f} MB each), {len(book.needed.jobs)} print "
            f"pictures of {pixels:.1f} megapixels on average; medians of "
            f"{len(book.runs[FLOOR])}."
        )
        yield ""
        yield from tell_runs(book)
        yield ""
        yield from tell_stages(book)


def tell_runs(book: Measured) -> Iterator[str]:
    floor = take_median(book.runs[FLOOR])
    yield "| what | s | × floor | processor s | × floor | peak MB, all | peak MB, one |"
    yield "|---|--:|--:|--:|--:|--:|--:|"
    for what in (w for w in (FLOOR, FRESH, LOOKED_AT, CAPTION, NOTHING) if w in book.runs):
        taken = take_median(book.runs[what])
        yield (
            f"| {what} | {taken.wall_s:.2f} | {taken.wall_s / floor.wall_s:.2f} "
            f"| {taken.processor_s:.2f} | {taken.processor_s / floor.processor_s:.2f} "
            f"| {taken.peak_mb:.0f} | {taken.largest_mb:.0f} |"
        )


def tell_stages(book: Measured) -> Iterator[str]:
    bars = [book.bar(w) for w in (FRESH, LOOKED_AT, CAPTION, NOTHING) if w in book.runs]
    yield f"| seconds of | {' | '.join(bar.name for bar in bars)} |"
    yield f"|---|{'--:|' * len(bars)}"
    for stage in ORDER:
        if any(stage in bar.stages for bar in bars):
            shares = (f"{bar.stages[stage]:.2f}" if stage in bar.stages else "" for bar in bars)
            yield f"| {stage} | {' | '.join(shares)} |"


def group_bars(book: Measured) -> Iterator[list[Bar]]:
    yield [book.bar(what) for what in (FLOOR, FRESH, LOOKED_AT)]
    yield [book.bar(what) for what in (CAPTION, NOTHING)]


def run_floor(jobs: tuple[Job, ...], scratch: Path) -> Taken:
    """Make the print pictures without Wayfold."""
    out = scratch / "floor"
    shutil.rmtree(out, ignore_errors=True)
    out.mkdir()
    listed = scratch / "jobs.json"
    listed.write_text(json.dumps([[j.source, j.whole, j.part] for j in jobs]))
    taken = run([sys.executable, "-m", "benchmarks.floor", str(listed), str(out)])
    if len(os.listdir(out)) != len(jobs):  # noqa: PTH208
        raise SystemExit("The floor did not make all its pictures.")
    return taken

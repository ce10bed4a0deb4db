"""Laying out a whole book, cold and warm, and the other ways of every page.

Run it with ``python -m benchmarks.layout``; it writes its part of docs/performance.md. The floor is
the typesetter alone, asked in one question for the height of every text that the layout asks for.
"""

from __future__ import annotations

import argparse
import hashlib
import statistics
import tempfile
import time
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import TypeVar

from benchmarks.invented_book import Invented, invent_book
from benchmarks.report import describe_machine, write_part
from wayfold.app.measuring import KeptMeasurer
from wayfold.drawing.text import TextBlock, TextMeasurer
from wayfold.layout.arrange import LaidBlocks, finish_pages, lay_blocks, list_alternatives
from wayfold.project.cache import NumberCache
from wayfold.project.files import BookFolder
from wayfold.typeset.engine import Typesetter

PICTURES, WAYS = 172, 5
WARM_RUNS = 3
COLD_GOAL_S, WAYS_GOAL_MS = 10.0, 150.0
SINCE = """\
Nothing is worked out twice within a run, white is measured only of scattered pictures that may
come next, only sound crops are weighed, and captions are measured at several widths in one
question. With the same frames chosen, side by side on one machine, that took 0.62 of the time for
the book with nothing kept (279 questions to the typesetter, not 481), 0.58 with every measure kept
and 0.55 for the ways of a spread."""


class Listening(Typesetter):
    """A typesetter that notes what it is asked to measure."""

    def __init__(self) -> None:
        super().__init__()
        self.blocks: list[TextBlock] = []
        self.questions = 0

    def measure_heights(self, blocks: Sequence[TextBlock]) -> tuple[float, ...]:
        self.questions += 1
        self.blocks += blocks
        return super().measure_heights(blocks)


def main() -> None:
    asked = argparse.ArgumentParser()
    asked.add_argument("--dry", action="store_true", help="print, and leave the report as it is")
    with tempfile.TemporaryDirectory(prefix="layout-") as name:
        lines = measure_all(BookFolder(Path(name)))
    print("\n".join(lines))
    if not asked.parse_args().dry:
        write_part("layout", ["## Laying out a book", "", *lines, "", SINCE])


def measure_all(folder: BookFolder) -> list[str]:
    typesetter = Listening()
    made = invent_book(folder, typesetter, PICTURES)
    typesetter.blocks, typesetter.questions = [], 0
    kept = KeptMeasurer(typesetter, NumberCache(folder.root, "cold"))
    cold, blocks = clock(lambda: lay(made, kept))
    texts, questions = tuple(dict.fromkeys(typesetter.blocks)), typesetter.questions
    floor, _ = clock(lambda: typesetter.measure_heights(texts))
    warm = statistics.median(clock(lambda: lay(made, kept))[0] for _ in range(WARM_RUNS))
    pages = len(made.plan.pages)
    listing, finishing = clock_ways(blocks, pages)
    both = [a + sum(b) for a, b in zip(listing, finishing, strict=True)]
    print(f"What was chosen: {tell_chosen(blocks)}.")
    rows = [
        ("floor: the typesetter alone, one question", floor, ""),
        (
            f"the book, nothing kept ({questions} questions, {len(texts)} texts)",
            cold,
            f"{COLD_GOAL_S:.0f} s",
        ),
        ("the book, every measure kept", warm, ""),
    ]
    lines = [
        f"{pages} pages, {PICTURES} pictures. Seconds of the processor, one process, by "
        f"`python -m benchmarks.layout`. {describe_machine()}",
        "",
        "| what | seconds | × floor | goal |",
        "|---|--:|--:|---|",
        *(f"| {what} | {s:.2f} | {s / floor:.2f} | {goal} |" for what, s, goal in rows),
        "",
        f"The other ways of a spread, at most {WAYS}, for each of {len(both)} that have any.",
        "",
        "| what | median ms | worst ms | goal |",
        "|---|--:|--:|---|",
    ]
    flat = [one for each in finishing for one in each]
    for what, seconds, goal in (
        ("finding them", listing, ""),
        ("finishing the book with one of them", flat, ""),
        ("finding, and finishing with each", both, f"{WAYS_GOAL_MS:.0f} ms"),
    ):
        middle, worst = statistics.median(seconds) * 1000, max(seconds) * 1000
        lines.append(f"| {what} | {middle:.0f} | {worst:.0f} | {goal} |")
    return lines


def lay(made: Invented, measurer: TextMeasurer) -> LaidBlocks:
    blocks = lay_blocks(made.book, made.story, made.plan, made.words, made.photos, measurer)
    finish_pages(blocks)
    return blocks


Given = TypeVar("Given")


def clock(work: Callable[[], Given]) -> tuple[float, Given]:
    """Seconds of the processor that some work takes, and what it gives."""
    start = time.process_time()
    given = work()
    return time.process_time() - start, given


def clock_ways(blocks: LaidBlocks, pages: int) -> tuple[list[float], list[list[float]]]:
    """Seconds for finding the other ways of each spread, and for finishing with each of them."""
    listing, finishing = [], []
    for page in range(2, pages + 1, 2):
        taken, found = clock(partial(list_alternatives, blocks, page, WAYS))
        if found:
            listing.append(taken)
            finishing.append(
                [clock(lambda ways=ways: finish_pages(blocks, ways))[0] for ways in found]
            )
    return listing, finishing


def tell_chosen(blocks: LaidBlocks) -> str:
    """A mark of what was chosen: the same where every frame is the same to a thousandth of a mm."""
    return hashlib.sha256(repr(finish_pages(blocks)).encode()).hexdigest()[:12]


if __name__ == "__main__":
    main()

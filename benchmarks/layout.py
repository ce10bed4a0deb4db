"""Laying out a whole book, cold and warm, and the other ways of every page.

The floor is the typesetter alone, asked in one question for the height of every text that the
layout asks for.
"""

from __future__ import annotations

import hashlib
import statistics
import tempfile
import time
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import TypeVar

from benchmarks.invented_book import Invented, invent_book
from benchmarks.rows import Effort, Part, Row
from wayfold.app.measuring import KeptMeasurer
from wayfold.drawing.text import TextBlock, TextMeasurer
from wayfold.layout.arrange import LaidBlocks, finish_pages, lay_blocks, list_alternatives
from wayfold.project.cache import NumberCache
from wayfold.project.files import BookFolder
from wayfold.typeset.engine import Typesetter

PICTURES = {Effort.QUICK: 40, Effort.USUAL: 172, Effort.LONG: 172}
WAYS = 5
WARM_RUNS = 3
COLD_GOAL_S, WAYS_GOAL_MS = 10.0, 150.0


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


def report(effort: Effort) -> Part:
    """Measure one book."""
    pictures = PICTURES[effort]
    with tempfile.TemporaryDirectory(prefix="layout-") as name:
        folder = BookFolder(Path(name))
        typesetter = Listening()
        made = invent_book(folder, typesetter, pictures)
        typesetter.blocks, typesetter.questions = [], 0
        kept = KeptMeasurer(typesetter, NumberCache(folder.root, "cold"))
        cold, blocks = clock(lambda: lay(made, kept))
        texts, questions = tuple(dict.fromkeys(typesetter.blocks)), typesetter.questions
        floor, _ = clock(lambda: typesetter.measure_heights(texts))
        warm = statistics.median(clock(lambda: lay(made, kept))[0] for _ in range(WARM_RUNS))
    pages = len(made.plan.pages)
    print(f"What was chosen: {tell_chosen(blocks)}.")
    listing, finishing = clock_ways(blocks, pages)
    both = [a + sum(b) for a, b in zip(listing, finishing, strict=True)]
    lines = [
        "## Laying out a book",
        "",
        f"{pages} pages, {pictures} pictures. Seconds of the processor, one process.",
        "",
        "| what | seconds | × floor |",
        "|---|--:|--:|",
        f"| floor: the typesetter alone, one question | {floor:.2f} | 1.00 |",
        f"| the book, nothing kept ({questions} questions, {len(texts)} texts) | {cold:.2f} "
        f"| {cold / floor:.2f} |",
        f"| the book, every measure kept | {warm:.2f} | {warm / floor:.2f} |",
        "",
        f"The other ways of a spread, at most {WAYS}, for each of {len(both)} that have any.",
        "",
        "| what | median ms | worst ms |",
        "|---|--:|--:|",
    ]
    flat = [one for each in finishing for one in each]
    for what, seconds in (
        ("finding them", listing),
        ("finishing the book with one of them", flat),
        ("finding, and finishing with each", both),
    ):
        middle, worst = statistics.median(seconds) * 1000, max(seconds) * 1000
        lines.append(f"| {what} | {middle:.0f} | {worst:.0f} |")
    rows = (
        Row(
            f"Laying out {pages} pages, nothing kept", cold, floor,
            "the typesetter alone, one question", "processor s", most=COLD_GOAL_S,
        ),
        Row(
            "Other ways of a spread, each with its book",
            1000 * statistics.median(both), 1000 * statistics.median(flat),
            "finishing the book once", "processor ms", most=WAYS_GOAL_MS,
        ),
    )  # fmt: skip
    return Part(rows, tuple(lines))


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

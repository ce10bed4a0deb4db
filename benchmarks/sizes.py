"""Books of 48 to 400 pages made again: with nothing changed, one caption changed, and folded back.

The photographs are small: once a book is made they are not opened again. The books are kept, and
made first if anything of the program has changed since; that is not counted. Each command is a
fresh process. Floors: Python that starts and ends; a program that opens the two large print files
and writes them anew with the same library; one that draws each of their pages once.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from benchmarks.book import choose, list_needed, make, start_book
from benchmarks.many_pictures import make_small
from benchmarks.measure import Taken, run, take_median
from benchmarks.pictures import keep_folder, link_some
from benchmarks.rows import Effort, Part, Row, fit_power
from wayfold.book.edits import SetCaption
from wayfold.project.files import BookFolder
from wayfold.project.store import write_edit

SIZES = {
    Effort.QUICK: (16, 24, 32),
    Effort.USUAL: (100, 204, 425, 840),
    Effort.LONG: (100, 204, 425, 840),
}
"""Photographs; they come to about 48, 96, 200 and 400 pages."""
FROM = {Effort.QUICK: 300, Effort.USUAL: 5000, Effort.LONG: 5000}
ROUNDS = 3
NOTHING_GOAL_S, CAPTION_GOAL_S, FLAT = 0.5, 1.0, 1.25
NOTHING, CAPTION, REFOLD = "nothing changed", "one caption changed", "folded back"
FLOORS = {
    NOTHING: "Python that starts and ends",
    CAPTION: "reading.pdf and sheets.pdf opened and written anew",
    REFOLD: "each page and side drawn once at 72 dpi",
}
REWRITE = """
import sys, pikepdf
for name in sys.argv[1:]:
    with pikepdf.open(name) as pdf:
        pdf.save(name + ".again")
"""
DRAW = """
import sys, pypdfium2
for name in sys.argv[1:]:
    for page in pypdfium2.PdfDocument(name):
        page.render(scale=1.0, grayscale=True)
        page.close()
"""


@dataclass(frozen=True, slots=True)
class Sized:
    """A book of a size: what each kind of work took, and its floor."""

    pages: int
    ours: dict[str, Taken]
    floors: dict[str, Taken]


def report(effort: Effort) -> Part:
    """Measure books of all sizes; the largest is not folded back, which takes long."""
    folders = [keep_book(size, effort) for size in SIZES[effort]]
    books = [measure(folder, refolded=folder is not folders[-1]) for folder in folders]
    return Part(tuple(list_rows(books)), tuple(tell(books)))


def keep_book(size: int, effort: Effort) -> BookFolder:
    """Give a book of so many photographs, made as it is now."""
    home = keep_folder() / f"size-{size}"
    folder = BookFolder(home / "book")
    if not folder.book_file.is_file():
        photographs = link_some(make_small(FROM[effort]), size, home / "photographs")
        folder = start_book(home / "book", photographs, choose)
    make(folder)
    return folder


def measure(folder: BookFolder, *, refolded: bool) -> Sized:
    """Make a book again and again, by turns with the floors."""
    needed = list_needed(folder)
    ours: dict[str, list[Taken]] = {NOTHING: [], CAPTION: []}
    floors: dict[str, list[Taken]] = {NOTHING: [], CAPTION: []}
    large = [str(folder.out / name) for name in ("reading.pdf", "sheets.pdf")]
    command = str(Path(sys.executable).with_name("wayfold"))
    for number in range(ROUNDS):
        floors[NOTHING].append(run([sys.executable, "-c", "pass"]))
        ours[NOTHING].append(run([command, "make", str(folder.root)], fine=(0, 1)))
        floors[CAPTION].append(run([sys.executable, "-c", REWRITE, *large]))
        words = f"Words number {number} of {time.time_ns()}"  # unlike those of the run before
        write_edit(folder, SetCaption(needed.captioned, words))
        ours[CAPTION].append(run([command, "make", str(folder.root)], fine=(0, 1)))
    if refolded:
        floors[REFOLD] = [run([sys.executable, "-c", DRAW, *large])]
        ours[REFOLD] = [run([command, "refold", str(folder.root)], fine=(0, 1))]
    return Sized(
        needed.pages,
        {what: take_median(taken) for what, taken in ours.items()},
        {what: take_median(taken) for what, taken in floors.items()},
    )


def list_rows(books: list[Sized]) -> Iterator[Row]:
    for what, goal in ((NOTHING, NOTHING_GOAL_S), (CAPTION, CAPTION_GOAL_S)):
        for book in books:
            yield Row(
                f"Made again, {what}, {book.pages} pages",
                book.ours[what].wall_s, book.floors[what].wall_s, FLOORS[what], most=goal,
            )  # fmt: skip
    first, last = books[0], books[-1]
    yield Row(
        f"One caption, {last.pages} pages",
        last.ours[CAPTION].wall_s, first.ours[CAPTION].wall_s, f"ours, {first.pages} pages",
        most_times=FLAT,
    )  # fmt: skip
    folded = [book for book in books if REFOLD in book.ours][-1]
    yield Row(
        f"Folded back, {folded.pages} pages",
        folded.ours[REFOLD].processor_s, folded.floors[REFOLD].processor_s, FLOORS[REFOLD],
        "processor s",
    )  # fmt: skip


def tell(books: list[Sized]) -> Iterator[str]:
    yield "## Books of all sizes, made again"
    yield ""
    yield f"Seconds (of the processor in brackets), medians of {ROUNDS}; folded back once."
    yield ""
    yield f"| pages | {' | '.join(f'{what} | its floor' for what in FLOORS)} |"
    yield f"|--:|{'--:|' * 2 * len(FLOORS)}"
    for book in books:
        cells = (tell_taken(t.get(what)) for what in FLOORS for t in (book.ours, book.floors))
        yield f"| {book.pages} | {' | '.join(cells)} |"
    yield ""
    grown = (
        f"{what} {fit_power([(b.pages, b.ours[what].wall_s) for b in books if what in b.ours]):.2f}"
        for what in FLOORS
    )
    yield f"Seconds go with pages to the power of: {', '.join(grown)}."


def tell_taken(taken: Taken | None) -> str:
    return "" if taken is None else f"{taken.wall_s:.2f} ({taken.processor_s:.2f})"

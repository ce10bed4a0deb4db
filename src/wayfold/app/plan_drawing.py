"""plan.pdf: every gathering drawn from the head, with its pages small."""

from __future__ import annotations

from pathlib import Path

from wayfold.app.drawing_keys import DrawingKeys
from wayfold.app.setting import set_pages
from wayfold.app.stages import Results
from wayfold.base.progress import Progress
from wayfold.bench.gatherings import draw_gatherings
from wayfold.bench.model import PlannedBook
from wayfold.bench.overview import draw_overview
from wayfold.book.state import Book
from wayfold.project.files import BookFolder
from wayfold.typeset.assemble import DocumentInfo
from wayfold.typeset.engine import Typesetter


def show_planned(results: Results) -> PlannedBook:
    """Give what the worksheets are drawn from."""
    return PlannedBook(
        results.book,
        results.story,
        results.plan,
        results.planned.result,
        results.drawings,
        results.leaves,
        results.planned.printed,
    )


def set_gatherings(
    folder: BookFolder,
    results: Results,
    typesetter: Typesetter,
    progress: Progress,
    known: DrawingKeys | None = None,
) -> tuple[Path, ...]:
    """Set the worksheets, of the whole plan and of each gathering: a file of each.

    What is wrong with a page's type is said where the page itself is set.
    """
    planned = show_planned(results)
    sheets = (*draw_overview(planned), *draw_gatherings(planned))
    return set_pages(folder, sheets, typesetter, progress, "Drawing the gatherings", known).files


def describe_plan_drawing(book: Book) -> DocumentInfo:
    """Give what plan.pdf says of itself."""
    return DocumentInfo(f"{book.title}: the gatherings", book.author, "en")

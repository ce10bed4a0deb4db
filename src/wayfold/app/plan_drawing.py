"""plan.pdf: every gathering drawn from the head, with its pages small."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from wayfold.app.identity import DrawingKeys
from wayfold.app.setting import set_pages
from wayfold.app.stages import Results
from wayfold.base.progress import Progress
from wayfold.bench.gatherings import draw_gatherings
from wayfold.bench.model import PlannedBook
from wayfold.bench.overview import draw_overview
from wayfold.book.state import Book
from wayfold.project.files import BookFolder
from wayfold.typeset.assemble import DocumentInfo, assemble_pdf
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


def write_plan_drawing(
    sheets: Sequence[Path], miniatures: Mapping[str, Path], book: Book, target: Path
) -> None:
    """Write plan.pdf of the worksheets' files, and of small pictures by their keys."""
    info = DocumentInfo(f"{book.title}: the gatherings", book.author, "en")
    assemble_pdf(sheets, miniatures, target, info)

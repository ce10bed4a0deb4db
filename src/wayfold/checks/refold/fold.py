"""The proof itself: read the book out of the print file, compare, and name what is wrong."""

from __future__ import annotations

import tempfile
from pathlib import Path

from wayfold.base.progress import Progress
from wayfold.checks.refold.examine import Desk
from wayfold.checks.refold.folding import Folding
from wayfold.checks.refold.leaves import LeafFiles, add_leaves, add_reading
from wayfold.checks.refold.naming.evidence import Evidence
from wayfold.checks.refold.naming.verdict import judge
from wayfold.checks.refold.paper import read_book
from wayfold.checks.refold.pile import check_files, count_pages, open_workers, read_pile
from wayfold.checks.refold.reading import strip_laid_over
from wayfold.checks.refold.report import RefoldReport
from wayfold.checks.refold.stack import align_stack, list_slots, recognise_sheets

TOLERANCE = 0.1
"""What a page may lie off its place, in mm."""

FEW_SHEETS = 6
"""Starting a second process takes longer than reading so few sheets."""


def refold(
    sheets_pdf: Path,
    folding: Folding,
    reading_pdf: Path,
    progress: Progress,
    *,
    tolerance: float = TOLERANCE,
    workers: int = 2,
    leaf_files: LeafFiles | None = None,
) -> RefoldReport:
    """Fold the print files back into pages and leaves, and compare them with what they should be.

    ``sheets_pdf`` has the printed sides front, back, front, back …, gathering by gathering,
    outermost sheet first; ``reading_pdf`` the pages in order, those seen through translucent
    leaves among them or not (``reading.strip_laid_over``). ``leaf_files`` are those of the leaves.
    ``tolerance`` in mm. Raises UserError where a file cannot be read or the folding is of another
    page size.
    """
    with tempfile.TemporaryDirectory(prefix="refold-") as scratch:
        bare = strip_laid_over(reading_pdf, folding, Path(scratch))
        report = _refold_paper(sheets_pdf, folding, bare, progress, tolerance, workers)
    if folding.interleaves:
        report = add_leaves(report, leaf_files, progress)
        if leaf_files is not None:
            report = add_reading(report, leaf_files, reading_pdf)
    return report


def _refold_paper(
    sheets_pdf: Path,
    folding: Folding,
    reading_pdf: Path,
    progress: Progress,
    tolerance: float,
    workers: int,
) -> RefoldReport:
    with count_pages(sheets_pdf) as printed, count_pages(reading_pdf) as book:
        sizes, sides, pages = printed.sizes(), printed.count, book.count
        check_files(folding, sheets_pdf, sides, reading_pdf, book)
    sheet = sizes[0]
    slots = list_slots(read_book(folding, sheet))
    with tempfile.TemporaryDirectory(prefix="refold-") as scratch:
        desk = Desk(sheets_pdf, reading_pdf, folding.trim, folding.bleed, sheet, Path(scratch))
        in_file = (sides + 1) // 2
        stack = tuple(p if p < in_file else None for p in range(folding.sheets))
        several = workers > 1 and folding.sheets > FEW_SHEETS
        with open_workers(min(workers, 2) if several else 1) as run:
            views = read_pile(desk, slots, stack, sides, pages, progress, run)
            really = recognise_sheets(slots, stack, views)
            mended = align_stack(really, in_file, folding.sheets)
            if mended != stack:
                stack = mended
                views = read_pile(desk, slots, stack, sides, pages, progress, run)
                really = recognise_sheets(slots, stack, views)
    evidence = Evidence(folding, tolerance, slots, stack, views, really, sides, pages, sizes)
    return judge(evidence)

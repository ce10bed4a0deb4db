"""The proof itself: read the book out of the print file, compare, and name what is wrong."""

from __future__ import annotations

import multiprocessing
import tempfile
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Executor, Future, ProcessPoolExecutor, as_completed
from contextlib import contextmanager
from pathlib import Path
from typing import TypeVar

from wayfold.base.errors import UserError
from wayfold.base.geometry import Size
from wayfold.base.progress import Progress
from wayfold.checks.refold import examine
from wayfold.checks.refold.examine import Desk
from wayfold.checks.refold.folding import Folding
from wayfold.checks.refold.identify import build_index, identify_all
from wayfold.checks.refold.naming.evidence import Evidence
from wayfold.checks.refold.naming.verdict import judge
from wayfold.checks.refold.paper import read_book
from wayfold.checks.refold.rendering import Pages
from wayfold.checks.refold.report import RefoldReport
from wayfold.checks.refold.stack import (
    SheetSlots,
    align_stack,
    list_slots,
    plan_readings,
    recognise_sheets,
)
from wayfold.checks.refold.views import Sight, View

TOLERANCE = 0.1
"""What a page may lie off its place, in mm."""

FEW_SHEETS = 6
"""Starting a second process takes longer than reading so few sheets."""

BATCH = 8
"""Pages to identify in one go; the index of the book goes to the worker with each batch."""

SIZE_SLACK = 0.3
"""PDF boxes are rounded; sizes nearer than this (mm) are the same."""

Result = TypeVar("Result")


def refold(
    sheets_pdf: Path,
    folding: Folding,
    reading_pdf: Path,
    progress: Progress,
    *,
    tolerance: float = TOLERANCE,
    workers: int = 2,
) -> RefoldReport:
    """Fold the print file back into pages and compare them with the pages as they should read.

    ``sheets_pdf`` has the printed sides front, back, front, back …, gathering by gathering,
    outermost sheet first; ``reading_pdf`` the pages in order. ``tolerance`` in mm. Raises
    UserError where a file cannot be read or the folding is of another page size.
    """
    with _count_pages(sheets_pdf) as printed, _count_pages(reading_pdf) as book:
        sizes, sides, pages = printed.sizes(), printed.count, book.count
        _check_files(folding, sheets_pdf, sides, reading_pdf, book)
    sheet = sizes[0]
    slots = list_slots(read_book(folding, sheet))
    with tempfile.TemporaryDirectory(prefix="refold-") as scratch:
        desk = Desk(sheets_pdf, reading_pdf, folding.trim, folding.bleed, sheet, Path(scratch))
        in_file = (sides + 1) // 2
        stack = tuple(p if p < in_file else None for p in range(folding.sheets))
        several = workers > 1 and folding.sheets > FEW_SHEETS
        with _open_workers(min(workers, 2) if several else 1) as run:
            views = _read_stack(desk, slots, stack, sides, pages, progress, run)
            really = recognise_sheets(slots, stack, views)
            mended = align_stack(really, in_file, folding.sheets)
            if mended != stack:
                stack = mended
                views = _read_stack(desk, slots, stack, sides, pages, progress, run)
                really = recognise_sheets(slots, stack, views)
    evidence = Evidence(folding, tolerance, slots, stack, views, really, sides, pages, sizes)
    return judge(evidence)


def _read_stack(
    desk: Desk,
    slots: Sequence[SheetSlots],
    stack: Sequence[int | None],
    sides: int,
    pages: int,
    progress: Progress,
    run: Executor | None,
) -> dict[int, View]:
    plans = [plan_readings(s, p, sides) for s, p in zip(slots, stack, strict=True)]
    views: dict[int, View] = {}
    with progress.task("Folding the sheets", len(plans)) as task:
        for group in _each(run, examine.examine_sheet, [(desk, plan) for plan in plans]):
            views |= {v.number: v for v in group}
            task.advance()
    odd = [v for v in views.values() if _is_odd(v)]
    if not odd:
        return views
    planned = 4 * len(slots)
    for _ in _each(run, examine.keep_survey, [(desk, n) for n in range(planned + 1, pages + 1)]):
        pass
    index = build_index(desk, range(1, pages + 1))
    readings = {r.number: r for plan in plans for r in plan}
    with progress.task("Looking for pages that are elsewhere", len(odd)) as task:
        batches = [odd[i : i + BATCH] for i in range(0, len(odd), BATCH)]
        jobs = [(desk, index, {v.number: readings[v.number] for v in b}, b) for b in batches]
        for group in _each(run, identify_all, jobs):
            views |= {v.number: v for v in group}
            task.advance(len(group))
    return views


def _is_odd(view: View) -> bool:
    """Whether a page is not what it should be, or has so much amiss that another might fit."""
    if view.sight is Sight.ABSENT:
        return False
    return view.sight is not Sight.RIGHT or view.foreign_or_lost > 0


@contextmanager
def _count_pages(path: Path) -> Iterator[Pages]:
    pages = Pages(path)
    try:
        yield pages
    finally:
        pages.close()


def _check_files(
    folding: Folding, sheets_pdf: Path, sides: int, reading_pdf: Path, book: Pages
) -> None:
    for count, path in ((sides, sheets_pdf), (book.count, reading_pdf)):
        if not count:
            raise UserError("the file has no pages", where=str(path), remedy="Make the book again.")
    for index in range(book.count):
        with book.page(index) as page:
            size: Size = page.trim_size()
        off = max(abs(size.width - folding.trim.width), abs(size.height - folding.trim.height))
        if off > SIZE_SLACK:
            raise UserError(
                f"page {index + 1} is {size.width:.1f} x {size.height:.1f} mm, but the folding is "
                f"described for {folding.trim.width:.1f} x {folding.trim.height:.1f} mm",
                where=str(reading_pdf),
                remedy="Give the trim size of this book, or name the book's own file.",
            )


@contextmanager
def _open_workers(count: int) -> Iterator[Executor | None]:
    """Give an executor of ``count`` processes, or None for one (the work is then done here)."""
    if count < 2:
        try:
            yield None
        finally:
            examine.close_pages()
        return
    # A forked copy of a process that has used the PDF renderer or threads may hang: spawn.
    pool = ProcessPoolExecutor(count, mp_context=multiprocessing.get_context("spawn"))
    try:
        yield pool
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def _each(
    run: Executor | None, work: Callable[..., Result], jobs: Sequence[tuple[object, ...]]
) -> Iterator[Result]:
    """Do ``work`` on every job, giving results as they come."""
    if run is None:
        for job in jobs:
            yield work(*job)
        return
    futures: list[Future[Result]] = [run.submit(work, *job) for job in jobs]
    for future in as_completed(futures):
        yield future.result()

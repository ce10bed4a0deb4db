"""Reads a pile of printed sheets: every face compared with what it should be, odd ones named."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Executor, Future, as_completed
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
from wayfold.checks.refold.rendering import Pages
from wayfold.checks.refold.stack import SheetSlots, plan_readings
from wayfold.checks.refold.views import Sight, View
from wayfold.photos.workers import open_pool

BATCH = 8
"""Pages to identify in one go; the index of the book goes to the worker with each batch."""

SIZE_SLACK = 0.3
"""PDF boxes are rounded; sizes nearer than this (mm) are the same."""

Result = TypeVar("Result")


@contextmanager
def count_pages(path: Path) -> Iterator[Pages]:
    """Open a PDF file and let go of it. Raises UserError where it cannot be read."""
    pages = Pages(path)
    try:
        yield pages
    finally:
        pages.close()


def check_files(
    folding: Folding, sheets_pdf: Path, sides: int, reading_pdf: Path, book: Pages
) -> None:
    """Raise UserError for a file without pages, and for pages of another size."""
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
def open_workers(count: int) -> Iterator[Executor | None]:
    """Give an executor of ``count`` processes, or None for one (the work is then done here)."""
    if count < 2:
        try:
            yield None
        finally:
            examine.close_pages()
        return
    pool = open_pool(count)
    try:
        yield pool
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def read_pile(
    desk: Desk,
    slots: Sequence[SheetSlots],
    stack: Sequence[int | None],
    sides: int,
    pages: int,
    progress: Progress,
    run: Executor | None,
) -> dict[int, View]:
    """Read every slot of the planned sheets, by its number.

    ``stack`` says which printed sheet (from 0; None: missing) lies in each planned one's place;
    ``sides`` and ``pages`` are those of the print file and of the reading file.
    """
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

"""The bench book: worksheets for every step of one book, in the order of the work."""

from __future__ import annotations

from dataclasses import dataclass

from wayfold.bench.collation import draw_collation
from wayfold.bench.costs import InkLoad, list_costs, measure_ink
from wayfold.bench.cutting_sheets import list_cutting_tasks
from wayfold.bench.flow import Setter
from wayfold.bench.hours import Work
from wayfold.bench.model import PlannedBook
from wayfold.bench.tasks_block import list_block_tasks
from wayfold.bench.tasks_case import list_case_tasks
from wayfold.bench.tasks_paper import list_paper_tasks
from wayfold.bench.tasks_start import list_start_tasks
from wayfold.case.thread import thread_length
from wayfold.case.work import CaseWork
from wayfold.drawing.items import Drawing
from wayfold.drawing.text import TextMeasurer


@dataclass(frozen=True, slots=True)
class BenchBook:
    """What the bench book is made from; ``inks`` are those of all printed pictures."""

    planned: PlannedBook
    work: CaseWork
    inks: tuple[InkLoad, ...]


def count_work(work: CaseWork, veil_sheets: int) -> Work:
    """Give how much there is to print, fold, tip in and sew."""
    plan = work.plan
    sheets = sum(g.sheets for g in plan.gatherings)
    folded = sum(i.depth is not None for i in plan.interleaves)
    return Work(
        sides=2 * sheets + veil_sheets,
        sheets=sheets,
        folded_leaves=folded,
        tipped_leaves=len(plan.interleaves) - folded,
        gatherings=len(plan.gatherings),
        pocket=work.pocket is not None,
    )


def draw_bench_book(bench: BenchBook, measurer: TextMeasurer) -> tuple[Drawing, ...]:
    """Give all worksheets: what is needed, each step, cutting plans, collation."""
    planned, work = bench.planned, bench.work
    hand, plan = planned.hand, work.plan
    folded = sum(i.depth is not None for i in plan.interleaves)
    veils = folded + (len(plan.interleaves) - folded + 1) // 2
    amount = count_work(work, veils)
    thread_m = thread_length(work.block.page.height, len(plan.gatherings)) / 1000
    ink = measure_ink(bench.inks, work.book.bench.costs)
    costs = list_costs(work, amount.sheets, veils, ink, thread_m)
    setter = Setter(hand, measurer)
    title = work.book.title
    start = setter.set_tasks(list_start_tasks(work, amount, costs), title)
    paper = setter.set_tasks(list_paper_tasks(hand, work, amount), title)
    block = setter.set_tasks(list_block_tasks(hand, work, amount), title)
    cuts = setter.set_tasks(list_cutting_tasks(hand, work), title)
    case = setter.set_tasks(list_case_tasks(hand, work, amount), title)
    return (*start, *paper, *block, *cuts, *case, *draw_collation(planned))

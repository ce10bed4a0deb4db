"""The bench book: worksheets for every step of one book, in the order of the work."""

from __future__ import annotations

from dataclasses import dataclass

from wayfold.bench.collation import draw_collation
from wayfold.bench.costs import CostRow, InkLoad, list_costs, measure_ink
from wayfold.bench.cutting_sheets import list_cutting_tasks
from wayfold.bench.flow import Setter, Task
from wayfold.bench.hours import Work
from wayfold.bench.model import PlannedBook
from wayfold.bench.tasks_block import list_block_tasks
from wayfold.bench.tasks_case import list_case_tasks
from wayfold.bench.tasks_paper import list_paper_tasks
from wayfold.bench.tasks_start import list_start_tasks
from wayfold.bench.worksheet import Hand
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


def count_veils(work: CaseWork) -> int:
    """Give how many translucent sheets are printed: two leaves that are tipped in share one."""
    folded = sum(i.depth is not None for i in work.plan.interleaves)
    return folded + (len(work.plan.interleaves) - folded + 1) // 2


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


def list_tasks(hand: Hand, work: CaseWork, costs: tuple[CostRow, ...]) -> tuple[Task, ...]:
    """Give the whole of the work in its order: what is needed, each step, the cutting plans."""
    amount = count_work(work, count_veils(work))
    return (
        *list_start_tasks(work, amount, costs),
        *list_paper_tasks(hand, work, amount),
        *list_block_tasks(hand, work, amount),
        *list_cutting_tasks(hand, work),
        *list_case_tasks(hand, work, amount),
    )


def list_buys(work: CaseWork, inks: tuple[InkLoad, ...] | None) -> tuple[CostRow, ...]:
    """Give what is to be bought; of the ink nothing is said where it was not measured."""
    plan = work.plan
    ink = None if inks is None else measure_ink(inks, work.book.bench.costs)
    thread_m = thread_length(work.block.page.height, len(plan.gatherings)) / 1000
    veils = count_veils(work)
    return list_costs(work, count_work(work, veils).sheets, veils, ink, thread_m)


def draw_bench_book(bench: BenchBook, measurer: TextMeasurer) -> tuple[Drawing, ...]:
    """Give all worksheets: what is needed, each step, cutting plans, collation."""
    planned, work = bench.planned, bench.work
    tasks = list_tasks(planned.hand, work, list_buys(work, bench.inks))
    sheets = Setter(planned.hand, measurer).set_tasks(tasks, work.book.title)
    return (*sheets, *draw_collation(planned))

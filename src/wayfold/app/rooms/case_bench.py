"""The work at the bench: every task with its steps in order, what is done and what is not."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wayfold.app.rooms.case_cutting import CUTTING, describe_sheet, list_cut_sheets
from wayfold.app.rooms.case_shopping import SHOPPING, TOOLS, measure_inks, say_buy
from wayfold.app.rooms.case_ticks import Said, Ticks, TickView, set_tick
from wayfold.app.session import Session
from wayfold.app.stages import Results
from wayfold.bench.bench_book import list_buys, list_tasks
from wayfold.bench.flow import Step, Task
from wayfold.bench.tasks_start import list_tools
from wayfold.bench.worksheet import choose_hand
from wayfold.case.work import CaseWork

MATERIALS = "materials"
"""The task that is the shopping list, which has a place of its own."""


@dataclass(frozen=True, slots=True)
class AsideView:
    """Words beside a step: a caution, a drying time, a measure or a reason."""

    kind: str
    words: str


@dataclass(frozen=True, slots=True)
class StepView:
    """A step; one without ``tick`` is a rule to keep to."""

    words: str
    asides: tuple[AsideView, ...]
    tick: TickView | None


@dataclass(frozen=True, slots=True)
class LineView:
    """A line of a table."""

    what: str
    much: str
    strong: bool


@dataclass(frozen=True, slots=True)
class TableView:
    """Lines under a heading."""

    heading: str
    lines: tuple[LineView, ...]


@dataclass(frozen=True, slots=True)
class TaskView:
    """A piece of the work; ``drawings`` are named as ``case_drawings`` knows them.

    ``done`` counts the steps whose ticks hold, ``old`` those done by numbers that changed since.
    """

    key: str
    title: str
    lead: str
    tools: str
    time: str
    steps: tuple[StepView, ...]
    tables: tuple[TableView, ...]
    drawings: tuple[str, ...]
    left: tuple[TickView, ...]
    done: int
    old: int
    total: int


def view_bench(results: Results, ticks: Ticks) -> tuple[TaskView, ...]:
    """Give all tasks in the order of the work."""
    work = results.case
    return tuple(
        _view_task(work, task, ticks) for task in list_work(results) if task.key != MATERIALS
    )


def list_work(results: Results) -> tuple[Task, ...]:
    """Give the tasks as the worksheets have them; what is to be bought is told elsewhere."""
    return list_tasks(choose_hand(results.book.style), results.case, ())


def list_said(session: Session) -> Said:
    """Give what is said now of everything that can be ticked."""
    results = session.results
    work = results.case
    said = {(CUTTING, item): words for item, words in _say_sheets(work)}
    for task in list_work(results):
        if task.key not in (CUTTING, MATERIALS):
            said |= {(task.key, step.key): step.said for step in task.steps if step.key}
    buys = list_buys(work, measure_inks(session.folder, results))
    said |= {(SHOPPING, row.key): say_buy(row) for row in buys}
    said |= {(TOOLS, row.key): row.what for row in list_tools(work)}
    return said


def tick_step(session: Session, of: str, item: str, *, done: bool) -> None:
    """Tick a step, a sheet to cut or a thing to get, or say that it is not done after all."""
    set_tick(session.folder, list_said(session), of, item, done=done)
    session.tell_ticked()


def _say_sheets(work: CaseWork) -> Iterator[tuple[str, str]]:
    for item, plan, _, sheet in list_cut_sheets(work):
        yield item, describe_sheet(plan, sheet)


def _view_task(work: CaseWork, task: Task, ticks: Ticks) -> TaskView:
    if task.key == CUTTING:
        rules = tuple(StepView(s.words, _view_asides(s), None) for s in task.steps)
        sheets = tuple(
            StepView(words, (), ticks.show(CUTTING, item, words))
            for item, words in _say_sheets(work)
        )
        steps = (*rules, *sheets)
        drawings = tuple(f"cut-{item}" for item, _ in _say_sheets(work))
    else:
        steps = tuple(
            StepView(
                step.words,
                _view_asides(step),
                ticks.show(task.key, step.key, step.said) if step.key else None,
            )
            for step in task.steps
        )
        drawings = tuple(f"{task.key}-{at}" for at in range(1, len(task.figures) + 1))
    boxes = [step.tick for step in steps if step.tick is not None]
    return TaskView(
        key=task.key,
        title=task.title,
        lead=task.lead,
        tools=task.tools,
        time=task.time,
        steps=steps,
        tables=tuple(
            TableView(t.heading, tuple(LineView(r.what, r.much, r.strong) for r in t.rows))
            for t in task.tables
        ),
        drawings=drawings,
        left=ticks.list_left(task.key, (box.item for box in boxes)),
        done=sum(box.holds for box in boxes),
        old=sum(bool(box.then) for box in boxes),
        total=len(boxes),
    )


def _view_asides(step: Step) -> tuple[AsideView, ...]:
    return tuple(AsideView(aside.kind.value, aside.words) for aside in step.asides)

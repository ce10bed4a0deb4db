"""The drawings of case and bench by name, set by the same typesetter as the worksheets."""

from __future__ import annotations

from wayfold.app.rooms.case_bench import list_work
from wayfold.app.rooms.case_cutting import list_cut_sheets
from wayfold.app.rooms.case_measures import list_measures, try_measure
from wayfold.app.session import Session
from wayfold.app.stages import Results
from wayfold.base.errors import NotFoundError
from wayfold.bench.cutting_sheets import draw_sheet
from wayfold.bench.figures_case import draw_inside, draw_outside
from wayfold.bench.worksheet import choose_hand
from wayfold.drawing.items import Drawing


def case_svg(session: Session, name: str, lit: str = "", tried: float | None = None) -> str:
    """Give a drawing as SVG: "inside", "outside", "cut-board-1", or a task's, as "sewing-1".

    ``lit`` is the key of a measure: what it moves is drawn in the accent, with the
    number ``tried`` in its place where one is given. Raises NotFoundError for a drawing there is
    none of.
    """
    shown = session.shown
    results = shown.results if tried is None else try_measure(shown.results, lit, tried)
    return shown.draw_svg(_draw(results, name, lit))


def _draw(results: Results, name: str, lit: str) -> Drawing:
    hand, work = choose_hand(results.book.style), results.case
    if name == "inside":
        moves = (m.moves for m in list_measures(results) if m.key == lit)
        return draw_inside(hand, work.case, next(moves, ()))
    if name == "outside":
        return draw_outside(hand, work)
    for item, plan, number, sheet in list_cut_sheets(work):
        if name == f"cut-{item}":
            return draw_sheet(hand, plan, number, sheet)
    for task in list_work(results):
        for at, figure in enumerate(task.figures, start=1):
            if name == f"{task.key}-{at}":
                return figure
    raise NotFoundError("There is no such drawing any more.", remedy="Look at the room again.")

"""Meeting a wish that the plan does not meet, in one of the ways it tells."""

from __future__ import annotations

from pathlib import Path

from wayfold.app.plan import PlanView, view_plan
from wayfold.base.errors import NotFoundError, UserError
from wayfold.base.mends import Mend
from wayfold.base.progress import Progress
from wayfold.book.edits import HoldBlocks
from wayfold.plan.explain import WayOut
from wayfold.plan.hold import choose_pins, pin_way_out
from wayfold.plan.problem import PlanProblem
from wayfold.plan.wishes import Wish
from wayfold.project.files import BookFolder
from wayfold.project.store import write_edit


def meet_wish(root: Path, progress: Progress, *, page: int, number: int) -> PlanView:
    """Meet a wish of the block on ``page`` in the way of that number (from 1), and plan so.

    The blocks that the way holds are pinned in book.toml. Raises NotFoundError where there is no
    such wish or way, UserError where no pin can hold it.
    """
    view = view_plan(root, progress, why_page=page)
    assert view.why is not None
    ways = view.list_ways(view.why.block)
    name = view.names[view.why.block]
    if not ways:
        raise NotFoundError(f"Page {page} shows {name}, which has no wish that could be met.")
    if not 1 <= number <= len(ways):
        raise NotFoundError(f"There is no way {number} for {name}; there are {len(ways)}.")
    wish, way = ways[number - 1]
    write_edit(BookFolder(root.resolve()), hold_way(view.planned.problem, way, wish, name))
    return view_plan(root, progress)


def hold_way(problem: PlanProblem, way: WayOut, wish: Wish, name: str) -> HoldBlocks:
    """Give the edit that holds fast what a way to meet a wish asks; ``name`` is its block's.

    Raises UserError where no pin can hold it.
    """
    pins = pin_way_out(problem, way, wish)
    if pins is None:
        raise UserError(
            f"Nothing that is held fast would bring this about for {name}.",
            remedy=f"Raise the price of what should not be, {Mend.PRICES} "
            "(docs/planning.md lists them).",
        )
    named = {pin.block for pin in pins}
    return HoldBlocks(choose_pins([p for p in (*problem.pins, *pins) if p.block in named]))

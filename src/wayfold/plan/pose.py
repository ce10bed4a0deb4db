"""The book's planning problem: its story on its paper, with all that its maker holds fast."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from wayfold.book.planning import PinChoice
from wayfold.book.state import Book
from wayfold.plan.model import Plan
from wayfold.plan.offers import turn_dial
from wayfold.plan.prices import PRICES
from wayfold.plan.problem import (
    STATES_MAX,
    Pin,
    PinCentre,
    PinPage,
    PinPlace,
    PinWay,
    PlanProblem,
    mark_printed,
)
from wayfold.story.model import Story


def pose_problem(
    story: Story, book: Book, last: Plan | None = None, printed: Sequence[int] = ()
) -> PlanProblem:
    """Give the problem of laying ``story`` as the book's maker wants it.

    ``printed`` are gatherings of the plan ``last`` that lie printed. Raises KeyError where it has
    no such gathering.
    """
    planning = book.planning
    return PlanProblem(
        story,
        book.paper,
        book.binding,
        turn_dial(replace(PRICES, **planning.prices), planning.choice),
        tuple(pin for choice in planning.pins for pin in _list_pins(choice)),
        tuple(mark_printed(last, number) for number in printed) if last else (),
        last,
        STATES_MAX if planning.states_max is None else planning.states_max,
    )


def undo_dial(problem: PlanProblem, book: Book) -> PlanProblem:
    """Give the problem with the prices that the plans on offer are weighed from."""
    return replace(problem, prices=replace(PRICES, **book.planning.prices))


def _list_pins(choice: PinChoice) -> Iterator[Pin]:
    if choice.stays:
        yield PinPlace(choice.block)
    if choice.page is not None:
        yield PinPage(choice.block, choice.page)
    if choice.way is not None:
        yield PinWay(choice.block, choice.way - 1)
    if choice.centre:
        yield PinCentre(choice.block)

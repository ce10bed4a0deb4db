"""What the person says of the plan: how heroes weigh, other prices, and what is held fast."""

from __future__ import annotations

import enum
from collections.abc import Mapping
from dataclasses import dataclass, field


class PlanChoice(enum.StrEnum):
    """The plans on offer, along the one price that shapes a book most: a hero off its centre."""

    EVEN = "even gatherings"
    BALANCED = "balanced"
    CENTRED = "every hero centred"


@dataclass(frozen=True, slots=True)
class PinChoice:
    """Hold a block of the story fast, by any of these together.

    On page ``page`` (from 1); with its picture at a ``centre``; laid in ``way`` (from 1, as the
    story lists them); or ``stays``: the same way on the same pages as in the last plan.
    """

    block: str
    page: int | None = None
    centre: bool = False
    way: int | None = None
    stays: bool = False

    @property
    def is_empty(self) -> bool:
        """Whether it holds the block in no way."""
        return self.page is None and self.way is None and not (self.centre or self.stays)


@dataclass(frozen=True, slots=True)
class Planning:
    """The person's hand on the planner.

    ``prices`` stand in for the planner's own, by name. ``states_max`` is how many states the search
    may look at before it gives the best plan it has; None leaves that to the planner.
    """

    choice: PlanChoice = PlanChoice.BALANCED
    prices: Mapping[str, int] = field(default_factory=dict)
    pins: tuple[PinChoice, ...] = ()
    states_max: int | None = None

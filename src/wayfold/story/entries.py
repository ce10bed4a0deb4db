"""The photographs the story tells, each with what the story needs to know of it."""

from __future__ import annotations

import enum
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime


class Role(enum.Enum):
    """How a photograph stands in the book."""

    HERO = enum.auto()
    """Across two facing pages."""
    ALONE = enum.auto()
    """A page to itself."""
    ACCOUNT = enum.auto()
    """With its text, and the others that name the same text."""
    PANORAMA = enum.auto()
    """With the panoramas next to it, else by itself."""
    TOGETHER = enum.auto()
    """With others of its hour and place."""


@dataclass(frozen=True, slots=True)
class Entry:
    """A photograph taken into the book.

    ``stop`` is an index into the trip's stops; ``aspect`` is that of the part shown;
    ``rating`` is 0 where nobody rated. ``event`` numbers the runs of pictures between long pauses
    (``trip.events``); None where the time is not known.
    """

    photo: str
    local: datetime | None
    stop: int | None
    aspect: float
    rating: int = 0
    role: Role = Role.TOGETHER
    interleaf: bool = False
    """Whether a translucent leaf is to lie over it."""
    event: int | None = None
    scene: int | None = None
    """The scene that it shows with others as it went on, by number."""
    text: str | None = None
    """The text that stands with it, if there is one of that name."""

    @property
    def day(self) -> date | None:
        """Its local date."""
        return self.local.date() if self.local else None


def spread_evenly(indices: Sequence[int], count: int) -> list[int]:
    """Give ``count`` of ``indices``, evenly over their order (all where there are fewer)."""
    if count >= len(indices):
        return list(indices)
    return [indices[(2 * k + 1) * len(indices) // (2 * count)] for k in range(count)]

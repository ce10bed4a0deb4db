"""What the registration sheet told: how the printer sets the back against the front."""

from __future__ import annotations

from dataclasses import dataclass

from wayfold.base.geometry import Point

NO_OFFSET = Point(0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Registration:
    """Readings of the registration sheet, held with the front towards one and its head up (mm).

    ``offsets``: how far the back's cross lies right of and below the front's, at the marks A, B,
    C, D (head left, head right, foot left, foot right). ``across`` and ``along`` are the lengths
    measured between the front's arrowheads, where the sheet says how long they should be; None
    where they were not measured and are taken to be right.
    """

    offsets: tuple[Point, Point, Point, Point] = (NO_OFFSET,) * 4
    across: float | None = None
    along: float | None = None

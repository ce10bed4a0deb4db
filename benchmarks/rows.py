"""Rows of the one table: what was measured, against which floor, and whether the goal is met."""

from __future__ import annotations

import math
import statistics
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum


class Effort(Enum):
    """How much is measured: a look that everything runs, what is published, all there is."""

    QUICK = "quick"
    USUAL = "usual"
    LONG = "long"


@dataclass(frozen=True, slots=True)
class Row:
    """A figure and its floor, both in ``unit`` and measured in the same run.

    ``most`` is the goal for the figure itself, ``most_times`` that for its ratio to the floor.
    """

    what: str
    ours: float
    floor: float
    floor_is: str
    unit: str = "s"
    most: float | None = None
    most_times: float | None = None

    @property
    def times(self) -> float:
        """How many times the floor."""
        return self.ours / self.floor if self.floor else math.inf

    @property
    def met(self) -> bool | None:
        """Whether every goal is met; None where there is none."""
        judged = []
        if self.most is not None:
            judged.append(self.ours <= self.most)
        if self.most_times is not None:
            judged.append(self.times <= self.most_times)
        return all(judged) if judged else None


@dataclass(frozen=True, slots=True)
class Failed:
    """What could not be measured, and why."""

    what: str
    why: str


@dataclass(frozen=True, slots=True)
class Part:
    """What one benchmark found: its rows of the one table, and its own lines below it.

    ``pictures`` are SVGs by the file names that the lines refer to them by.
    """

    rows: tuple[Row, ...]
    lines: tuple[str, ...] = ()
    pictures: Mapping[str, str] = field(default_factory=dict)


def tell_rows(rows: Sequence[Row | Failed]) -> Iterator[str]:
    """Give the one table in Markdown."""
    yield "| what | ours | floor | what the floor is | ratio | goal | met? |"
    yield "|---|--:|--:|---|--:|---|---|"
    for row in rows:
        if isinstance(row, Failed):
            yield f"| {row.what} | | | | | | **not measured**: {_flatten(row.why)} |"
            continue
        judged = {None: "", True: "yes", False: "**no**"}[row.met]
        yield (
            f"| {row.what} | {_tell(row.ours, row.unit)} | {_tell(row.floor, row.unit)} "
            f"| {row.floor_is} | {_count(row.times)} | {_tell_goal(row)} | {judged} |"
        )


def fit_power(points: Sequence[tuple[float, float]]) -> float:
    """Give the p of the least-squares line log y = p log x + c through (x, y), all above 0.

    Raises statistics.StatisticsError for fewer than two sizes x.
    """
    xs, ys = zip(*((math.log(x), math.log(y)) for x, y in points), strict=True)
    return statistics.linear_regression(xs, ys).slope


def _tell_goal(row: Row) -> str:
    goals = []
    if row.most is not None:
        goals.append(f"≤ {_tell(row.most, row.unit)}")
    if row.most_times is not None:
        goals.append(f"≤ {row.most_times:g} × floor")
    return ", ".join(goals)


def _tell(value: float, unit: str) -> str:
    return f"{_count(value)} {unit}".strip()


def _count(value: float) -> str:
    """Give a number of three figures."""
    if value == 0 or not math.isfinite(value):
        return f"{value:g}"
    places = max(0, 2 - math.floor(math.log10(abs(value))))
    return f"{value:,.{min(places, 4)}f}"


def _flatten(text: str) -> str:
    """Give the end of what was said, as one cell of a table."""
    return " ".join(text.split()).replace("|", "¦")[-300:]

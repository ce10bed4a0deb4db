"""The words for a sheet that cannot take the pages: what is missing, and every way out."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wayfold.base.errors import UserError
from wayfold.base.geometry import Size
from wayfold.book.materials import Paper


@dataclass(frozen=True, slots=True)
class Edges:
    """A length (mm) for each edge of a sheet as it lies with heads up."""

    left: float
    right: float
    head: float
    foot: float

    @property
    def least(self) -> float:
        """The smallest of the four."""
        return min(self.left, self.right, self.head, self.foot)

    def describe(self) -> str:
        """Name the positive ones, up to 0.1 mm: "3 mm at the left edge, 2 mm at the foot"."""
        named = (
            (self.left, "at the left edge"),
            (self.right, "at the right edge"),
            (self.head, "at the head"),
            (self.foot, "at the foot"),
        )
        return ", ".join(f"{_up(value):g} mm {where}" for value, where in named if _up(value) > 0)


def refuse_sheet(
    page: Size,
    bleed: float,
    paper: Paper,
    sheet: Size,
    margins: Edges,
    room: Edges,
    marks: float,
) -> UserError:
    """Give the error for pages that need more than the ``room`` (negative where missing)."""
    missing = Edges(-room.left, -room.right, -room.head, -room.foot)
    wanted = f"{bleed:g} mm bleed and trim marks" if bleed > 0 else "no bleed"
    part = "the printable part of " if bleed > 0 else ""
    return UserError(
        f"Two pages of {_size(page)} side by side with {wanted} do not fit on {part}"
        f"“{paper.name}” ({_size(sheet)}). Missing: {missing.describe()}.",
        where="paper and printer",
        remedy="Ways out: " + "; ".join(_list_ways_out(page, bleed, sheet, margins, room, marks)),
    )


def _list_ways_out(
    page: Size, bleed: float, sheet: Size, margins: Edges, room: Edges, marks: float
) -> list[str]:
    ways = []
    lies_within = sheet.width >= 2 * page.width and sheet.height >= page.height
    if bleed > 0 and lies_within:
        most = _down(bleed + room.least)
        if most > 0:
            ways.append(f"a bleed of at most {most:g} mm")
        ways.append("no bleed (0), with pictures that keep away from the page edges")
    if bleed <= 0:
        margins = Edges(0.0, 0.0, 0.0, 0.0)
    across = 2 * (bleed + marks + max(margins.left, margins.right))
    along = 2 * (bleed + marks + max(margins.head, margins.foot))
    larger = Size(_up(2 * page.width + across), _up(page.height + along))
    ways.append(f"a sheet of at least {_size(larger)}")
    smaller = Size(
        math.floor(min(page.width, (sheet.width - across) / 2)),
        math.floor(min(page.height, sheet.height - along)),
    )
    if smaller.width > 0 and smaller.height > 0:
        ways.append(f"pages of at most {_size(smaller)}")
    reach = Edges(*(m + r for m, r in zip(_values(margins), _values(room), strict=True)))
    if bleed > 0 and reach.least >= 0:
        ways.append(
            f"the printer's true margins, if it prints nearer to the edge ({_most(reach, room)})"
        )
    return ways


def _most(reach: Edges, room: Edges) -> str:
    names = ("left", "right", "head", "foot")
    parts = [
        f"{name} at most {_down(most):g} mm"
        for name, most, left in zip(names, _values(reach), _values(room), strict=True)
        if left < 0
    ]
    return ", ".join(parts)


def _values(edges: Edges) -> tuple[float, float, float, float]:
    return edges.left, edges.right, edges.head, edges.foot


def _size(size: Size) -> str:
    return f"{size.width:g} × {size.height:g} mm"


def _up(length: float) -> float:
    return math.ceil(round(length * 10, 6)) / 10


def _down(length: float) -> float:
    return math.floor(round(length * 10, 6)) / 10

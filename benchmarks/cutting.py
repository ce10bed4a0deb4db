"""Cutting plans against first-fit shelves: sheets, and waste.

Shelves are the plain way to lay rectangles (first-fit decreasing height: Coffman, Garey, Johnson
and Tarjan 1980): sorted by height, each piece goes on the first shelf with room, else on a new
one. Waste counts the sheets used, less the largest piece in one left over, which goes back on the
shelf of the workshop.

Run: python -m benchmarks.cutting
"""

from __future__ import annotations

import random
import statistics
from collections.abc import Sequence
from dataclasses import dataclass, field

from wayfold.base.geometry import Rect, Size
from wayfold.case.cutting import Piece, plan_cuts

SHEETS = (Size(700.0, 1000.0), Size(500.0, 700.0), Size(329.0, 483.0))
CASES = 200


@dataclass
class Shelf:
    y: float
    height: float
    x: float = 0.0


@dataclass
class ShelfSheet:
    size: Size
    shelves: list[Shelf] = field(default_factory=list)
    laid: list[Rect] = field(default_factory=list)

    @property
    def largest_offcut(self) -> float:
        end = max((s.y + s.height for s in self.shelves), default=0.0)
        rest = [(self.size.height - end) * self.size.width]
        rest += [(self.size.width - s.x) * s.height for s in self.shelves]
        return max(rest)

    def put(self, size: Size) -> bool:
        for shelf in self.shelves:
            if (
                size.height <= shelf.height + 1e-6
                and shelf.x + size.width <= self.size.width + 1e-6
            ):
                self.laid.append(Rect(shelf.x, shelf.y, size.width, size.height))
                shelf.x += size.width
                return True
        end = max((s.y + s.height for s in self.shelves), default=0.0)
        if end + size.height > self.size.height + 1e-6 or size.width > self.size.width + 1e-6:
            return False
        self.shelves.append(Shelf(end, size.height, size.width))
        self.laid.append(Rect(0.0, end, size.width, size.height))
        return True


def lay_shelves(pieces: Sequence[Piece], sheet: Size) -> list[ShelfSheet]:
    """First-fit decreasing height; pieces that may turn lie on their longer side if that fits."""
    sizes = []
    for piece in pieces:
        size = piece.size
        if piece.any_way and size.height > size.width and size.height <= sheet.width:
            size = size.turned
        sizes.append(size)
    sheets: list[ShelfSheet] = []
    for size in sorted(sizes, key=lambda s: -s.height):
        if not any(s.put(size) for s in sheets):
            sheets.append(ShelfSheet(sheet))
            if not sheets[-1].put(size):
                raise ValueError("a piece is larger than the sheet")
    return sheets


def invent_pieces(chance: random.Random, sheet: Size) -> list[Piece]:
    """Boards, strips and linings of one or two books of random size."""
    pieces = []
    for _ in range(chance.randint(1, 3)):
        width = chance.uniform(0.25, 0.48) * sheet.width
        height = min(width * chance.uniform(1.2, 1.5), 0.95 * sheet.height)
        spine = chance.uniform(10.0, 40.0)
        pieces += [Piece("board", Size(width, height))] * 2
        pieces += [Piece("spine", Size(spine, height))]
        pieces += [Piece("lining", Size(0.8 * width, 0.7 * height), chance.random() < 0.5)]
    return pieces


def main() -> None:
    chance = random.Random(6)
    won = tied = lost = 0
    ours, theirs = [], []
    sheets_ours = sheets_theirs = 0
    for number in range(CASES):
        sheet = SHEETS[number % len(SHEETS)]
        pieces = invent_pieces(chance, sheet)
        plan, shelves = plan_cuts(pieces, sheet), lay_shelves(pieces, sheet)
        assert plan is not None
        area = sum(p.size.width * p.size.height for p in pieces)
        one = sheet.width * sheet.height
        back = max((o.area for s in plan for o in s.offcuts), default=0.0)
        a = 1 - area / (len(plan) * one - back)
        b = 1 - area / (len(shelves) * one - max(s.largest_offcut for s in shelves))
        ours.append(a)
        theirs.append(b)
        sheets_ours += len(plan)
        sheets_theirs += len(shelves)
        won, tied, lost = (
            won + (a < b - 1e-9),
            tied + (abs(a - b) <= 1e-9),
            lost + (a > b + 1e-9),
        )
    print(f"{CASES} sets of pieces on three sheet sizes")
    print("            sheets   mean waste")
    print(f"wayfold     {sheets_ours:6}   {100 * statistics.mean(ours):6.2f} %")
    print(f"shelves     {sheets_theirs:6}   {100 * statistics.mean(theirs):6.2f} %")
    print(f"less waste in {won}, as much in {tied}, more in {lost}")


if __name__ == "__main__":
    main()

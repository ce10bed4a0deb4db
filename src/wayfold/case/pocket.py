"""The pocket inside the lower cover: its blank, its gusset, and what makes up for it at the spine.

It is one piece with folded gussets. It needs no back: its flaps are pasted to the board, at both
sides and at the tail. It opens at the head.
"""

from __future__ import annotations

from dataclasses import dataclass

from wayfold.base.geometry import Rect, Size
from wayfold.base.units import mm_from_um
from wayfold.book.casing import Pocket, PocketItem

EASE = 4.0
"""The pocket is wider inside than what goes into it, by 3 to 5 mm; common practice."""
FINGER = 15.0
"""And lower, so that fingers find the contents: 10 to 20 mm; common practice."""
FLAP = 12.0
"""Pasted to the board; common practice."""
GUSSET_EASE = 1.0
"""Added to half the pile: a gusset of two panels of d opens to 2 d."""
STAY = 5.0
"""The pocket keeps inside the edges of the board by as much; common practice."""
WRAP_EXTRA = 50.0
"""What the published wrap adds to its length (its sum says 45 + 1 = 51: 5 cm are added unsaid)."""
GAPE = 1.0
"""A pile thicker than this (mm) makes the book gape at the fore-edge unless the spine is filled
out; from memory."""


@dataclass(frozen=True, slots=True)
class PocketBlank:
    """A pocket before it is folded: the blank (width x height), and its folds in it.

    ``folds_x`` and ``folds_y`` are measured from the left and from the head of the blank;
    ``cut_away`` are the corners that fall off. ``front`` is the face that shows when it is made.
    ``gusset`` is the depth of one panel.
    """

    blank: Size
    front: Rect
    folds_x: tuple[float, ...]
    folds_y: tuple[float, ...]
    cut_away: tuple[Rect, ...]
    gusset: float

    @property
    def closed(self) -> Size:
        """What it takes of the board, with its gussets folded flat under its face."""
        return self.front.size


def pile_thickness(pocket: Pocket) -> float:
    """Give the thickness (mm) of all that goes into the pocket, piled up."""
    return sum(item.thickness for item in pocket.items)


def largest_item(pocket: Pocket) -> Size:
    """Give the width and height (mm) that the contents take together."""
    return Size(max(i.width for i in pocket.items), max(i.height for i in pocket.items))


def gusset_depth(pile: float) -> float:
    """Give the depth (mm) of one panel of a gusset for a pile: half of it and 1 mm."""
    return pile / 2 + GUSSET_EASE


def count_strips(pile: float, strip_um: float) -> int:
    """Give how many strips of paper make up at the spine for a pile (mm) in the pocket.

    The thickness put in over the strips' own (Roberts & Etherington: compensation guard). A thin
    pile needs none.
    """
    return round(pile / mm_from_um(strip_um)) if pile > GAPE else 0


def fold_pocket(pocket: Pocket) -> PocketBlank | None:
    """Give the pocket for all its items; None where there are none."""
    if not pocket.items:
        return None
    pile = pile_thickness(pocket)
    item = largest_item(pocket)
    depth = gusset_depth(pile)
    front = Size(item.width + EASE, item.height - FINGER)
    side = 2 * depth + FLAP
    blank = Size(front.width + 2 * side, front.height + side)
    face = Rect(side, 0.0, front.width, front.height)
    edges = (FLAP, FLAP + depth, FLAP + 2 * depth)
    folds_x = (*edges, *(blank.width - x for x in reversed(edges)))
    folds_y = (front.height, front.height + depth, front.height + 2 * depth)
    corner = Size(side, side)
    cut_away = (
        Rect(0.0, front.height, corner.width, corner.height),
        Rect(face.right, front.height, corner.width, corner.height),
    )
    return PocketBlank(blank, face, folds_x, folds_y, cut_away, depth)


def size_wrap(item: PocketItem) -> Size:
    """Give the blank of a one-piece wrap, the other way to make a pocket.

    Length 2.25 L + 2 T + 5 cm, width W + 2 T + 5 cm, L the longer side (Indiana University
    Libraries, Book Repair Manual: pamphlet pocket, as its worked example comes out).
    """
    long, short = max(item.width, item.height), min(item.width, item.height)
    t = item.thickness
    return Size(2.25 * long + 2 * t + WRAP_EXTRA, short + 2 * t + WRAP_EXTRA)

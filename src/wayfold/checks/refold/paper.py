"""Paper, turned and folded: which part of which printed side ends up as which page.

The order of pages is nowhere written down here. A sheet has two printed sides and two halves;
sheets are nested, folded, laid one gathering on the next, and read from leaf to leaf.
Sheet space is that of a printed side (mm, origin top left, y down); page space is the cut page's.
"""

from __future__ import annotations

import enum
from dataclasses import dataclass, replace

from wayfold.base.geometry import Affine, Point, Rect, Size
from wayfold.checks.refold.folding import Folding, Turning

SPINE_BAND = 1.3
"""Along the fold of a gathering's outermost sheet, the width (mm) on either side that goes round
the spine: glue and lining hide it, and the step by which gatherings are collated is printed there
(6 pt wide; Roberts and Etherington, "Bookbinding and the Conservation of Books": black step)."""


SAME_SHEET = 0.5
"""Sizes of sheets that differ by no more (mm) are one; a file gives them in rounded points."""


class Side(enum.StrEnum):
    """The printed sides; a gathering is folded with the fronts outside."""

    FRONT = "front"
    BACK = "back"


@dataclass(frozen=True, slots=True)
class Place:
    """A sheet's place: ``number`` counts through the book, ``index`` in the gathering.

    Both count from 1; index 1 is the outermost.
    """

    number: int
    gathering: int
    index: int

    @property
    def label(self) -> str:
        """How reports name it, "gathering 2, sheet 1"."""
        return f"gathering {self.gathering}, sheet {self.index}"


@dataclass(frozen=True, slots=True)
class Face:
    """One face of a leaf as the reader sees it.

    ``to_side`` takes its page space to the printed side; ``visible`` is the paper there is (page
    space); ``compared`` is what of it the reader judges; ``left`` says which half of the printed
    side it was; ``creep`` (mm) is how far the leaf stands out.
    """

    place: Place
    side: Side
    left: bool
    recto: bool
    to_side: Affine
    visible: Rect
    compared: Rect
    creep: float


@dataclass(frozen=True, slots=True)
class Leaf:
    """Half a folded sheet: the face read first and the one on its back.

    ``interleaf`` is the index in ``Folding.interleaves`` of the translucent sheet it is half of;
    None for paper.
    """

    recto: Face
    verso: Face
    interleaf: int | None = None


@dataclass(frozen=True, slots=True)
class NestedSheet:
    """A sheet as it lies in its gathering: paper, or the interleaf of that index."""

    place: Place
    interleaf: int | None = None


def read_book(folding: Folding, sheet: Size) -> tuple[Face, ...]:
    """Fold, nest and read a whole book; the faces come in reading order, page 1 first.

    ``sheet`` is the sheet as the print file shows it (width x height).
    """
    papers = (leaf for leaf in read_leaves(folding, sheet, sheet) if leaf.interleaf is None)
    return tuple(face for leaf in papers for face in (leaf.recto, leaf.verso))


def read_leaves(folding: Folding, sheet: Size, interleaf_sheet: Size) -> tuple[Leaf, ...]:
    """Fold, nest and leaf through a whole book: every leaf of paper and of folded interleaves.

    Sizes are those of the sheets as their print files show them.
    """
    leaves: list[Leaf] = []
    number = 0
    for gathering, sheets in enumerate(folding.gatherings, start=1):
        nest = _nest_sheets(folding, gathering, sheets, number)
        number += sheets
        leaves += _fold_nest(nest, folding, sheet, interleaf_sheet, 0, 0)
    return tuple(leaves)


def _nest_sheets(folding: Folding, gathering: int, sheets: int, before: int) -> list[NestedSheet]:
    """The sheets of a gathering from the outermost in; interleaves as deep as they are said."""
    nest: list[NestedSheet] = []
    for outside in range(sheets + 1):
        nest += [
            NestedSheet(Place(0, gathering, 0), index)
            for index, interleaf in enumerate(folding.interleaves)
            if interleaf.gathering == gathering and interleaf.depth == outside
        ]
        if outside < sheets:
            nest.append(NestedSheet(Place(before + outside + 1, gathering, outside + 1)))
    return nest


def _fold_nest(
    nest: list[NestedSheet],
    folding: Folding,
    sheet: Size,
    interleaf_sheet: Size,
    papers: int,
    interleaves: int,
) -> list[Leaf]:
    """Leaves of nested sheets, from the top of the closed gathering (fold at the left) down.

    The outermost sheet wraps the rest: the half whose front shows on top comes first, its other
    half last, with all inner sheets between.
    """
    if not nest:
        return []
    outermost = nest[0]
    stands_out = folding.creep(papers, interleaves)
    if outermost.interleaf is None:
        first, last = fold_sheet(outermost.place, folding, sheet, stands_out)
        papers += 1
    else:
        halves = fold_sheet(outermost.place, folding, interleaf_sheet, stands_out)
        first, last = (replace(half, interleaf=outermost.interleaf) for half in halves)
        interleaves += 1
    inner = _fold_nest(nest[1:], folding, sheet, interleaf_sheet, papers, interleaves)
    return [first, *inner, last]


def fold_sheet(place: Place, folding: Folding, sheet: Size, stands_out: float) -> tuple[Leaf, Leaf]:
    """Fold one sheet with its front outside; gives the upper and the lower leaf.

    With the fold at the reader's left, the upper leaf shows the right half of the front.
    """
    front = Affine()
    back = _back_to_front(folding.turning, sheet).then(_mirror_at_fold(sheet))
    # What the printer does is known of the paper's own size of sheet.
    if _is_same(sheet, folding.sheet):
        front, back = folding.front_lands, folding.back_lands.then(back)

    def cut(side: Side, recto: bool) -> Face:
        seen = front if side is Side.FRONT else back
        return _cut_page(place, side, seen, folding, sheet, stands_out, recto)

    upper = Leaf(cut(Side.FRONT, recto=True), cut(Side.BACK, recto=False))
    lower = Leaf(cut(Side.BACK, recto=True), cut(Side.FRONT, recto=False))
    return upper, lower


def _is_same(one: Size, other: Size) -> bool:
    return any(
        abs(one.width - way.width) < SAME_SHEET and abs(one.height - way.height) < SAME_SHEET
        for way in (other, other.turned)
    )


def read_through(leaf: Leaf, folding: Folding) -> Leaf:
    """Give a leaf whose faces are printed mirrored, each on the side of the other.

    What is seen from one face through the sheet is the other face's ink with left and right
    changed, at the same spots of the paper.
    """
    # From page space of one face to that of the other: the same spot seen from behind.
    behind = Affine(-1, 0, 0, 1, folding.trim.width, 0)

    def swap(seen: Face, printed: Face) -> Face:
        to_side = behind.then(printed.to_side)
        return replace(seen, side=printed.side, left=printed.left, to_side=to_side)

    return replace(leaf, recto=swap(leaf.recto, leaf.verso), verso=swap(leaf.verso, leaf.recto))


def _back_to_front(turning: Turning, sheet: Size) -> Affine:
    """Where a point of the back's image lies on the paper, seen through it from the front.

    Turning a sheet about an edge swaps the two edges across that edge and nothing else. The short
    edges of a landscape sheet stand upright, so left and right change.
    """
    about_upright = (turning is not Turning.LONG_EDGE) == (sheet.width >= sheet.height)
    if about_upright:
        return _mirror_at_fold(sheet)
    return Affine(1, 0, 0, -1, 0, sheet.height)


def _mirror_at_fold(sheet: Size) -> Affine:
    """What is seen from behind the paper: left and right change about the fold."""
    return Affine(-1, 0, 0, 1, sheet.width, 0)


def _cut_page(
    place: Place,
    side: Side,
    seen: Affine,
    folding: Folding,
    sheet: Size,
    stands_out: float,
    recto: bool,
) -> Face:
    """The page that the knife leaves of one half of a side (``seen``: side to what the eye sees).

    The knife cuts the fore edge at the trim width from the fold of the outermost sheet. A sheet
    that stands out has its own fold nearer to the knife by as much, so its leaf is that much
    narrower. Uncut leaves keep their full width, each measured from its own fold.
    """
    trim, fold = folding.trim, sheet.width / 2
    narrower = stands_out if folding.trim_fore_edge else 0.0
    head = (sheet.height - trim.height) / 2
    edge = fold - narrower if recto else fold - trim.width + narrower
    to_side = Affine.shift(edge, head).then(seen.inverse())
    page = Rect(0, 0, trim.width, trim.height)
    half = Rect(fold if recto else 0.0, 0.0, fold, sheet.height).moved(-edge, -head)
    visible = page.overlap(half) or Rect(0, 0, 0, 0)
    middle = to_side.apply(Point(trim.width / 2, trim.height / 2))
    compared = visible
    if side is Side.FRONT and place.index == 1:
        compared = (
            visible.overlap(visible.moved(SPINE_BAND if recto else -SPINE_BAND, 0)) or visible
        )
    return Face(place, side, middle.x < fold, recto, to_side, visible, compared, stands_out)

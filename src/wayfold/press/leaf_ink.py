"""Which translucent leaves are printed mirrored, to be read through the sheet.

A folded sheet shows the rectos of its two leaves on opposite sides: the first leaf's recto and the
second's verso lie on its front, the first's verso and the second's recto on its back (geometry of
one fold). So ink on both rectos takes two passes, or one of them is printed mirrored from behind.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from wayfold.book.materials import LeafInk, Translucent
from wayfold.plan.model import EndRole, InterleafEnd
from wayfold.plan.paper import is_recto
from wayfold.press.model import SideName

Faces = Mapping[tuple[int, int], tuple[bool, bool]]
"""For a leaf (interleaf, end) of the plan, whether its recto and its verso bear ink."""


def choose_mirrored(
    leaves: Sequence[tuple[tuple[int, int], InterleafEnd]], translucent: Translucent, inked: Faces
) -> tuple[bool, ...]:
    """Say of each of a sheet's leaves, the first first, whether it is printed mirrored.

    On one side: of leaves with ink on opposite sides of the sheet the one that was made for its
    page keeps its own side; where a leaf bears ink on both faces two passes are needed anyway.
    What the person says of single leaves goes before all that.
    """
    mirrored = [False] * len(leaves)
    if translucent.ink is LeafInk.ONE_SIDE:
        sides = [_find_sides(n, *_faces(at, end, inked)) for n, (at, end) in enumerate(leaves)]
        kept = _choose_side([end for _, end in leaves], sides)
        if all(len(side) < 2 for side in sides):
            mirrored = [bool(side) and kept not in side for side in sides]
    for n, (_, end) in enumerate(leaves):
        if end.role is EndRole.STUB:
            mirrored[n] = False
        elif end.after_page in translucent.read_through:
            mirrored[n] = True
        elif end.after_page in translucent.both_sides:
            mirrored[n] = False
    return tuple(mirrored)


def find_bare_sides(
    leaves: Sequence[tuple[int, int]], mirrored: Sequence[bool], inked: Faces
) -> frozenset[SideName]:
    """Give the sides of a sheet that no ink falls on; none where that is not known."""
    if any(at not in inked for at in leaves):
        return frozenset()
    printed: set[SideName] = set()
    for leaf, (at, through) in enumerate(zip(leaves, mirrored, strict=True)):
        recto, verso = inked[at]
        printed |= _find_sides(leaf, *((verso, recto) if through else (recto, verso)))
    return frozenset(SideName) - printed


def _faces(at: tuple[int, int], end: InterleafEnd, inked: Faces) -> tuple[bool, bool]:
    if at in inked:
        return inked[at]
    if end.role in (EndRole.PLAIN, EndRole.STUB):
        return False, False
    recto = end.over is None or is_recto(end.over)
    return recto, not recto


def _find_sides(leaf: int, recto: bool, verso: bool) -> frozenset[SideName]:
    """The sides of the sheet on which a leaf (0 the first) bears ink."""
    own, behind = (SideName.FRONT, SideName.BACK)[:: 1 if leaf == 0 else -1]
    return frozenset(side for side, there in ((own, recto), (behind, verso)) if there)


def _choose_side(ends: Sequence[InterleafEnd], sides: Sequence[frozenset[SideName]]) -> SideName:
    for end, there in zip(ends, sides, strict=True):
        if len(there) == 1 and end.role is EndRole.WANTED:
            return next(iter(there))
    every = [side for there in sides for side in sorted(there)]
    return every[0] if every else SideName.FRONT

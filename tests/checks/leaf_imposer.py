"""Print files of translucent leaves, laid by the tests' own imposer.

A folded translucent sheet is a sheet like any other: of its four faces (first leaf recto and
verso, second leaf recto and verso, as they are read) the fourth and the first lie on the front,
left and right, the second and the third on the back. Source: the order of a single folded sheet,
``imposer.ORDERS[1]``. Single leaves are cut from such a sheet, one from either half.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from tests.checks import imposer
from tests.checks.imposer import Laid, Side
from wayfold.base.geometry import Size
from wayfold.checks.refold.folding import FoldedInterleaf, Folding

CALIPER, VELLUM = 0.25, 0.10
"""Thickness (mm) of the paper and of the translucent sheets of ``VEILED``."""

VEILED = Folding(
    Size(105, 148),
    Size(240, 170),
    (4, 3, 2),
    caliper_um=1000 * CALIPER,
    creep_coefficient=1.0,
    interleaves=(
        # Four sheets, wrapped round the inner two: after pages 4 and 12; three sheets, round the
        # innermost: after pages 4 and 8 of its gathering (geometry of folding).
        FoldedInterleaf(1, 2, (4, 12)),
        FoldedInterleaf(2, 2, (20, 24)),
        FoldedInterleaf(3, None, (30,)),
        FoldedInterleaf(3, None, (34,)),
    ),
    interleaf_caliper_um=1000 * VELLUM,
)

CREEPS = (
    (2 * CALIPER, 2 * CALIPER),  # two sheets lie outside it
    (2 * CALIPER, 2 * CALIPER),
    # Tipped to pages 31 and 35: sheets 2 and 1 of a gathering of two that begins on page 29.
    (CALIPER, 0.0),
)
"""How far (mm) the leaves of each print sheet stand out, worked by hand."""


@dataclass(frozen=True)
class Ink:
    """What the leaves bear: PDF operators by (sheet, face), counted from 1; bare where absent."""

    faces: dict[tuple[int, int], str]

    def list_faces(self, sheets: int) -> list[str]:
        return [self.faces.get((s, f), "") for s in range(1, sheets + 1) for f in (1, 2, 3, 4)]


def write_words(words: str, x: float, y: float, size_pt: float = 15) -> str:
    """Three lines, so that there is something to measure."""
    lines = (words, words[::-1], f"{words} {words}")
    return "\n".join(imposer.write_line(w, x, y - 9 * i, size_pt) for i, w in enumerate(lines))


INK = Ink(
    {
        (1, 1): write_words("Harbour morning", 18, 96),
        (1, 4): write_words("Granite stairs", 22, 40),
        (2, 1): write_words("Salt and copper", 20, 80),
        (2, 3): write_words("The orchard bridge", 25, 52),
        (3, 1): write_words("Lantern", 30, 70),
        (3, 4): write_words("River tiles", 24, 110),
    }
)


def lay_leaves(folding: Folding = VEILED) -> list[Side]:
    """The right sides of the print file of leaves: front, back, front, back …"""
    sides = []
    for sheet, (first, second) in enumerate(CREEPS, start=1):
        for halves in imposer.ORDERS[1][0]:
            faces = [Laid(4 * (sheet - 1) + face) for face in halves]
            # Faces 1 and 2 are those of the first leaf. All move to the fold: left ones right.
            toward = [first if face in (1, 2) else second for face in halves]
            if not folding.trim_fore_edge:
                toward = [0.0, 0.0]
            left, right = faces
            sides.append(Side(replace(left, dx=toward[0]), replace(right, dx=-toward[1])))
    return sides


def write_leaf_sheets(path: Path, sides: list[Side], ink: Ink = INK) -> Path:
    """The print file of the leaves; they have no bleed."""
    bare = replace(VEILED, bleed=0.0)
    return imposer.write_sheets(path, sides, ink.list_faces(len(CREEPS)), bare)


def write_leaves(path: Path, ink: Ink = INK) -> Path:
    """The leaves one by one, recto before verso, in the order of the print file."""
    return imposer.write_reading(path, ink.list_faces(len(CREEPS)), replace(VEILED, bleed=0.0))


def lay_paper(folding: Folding = VEILED) -> list[Side]:
    """The right sides of the paper: sheets within a wrapped leaf stand out by that one too."""
    sides = imposer.impose(replace(folding, interleaves=()))
    # The inner two sheets of the first gathering, the innermost of the second.
    for sheet in (2, 3, 6):
        for side in (2 * sheet, 2 * sheet + 1):
            left, right = sides[side].left, sides[side].right
            sides[side] = replace(
                sides[side],
                left=replace(left, dx=left.dx + VELLUM),
                right=replace(right, dx=right.dx - VELLUM),
            )
    return sides


GAPS = ((4, 1, 0), (12, 1, 1), (20, 2, 0), (24, 2, 1), (30, 3, 0), (34, 3, 1))
"""The leaves as a reader comes upon them: after which page, on which print sheet, which leaf."""


def list_reading(
    book: list[str], ink: Ink = INK, gaps: tuple[tuple[int, int, int], ...] = GAPS
) -> list[str]:
    """The reading file's pages: after page n the next page veiled, then page n veiled."""
    pages = []
    under = dict(enumerate(book, start=1))
    at = {after: (sheet, leaf) for after, sheet, leaf in gaps}
    for number in range(len(book) + 1):
        if number:
            pages.append(under[number])
        if number in at:
            sheet, leaf = at[number]
            recto, verso = (ink.faces.get((sheet, 2 * leaf + face), "") for face in (1, 2))
            pages.append(_veil(under.get(number + 1, ""), recto))
            pages.append(_veil(under.get(number, ""), verso))
    return pages


def _veil(under: str, ink: str) -> str:
    return f"{under}\nq /Veil gs 0.84 g -90 -90 900 900 re f Q\n{ink}"

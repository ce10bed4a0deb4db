"""The measures of a case: boards, spine, joints, cloth and all that lies between book and boards.

Rules from binders' manuals; each number that is open is a setting (``case.settings``).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from wayfold.base.geometry import Size
from wayfold.book.casing import Back, CaseStyle, Casing, SpinePiece
from wayfold.case.block import SewnBlock

CLOTH_SHOWN = 1 / 5
"""Part of the board that shows cloth in a quarter binding; a fifth to a quarter is common."""
MULL_SHORT = 5.0
"""Mull ends so far from head and tail: "slightly shorter than the spine" (Vaughn 1912)."""
LINING_SHORT = 2.0
"""And lining and hollow (an Oxford hollow is 2 to 4 mm shorter in all); common practice."""
BAND_HIGH = 22.0
"""The strip a stuck-on headband is folded from (7/8 in; a class's notes)."""
HOLLOW_LAP = 3.0
"""What a hollow's last panel is wider, to be pasted down; common practice."""


ROUND_RAD = 2.0 * math.pi / 3.0
"""A rounded back is a third of a circle; common practice, no single source."""


@dataclass(frozen=True, slots=True)
class CaseMeasures:
    """A case for a block. All in mm, width x height as it lies open before one, heads up.

    ``spine`` is the stiffener of the spine; ``wrap`` one piece of cloth for all, or for the spine
    alone where there are ``side`` pieces. ``square_fore`` is how far the boards stand out at the
    fore-edge: least with a joint pressed square to its floor, most with one pressed to a V.
    """

    casing: Casing
    block: SewnBlock
    board: Size
    spine: Size
    joint: float
    wrap: Size
    side: Size | None
    cloth_on_board: float | None
    square_fore: tuple[float, float]
    mitre: float

    @property
    def thickness(self) -> float:
        """What the case is made for: the block at its spine."""
        return self.block.spine

    @property
    def is_round(self) -> bool:
        """Whether the back is rounded."""
        return self.casing.back is Back.ROUND

    @property
    def back_width(self) -> float:
        """From edge to edge over the block's back: its thickness, or the way over the round."""
        return width_over_back(self.thickness, self.casing)

    @property
    def back_rise(self) -> float:
        """How far the middle of the back stands out; so far the fore-edge is hollow."""
        return rise_of_round(self.thickness) if self.is_round else 0.0

    @property
    def between_boards(self) -> float:
        """From board to board across the spine, laid flat."""
        return self.spine.width + 2 * self.joint

    @property
    def open(self) -> Size:
        """The case laid flat, from fore-edge to fore-edge, without turn-ins."""
        return Size(2 * self.board.width + self.between_boards, self.board.height)

    @property
    def closed_thickness(self) -> float:
        """The cased book from outside to outside."""
        return self.thickness + 2 * self.casing.board

    @property
    def mull(self) -> Size:
        """The cloth that joins block and case."""
        return Size(
            self.back_width + 2 * self.casing.mull_beyond, self.block.page.height - 2 * MULL_SHORT
        )

    @property
    def lining(self) -> Size:
        """The paper glued over the mull on the spine."""
        return Size(self.back_width, self.block.page.height - 2 * LINING_SHORT)

    @property
    def hollow(self) -> Size:
        """The paper that is folded to a tube as wide as the spine, three layers with its lap."""
        return Size(3 * self.back_width + HOLLOW_LAP, self.lining.height)

    @property
    def headband(self) -> Size:
        """The strip folded over a cord, one at the head and one at the tail."""
        return Size(self.back_width, BAND_HIGH)

    @property
    def endpaper(self) -> Size:
        """A folded pair, laid open."""
        return Size(2 * self.block.page.width, self.block.page.height)

    @property
    def infill(self) -> Size:
        """The paper that fills the board between its turn-ins, so that it does not warp."""
        inside = self.casing.turn_in
        return Size(self.board.width - inside, self.board.height - 2 * inside)


def measure_case(block: SewnBlock, casing: Casing) -> CaseMeasures:
    """Give the case for a block."""
    board = Size(block.page.width - casing.board_less, block.page.height + 2 * casing.square)
    spine = Size(width_of_spine(block.spine, casing), board.height)
    between = spine.width + 2 * casing.joint
    turned = board.height + 2 * casing.turn_in
    side, shown = None, None
    if casing.style in (CaseStyle.QUARTER_CLOTH, CaseStyle.THREE_PIECE):
        shown = casing.cloth_on_board or round(board.width * CLOTH_SHOWN)
        wrap = Size(between + 2 * shown, turned)
        side = Size(board.width - shown + casing.overlap + casing.turn_in, turned)
    else:
        wrap = Size(2 * board.width + between + 2 * casing.turn_in, turned)
    fore = tuple(
        round(board.width + x - block.page.width, 6)
        for x in hinge_offsets(casing.joint, casing.board)
    )
    return CaseMeasures(
        casing,
        block,
        board,
        spine,
        casing.joint,
        wrap,
        side,
        shown,
        (min(fore), max(fore)),
        casing.mitre_factor * casing.board,
    )


def width_of_spine(thickness: float, casing: Casing) -> float:
    """Give the width of the spine's stiffener for a block of that thickness (mm).

    Card that bends with the spine: the way over the block's back and one board. A stiff strip of
    board: the block and both boards, for it lies outside of them.
    """
    boards = 1 if casing.spine is SpinePiece.CARD else 2
    return width_over_back(thickness, casing) + boards * casing.board


def width_over_back(thickness: float, casing: Casing) -> float:
    """Give the way (mm) over the back of a block, from the one edge to the other.

    Of a third of a circle the arc is 2π / (3√3) = 1.209 times its chord, the thickness.
    """
    if casing.back is Back.FLAT:
        return thickness
    return thickness * ROUND_RAD / (2.0 * math.sin(ROUND_RAD / 2.0))


def rise_of_round(thickness: float) -> float:
    """Give how far (mm) the middle of a rounded back stands out: 1 / (2√3) of the thickness."""
    return thickness / 2.0 * math.tan(ROUND_RAD / 4.0)


def hinge_offsets(joint: float, board: float) -> tuple[float, float]:
    """Give how far (mm) the board's edge lies from the block's back when the book is closed.

    For a flat gap pressed into a joint: square-bottomed, the cloth goes down one board and up
    again, so two boards are lost; pressed to a V it spans the gap in two straight lines.
    """
    half = joint / 2
    square = joint - 2 * board
    pointed = 2 * math.sqrt(half * half - board * board) if half > board else 0.0
    return square, pointed


def least_joint(thickness: float) -> float:
    """Give the least flat gap (mm) that lets a block of that thickness open: a quarter of it.

    A library's rule for quarter-joint cases.
    """
    return thickness / 4

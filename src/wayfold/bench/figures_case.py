"""Figures for the work on the case: boards on cloth, its corners, casing in."""

from __future__ import annotations

import math
from collections.abc import Container

from wayfold.base.geometry import Affine, Rect, Size
from wayfold.bench.figure import BOARD, BOLD, CARD, CLOTH, DASH, FINE, HAIR, PAPER_TINT, Pen
from wayfold.bench.worksheet import Hand
from wayfold.book.casing import SpinePiece
from wayfold.case.measure import CaseMeasures, rise_of_round
from wayfold.case.work import CaseWork
from wayfold.drawing.colour import Colour
from wayfold.drawing.items import Drawing, Placed
from wayfold.drawing.text import Align

WIDE = 172.0
WHITE = Colour(255, 255, 255)


def mitre_leg(case: CaseMeasures) -> float:
    """Give the legs (mm) of the triangle cut off a corner of the cloth.

    The cut runs at 45 degrees past the board's corner at the mitre's distance from it.
    """
    return 2 * case.casing.turn_in - math.sqrt(2) * case.mitre


def draw_inside(hand: Hand, case: CaseMeasures, lit: Container[str] = ()) -> Drawing:
    """Draw the case laid open with its inside up: boards, spine piece, cloth, mitred corners.

    The measures of the figures ``lit`` (by their names in ``case.reckoning``) are in the accent.
    """
    pen = Pen(hand, lit)
    u = case.casing.turn_in
    whole = Size(case.open.width + 2 * u, case.board.height + 2 * u)
    scale = min(148.0 / whole.width, 96.0 / whole.height)
    left, top = 17.0, 13.0
    w, h = whole.width * scale, whole.height * scale
    _draw_covering(pen, case, scale, left, top)
    bx, by, bh = left + u * scale, top + u * scale, case.board.height * scale
    bw, sw, gap = case.board.width * scale, case.spine.width * scale, case.joint * scale
    sx = bx + bw + gap
    far = sx + sw + gap
    for x in (bx, far):
        pen.box(Rect(x, by, bw, bh), BOARD)
    pen.box(Rect(sx, by, sw, bh), BOARD if case.casing.spine is SpinePiece.BOARD else CARD)
    pen.words(bx + bw / 2, by + bh * 0.3, "front board")
    pen.words(far + bw / 2, by + bh * 0.3, "back board")
    piece = "board strip" if case.casing.spine is SpinePiece.BOARD else "card"
    pen.words(sx + sw / 2, by + bh / 2, f"spine piece, {piece}", turn_deg=-90.0, style=pen.small)
    for x in (bx + bw / 2, far + bw / 2):
        pen.grain(x, by + bh * 0.62)
    y = top - 4.5
    board, joint = f"{case.board.width:.1f}", f"{case.joint:g}"
    pen.measure_across(bx, bx + bw, y, board, edge=by, of="board-width")
    pen.measure_across(far, far + bw, y, board, edge=by, of="board-width")
    pen.measure_across(bx + bw, sx, y, joint, edge=by, of="joint")
    pen.measure_across(sx + sw, far, y, joint, edge=by, of="joint")
    # Above the joints, for its figures are wider than the spine piece and must cross no line.
    pen.measure_across(sx, sx + sw, y - 4.2, f"{case.spine.width:.1f}", edge=by, of="spine-width")
    x = left - 5.0
    pen.measure_down(by, by + bh, x, f"{case.board.height:.1f}", edge=bx, of="board-height")
    pen.measure_down(by + bh, top + h, x, f"{u:g}", edge=left, of="turn-in")
    pen.measure_down(
        top, top + h, left - 12.0, f"{whole.height:.1f}", edge=left, of="covering-height"
    )
    foot = top + h
    if case.side is None:
        cloth = f"cloth {case.wrap.width:.1f}"
        pen.measure_across(left, left + w, foot + 5.0, cloth, edge=foot, of="cloth-width")
        return pen.finish("the case from inside", Size(WIDE, foot + 9.0))
    cloth = f"spine cloth {case.wrap.width:.1f}"
    cx = left + (w - case.wrap.width * scale) / 2
    pen.measure_across(
        cx,
        cx + case.wrap.width * scale,
        foot + 5.0,
        cloth,
        edge=foot,
        of="spine-cloth-width",
    )
    side, words = case.side.width * scale, f"side {case.side.width:.1f}"
    for start in (left, left + w - side):
        pen.measure_across(start, start + side, foot + 11.0, words, edge=foot, of="side-width")
    return pen.finish("the case from inside", Size(WIDE, foot + 15.0))


def _draw_covering(pen: Pen, case: CaseMeasures, scale: float, left: float, top: float) -> None:
    u = case.casing.turn_in
    w = (case.open.width + 2 * u) * scale
    h = (case.board.height + 2 * u) * scale
    leg = mitre_leg(case) * scale
    outline = (
        (left + leg, top),
        (left + w - leg, top),
        (left + w, top + leg),
        (left + w, top + h - leg),
        (left + w - leg, top + h),
        (left + leg, top + h),
        (left, top + h - leg),
        (left, top + leg),
    )
    if case.side is None:
        pen.shape(outline, CLOTH)
        return
    pen.shape(outline, PAPER_TINT)
    cloth = case.wrap.width * scale
    x = left + (w - cloth) / 2
    pen.box(Rect(x, top, cloth, h), CLOTH, width=FINE)
    lap = case.casing.overlap * scale
    for edge in (x + lap, x + cloth - lap):
        pen.line((edge, top), (edge, top + h), width=HAIR, dash=(0.7, 0.6))


def draw_outside(hand: Hand, work: CaseWork) -> Drawing:
    """Draw the finished cover laid open with its outside up, with what is printed on it."""
    pen, case = Pen(hand), work.case
    scale = min(148.0 / case.open.width, 92.0 / case.board.height)
    left, top = (WIDE - case.open.width * scale) / 2, 4.0
    w, h = case.open.width * scale, case.board.height * scale
    area = Rect(left, top, w, h)
    pen.box(area, CLOTH, width=None)
    for piece in work.printed.pieces:
        x, y = _find_place(case, piece.name, piece.drawing.size)
        shift = Affine.shift(left + x * scale, top + y * scale)
        pen.items.append(Placed(piece.drawing, Affine.scale(scale).then(shift), area))
    between = case.between_boards * scale
    hinge = left + case.board.width * scale
    for x in (
        hinge,
        hinge + case.joint * scale,
        hinge + between - case.joint * scale,
        hinge + between,
    ):
        pen.line((x, top), (x, top + h), width=HAIR, dash=(1.0, 0.8), colour=hand.quiet)
    pen.box(area, width=FINE)
    y = top + h + 4.0
    pen.words(left + case.board.width * scale / 2, y, "back", style=pen.small)
    pen.words(hinge + between / 2, y, "spine", style=pen.small)
    pen.words(left + w - case.board.width * scale / 2, y, "front", style=pen.small)
    return pen.finish("the cover from outside", Size(WIDE, y + 3.0))


def _find_place(case: CaseMeasures, name: str, size: Size) -> tuple[float, float]:
    """Where a printed piece lies on the cover laid open (mm from its head-left corner)."""
    u, width, height = case.casing.turn_in, case.open.width, case.board.height
    front = width - case.board.width
    places = {
        "cover": (-u, -u),
        "back side": (-u, -u),
        "front side": (width - size.width + u, -u),
        "spine": ((width - size.width) / 2, -u),
        "spine label": ((width - size.width) / 2, height * 0.12),
        "front label": (front + (case.board.width - size.width) / 2, height * 0.2),
    }
    return places[name]


def draw_corner(hand: Hand, case: CaseMeasures) -> Drawing:
    """Draw a corner of the cloth as large as life: where it is cut, and the order of turning in."""
    pen = Pen(hand)
    u = case.casing.turn_in
    scale = 1.5
    left, top = 34.0, 4.0
    x, y, leg = left + u * scale, top + u * scale, mitre_leg(case) * scale
    reach = 34.0
    pen.shape(
        (
            (left + leg, top),
            (x + reach, top),
            (x + reach, y + reach),
            (left, y + reach),
            (left, top + leg),
        ),
        CLOTH,
    )
    pen.line((left, top + leg), (left, top), (left + leg, top), width=HAIR, dash=DASH)
    pen.shape(((x, y), (x + reach, y), (x + reach, y + reach), (x, y + reach)), BOARD)
    pen.line(
        (left - 4.0, top + leg + 4.0), (left + leg + 4.0, top - 4.0), width=BOLD, colour=hand.accent
    )
    near = case.mitre * scale / math.sqrt(2)
    pen.arrow((x, y), (x - near, y - near), both=True, head=1.2)
    pen.words(x + 3.0, y - 5.0, f"{case.mitre:g} mm", align=Align.LEFT, width=20.0)
    pen.measure_down(top, y, left - 12.0, f"{u:g}", edge=left)
    pen.words(x + reach / 2, y + reach / 2, "board")
    tx = left + 92.0
    for at, words in enumerate(
        (
            "1  cut the corner at 45°",
            "2  turn in the head",
            "3  turn in the tail",
            "4  tuck the corner with the bone",
            "5  turn in the fore-edge",
        )
    ):
        pen.words(tx, top + 8.0 + 7.6 * at, words, align=Align.LEFT, width=60.0)
    return pen.finish("a corner", Size(WIDE, y + reach + 3.0))


def draw_casing_in(hand: Hand, case: CaseMeasures) -> Drawing:
    """Draw the book from the head: block, mull, endpaper on the board, joint, hollow spine."""
    pen = Pen(hand)
    left, top, wide, thick, board = 40.0, 14.0, 84.0, 20.0, 4.0
    sx = left - 8.0
    fore = left + wide
    for y, up in ((top - board - 1.2, True), (top + thick + 1.2, False)):
        pen.box(Rect(left + 9.0, y, wide - 5.0, board), BOARD)
        edge, floor = (y, top - 0.6) if up else (y + board, top + thick + 0.6)
        pen.line(
            (fore + 4.2, edge),
            (left + 9.0, edge),
            (left + 5.0, floor),
            (left + 1.0, edge),
            (sx, edge + (3.0 if up else -3.0)),
            width=BOLD,
            colour=hand.accent,
        )
        paste = y + board + 0.5 if up else y - 0.5
        pen.line((left + 6.0, floor), (left + 9.0, paste), (fore + 2.6, paste), width=FINE)
    bulge = rise_of_round(thick) if case.is_round else 0.0
    _draw_back(pen, (sx, top - 2.2, thick + 4.4), bulge, width=BOLD, colour=hand.accent)
    _draw_back(pen, (sx + 1.4, top, thick), bulge, width=BOLD)
    for k in range(9):
        y = top + thick * k / 8
        out = bulge * (1 - (2 * (y - top) / thick - 1) ** 2)
        pen.line((left - out, y), (fore - out, y), width=HAIR)
    for k in range(4):
        y = top + thick * (k + 0.5) / 4
        out = bulge * (1 - (2 * (y - top) / thick - 1) ** 2)
        pen.arc(left - out, y, 1.8, thick / 8, 90.0, 270.0)
    _draw_back(pen, (left - 2.4, top, thick), bulge, width=FINE, dash=(0.6, 0.5))
    pen.measure_across(fore, fore + 4.0, top + thick + 9.0, "", edge=top + thick + 6.0)
    pen.words(fore + 5.4, top + thick + 9.0, "square", align=Align.LEFT)
    notes = (
        (top - board + 0.8, fore + 4.5, "board"),
        (top + 1.0, fore - 8.0, "endpaper, pasted down last"),
        (top + thick / 2, fore, "block"),
    )
    for y, end, words in notes:
        pen.line((end, y), (fore + 12.0, y), width=HAIR)
        pen.words(fore + 13.0, y, words, align=Align.LEFT, width=40.0)
    out = 0.84 * bulge
    pen.line((sx - out, top + thick * 0.3), (sx - 6.0 - out, top + thick * 0.3), width=HAIR)
    pen.words(
        sx - 7.0 - out, top + thick * 0.3, "cloth and spine piece", align=Align.RIGHT, width=32.0
    )
    pen.line((left - 2.4 - out, top + thick * 0.7), (sx - 6.0 - out, top + thick * 0.7), width=HAIR)
    pen.words(sx - 7.0 - out, top + thick * 0.7, "mull and lining", align=Align.RIGHT, width=32.0)
    pen.arrow((left + 5.0, top - 12.0), (left + 5.0, top - 5.5))
    pen.words(left + 7.0, top - 10.5, "joint, boned down", align=Align.LEFT, style=pen.small)
    return pen.finish("casing in", Size(WIDE, top + thick + 14.0))


def _draw_back(
    pen: Pen,
    at: tuple[float, float, float],
    bulge: float,
    *,
    width: float,
    dash: tuple[float, ...] = (),
    colour: Colour | None = None,
) -> None:
    """Draw a layer of the back down from ``at`` (left, top, height), out by ``bulge`` midway."""
    left, top, height = at
    points = [
        (left - bulge * (1 - (step / 6 - 1) ** 2), top + height * step / 12) for step in range(13)
    ]
    ends = points if bulge else [points[0], points[-1]]
    pen.line(*ends, width=width, dash=dash, colour=colour)

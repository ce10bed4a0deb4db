"""The figure of the pocket: its blank with all folds, and its place on the lower board."""

from __future__ import annotations

from wayfold.base.geometry import Rect, Size
from wayfold.bench.figure import BOARD, DASH, HAIR, PAPER_TINT, Pen
from wayfold.bench.worksheet import Hand
from wayfold.case.pocket import PocketBlank
from wayfold.drawing.items import Drawing
from wayfold.drawing.text import Align

WIDE = 172.0


def draw_pocket(hand: Hand, pocket: PocketBlank) -> Drawing:
    """Draw the pocket's blank with its folds, and its place on the lower board."""
    pen = Pen(hand)
    blank = pocket.blank
    scale = min(88.0 / blank.width, 92.0 / blank.height)
    left, top = 20.0, 10.0
    w, h = blank.width * scale, blank.height * scale
    _draw_blank(pen, pocket, scale, left, top)
    front, gusset = pocket.front, f"{pocket.gusset:g}"
    pen.measure_across(
        left + front.x * scale, left + front.right * scale, top - 4.0, f"{front.width:g}", edge=top
    )
    pen.measure_down(top, top + front.height * scale, left - 4.0, f"{front.height:g}", edge=left)
    flap = f"{pocket.folds_x[0]:g}"
    low = top + pocket.cut_away[0].y * scale
    sides = (
        (left + front.x * scale - 2.0, Align.RIGHT, f"{flap} + {gusset} + {gusset}"),
        (left + front.right * scale + 2.0, Align.LEFT, f"{gusset} + {gusset} + {flap}"),
    )
    for x, align, words in sides:
        pen.words(x, low + 3.6, words, align=align, width=26.0)
    pen.words(left + w / 2, top + h + 3.4, f"{gusset} + {gusset} + {flap}")
    pen.words(left + w / 2, top + h * 0.4, "front")
    pen.grain(left + w / 2, top + h * 0.62)
    pen.words(left + w / 2, top + h + 10.0, f"blank {blank.width:.1f} × {blank.height:.1f} mm")
    legend = "long dashes: fold towards you      dots: fold away from you"
    pen.words(left + w / 2, top + h + 14.5, legend, style=pen.small, width=90.0)
    bx = left + w + 26.0
    room = WIDE - bx - 4.0
    face = Size(pocket.closed.width, pocket.closed.height)
    small = min(room / (face.width + 30.0), h / (face.height + 60.0))
    board = Rect(bx, top, (face.width + 30.0) * small, (face.height + 60.0) * small)
    pen.box(board, BOARD)
    place = Rect(
        board.x + 15.0 * small,
        board.bottom - face.height * small - 15.0 * small,
        face.width * small,
        face.height * small,
    )
    pen.box(place, PAPER_TINT)
    pen.words(place.center.x, place.center.y, "open at\nthe head", width=30.0)
    pen.words(
        board.center.x,
        board.bottom + 3.6,
        "on the lower board, inside",
        style=pen.small,
        width=44.0,
    )
    return pen.finish("the pocket", Size(WIDE, top + h + 18.0))


def _draw_blank(pen: Pen, pocket: PocketBlank, scale: float, left: float, top: float) -> None:
    blank = pocket.blank
    cut = pocket.cut_away
    w, h = blank.width * scale, blank.height * scale
    low = top + cut[0].y * scale
    inner_left, inner_right = left + cut[0].right * scale, left + cut[1].x * scale
    pen.shape(
        (
            (left, top),
            (left + w, top),
            (left + w, low),
            (inner_right, low),
            (inner_right, top + h),
            (inner_left, top + h),
            (inner_left, low),
            (left, low),
        ),
        PAPER_TINT,
    )
    for at, x in enumerate(pocket.folds_x):
        dash = DASH if at in (1, 4) else (0.4, 0.8)
        pen.line((left + x * scale, top), (left + x * scale, low), width=HAIR, dash=dash)
    for at, y in enumerate(pocket.folds_y):
        dash = DASH if at == 1 else (0.4, 0.8)
        pen.line(
            (inner_left, top + y * scale), (inner_right, top + y * scale), width=HAIR, dash=dash
        )
    for x in (left, left + w - pocket.folds_x[0] * scale):
        pen.words(
            x + pocket.folds_x[0] * scale / 2, top + 12.0, "paste", style=pen.small, turn_deg=-90.0
        )

"""The measuring sheet: how to measure ten leaves, the grain and the thread, and room to note it."""

from __future__ import annotations

from dataclasses import replace

from wayfold.base.geometry import Rect
from wayfold.base.mends import Mend
from wayfold.bench.figure import BOLD, CLOTH, DASH, HAIR, PAPER_TINT, Pen
from wayfold.bench.worksheet import HEAD, LEFT, PAPER, RIGHT, choose_hand, write_lines
from wayfold.book.style import Style
from wayfold.drawing.items import Drawing
from wayfold.drawing.text import Align

WORDS_X = 92.0
RULER = 150.0


def draw_measuring(style: Style) -> Drawing:
    """Draw the sheet, upright A4, to be printed at full size."""
    pen = Pen(choose_hand(style))
    title = replace(pen.hand.title, size_pt=20.0, leading_pt=24.0)
    pen.items.append(
        write_lines(Rect(LEFT, HEAD, 150.0, 10.0), (("Measuring sheet", title),), "title")
    )
    _write(
        pen,
        HEAD + 12.0,
        "Print it at 100 %. What is measured here goes before what makers say, and that before "
        f"what is reckoned. Note all in millimetres, then: {Mend.SETUP}.",
        left=LEFT,
    )
    _leaves(pen, 48.0)
    _grain(pen, 108.0)
    _thread(pen, 182.0)
    _ruler(pen, 252.0)
    return pen.finish("measuring sheet", PAPER)


def _leaves(pen: Pen, y: float) -> None:
    _head(pen, y, "1", "Ten leaves")
    x = LEFT + 8.0
    for n in range(10):
        pen.box(Rect(x, y + 30.0 - 1.1 * n, 42.0, 1.1), fill=PAPER_TINT, width=HAIR)
    right = x + 42.0
    pen.line((right + 1.0, y + 16.0), (right - 8.0, y + 16.0), (right - 8.0, y + 20.1), width=BOLD)
    pen.line((right + 1.0, y + 35.2), (right - 8.0, y + 35.2), (right - 8.0, y + 31.1), width=BOLD)
    pen.line((right + 1.0, y + 16.0), (right + 1.0, y + 35.2), width=BOLD)
    pen.measure_down(y + 20.1, y + 31.1, right + 7.0, "10")
    _write(
        pen,
        y + 9.0,
        "Cut ten pieces of the paper, without dents at their edges. Press them together and "
        "measure all ten with callipers, at three places, not at a corner. The middle one of the "
        "three numbers counts. One leaf alone cannot be measured well enough.",
    )
    _blank(pen, y + 34.0, "paper: ten leaves", "mm")
    _blank(pen, y + 43.0, "translucent paper: ten leaves", "mm")


def _grain(pen: Pen, y: float) -> None:
    _head(pen, y, "2", "The grain")
    for x, stiff, words in (
        (LEFT + 4.0, False, "gives easily:\ngrain along the axis"),
        (LEFT + 36.0, True, "springs back:\ngrain across it"),
    ):
        rise = 7.0 if stiff else 17.0
        steps = [n / 12 for n in range(13)]
        near = [(x + 22.0 * t, y + 40.0 - rise * 4 * t * (1 - t)) for t in steps]
        far = [(px + 5.0, py - 9.0) for px, py in near]
        pen.shape([*near, *reversed(far)], fill=PAPER_TINT)
        top = (x + 11.0, y + 40.0 - rise)
        pen.line(top, (top[0] + 5.0, top[1] - 9.0), dash=DASH, width=HAIR)
        pen.words(x + 13.5, y + 47.0, words, style=pen.small, width=34.0)
    _write(
        pen,
        y + 9.0,
        "Bend a whole sheet over, without creasing it, once about an axis along its long side and "
        "once along its short side, and feel which resists less: the grain runs along that axis. "
        "To be sure, cut two strips of 20 × 150 mm, one each way, and hold them out together by "
        "their ends: the one that droops more was cut across the grain. In the book the grain runs "
        "from head to tail, in paper, boards and cloth.",
    )
    _blank(pen, y + 44.0, "paper: along the long or the short side", "")
    _blank(pen, y + 53.0, "translucent paper", "")


def _thread(pen: Pen, y: float) -> None:
    _head(pen, y, "3", "Ten turns of thread")
    x, middle = LEFT + 4.0, y + 24.0
    pen.shape(
        [(x, middle), (x + 7.0, middle - 3.5), (x + 58.0, middle - 3.5), (x + 58.0, middle + 3.5),
         (x + 7.0, middle + 3.5)],
        fill=CLOTH,
    )  # fmt: skip
    for n in range(10):
        at = x + 22.0 + 1.5 * n
        pen.line((at, middle + 4.2), (at + 0.9, middle - 4.2), width=0.9)
    pen.measure_across(x + 21.6, x + 37.0, middle + 11.0, "10", edge=middle + 5.0)
    _write(
        pen,
        y + 9.0,
        "Wrap the thread ten times closely round a pencil, side by side and without pulling it "
        "thin. Measure how wide the ten turns are. If it is to be waxed, wax it first.",
    )
    _blank(pen, y + 36.0, "ten turns", "mm")


def _ruler(pen: Pen, y: float) -> None:
    pen.line((LEFT, y), (LEFT + RULER, y), width=HAIR)
    for n in range(int(RULER) + 1):
        length = 6.0 if n % 10 == 0 else 4.0 if n % 5 == 0 else 2.5
        pen.line((LEFT + n, y), (LEFT + n, y - length), width=HAIR)
        if n % 10 == 0:
            pen.words(LEFT + n, y - 8.2, f"{n}", style=pen.small, width=10.0)
    words = (
        f"This line is {RULER:g} mm long. Measure it with a steel rule: if it is not, the printer "
        "has changed the scale. Do not measure leaves or thread on paper."
    )
    _write(pen, y + 3.0, words, left=LEFT)


def _head(pen: Pen, y: float, number: str, words: str) -> None:
    pen.line((LEFT, y), (RIGHT, y), width=HAIR, colour=pen.hand.quiet)
    heading = replace(pen.hand.title, size_pt=13.0, leading_pt=16.0)
    line = ((f"{number}  {words}", heading),)
    pen.items.append(write_lines(Rect(LEFT, y + 1.5, 100.0, 7.0), line, words))


def _blank(pen: Pen, y: float, words: str, unit: str) -> None:
    pen.words(WORDS_X, y, words, align=Align.LEFT, width=66.0)
    pen.line((WORDS_X + 62.0, y + 1.6), (RIGHT - 7.0, y + 1.6))
    pen.words(RIGHT - 6.0, y, unit, align=Align.LEFT, width=8.0)


def _write(pen: Pen, y: float, words: str, left: float = WORDS_X) -> None:
    style = replace(pen.hand.note, size_pt=9.2, leading_pt=12.2)
    box = Rect(left, y, RIGHT - left, 34.0)
    pen.items.append(write_lines(box, ((words, style),), words[:24]))

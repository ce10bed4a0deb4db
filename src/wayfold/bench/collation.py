"""The collation sheets: every gathering with its pages small, its interleaves, boxes to tick."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.geometry import Point, Rect, Size
from wayfold.bench.fan import Frame, nest_folds, trace_folds
from wayfold.bench.greek import sketch_page
from wayfold.bench.model import PlannedBook
from wayfold.bench.openings import shrink
from wayfold.bench.worksheet import (
    FOOT,
    HEAD,
    LEFT,
    PAPER,
    RIGHT,
    draw_box,
    draw_path,
    write_lines,
)
from wayfold.drawing.colour import WHITE
from wayfold.drawing.items import Drawing, Item, Stroke
from wayfold.drawing.text import Align, VerticalAlign
from wayfold.plan.model import EndRole, Gathering
from wayfold.press.signatures import signature_of

TOP, BOTTOM = 47.0, 273.0
ROW = 32.0
FAN = (LEFT + 13.0, LEFT + 33.0)
PAGES_X = LEFT + 40.0
TICKS = ("folded", "nested", "checked")
PAGE_WIDE = 15.5
"""The widest a page is drawn (mm); long gatherings have narrower ones."""
PAIR_GAP = 2.2


def draw_collation(planned: PlannedBook) -> tuple[Drawing, ...]:
    """Give the collation sheets, some eight gatherings on each."""
    gatherings = planned.plan.gatherings
    on_one = int((BOTTOM - TOP) / ROW)
    parts = [gatherings[at : at + on_one] for at in range(0, len(gatherings), on_one)]
    return tuple(
        Drawing(
            f"collation, {number}",
            PAPER,
            0.0,
            tuple(_draw_sheet(planned, part, number, len(parts))),
        )
        for number, part in enumerate(parts, start=1)
    )


def _draw_sheet(
    planned: PlannedBook, part: tuple[Gathering, ...], number: int, of: int
) -> Iterator[Item]:
    hand, width = planned.hand, RIGHT - LEFT
    yield write_lines(Rect(LEFT, HEAD, width, 10.5), (("Collation", hand.title),), "title")
    lead = (
        "Each gathering leaf by leaf, from its first page to its last. A dashed line is a "
        "translucent leaf; the bold line between two pages is the centre, where the thread shows."
    )
    yield write_lines(Rect(LEFT, HEAD + 11.5, width, 11.0), ((lead, hand.lead),), "lead")
    for at, gathering in enumerate(part):
        yield from _draw_row(planned, gathering, TOP + at * ROW)
    place = f", sheet {number} of {of}" if of > 1 else ""
    foot = f"{planned.book.title} · collation{place}"
    yield write_lines(Rect(LEFT, FOOT, width, 8.0), ((foot, hand.figure),), "foot")


def _draw_row(planned: PlannedBook, gathering: Gathering, top: float) -> Iterator[Item]:
    hand = planned.hand
    middle = top + ROW / 2
    yield draw_path((Point(LEFT, top), Point(RIGHT, top)), Stroke(hand.quiet, 0.13))
    name = ((signature_of(gathering.number), hand.title),)
    box = Rect(LEFT, top + 2.0, 12.0, 11.0)
    yield write_lines(box, name, "signature", vertical=VerticalAlign.MIDDLE)
    yield from _draw_fan(planned, gathering, middle)
    yield from _draw_pages(planned, gathering, top)
    for at, words in enumerate(_list_ticks(planned, gathering)):
        y = top + 13.2 + 4.4 * at
        yield draw_box(Rect(LEFT, y, 2.8, 2.8), stroke=Stroke(hand.ink, 0.2))
        line = Rect(LEFT + 4.0, y - 0.7, 14.0, 4.2)
        yield write_lines(line, ((words, hand.figure),), "tick")


def _list_ticks(planned: PlannedBook, gathering: Gathering) -> tuple[str, ...]:
    veiled = any(i.gathering == gathering.number for i in planned.plan.interleaves)
    return ("folded", "leaves in", "checked") if veiled else TICKS


def _draw_fan(planned: PlannedBook, gathering: Gathering, middle: float) -> Iterator[Item]:
    hand, gaps = planned.hand, 2 * gathering.sheets + 1
    pitch = min(2.0, (ROW - 8.0) / gaps)
    frame = Frame(*FAN, middle - pitch * gaps / 2, pitch)
    folds = nest_folds(gathering, planned.plan.interleaves)
    for fold, line in trace_folds(gathering, folds, frame):
        veil = fold.sheet is None
        stroke = Stroke(hand.accent, 0.25, (0.8, 0.6)) if veil else Stroke(hand.ink, 0.3)
        yield draw_path(line, stroke)


def _draw_pages(planned: PlannedBook, gathering: Gathering, top: float) -> Iterator[Item]:
    """Leaf by leaf: a recto and its verso stand together; gaps part the leaves."""
    hand, trim = planned.hand, planned.book.trim
    leaves = 2 * gathering.sheets
    room = RIGHT - PAGES_X - (leaves - 1) * PAIR_GAP
    wide = min(PAGE_WIDE, room / (2 * leaves), (ROW - 10.5) * trim.width / trim.height)
    size = Size(wide, wide * trim.height / trim.width)
    y = top + (ROW - 5.0 - size.height) / 2
    at_gap = _find_leaves(planned, gathering)
    for leaf in range(leaves + 1):
        edge = PAGES_X + leaf * (2 * wide + PAIR_GAP) - PAIR_GAP / 2
        for k in range(at_gap.get(leaf, 0)):
            x = edge + (k - (at_gap[leaf] - 1) / 2) * 0.8
            line = (Point(x, y - 2.0), Point(x, y + size.height + 2.0))
            yield draw_path(line, Stroke(hand.accent, 0.35, (1.2, 0.8)))
        if leaf == leaves:
            return
        if leaf == gathering.sheets:
            line = (Point(edge, y - 1.0), Point(edge, y + size.height + 1.0))
            yield draw_path(line, Stroke(hand.ink, 0.5))
        for side in range(2):
            number = gathering.first_page + 2 * leaf + side
            x = PAGES_X + leaf * (2 * wide + PAIR_GAP) + side * wide
            page = Rect(x, y, size.width, size.height)
            yield draw_box(page, WHITE)
            yield shrink(sketch_page(planned.pages[number - 1]), page)
            yield draw_box(page, stroke=Stroke(hand.quiet, 0.12))
            folio = Rect(x - 2.0, page.bottom + 2.2, wide + 4.0, 3.8)
            yield write_lines(folio, ((str(number), hand.figure),), "folio", Align.CENTER)


def _find_leaves(planned: PlannedBook, gathering: Gathering) -> dict[int, int]:
    """How many translucent leaves lie before each leaf (from 0) of a gathering."""
    found: dict[int, int] = {}
    for interleaf in planned.plan.interleaves:
        if interleaf.gathering != gathering.number:
            continue
        for end in interleaf.ends:
            if end.role is not EndRole.STUB:
                gap = (end.after_page + 1 - gathering.first_page) // 2
                found[gap] = found.get(gap, 0) + 1
    return found

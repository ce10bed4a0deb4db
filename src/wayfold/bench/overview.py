"""All gatherings at a glance, a row each: how the book is made up, before any of it is folded."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from wayfold.base.counts import count_of
from wayfold.base.geometry import Point, Rect, Size
from wayfold.bench.fan import Frame, nest_folds, trace_folds
from wayfold.bench.model import PlannedBook
from wayfold.bench.openings import draw_opening, list_gaps
from wayfold.bench.worksheet import (
    FOOT,
    HEAD,
    LEFT,
    PAPER,
    RIGHT,
    draw_path,
    write_lines,
)
from wayfold.drawing.items import Drawing, Item, Stroke
from wayfold.drawing.text import Align, VerticalAlign
from wayfold.plan.model import Gathering, Plan, PlanResult, Status
from wayfold.press.signatures import signature_of, write_collation
from wayfold.story.model import BlockKind

TOP, BOTTOM = 58.0, 273.0
ROW_MAX, ROW_LEAST = 21.0, 10.5
FAN = (LEFT + 10.0, LEFT + 38.0)
CENTRE_X = LEFT + 62.0
WORDS_X = LEFT + 86.0
CENTRE_WIDTH = 42.0
WORDS_MAX = 110
"""Letters: two lines, so that they have room in the lowest row."""
LEAF_PITCH = 1.5
"""Between leaves (mm), where a row has room for it."""


def draw_overview(planned: PlannedBook) -> tuple[Drawing, ...]:
    """Give the worksheets that go before those of the gatherings: one for some twenty of them."""
    gatherings = planned.plan.gatherings
    on_one = int((BOTTOM - TOP) / ROW_LEAST)
    parts = [gatherings[at : at + on_one] for at in range(0, len(gatherings), on_one)]
    row = min(ROW_MAX, (BOTTOM - TOP) / min(on_one, len(gatherings)))
    sheets = []
    for number, part in enumerate(parts, start=1):
        place = f", part {number} of {len(parts)}" if len(parts) > 1 else ""
        items: list[Item] = [*_write_head(planned, place)]
        for at, gathering in enumerate(part):
            area = Rect(LEFT, TOP + at * row, RIGHT - LEFT, row)
            items += _draw_folds(planned, gathering, area)
            items += _draw_centre(planned, gathering, area)
            items += _write_row(planned, gathering, area)
        sheets.append(Drawing(f"the gatherings, {number}", PAPER, 0.0, tuple(items)))
    return tuple(sheets)


def describe_proof(result: PlanResult) -> str:
    """Say how good a plan is known to be."""
    if result.status is Status.OPTIMAL:
        return "proven: no plan within the rules costs less"
    return f"the best plan found; at most {result.cost - result.bound} points could be saved"


def _write_head(planned: PlannedBook, part: str) -> Iterator[Item]:
    hand, plan = planned.hand, planned.plan
    width = RIGHT - LEFT
    yield write_lines(Rect(LEFT, HEAD, width, 10.5), (("The gatherings", hand.title),), "title")
    sheets = sum(g.sheets for g in plan.gatherings)
    made = f"{count_of(len(plan.gatherings), 'gathering')}, {count_of(sheets, 'sheet')}, "
    made += f"{len(plan.pages)} pages"
    if plan.interleaves:
        made += f", {count_of(len(plan.interleaves), 'translucent sheet')}"
    lines = ((made, hand.lead), (describe_proof(planned.result), hand.lead))
    yield write_lines(Rect(LEFT, HEAD + 11.5, width, 11.0), lines, "lead")
    formula = write_collation([g.sheets for g in plan.gatherings])
    box = Rect(LEFT, HEAD + 23.5, width, 12.0)
    yield write_lines(box, ((f"Collation: {formula}", hand.note),), "collation")
    foot = f"{planned.book.title} · all gatherings, seen from the head, with their centres{part}"
    yield write_lines(Rect(LEFT, FOOT, width, 8.0), ((foot, hand.figure),), "foot")


def _draw_folds(planned: PlannedBook, gathering: Gathering, area: Rect) -> Iterator[Item]:
    hand, gaps = planned.hand, 2 * gathering.sheets + 1
    pitch = min(LEAF_PITCH, 0.86 * area.height / gaps)
    frame = Frame(*FAN, area.center.y - pitch * gaps / 2, pitch)
    folds = nest_folds(gathering, planned.plan.interleaves)
    for fold, line in trace_folds(gathering, folds, frame):
        translucent = fold.sheet is None
        stroke = Stroke(hand.accent, 0.25, (0.8, 0.6)) if translucent else Stroke(hand.ink, 0.3)
        yield draw_path(line, stroke)


def _draw_centre(planned: PlannedBook, gathering: Gathering, area: Rect) -> Iterator[Item]:
    trim = planned.book.trim
    scale = min(0.84 * area.height / trim.height, CENTRE_WIDTH / 2 / trim.width)
    page = Size(trim.width * scale, trim.height * scale)
    gap = list_gaps(planned.plan, gathering, planned.leaves)[gathering.sheets]
    fold, rule = Point(CENTRE_X, area.center.y), Stroke(planned.hand.quiet, 0.12)
    yield from draw_opening(gap, gathering, planned.pages, fold, page, rule)


def _write_row(planned: PlannedBook, gathering: Gathering, area: Rect) -> Iterator[Item]:
    hand = planned.hand
    letter = ((signature_of(gathering.number), hand.lead),)
    box = Rect(area.x - 4.0, area.y, 10.0, area.height)
    yield write_lines(box, letter, "signature", Align.RIGHT, VerticalAlign.MIDDLE)
    lines = tuple((line, hand.note) for line in _describe(planned, gathering))
    box = Rect(WORDS_X, area.y, RIGHT - WORDS_X, area.height)
    key = f"gathering {gathering.number}"
    yield write_lines(box, lines, key, vertical=VerticalAlign.MIDDLE)


def _describe(planned: PlannedBook, gathering: Gathering) -> tuple[str, ...]:
    """Give one line on the paper and, where there is anything to say, one on what it carries."""
    pages = f"pages {gathering.first_page}–{gathering.last_page}"
    state = "; printed" if gathering.number in planned.printed else ""
    first = f"{count_of(gathering.sheets, 'sheet')}, {pages}{state}"
    more = [*_list_chapters(planned, gathering), *_list_leaves(planned.plan, gathering)]
    second = textwrap.shorten("; ".join(more), WORDS_MAX, placeholder=" …")
    return (first, second) if second else (first,)


def _list_chapters(planned: PlannedBook, gathering: Gathering) -> Iterator[str]:
    for page in planned.plan.pages[gathering.first_page - 1 : gathering.last_page]:
        block = planned.story.block(page.block) if page.block and not page.part else None
        if block and block.kind is BlockKind.OPENER and block.chapter is not None:
            yield f"{planned.story.chapters[block.chapter].title} begins"


def _list_leaves(plan: Plan, gathering: Gathering) -> Iterator[str]:
    mine = (i for i in plan.interleaves if i.gathering == gathering.number)
    over = sorted({end.over for i in mine for end in i.ends if end.over is not None})
    if over:
        pages = "page" if len(over) == 1 else "pages"
        yield f"translucent over {pages} {', '.join(map(str, over))}"

"""Each gathering on one worksheet: its nested sheets from the head, its openings beside them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wayfold.base.counts import count_of
from wayfold.base.geometry import Point, Rect, Size
from wayfold.bench.fan import Frame, find_thread, nest_folds, trace_folds
from wayfold.bench.model import PlannedBook
from wayfold.bench.notes import write_notes
from wayfold.bench.openings import Gap, draw_opening, list_gaps
from wayfold.bench.stacking import Beside, write_beside
from wayfold.bench.worksheet import (
    FOOT,
    HEAD,
    LEFT,
    PAPER,
    RIGHT,
    Hand,
    draw_dot,
    draw_path,
    write_lines,
)
from wayfold.drawing.items import Drawing, Item, Stroke
from wayfold.drawing.text import Align
from wayfold.plan.model import Gathering
from wayfold.press.signatures import signature_of

TOP, BOTTOM = 44.0, 273.0
"""What the openings of a gathering share."""
ROW_MAX = 45.0
FAN_LEFT, FAN_RIGHT = LEFT + 3.0, 74.0
SPREAD_MAX = 62.0
"""Both facing pages together, across: beside them stand the notes."""
FOLD_X = 113.0
NOTES = 45.0
AIR = 0.115
"""Part of a row above and below its pages, where the leaves' lines run."""
SHEET_WIDTH, LEAF_WIDTH = 0.45, 0.4
DASH = (1.6, 1.1)
LEAF_GAP = 7.5
"""Between the free end of a translucent leaf and the pages it lies between."""
OVERHANG = 7.0
"""How far the sheets' lines run out beyond the pages, to their names."""
KNOT = 0.75


def draw_gatherings(planned: PlannedBook) -> tuple[Drawing, ...]:
    """Give one worksheet a gathering.

    The drawings hold the pages themselves, so their pictures go by the same keys.
    """
    return tuple(
        Drawing(
            f"gathering {gathering.number}", PAPER, 0.0, tuple(_draw_worksheet(planned, gathering))
        )
        for gathering in planned.plan.gatherings
    )


def _draw_worksheet(planned: PlannedBook, gathering: Gathering) -> Iterator[Item]:
    gaps = list_gaps(planned.plan, gathering, planned.leaves)
    row = min(ROW_MAX, (BOTTOM - TOP) / len(gaps))
    frame = Frame(FAN_LEFT, FAN_RIGHT, TOP, row)
    page = _fit_page(planned.book.trim, row)
    yield from _write_head(planned, gathering)
    yield from _draw_fan(planned, gathering, frame, page)
    for gap in gaps:
        fold = Point(FOLD_X, frame.middle_of(gap.number))
        at_centre = gap.number == gathering.sheets
        rule = Stroke(planned.hand.ink, 0.35) if at_centre else Stroke(planned.hand.quiet, 0.12)
        yield from draw_opening(gap, gathering, planned.pages, fold, page, rule)
        yield from _write_folios(planned.hand, gap, fold, page)
    yield from _write_notes(planned, gathering, gaps, frame)


def _fit_page(trim: Size, row: float) -> Size:
    scale = min(row * (1 - 2 * AIR) / trim.height, SPREAD_MAX / 2 / trim.width)
    return Size(trim.width * scale, trim.height * scale)


def _write_head(planned: PlannedBook, gathering: Gathering) -> Iterator[Item]:
    hand, width = planned.hand, RIGHT - LEFT
    title = f"Gathering {gathering.number}"
    yield write_lines(Rect(LEFT, HEAD, width, 10.5), ((title, hand.title),), "title")
    left, right = gathering.centre
    lead = (
        f"{count_of(gathering.sheets, 'sheet')}, pages {gathering.first_page}–"
        f"{gathering.last_page}; the centre lies between {left} and {right}"
        f"{'; printed' if gathering.number in planned.printed else ''}"
    )
    yield write_lines(Rect(LEFT, HEAD + 11.5, width, 6.0), ((lead, hand.lead),), "lead")
    mark = ((f"signature {signature_of(gathering.number)}", hand.heading),)
    box = Rect(LEFT, HEAD + 3.6, width, 5.0)
    yield write_lines(box, mark, "signature", Align.RIGHT)
    of = len(planned.plan.gatherings)
    foot = f"{planned.book.title} · gathering {gathering.number} of {of}, seen from the head"
    yield write_lines(Rect(LEFT, FOOT, width, 8.0), ((foot, hand.figure),), "foot")


def _draw_fan(
    planned: PlannedBook, gathering: Gathering, frame: Frame, page: Size
) -> Iterator[Item]:
    hand, folds = planned.hand, nest_folds(gathering, planned.plan.interleaves)
    for fold, line in trace_folds(gathering, folds, frame):
        if fold.sheet is None:
            near = FOLD_X - page.width - LEAF_GAP
            reach = (Point(near, line[0].y), *line, Point(near, line[-1].y))
            yield draw_path(reach, Stroke(hand.accent, LEAF_WIDTH, DASH))
            continue
        fore_edge = FOLD_X + page.width + OVERHANG
        ends = (Point(fore_edge, line[0].y), Point(fore_edge, line[-1].y))
        yield draw_path((ends[0], *line, ends[1]), Stroke(hand.ink, SHEET_WIDTH))
        name = ((f"{signature_of(gathering.number)} {fold.sheet}", hand.figure),)
        for end in ends:
            yield write_lines(Rect(end.x + 1.6, end.y - 1.9, 12.0, 3.8), name, "sheet")
    start, knot = find_thread(gathering, folds, frame)
    yield draw_path((start, knot), Stroke(hand.ink, 0.3))
    yield draw_dot(knot, KNOT, hand.ink)


def _write_folios(hand: Hand, gap: Gap, fold: Point, page: Size) -> Iterator[Item]:
    y = fold.y + page.height / 2 - 3.4
    for number in gap.pages:
        right = number == gap.recto
        x = fold.x + page.width + 1.5 if right else fold.x - page.width - 10.5
        align = Align.LEFT if right else Align.RIGHT
        words = ((str(number), hand.figure),)
        yield write_lines(Rect(x, y, 9.0, 3.6), words, f"folio {number}", align)


def _write_notes(
    planned: PlannedBook, gathering: Gathering, gaps: Sequence[Gap], frame: Frame
) -> Iterator[Item]:
    hand, noted = planned.hand, []
    for gap in gaps:
        notes = write_notes(planned.story, planned.plan, gathering, gap)
        lines = tuple((n.words, hand.heading if n.heading else hand.note) for n in notes)
        noted.append(Beside(f"opening {gap.number}", frame.middle_of(gap.number), lines))
    area = Rect(RIGHT - NOTES, TOP, NOTES, BOTTOM - TOP)
    yield from write_beside([words for words in noted if words.lines], area)

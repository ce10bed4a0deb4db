"""Steps of work set on worksheets: a tick box, what to do, and beside it what to beware of."""

from __future__ import annotations

import enum
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from wayfold.base.geometry import Affine, Point, Rect
from wayfold.bench.worksheet import (
    FOOT,
    HEAD,
    LEFT,
    PAPER,
    RIGHT,
    Hand,
    draw_box,
    draw_path,
    write_lines,
)
from wayfold.drawing.items import Drawing, Item, Placed, Stroke, Text
from wayfold.drawing.text import Align, Paragraph, Run, TextBlock, TextMeasurer, TextStyle

STEP_X, STEP_WIDTH = LEFT + 7.5, 104.0
ASIDE_X = LEFT + 122.0
ASIDE_WIDTH = RIGHT - ASIDE_X
BOTTOM = 272.0
BOX = 3.3
GAP = 3.0
ROOM = 0.3
"""Added to measured heights, so that no rounding calls a text too tall."""


class Kind(enum.StrEnum):
    """What stands beside a step."""

    CARE = "care"
    DRYING = "drying"
    MEASURE = "measure"
    WHY = "why"


@dataclass(frozen=True, slots=True)
class Aside:
    """Words beside a step."""

    kind: Kind
    words: str


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do, with what belongs beside it; ``key`` names it within its task.

    Without a key it is a rule to keep to, and there is nothing to tick. ``by`` are measures that
    the step is done by but does not itself name, as those of a figure.
    """

    key: str
    words: str
    asides: tuple[Aside, ...] = ()
    by: str = ""

    @property
    def said(self) -> str:
        """All that it is done by: should it read otherwise later, it was done by old numbers."""
        measures = (aside.words for aside in self.asides if aside.kind is Kind.MEASURE)
        return " ".join(part for part in (self.words, *measures, self.by) if part)


@dataclass(frozen=True, slots=True)
class Row:
    """A line of a table: what, and how much; ``strong`` for a sum.

    ``key`` names what is got or had, where that is ticked off at the desk as well.
    """

    what: str
    much: str
    strong: bool = False
    key: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under a heading; ``ticked`` where each is to be ticked off."""

    heading: str
    rows: tuple[Row, ...]
    ticked: bool = True


@dataclass(frozen=True, slots=True)
class Task:
    """A piece of work on its own worksheet, or on several; ``key`` names it."""

    key: str
    title: str
    lead: str
    steps: tuple[Step, ...] = ()
    figures: tuple[Drawing, ...] = ()
    tools: str = ""
    time: str = ""
    tables: tuple[Table, ...] = ()


def care(words: str) -> Aside:
    """Give a caution."""
    return Aside(Kind.CARE, words)


def drying(words: str) -> Aside:
    """Give a drying or pressing time."""
    return Aside(Kind.DRYING, words)


def measured(words: str) -> Aside:
    """Give a measure."""
    return Aside(Kind.MEASURE, words)


def why(words: str) -> Aside:
    """Give a reason."""
    return Aside(Kind.WHY, words)


@dataclass
class _Sheet:
    task: Task
    part: int
    items: list[Item] = field(default_factory=list)


class Setter:
    """Sets tasks on sheets; all heights are measured at once before any is placed."""

    def __init__(self, hand: Hand, measurer: TextMeasurer) -> None:
        self._hand = hand
        self._measurer = measurer
        self.body = replace(hand.note, size_pt=10.0, leading_pt=13.2)
        self.aside = replace(hand.note, size_pt=8.4, leading_pt=10.6)

    def set_tasks(self, tasks: Sequence[Task], book_title: str) -> tuple[Drawing, ...]:
        """Give the worksheets of tasks, in order."""
        heights = self._measure(tasks)
        sheets = [sheet for task in tasks for sheet in self._set_task(task, heights)]
        return tuple(
            Drawing(
                f"{sheet.task.title}, {sheet.part}",
                PAPER,
                0.0,
                (*sheet.items, self._write_foot(book_title, sheet)),
            )
            for sheet in sheets
        )

    def _blocks(self, tasks: Sequence[Task]) -> Iterator[TextBlock]:
        for task in tasks:
            yield self._lead(task)
            yield self._needs(task)
            for step in task.steps:
                yield self._step(step)
                for aside in step.asides:
                    yield self._aside(aside)

    def _measure(self, tasks: Sequence[Task]) -> dict[TextBlock, float]:
        blocks = list(dict.fromkeys(self._blocks(tasks)))
        heights = self._measurer.measure_heights(blocks)
        return {b: h + ROOM for b, h in zip(blocks, heights, strict=True)}

    def _lead(self, task: Task) -> TextBlock:
        return TextBlock((_paragraph(task.lead, self._hand.lead),), RIGHT - LEFT)

    def _needs(self, task: Task) -> TextBlock:
        lines = []
        if task.tools:
            lines.append(_labelled("tools", task.tools, self.aside))
        if task.time:
            lines.append(_labelled("hands", task.time, self.aside))
        return TextBlock(tuple(lines) or (_paragraph("", self.aside),), RIGHT - LEFT)

    def _step(self, step: Step) -> TextBlock:
        return TextBlock((_paragraph(step.words, self.body),), STEP_WIDTH)

    def _aside(self, aside: Aside) -> TextBlock:
        colour = self._hand.accent if aside.kind is Kind.CARE else self._hand.quiet
        head = replace(self._hand.heading, colour=colour)
        words = replace(self.aside, italic=aside.kind is Kind.WHY)
        return TextBlock(
            (_paragraph(aside.kind.value, head), _paragraph(aside.words, words)), ASIDE_WIDTH
        )

    def _set_task(self, task: Task, heights: dict[TextBlock, float]) -> Iterator[_Sheet]:
        sheet = _Sheet(task, 1)
        y = self._write_head(sheet, heights)
        for figure in task.figures:
            if y + figure.size.height > BOTTOM:
                yield sheet
                sheet, y = self._turn_over(sheet)
            x = LEFT + (RIGHT - LEFT - figure.size.width) / 2
            sheet.items.append(Placed(figure, Affine.shift(x, y)))
            y += figure.size.height + 4.0
        for table in task.tables:
            if y + 12.0 > BOTTOM:
                yield sheet
                sheet, y = self._turn_over(sheet)
            y = self._write_heading(sheet, table.heading, y)
            for row in table.rows:
                if y + 5.6 > BOTTOM:
                    yield sheet
                    sheet, y = self._turn_over(sheet)
                y = self._write_row(sheet, row, y, ticked=table.ticked)
            y += 5.0
        aside_y = y
        empty = not (task.figures or task.tables)
        for step in task.steps:
            block = self._step(step)
            asides = [self._aside(a) for a in step.asides]
            beside = max(y, aside_y)
            ends = beside + sum(heights[a] + GAP for a in asides) - GAP if asides else y
            if max(y + heights[block], ends) > BOTTOM and not empty:
                yield sheet
                sheet, y = self._turn_over(sheet)
                aside_y = beside = y
            empty = False
            if step.key:
                sheet.items.append(_tick_box(y + 0.75, self._hand))
            sheet.items.append(
                Text(Rect(STEP_X, y, STEP_WIDTH, heights[block]), block.paragraphs, "step")
            )
            for aside, said in zip(asides, step.asides, strict=True):
                sheet.items += self._draw_aside(aside, said.kind, beside, heights[aside])
                beside += heights[aside] + GAP
            if asides:
                aside_y = beside
            y += heights[block] + GAP
        yield sheet

    def _write_head(self, sheet: _Sheet, heights: dict[TextBlock, float]) -> float:
        hand, width, task = self._hand, RIGHT - LEFT, sheet.task
        sheet.items.append(
            write_lines(Rect(LEFT, HEAD, width, 10.5), ((task.title, hand.title),), "title")
        )
        y = HEAD + 11.5
        lead = self._lead(task)
        sheet.items.append(Text(Rect(LEFT, y, width, heights[lead]), lead.paragraphs, "lead"))
        y += heights[lead] + 2.0
        if task.tools or task.time:
            needs = self._needs(task)
            sheet.items.append(
                Text(Rect(LEFT, y, width, heights[needs]), needs.paragraphs, "needs")
            )
            y += heights[needs] + 1.5
        sheet.items.append(_rule(y, hand))
        return y + 6.0

    def _turn_over(self, sheet: _Sheet) -> tuple[_Sheet, float]:
        fresh = _Sheet(sheet.task, sheet.part + 1)
        box = Rect(LEFT, HEAD, RIGHT - LEFT, 7.0)
        words = ((f"{sheet.task.title}, continued", self._hand.lead),)
        fresh.items += [write_lines(box, words, "title"), _rule(HEAD + 8.5, self._hand)]
        return fresh, HEAD + 14.0

    def _write_heading(self, sheet: _Sheet, heading: str, y: float) -> float:
        box = Rect(LEFT, y, RIGHT - LEFT, 5.0)
        sheet.items.append(write_lines(box, ((heading, self._hand.heading),), heading))
        return y + 6.0

    def _write_row(self, sheet: _Sheet, row: Row, y: float, *, ticked: bool) -> float:
        style = replace(self.body, size_pt=9.4, leading_pt=12.4)
        x = STEP_X if ticked else LEFT
        box = Rect(x, y, 122.0, 4.8)
        sheet.items.append(write_lines(box, ((row.what, style),), row.what[:20]))
        much = Rect(RIGHT - 56.0, y, 56.0, 4.8)
        sheet.items.append(write_lines(much, ((row.much, style),), row.what[:20], Align.RIGHT))
        if row.strong:
            sheet.items.append(_rule(y - 0.4, self._hand))
        elif ticked:
            sheet.items.append(_tick_box(y + 0.7, self._hand))
        return y + 5.4

    def _draw_aside(self, block: TextBlock, kind: Kind, y: float, height: float) -> Iterator[Item]:
        care_rule = Stroke(self._hand.accent, 0.5)
        rule = care_rule if kind is Kind.CARE else Stroke(self._hand.quiet, 0.13)
        x = ASIDE_X - 2.4
        yield draw_path((Point(x, y + 0.8), Point(x, y + height - 0.2)), rule)
        yield Text(Rect(ASIDE_X, y, ASIDE_WIDTH, height), block.paragraphs, kind.value)

    def _write_foot(self, title: str, sheet: _Sheet) -> Text:
        part = "" if sheet.part == 1 else f", sheet {sheet.part}"
        words = f"{title} · {sheet.task.title.lower()}{part}"
        return write_lines(
            Rect(LEFT, FOOT, RIGHT - LEFT, 8.0), ((words, self._hand.figure),), "foot"
        )


def _paragraph(words: str, style: TextStyle) -> Paragraph:
    return Paragraph((Run(words),), style)


def _labelled(label: str, words: str, style: TextStyle) -> Paragraph:
    return Paragraph((Run(f"{label}  ", small_caps=True), Run(words)), style)


def _rule(y: float, hand: Hand) -> Item:
    return draw_path((Point(LEFT, y), Point(RIGHT, y)), Stroke(hand.quiet, 0.13))


def _tick_box(y: float, hand: Hand) -> Item:
    return draw_box(Rect(LEFT, y, BOX, BOX), stroke=Stroke(hand.ink, 0.2))

"""Planned books with translucent leaves, and worksheets of them."""

from typing import Any

from wayfold.base.geometry import Size
from wayfold.bench.gatherings import draw_gatherings
from wayfold.bench.model import PlannedBook
from wayfold.book.state import Book
from wayfold.drawing.items import Drawing, Text
from wayfold.pages.interleaves import InterleafLeaf
from wayfold.plan.model import (
    EndRole,
    Gathering,
    Interleaf,
    InterleafEnd,
    Plan,
    PlannedPage,
    PlanResult,
    Status,
)
from wayfold.story.model import Alternative, Block, BlockKind, Chapter, Story

A4 = Size(210.0, 297.0)


def gather(*sheets: int, interleaves: tuple[Interleaf, ...] = (), ways: tuple = ()) -> Plan:
    """A book of such gatherings; ``ways`` give (first page, pages, block)."""
    pages = [PlannedPage(n, None) for n in range(1, 4 * sum(sheets) + 1)]
    for first, count, block in ways:
        for part in range(count):
            pages[first - 1 + part] = PlannedPage(first + part, block, part)
    gatherings, first = [], 1
    for number, count in enumerate(sheets, start=1):
        gatherings.append(Gathering(number, count, first))
        first += 4 * count
    choices = tuple((block, 0) for _, _, block in ways)
    return Plan(tuple(pages), tuple(gatherings), choices, interleaves)


def wrap(gathering: int, depth: int | None, *ends: tuple[int, EndRole, int | None]) -> Interleaf:
    return Interleaf(gathering, depth, tuple(InterleafEnd(*end) for end in ends))


def draw(plan: Plan, story: Story, trim: Size = A4) -> tuple[Drawing, ...]:
    """The worksheets of the gatherings."""
    return draw_gatherings(lay_out(plan, story, trim))


def lay_out(plan: Plan, story: Story, trim: Size = A4, **fields: Any) -> PlannedBook:
    """A planned book with empty pages of that size."""
    book = Book("A Very Long Way There", trim=trim)
    pages = tuple(Drawing(f"page {p.number}", trim, 3.0, ()) for p in plan.pages)
    fields.setdefault("result", PlanResult(Status.OPTIMAL, plan, 10, 10))
    return PlannedBook(book, story, plan, pages=pages, leaves=list_leaves(plan, trim), **fields)


def list_leaves(plan: Plan, trim: Size) -> tuple[InterleafLeaf, ...]:
    empty = Drawing("face", trim, 3.0, ())
    return tuple(
        InterleafLeaf(i, n, end.after_page, end.role, empty, empty)
        for i, interleaf in enumerate(plan.interleaves)
        for n, end in enumerate(interleaf.ends)
    )


def tell(*blocks: Block) -> Story:
    return Story((Chapter("Lisbon", "", "Portugal", None, None),), blocks)


def hero(name: str) -> Block:
    return Block(name, BlockKind.HERO, (Alternative(2, spreads=(0,)),))


def opener(name: str) -> Block:
    return Block(name, BlockKind.OPENER, (Alternative(1),), chapter=0)


def texts_of(drawing: Drawing, key: str) -> list[str]:
    """The paragraphs of the worksheet's own texts of that key."""
    return [
        p.plain
        for item in drawing.items
        if isinstance(item, Text) and item.key == key
        for p in item.paragraphs
    ]

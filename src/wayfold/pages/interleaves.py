"""The ink on translucent leaves: a title or a caption over a picture, a small motif, or nothing."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from wayfold.base.geometry import Point, Rect, Size
from wayfold.book.see_through import sheet_of
from wayfold.book.state import Book
from wayfold.drawing.items import Contour, Drawing, Item, Shape, Stroke, Text
from wayfold.drawing.text import Paragraph, TextBlock, TextMeasurer
from wayfold.layout.grid import COLUMNS, Grid, make_grid
from wayfold.layout.model import BookLayout, PageLayout
from wayfold.pages.country_place import place_country
from wayfold.pages.ground import read_ground
from wayfold.pages.leaf_marks import guess_width
from wayfold.photos.lightness import Lightness
from wayfold.plan.model import EndRole, InterleafEnd, Plan
from wayfold.plan.paper import is_recto
from wayfold.story.model import BlockKind, Story
from wayfold.words.leaves import CAPTION, NAME, TITLE
from wayfold.words.model import Words

RULE = 0.25
"""A line on a leaf; anything under 0.18 mm breaks up on translucent paper."""
RULE_LENGTH = 16.0
RULE_AIR = 3.2
ROOM = 0.2
"""Added to measured heights (mm), so that no text is called too tall by a rounding."""
MOTIF_LINE = 0.845
"""Where a motif stands, as a part of the page's height: below the type of any text page."""
CAPTION_LINE = 0.8
"""Where a caption is looked for first."""
STEPS = 30
"""Heights that are tried for words."""
AWAY = 0.5
"""What a place loses a page's height away from where it was wished, against light from 0 to 1."""
THROUGH = 0.3
"""What a place loses whose words, once the leaf is turned, show mirrored through it over others."""
ASIDE = 0.3
"""A page's width beside the text margin, as a part of a page's height above or below."""

CountryDrawer = Callable[[str, Size], Drawing]
"""Draws the map of a country (ISO 3166-1 alpha-2) in one ink, for a room of that size (mm)."""


@dataclass(frozen=True, slots=True)
class InterleafLeaf:
    """One translucent leaf and the ink on its two faces, each a drawing of the page's size.

    ``interleaf`` and ``end`` are its indices in the plan; it lies after page ``after_page``. The
    recto lies to the reader while the leaf covers the next page, the verso once it is turned.
    """

    interleaf: int
    end: int
    after_page: int
    role: EndRole
    recto: Drawing
    verso: Drawing

    @property
    def label(self) -> str:
        """How reports name it, "leaf after page 12"."""
        return f"leaf after page {self.after_page}"


def compose_interleaves(
    book: Book,
    story: Story,
    plan: Plan,
    words: Words,
    layout: BookLayout,
    measurer: TextMeasurer,
    lightness: Mapping[str, Lightness],
    draw_country: CountryDrawer | None = None,
) -> tuple[InterleafLeaf, ...]:
    """Give every leaf of every interleaf, in the plan's order.

    ``lightness`` is that of the photographs under leaves; where it is not known, words stand where
    titles hang. A leaf cut back to a stub bears nothing. ``draw_country`` draws the maps that
    chapters ask for.
    """
    desk = _Desk(
        book, story, plan, words, layout, measurer, lightness, make_grid(book), draw_country
    )
    return tuple(
        _compose_leaf(desk, index, number, end)
        for index, interleaf in enumerate(plan.interleaves)
        for number, end in enumerate(interleaf.ends)
    )


@dataclass(frozen=True, slots=True)
class _Desk:
    book: Book
    story: Story
    plan: Plan
    words: Words
    layout: BookLayout
    measurer: TextMeasurer
    lightness: Mapping[str, Lightness]
    grid: Grid
    draw_country: CountryDrawer | None

    def page(self, number: int) -> PageLayout | None:
        return next((p for p in self.layout.pages if p.number == number), None)

    def measure(self, paragraphs: tuple[Paragraph, ...], widths: Sequence[float]) -> list[float]:
        """The heights (mm) that a text takes at several widths."""
        blocks = [TextBlock(paragraphs, width) for width in widths]
        return [height + ROOM for height in self.measurer.measure_heights(blocks)]

    def bears(self, page: int) -> bool:
        """Whether a leaf's own words may lie beside a page."""
        if not 1 <= page <= len(self.plan.pages):
            return True
        planned = self.plan.pages[page - 1]
        if planned.block is None:
            return True
        way = dict(self.plan.choices).get(planned.block, 0)
        return planned.part in self.story.block(planned.block).alternatives[way].bears


def _compose_leaf(desk: _Desk, interleaf: int, number: int, end: InterleafEnd) -> InterleafLeaf:
    after = end.after_page
    beneath = end.over if end.over is not None else _choose_beneath(desk, after)
    items: tuple[Item, ...] = ()
    if end.role is EndRole.WANTED:
        items = tuple(_draw_wanted(desk, beneath))
    elif end.role is EndRole.ECHO:
        items = tuple(_draw_echo(desk, after, beneath))
    on_recto = is_recto(beneath)
    recto, verso = (
        Drawing(f"leaf after page {after}, {side}", desk.book.trim, desk.book.bleed, ink)
        for side, ink in (
            ("recto", items if on_recto else ()),
            ("verso", () if on_recto else items),
        )
    )
    return InterleafLeaf(interleaf, number, after, end.role, recto, verso)


def _choose_beneath(desk: _Desk, after: int) -> int:
    """The page that a leaf's motif lies over: the right one, unless only the left one bears it."""
    return after if not desk.bears(after + 1) and after and desk.bears(after) else after + 1


def _draw_wanted(desk: _Desk, page: int) -> Iterator[Item]:
    """The chapter's title, or the picture's caption, where the page beneath is light and calm."""
    planned = desk.plan.pages[page - 1]
    if planned.block is None:
        return
    block = desk.story.block(planned.block)
    if block.kind is BlockKind.OPENER:
        key = f"{TITLE}:{block.chapter}"
        width, wish = desk.grid.measure, desk.grid.sunk
    else:
        key = f"{CAPTION}:{block.photos[0]}" if block.photos else ""
        width, wish = desk.grid.caption_measure, CAPTION_LINE * desk.grid.trim.height
    paragraphs = desk.words.get(key)
    if not paragraphs:
        return
    box = _find_place(desk, page, paragraphs, width, wish)
    yield Text(box, paragraphs, key)
    mapped = desk.story.chapters[block.chapter].mapped if block.chapter is not None else None
    if mapped and block.kind is BlockKind.OPENER and desk.draw_country:
        draw = partial(desk.draw_country, mapped)
        ground = read_ground(desk.page(page), desk.lightness)
        yield place_country(draw, ground, sheet_of(desk.book.translucent), desk.grid.trim, box)


def _draw_echo(desk: _Desk, after: int, page: int) -> Iterator[Item]:
    """A short rule and the name of the chapter that the leaf lies in."""
    pages = desk.plan.pages
    around = [pages[n - 1].block for n in (page, after + 1, after) if 1 <= n <= len(pages)]
    chapters = [desk.story.block(b).chapter for b in around if b is not None]
    chapter = next((c for c in chapters if c is not None), None)
    paragraphs = desk.words.get(f"{NAME}:{chapter}")
    if not paragraphs:
        return
    wish = MOTIF_LINE * desk.grid.trim.height
    box = _find_place(desk, page, paragraphs, desk.grid.caption_measure, wish, RULE_AIR)
    line = Contour((Point(box.x, box.y), Point(box.x + RULE_LENGTH, box.y)))
    yield Shape((line,), stroke=Stroke(desk.book.style.ink, RULE))
    text = Rect(box.x, box.y + RULE_AIR, box.width, box.height - RULE_AIR)
    yield Text(text, paragraphs, f"{NAME}:{chapter}:{after}")


def _find_place(
    desk: _Desk,
    page: int,
    paragraphs: tuple[Paragraph, ...],
    measure: float,
    wish: float,
    above: float = 0.0,
) -> Rect:
    """Give where words stand best over a page: light, calm, clear of its type, near ``wish``.

    ``above`` is room (mm) that something over the words takes.
    """
    recto, grid = is_recto(page), desk.grid
    area, pictures = grid.text_area(recto), grid.picture_area(recto)
    columns = [area.x, *(grid.column(n, 1, recto).x for n in range(COLUMNS))]
    set_width = guess_width(paragraphs)
    across = [x for x in columns if x + min(set_width, measure) <= pictures.right] or columns[:1]
    widths = [min(measure, pictures.right - x) for x in across]
    heights = [height + above for height in desk.measure(paragraphs, widths)]
    head, foot = grid.picture_margins.head, grid.trim.height - grid.picture_margins.foot / 2
    ground = read_ground(desk.page(page), desk.lightness)
    facing = read_ground(desk.page(page - 1 if recto else page + 1), {})
    best, place = -math.inf, Rect(area.x, wish, widths[0], heights[0])
    for x, width, height in zip(across, widths, heights, strict=True):
        lowest = max(head, foot - height)
        down = [min(max(wish, head), lowest)]
        down += [head + i * (lowest - head) / STEPS for i in range(STEPS + 1)]
        for y in down:
            inked = Rect(x, y, min(set_width, width), height)
            away = abs(y - wish) / grid.trim.height + ASIDE * abs(x - area.x) / grid.trim.width
            mirrored = Rect(grid.trim.width - inked.right, y, inked.width, height)
            worth = ground.judge(inked) - AWAY * away - THROUGH * facing.share_type(mirrored)
            if worth > best:
                best, place = worth, Rect(x, y, width, height)
    return place

"""The ink on translucent leaves: a title or a caption over a picture, a small motif, or nothing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from wayfold.base.geometry import Point, Rect, Size
from wayfold.book.state import Book
from wayfold.drawing.items import Contour, Drawing, Item, Shape, Stroke, Text
from wayfold.drawing.text import Paragraph, TextBlock, TextMeasurer
from wayfold.layout.grid import Grid, make_grid
from wayfold.layout.model import BookLayout, PageLayout
from wayfold.pages.ground import Ground, read_ground
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
) -> tuple[InterleafLeaf, ...]:
    """Give every leaf of every interleaf, in the plan's order.

    ``lightness`` is that of the photographs under leaves; where it is not known, words stand where
    titles hang. A leaf cut back to a stub bears nothing.
    """
    desk = _Desk(book, story, plan, words, layout, measurer, lightness, make_grid(book))
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

    def page(self, number: int) -> PageLayout | None:
        return next((p for p in self.layout.pages if p.number == number), None)

    def measure(self, paragraphs: tuple[Paragraph, ...], width: float) -> float:
        return self.measurer.measure_heights((TextBlock(paragraphs, width),))[0] + ROOM


def _compose_leaf(desk: _Desk, interleaf: int, number: int, end: InterleafEnd) -> InterleafLeaf:
    after = end.after_page
    beneath = end.over if end.over is not None else after + 1
    items: tuple[Item, ...] = ()
    if end.role is EndRole.WANTED:
        items = tuple(_draw_wanted(desk, beneath))
    elif end.role is EndRole.ECHO:
        items = tuple(_draw_echo(desk, after))
    on_recto = is_recto(beneath)
    recto, verso = (
        Drawing(f"leaf after page {after}, {side}", desk.book.trim, desk.book.bleed, ink)
        for side, ink in (
            ("recto", items if on_recto else ()),
            ("verso", () if on_recto else items),
        )
    )
    return InterleafLeaf(interleaf, number, after, end.role, recto, verso)


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
    if paragraphs:
        size = Size(width, desk.measure(paragraphs, width))
        place = _find_place(desk, page, size, wish)
        yield Text(Rect(place.x, place.y, size.width, size.height), paragraphs, key)


def _draw_echo(desk: _Desk, after: int) -> Iterator[Item]:
    """A short rule and the name of the chapter that the leaf lies in."""
    pages = desk.plan.pages
    around = [pages[n - 1].block for n in (after + 1, after) if 1 <= n <= len(pages)]
    chapters = [desk.story.block(b).chapter for b in around if b is not None]
    chapter = next((c for c in chapters if c is not None), None)
    paragraphs = desk.words.get(f"{NAME}:{chapter}")
    if not paragraphs:
        return
    width = desk.grid.caption_measure
    height = desk.measure(paragraphs, width)
    size = Size(width, RULE_AIR + height)
    place = _find_place(desk, after + 1, size, MOTIF_LINE * desk.grid.trim.height)
    line = Contour((place, Point(place.x + RULE_LENGTH, place.y)))
    yield Shape((line,), stroke=Stroke(desk.book.style.ink, RULE))
    box = Rect(place.x, place.y + RULE_AIR, width, height)
    yield Text(box, paragraphs, f"{NAME}:{chapter}:{after}")


def _find_place(desk: _Desk, page: int, size: Size, wish: float) -> Point:
    """Give where words stand best over a page: light, calm, clear of its type, near ``wish``."""
    recto, grid = is_recto(page), desk.grid
    area = grid.text_area(recto)
    head, foot = grid.picture_margins.head, grid.trim.height - grid.picture_margins.foot / 2
    if page < 1 or page > len(desk.plan.pages):
        return Point(area.x, min(wish, foot - size.height))
    ground = read_ground(desk.page(page), desk.lightness)
    right = grid.picture_area(recto).right - size.width
    across = sorted({area.x, grid.picture_area(recto).x, right})
    lowest = max(head, foot - size.height)
    down = [min(max(wish, head), lowest)]
    down += [head + i * (lowest - head) / STEPS for i in range(STEPS + 1)]
    places = [Point(x, y) for y in down for x in (area.x, *across)]
    return max(places, key=lambda p: _judge(ground, p, size, Point(area.x, wish), grid.trim))


def _judge(ground: Ground, place: Point, size: Size, wish: Point, trim: Size) -> float:
    box = Rect(place.x, place.y, size.width, size.height)
    away = abs(place.y - wish.y) / trim.height + 0.3 * abs(place.x - wish.x) / trim.width
    return ground.judge(box) - AWAY * away

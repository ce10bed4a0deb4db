"""The ink on translucent leaves: a title or a caption over a picture, a small motif, or nothing."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial

from wayfold.base.geometry import Point, Rect, Size
from wayfold.book.see_through import sheet_of
from wayfold.book.state import Book
from wayfold.drawing.items import Contour, Drawing, Item, Placed, Shape, Stroke, Text
from wayfold.drawing.text import Paragraph, TextBlock, TextMeasurer
from wayfold.layout.grid import Grid, make_grid
from wayfold.layout.model import BookLayout, PageLayout
from wayfold.pages.country_place import place_country
from wayfold.pages.ground import read_ground
from wayfold.pages.leaf_crop import list_recropped
from wayfold.pages.leaf_marks import judge_items
from wayfold.pages.leaf_words import Over, rank_places
from wayfold.photos.lightness import Lightness
from wayfold.photos.model import Photo
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
TRIES = 4
"""So many places of the words are tried for a map beside them."""

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
    photos: Mapping[str, Photo],
    draw_country: CountryDrawer | None = None,
) -> tuple[tuple[InterleafLeaf, ...], BookLayout]:
    """Give every leaf of every interleaf, in the plan's order, and the pages to lie under them.

    Where words over a picture that fills its page cannot be read anywhere, it is cropped otherwise
    if that helps; all else of the layout stays as it is.

    ``lightness`` is that of the photographs under leaves; where it is not known, words stand where
    titles hang. A leaf cut back to a stub bears nothing. ``draw_country`` draws the maps that
    chapters ask for.
    """
    desk = _Desk(
        book, story, plan, words, layout, measurer, lightness, photos, make_grid(book), draw_country
    )
    leaves = []
    for index, interleaf in enumerate(plan.interleaves):
        for number, end in enumerate(interleaf.ends):
            leaf, desk = _compose_leaf(desk, index, number, end)
            leaves.append(leaf)
    return tuple(leaves), desk.layout


@dataclass(frozen=True, slots=True)
class _Desk:
    book: Book
    story: Story
    plan: Plan
    words: Words
    layout: BookLayout
    measurer: TextMeasurer
    lightness: Mapping[str, Lightness]
    photos: Mapping[str, Photo]
    grid: Grid
    draw_country: CountryDrawer | None

    def page(self, number: int) -> PageLayout | None:
        return next((p for p in self.layout.pages if p.number == number), None)

    def measure(self, paragraphs: tuple[Paragraph, ...], widths: Sequence[float]) -> list[float]:
        """The heights (mm) that a text takes at several widths."""
        blocks = [TextBlock(paragraphs, width) for width in widths]
        return [height + ROOM for height in self.measurer.measure_heights(blocks)]

    def lay_over(self, page: int) -> Over:
        """What a leaf's words over a page lie on."""
        recto = is_recto(page)
        looks = {name: photo.look for name, photo in self.photos.items() if photo.look}
        ground = read_ground(self.page(page), self.lightness, looks)
        facing = read_ground(self.page(page - 1 if recto else page + 1), {})
        return Over(self.grid, recto, ground, facing, sheet_of(self.book.translucent))

    def bears(self, page: int) -> bool:
        """Whether a leaf's own words may lie beside a page."""
        if not 1 <= page <= len(self.plan.pages):
            return True
        planned = self.plan.pages[page - 1]
        if planned.block is None:
            return True
        way = dict(self.plan.choices).get(planned.block, 0)
        return planned.part in self.story.block(planned.block).alternatives[way].bears


def _compose_leaf(
    desk: _Desk, interleaf: int, number: int, end: InterleafEnd
) -> tuple[InterleafLeaf, _Desk]:
    after = end.after_page
    beneath = end.over if end.over is not None else _choose_beneath(desk, after)
    items: tuple[Item, ...] = ()
    if end.role is EndRole.WANTED:
        items, desk = _draw_readable(desk, beneath)
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
    return InterleafLeaf(interleaf, number, after, end.role, recto, verso), desk


def _choose_beneath(desk: _Desk, after: int) -> int:
    """The page that a leaf's motif lies over: the right one, unless only the left one bears it."""
    return after if not desk.bears(after + 1) and after and desk.bears(after) else after + 1


def _draw_readable(desk: _Desk, page: int) -> tuple[tuple[Item, ...], _Desk]:
    """Give what a leaf was made for, over the page as it is laid or else cropped to be read."""
    best = _draw_tried(desk, page)
    crops = list_recropped(desk.book, desk.grid, desk.photos, desk.page(page))
    for cropped in crops if best[0] < 1.0 else ():
        pages = (cropped if p.number == page else p for p in desk.layout.pages)
        moved = replace(desk, layout=replace(desk.layout, pages=tuple(pages)))
        best = max(best, _draw_tried(moved, page), key=lambda tried: tried[0])
        if best[0] >= 1.0:
            break
    return best[1], best[2]


def _draw_tried(desk: _Desk, page: int) -> tuple[float, tuple[Item, ...], _Desk]:
    items = tuple(_draw_wanted(desk, page))
    over = desk.lay_over(page)
    verdicts = judge_items(items, over.ground, over.sheet)
    return min((v.margin for v in verdicts), default=1.0), items, desk


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
    over = desk.lay_over(page)
    places = rank_places(over, paragraphs, desk.measure, width, wish)
    mapped = desk.story.chapters[block.chapter].mapped if block.chapter is not None else None
    if not (mapped and block.kind is BlockKind.OPENER and desk.draw_country):
        yield Text(places[0][1], paragraphs, key)
        return
    draw = partial(desk.draw_country, mapped)
    box, drawn = _place_both(draw, over, places[:TRIES])
    yield Text(box, paragraphs, key)
    yield drawn


def _place_both(
    draw: Callable[[Size], Drawing], over: Over, places: Sequence[tuple[float, Rect]]
) -> tuple[Rect, Placed]:
    """Give the place of the words, and the map beside them, that together are worth most."""
    page = over.grid.picture_area(over.recto)
    tried = []
    for worth, box in places:
        drawn = place_country(draw, over.ground, over.sheet, page, box)
        tried.append((worth + drawn.worth, box, drawn.placed))
    _, box, placed = max(tried, key=lambda t: t[0])
    return box, placed


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
    over = desk.lay_over(page)
    width = desk.grid.caption_measure
    box = rank_places(over, paragraphs, desk.measure, width, wish, RULE_AIR)[0][1]
    line = Contour((Point(box.x, box.y), Point(box.x + RULE_LENGTH, box.y)))
    yield Shape((line,), stroke=Stroke(desk.book.style.ink, RULE))
    text = Rect(box.x, box.y + RULE_AIR, box.width, box.height - RULE_AIR)
    yield Text(text, paragraphs, f"{NAME}:{chapter}:{after}")

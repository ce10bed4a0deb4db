"""What is printed on one translucent leaf, for the page that it lies over."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Protocol

from wayfold.base.geometry import Point, Rect, Size
from wayfold.book.see_through import sheet_of
from wayfold.book.state import Book
from wayfold.drawing.items import Contour, Drawing, Item, Placed, Shape, Stroke, Text
from wayfold.drawing.text import Paragraph, TextBlock, TextMeasurer
from wayfold.layout.grid import Grid
from wayfold.layout.model import PageLayout
from wayfold.pages.country_place import place_country
from wayfold.pages.ground import read_ground
from wayfold.pages.leaf_crop import list_recropped
from wayfold.pages.leaf_marks import judge_items
from wayfold.pages.leaf_words import Over, rank_places
from wayfold.photos.lightness import Lightness
from wayfold.photos.model import Photo
from wayfold.plan.model import EndRole
from wayfold.plan.paper import is_recto

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


class CountryMapper(Protocol):
    """Draws the map of one country in one ink."""

    def draw(self, room: Size) -> Drawing:
        """Give the map for a room of that size (mm)."""


@dataclass(frozen=True, slots=True)
class LeafMatter:
    """All that inking one leaf reads.

    It lies after page ``after``, and its ink over page ``beneath``. ``paragraphs`` are its words by
    their ``key``: a title where an ``opener`` lies beneath, else a caption or a chapter's name.
    ``pages`` are the page beneath and the one that faces it, those there are; ``book``,
    ``lightness`` and ``photos`` have what concerns the pictures beneath. ``draw_country``
    draws the map beside the title, where one is wanted, for a room of a size (mm).
    """

    book: Book
    grid: Grid
    measurer: TextMeasurer
    role: EndRole
    after: int
    beneath: int
    key: str
    paragraphs: tuple[Paragraph, ...]
    opener: bool
    pages: tuple[PageLayout, ...]
    lightness: Mapping[str, Lightness]
    photos: Mapping[str, Photo]
    draw_country: Callable[[Size], Drawing] | None = None

    def page(self, number: int) -> PageLayout | None:
        """A page of ``pages``, or None."""
        return next((p for p in self.pages if p.number == number), None)

    def measure(self, paragraphs: tuple[Paragraph, ...], widths: Sequence[float]) -> list[float]:
        """The heights (mm) that a text takes at several widths."""
        blocks = [TextBlock(paragraphs, width) for width in widths]
        return [height + ROOM for height in self.measurer.measure_heights(blocks)]

    def lay_over(self) -> Over:
        """What the leaf's words lie on."""
        recto = is_recto(self.beneath)
        looks = {name: photo.look for name, photo in self.photos.items() if photo.look}
        ground = read_ground(self.page(self.beneath), self.lightness, looks)
        facing = read_ground(self.page(self.beneath ^ 1), {})
        return Over(self.grid, recto, ground, facing, sheet_of(self.book.translucent))


@dataclass(frozen=True, slots=True)
class Inked:
    """The ink of a leaf, and the pages as they are to lie under it and beside that."""

    items: tuple[Item, ...]
    pages: tuple[PageLayout, ...]


def ink_leaf(matter: LeafMatter) -> Inked:
    """Give the ink of one leaf: over the page as it is laid, or else cropped to be read."""
    if matter.role is EndRole.WANTED:
        return _draw_readable(matter)
    items = tuple(_draw_echo(matter)) if matter.role is EndRole.ECHO else ()
    return Inked(items, matter.pages)


def _draw_readable(matter: LeafMatter) -> Inked:
    best = _draw_tried(matter)
    beneath = matter.page(matter.beneath)
    crops = list_recropped(matter.book, matter.grid, matter.photos, beneath)
    for cropped in crops if best[0] < 1.0 else ():
        pages = tuple(cropped if p is beneath else p for p in matter.pages)
        best = max(best, _draw_tried(replace(matter, pages=pages)), key=lambda tried: tried[0])
        if best[0] >= 1.0:
            break
    return best[1]


def _draw_tried(matter: LeafMatter) -> tuple[float, Inked]:
    items = tuple(_draw_wanted(matter))
    over = matter.lay_over()
    verdicts = judge_items(items, over.ground, over.sheet)
    return min((v.margin for v in verdicts), default=1.0), Inked(items, matter.pages)


def _draw_wanted(matter: LeafMatter) -> Iterator[Item]:
    """The chapter's title, or the picture's caption, where the page beneath is light and calm."""
    if not matter.paragraphs:
        return
    grid, over = matter.grid, matter.lay_over()
    if matter.opener:
        width, wish = grid.measure, grid.sunk
    else:
        width, wish = grid.caption_measure, CAPTION_LINE * grid.trim.height
    places = rank_places(over, matter.paragraphs, matter.measure, width, wish)
    if matter.draw_country is None:
        yield Text(places[0][1], matter.paragraphs, matter.key)
        return
    box, drawn = _place_both(matter.draw_country, over, places[:TRIES])
    yield Text(box, matter.paragraphs, matter.key)
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


def _draw_echo(matter: LeafMatter) -> Iterator[Item]:
    """A short rule and the name of the chapter that the leaf lies in."""
    if not matter.paragraphs:
        return
    wish = MOTIF_LINE * matter.grid.trim.height
    over, width = matter.lay_over(), matter.grid.caption_measure
    box = rank_places(over, matter.paragraphs, matter.measure, width, wish, RULE_AIR)[0][1]
    line = Contour((Point(box.x, box.y), Point(box.x + RULE_LENGTH, box.y)))
    yield Shape((line,), stroke=Stroke(matter.book.style.ink, RULE))
    text = Rect(box.x, box.y + RULE_AIR, box.width, box.height - RULE_AIR)
    yield Text(text, matter.paragraphs, f"{matter.key}:{matter.after}")

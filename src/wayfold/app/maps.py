"""The maps of a book, drawn once its plan says how many pages each has."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable

from wayfold.app.code_reach import function_key
from wayfold.app.identity import library_key, list_key
from wayfold.base.geometry import Size
from wayfold.base.hashing import hash_values, plain
from wayfold.base.progress import Progress
from wayfold.base.revive import revive
from wayfold.book.state import Book
from wayfold.book.trip_choices import PLACES_FOR_A_MAP
from wayfold.drawing.colour import Colour
from wayfold.drawing.items import Drawing, Placed
from wayfold.maps.model import DrawnMap
from wayfold.pages.country_place import read_country
from wayfold.pages.interleaves import InterleafLeaf
from wayfold.plan.model import Plan
from wayfold.project.cache import DiskCache
from wayfold.project.files import BookFolder
from wayfold.story.model import BlockKind, Story
from wayfold.trip.journey.model import Journey
from wayfold.typeset.engine import Typesetter

OVERVIEW = "overview"
"""The overview's block."""


def wants_overview(book: Book, journey: Journey) -> bool:
    """Whether the book has a map of the whole journey: as the person says, else by its places."""
    places = {stay.name for stay in journey.stays if not stay.change}
    if book.journey.overview is not None:
        return book.journey.overview and bool(places)
    return len(places) >= PLACES_FOR_A_MAP


class KeptMaps:
    """Draws the book's maps; each is kept until something that shows in it changes.

    What draws them is loaded only when needed: it takes longer than all else that a small edit asks
    for. Gives the same drawing where the same is asked again.
    """

    def __init__(
        self, folder: BookFolder, book: Book, journey: Journey, typesetter: Typesetter
    ) -> None:
        """Draw with the journey's places and the book's own type; keep the maps in ``folder``.

        ``book`` is one of ``readings.bare_for_maps``.
        """
        self._folder = folder
        self._book = book
        self._journey = journey
        self._typesetter = typesetter
        self._cache = DiskCache(folder.cache, "maps")
        self.key = hash_values(
            function_key(KeptMaps), library_key(), typesetter.fonts.key, self._book, journey
        )
        self._known: dict[tuple[object, ...], DrawnMap] = {}

    def draw_country(self, country: str, room: Size) -> Drawing:
        """Give the map of a country (ISO 3166-1 alpha-2) for a room of that size (mm)."""

        def draw() -> DrawnMap:
            from wayfold.maps.outlines import load_outlines
            from wayfold.pages.country import draw_country

            widths = self._typesetter.measure_widths
            outlines = load_outlines()
            return draw_country(self._book, self._journey, country, room, outlines, widths)

        return self._keep(draw, "country", country, room).drawing

    def list_shown(self, drawings: Iterable[Drawing]) -> tuple[DrawnMap, ...]:
        """Give the maps that are among ``drawings``, in their order."""
        drawings = tuple(drawings)
        for drawing in drawings:
            country = read_country(drawing.label)
            if country is not None:  # its leaf may have been kept from the last run
                self.draw_country(country, drawing.size)
        known = tuple(self._known.values())
        found = (next((m for m in known if m.drawing == drawing), None) for drawing in drawings)
        return tuple(one for one in found if one is not None)

    def draw_cover(self, size: Size, ink: Colour) -> Drawing:
        """Give the journey's line for the cover, in a room of that size (mm)."""

        def draw() -> DrawnMap:
            from wayfold.pages.cover_route import draw_cover_route

            return draw_cover_route(self._journey, size, ink)

        return self._keep(draw, "cover", size, ink).drawing

    def draw_overview(self, plan: Plan) -> dict[str, Drawing]:
        """Give the map of the journey by its block's name, if the plan has pages for it."""
        pages = sum(page.block == OVERVIEW for page in plan.pages)
        if not pages:
            return {}

        def draw() -> DrawnMap:
            from wayfold.maps.flag import load_flag
            from wayfold.maps.outlines import load_outlines
            from wayfold.pages.overview import draw_journey

            widths = self._typesetter.measure_widths
            outlines = load_outlines()
            return draw_journey(self._book, self._journey, pages, outlines, widths, load_flag)

        drawing = self._keep(draw, "overview", pages).drawing
        return {drawing.label: drawing}

    def draw_towns(self, story: Story, progress: Progress) -> dict[str, Drawing]:
        """Give the maps of towns by their blocks' names.

        Raises UserError where none of the street data can be read.
        """
        drawn: dict[str, Drawing] = {}
        for block in story.blocks:
            if block.kind is BlockKind.MAP:
                chapter = None if block.chapter is None else story.chapters[block.chapter]
                own = chapter.accent if chapter else None
                accent = Colour.of(own) if own else self._book.style.accent
                drawn[block.id] = self._draw_town(block.id, accent, progress)
        return drawn

    def _draw_town(self, block: str, accent: Colour, progress: Progress) -> Drawing:
        def draw() -> DrawnMap:
            from wayfold.app.city_maps import draw_town

            widths = self._typesetter.measure_widths
            return draw_town(self._folder, self._book, block, accent, widths, progress)

        # A look at the files, unread, tells whether the streets or walks may have changed.
        files = list_key([*self._folder.list_extracts(), *self._folder.list_tracks()])
        return self._keep(draw, "town", block, accent, files).drawing

    def _keep(self, draw: Callable[[], DrawnMap], *what: object) -> DrawnMap:
        known = self._known.get(what)
        if known is None:
            known = self._known[what] = self._read_or_draw(draw, what)
        return known

    def _read_or_draw(self, draw: Callable[[], DrawnMap], what: object) -> DrawnMap:
        key = hash_values(self.key, what)
        drawn = _read_map(self._cache.get(key))
        if drawn is None:
            drawn = draw()
            self._cache.put(key, json.dumps(plain(drawn)).encode())
        return drawn


def list_placed(leaves: Iterable[InterleafLeaf]) -> tuple[Drawing, ...]:
    """Give the drawings that are placed on leaves."""
    inked = (item for leaf in leaves for item in (*leaf.recto.items, *leaf.verso.items))
    return tuple(item.drawing for item in inked if isinstance(item, Placed))


def _read_map(kept: bytes | None) -> DrawnMap | None:
    try:
        return revive(json.loads(kept), DrawnMap) if kept else None
    except ValueError:
        return None  # it lies in the cache: losing it costs the time to draw it

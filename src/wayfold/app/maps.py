"""The maps of a book, drawn once its plan says how many pages each has."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from wayfold.app.code_reach import function_key
from wayfold.app.identity import library_key, list_key
from wayfold.app.readings import bare_for_line, bare_for_maps
from wayfold.base.geometry import Size
from wayfold.base.hashing import hash_values, plain
from wayfold.base.memory import Aside, Memory
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
from wayfold.trip.journey.route import RoutePlace, list_route
from wayfold.typeset.engine import Typesetter

OVERVIEW = "overview"
"""The overview's block."""


def wants_overview(book: Book, journey: Journey) -> bool:
    """Whether the book has a map of the whole journey: as the person says, else by its places."""
    places = {stay.name for stay in journey.stays if not stay.change}
    if book.journey.overview is not None:
        return book.journey.overview and bool(places)
    return len(places) >= PLACES_FOR_A_MAP


@dataclass(frozen=True, slots=True)
class _MapCache:
    """Where maps are kept from one run to the next, and the identity of all that draws them."""

    records: DiskCache
    key: str


def _open_map_cache(folder: BookFolder, typesetter: Typesetter) -> _MapCache:
    key = hash_values(function_key(_open_map_cache), library_key(), typesetter.fonts.key)
    return _MapCache(DiskCache(folder.cache, "maps"), key)


class KeptMaps:
    """Draws the book's maps; each is kept until something that shows in it changes.

    What draws them is loaded only when needed: it takes longer than all else that a small edit asks
    for. Gives the same drawing where the same is asked again.
    """

    def __init__(
        self,
        folder: BookFolder,
        book: Book,
        journey: Journey,
        typesetter: Typesetter,
        memory: Memory,
    ) -> None:
        """Draw with the journey's places and the book's own type.

        Keep the maps in ``folder``, and in ``memory``.
        """
        self._folder, self._book, self._typesetter = folder, bare_for_maps(book), typesetter
        self._route, self._distance_m = list_route(journey), journey.distance_m
        self._memory = memory
        self._cache = memory.recall(_open_map_cache, folder, typesetter)
        self._drawn: list[DrawnMap] = []

    def find_country(self, country: str) -> CountryMaps:
        """Give what draws the map of a country (ISO 3166-1 alpha-2)."""
        places = tuple(place for place in self._route.places if place.country == country)
        about = Book("", language=self._book.language, style=self._book.style)
        return self._memory.recall(
            CountryMaps, self._cache, about, country, places, self._typesetter, at=country
        )

    def list_shown(self, drawings: Iterable[Drawing]) -> tuple[DrawnMap, ...]:
        """Give the maps that are among ``drawings``, in their order."""
        return tuple(one for drawing in drawings if (one := self._find_drawn(drawing)))

    def _find_drawn(self, drawing: Drawing) -> DrawnMap | None:
        country = read_country(drawing.label)
        if country is not None:
            drawn = self.find_country(country).draw_map(drawing.size)
            return drawn if drawn.drawing == drawing else None
        return next((m for m in self._drawn if m.drawing == drawing), None)

    def draw_cover(self, size: Size, ink: Colour) -> Drawing:
        """Give the journey's line for the cover, in a room of that size (mm)."""
        line = bare_for_line(self._route)

        def draw() -> DrawnMap:
            from wayfold.pages.cover_route import draw_cover_route

            return draw_cover_route(line, size, ink)

        return self._keep(draw, "cover", line, size, ink)

    def draw_overview(self, plan: Plan) -> dict[str, Drawing]:
        """Give the map of the journey by its block's name, if the plan has pages for it."""
        pages = sum(page.block == OVERVIEW for page in plan.pages)
        if not pages:
            return {}
        book, route, distance_m = self._book, self._route, self._distance_m

        def draw() -> DrawnMap:
            from wayfold.maps.flag import load_flag
            from wayfold.maps.outlines import load_outlines
            from wayfold.pages.overview import draw_journey

            widths = self._typesetter.measure_widths
            outlines, memory = load_outlines(), self._memory
            return draw_journey(book, route, distance_m, pages, outlines, widths, load_flag, memory)

        drawing = self._keep(draw, OVERVIEW, pages, book, route, distance_m)
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
        return self._keep(draw, block, self._book, accent, files)

    def _keep(self, draw: Callable[[], DrawnMap], name: str, *reads: object) -> Drawing:
        """Give a map by its ``name``, drawn anew where what it ``reads`` is other than it was."""
        drawn = self._memory.recall(
            _read_or_draw, self._cache, name, reads, Aside(draw), at=("map", name)
        )
        self._drawn.append(drawn)
        return drawn.drawing


class CountryMaps:
    """The maps of one country with the journey's places in it, in any size."""

    def __init__(
        self,
        cache: _MapCache,
        book: Book,
        country: str,
        places: tuple[RoutePlace, ...],
        typesetter: Typesetter,
    ) -> None:
        """Draw with ``places``, and with the style and the language of ``book``."""
        self._cache, self._typesetter = cache, typesetter
        self._reads = book, country, places
        self._known: dict[Size, DrawnMap] = {}
        self.key = hash_values(cache.key, *self._reads)

    def draw(self, room: Size) -> Drawing:
        """Give the map for a room of that size (mm)."""
        return self.draw_map(room).drawing

    def draw_map(self, room: Size) -> DrawnMap:
        """Give the map for a room of that size (mm), and what was found in drawing it."""
        book, country, places = self._reads

        def draw() -> DrawnMap:
            from wayfold.maps.outlines import load_outlines
            from wayfold.pages.country import draw_country

            widths = self._typesetter.measure_widths
            return draw_country(book, places, country, room, load_outlines(), widths)

        if room not in self._known:
            reads = (*self._reads, room)
            self._known[room] = _read_or_draw(self._cache, "country", reads, Aside(draw))
        return self._known[room]


def list_placed(leaves: Iterable[InterleafLeaf]) -> tuple[Drawing, ...]:
    """Give the drawings that are placed on leaves."""
    inked = (item for leaf in leaves for item in (*leaf.recto.items, *leaf.verso.items))
    return tuple(item.drawing for item in inked if isinstance(item, Placed))


def _read_or_draw(
    cache: _MapCache, name: str, reads: tuple[object, ...], draw: Aside[Callable[[], DrawnMap]]
) -> DrawnMap:
    key = hash_values(cache.key, name, reads)
    drawn = _read_map(cache.records.get(key))
    if drawn is None:
        drawn = draw.value()
        cache.records.put(key, json.dumps(plain(drawn)).encode())
    return drawn


def _read_map(kept: bytes | None) -> DrawnMap | None:
    try:
        return revive(json.loads(kept), DrawnMap) if kept else None
    except ValueError:
        return None  # it lies in the cache: losing it costs the time to draw it

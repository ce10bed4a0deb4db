"""Maps of towns for the chapters that have places to number."""

from __future__ import annotations

from wayfold.app.evidence import read_tracks
from wayfold.base.progress import Progress
from wayfold.book.state import Book
from wayfold.book.trip_choices import Unit
from wayfold.drawing.colour import Colour
from wayfold.maps.model import DrawnMap, MapFrame, MapPlace, WidthMeasurer
from wayfold.maps.style import MapStyle
from wayfold.project.files import BookFolder
from wayfold.story.model import Block, BlockKind, Story
from wayfold.story.towns import PREFIX
from wayfold.trip.walks import find_walks
from wayfold.words.accent import darken_accent


def draw_town_maps(
    folder: BookFolder,
    book: Book,
    story: Story,
    widths: WidthMeasurer,
    progress: Progress,
) -> tuple[DrawnMap, ...]:
    """Draw the maps of towns, each labelled with its block's name.

    Raises UserError where none of the street data can be read, or a key is longer than the page.
    """
    blocks = [block for block in story.blocks if block.kind is BlockKind.MAP]
    if not blocks:
        return ()
    # What reads and draws towns takes a while to load; few makes need it.
    from wayfold.app.streets import read_streets
    from wayfold.maps.city import draw_city
    from wayfold.maps.city_frame import lay_city

    tracks = read_tracks(folder)
    drawn: list[DrawnMap] = []
    for block in blocks:
        places = [
            MapPlace(p.name, p.place, p.note)
            for p in book.journey.places
            if f"{PREFIX}{p.town}" == block.id
        ]
        walks = find_walks(tracks, [p.place for p in places])
        style = _style_map(book, story, block)
        frame = MapFrame(book.trim, book.bleed, book.style.picture_margins.inner)
        laid = lay_city(places, walks, frame, style, widths)
        plan = read_streets(folder, laid.extent, progress)
        miles = book.journey.unit is Unit.MILES
        city = draw_city(block.id, laid, plan, places, style, widths, walks=walks, miles=miles)
        drawn.append(city.drawn)
    return tuple(drawn)


def _style_map(book: Book, story: Story, block: Block) -> MapStyle:
    style = book.style
    accent = style.accent
    if block.chapter is not None and (own := story.chapters[block.chapter].accent):
        accent = Colour.of(own)
    return MapStyle(
        serif=style.serif,
        sans=style.sans,
        ink=style.ink,
        quiet_ink=style.quiet_ink,
        accent=darken_accent(accent),
        language=book.language,
    )

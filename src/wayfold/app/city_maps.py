"""The map of a town: its places, the walks through it, and the streets of the book's extracts."""

from __future__ import annotations

from wayfold.app.evidence import read_tracks
from wayfold.app.streets import read_streets
from wayfold.base.progress import Progress
from wayfold.book.state import Book
from wayfold.book.trip_choices import Unit
from wayfold.drawing.colour import Colour
from wayfold.maps.city import draw_city
from wayfold.maps.city_frame import lay_city
from wayfold.maps.model import DrawnMap, MapFrame, MapPlace, WidthMeasurer
from wayfold.maps.style import MapStyle
from wayfold.project.files import BookFolder
from wayfold.story.towns import PREFIX
from wayfold.trip.walks import find_walks
from wayfold.words.accent import darken_accent


def draw_town(
    folder: BookFolder,
    book: Book,
    block: str,
    accent: Colour,
    widths: WidthMeasurer,
    progress: Progress,
) -> DrawnMap:
    """Draw the map of a town, labelled with the name of its ``block``.

    Raises UserError where none of the street data can be read, or a key is longer than the page.
    """
    places = [
        MapPlace(p.name, p.place, p.note)
        for p in book.journey.places
        if f"{PREFIX}{p.town}" == block
    ]
    walks = find_walks(read_tracks(folder), [p.place for p in places])
    style = MapStyle(
        serif=book.style.serif,
        sans=book.style.sans,
        ink=book.style.ink,
        quiet_ink=book.style.quiet_ink,
        accent=darken_accent(accent),
        land=book.style.land,
        land_beyond=book.style.land_beyond,
        language=book.language,
    )
    frame = MapFrame(book.trim, book.bleed, book.style.picture_margins.inner)
    laid = lay_city(places, walks, frame, style, widths)
    plan = read_streets(folder, laid.extent, progress)
    miles = book.journey.unit is Unit.MILES
    return draw_city(block, laid, plan, places, style, widths, walks=walks, miles=miles).drawn

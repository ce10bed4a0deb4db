"""The map of the whole journey, drawn from its stays and legs for the pages it is given."""

from __future__ import annotations

from collections.abc import Sequence

from wayfold.base.geometry import Size
from wayfold.book.state import Book
from wayfold.book.trip_choices import Mode
from wayfold.maps.model import DrawnMap, MapFrame, MapLeg, MapPlace, Outline, WidthMeasurer
from wayfold.maps.overview import draw_overview
from wayfold.maps.style import MapStyle
from wayfold.trip.journey.model import Journey, Stay
from wayfold.words.dates import write_day_month
from wayfold.words.numbers import write_distance

OVER_WATER = (Mode.BOAT, Mode.FLIGHT)
SLEPT_WEIGHT = 2.0
"""What a place counts where one slept, beside one that was passed through."""


def draw_journey(
    book: Book,
    journey: Journey,
    pages: int,
    outlines: Sequence[Outline],
    widths: WidthMeasurer,
) -> DrawnMap:
    """Draw the overview on one page or, across the fold, on two.

    Every place stands once, with the date one first came there; the whole distance stands under
    the scale bar. Raises UserError for a journey without places.
    """
    trim, style = book.trim, book.style
    stays = [stay for stay in journey.stays if not stay.change]
    places = mark_places(stays, book.language)
    names = [place.name for place in places]
    legs = [
        MapLeg(names.index(start), names.index(end), dashed=leg.mode in OVER_WATER)
        for leg in journey.legs
        if (start := journey.stays[leg.start].name) in names
        and (end := journey.stays[leg.end].name) in names
        and start != end
    ]
    countries = {s.spot.country: s.country_name for s in stays if s.spot.country}
    return draw_overview(
        "overview",
        outlines,
        places,
        legs,
        MapFrame(
            Size(pages * trim.width, trim.height),
            book.bleed,
            margin=style.picture_margins.inner / 2,
            fold=trim.width if pages > 1 else None,
        ),
        MapStyle(
            serif=style.serif,
            sans=style.sans,
            ink=style.ink,
            quiet_ink=style.quiet_ink,
            accent=style.accent,
            language=book.language,
        ),
        widths,
        visited=sorted(countries),
        country_names=countries,
        note=write_distance(journey.distance_m, book.journey.unit, book.language),
    )


def mark_places(stays: Sequence[Stay], language: str) -> list[MapPlace]:
    """Give every place of the stays once, in their order, with the day one first came there."""
    return [_mark(stays, name, language) for name in dict.fromkeys(s.name for s in stays)]


def _mark(stays: Sequence[Stay], name: str, language: str) -> MapPlace:
    here = [stay for stay in stays if stay.name == name]
    first = min(stay.first for stay in here)
    weight = SLEPT_WEIGHT if any(stay.nights for stay in here) else 1.0
    return MapPlace(name, here[0].place, write_day_month(first, language), weight=weight)

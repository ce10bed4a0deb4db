"""The map of the whole journey, drawn from its stays and legs for the pages it is given."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import Size
from wayfold.base.memory import Memory
from wayfold.base.mends import Mend
from wayfold.book.state import Book
from wayfold.book.trip_choices import Mode
from wayfold.maps.model import DrawnMap, MapFrame, MapLeg, MapPlace, Outline, WidthMeasurer
from wayfold.maps.overview import draw_overview
from wayfold.maps.style import MapStyle
from wayfold.trip.journey.route import Route, RoutePlace
from wayfold.words.dates import write_day_month
from wayfold.words.numbers import write_distance

OVER_WATER = (Mode.BOAT, Mode.FLIGHT)
SLEPT_WEIGHT = 2.0
"""What a place counts where one slept, beside one that was passed through."""


def draw_journey(
    book: Book,
    route: Route,
    distance_m: float,
    pages: int,
    outlines: Sequence[Outline],
    widths: WidthMeasurer,
    find_flag: Callable[[str], str | None],
    memory: Memory | None = None,
) -> DrawnMap:
    """Draw the overview on one page or, across the fold, on two.

    Every place stands once, with the date one first came there and, where the journey crosses a
    border, its country's flag (as ``find_flag`` gives it by ISO code); the whole distance stands
    under the scale bar. What is in ``memory`` of the ground is not worked out again for other
    names. Raises UserError for a route without places.
    """
    trim, style = book.trim, book.style
    places = mark_places(route.places, book.language)
    legs = [
        MapLeg(leg.start, leg.end, leg.track, dashed=leg.mode in OVER_WATER)
        for leg in route.legs
        if leg.start != leg.end
    ]
    countries = {p.country: p.country_name for p in route.places if p.country}
    findings: list[Finding] = []
    if len(countries) > 1 if book.journey.flags is None else book.journey.flags:
        flags = {country: find_flag(country) or "" for country in countries}
        places = [
            replace(marked, flag=flags.get(place.country, ""))
            for marked, place in zip(places, route.places, strict=True)
        ]
        findings = [_say_no_flag(countries[c]) for c, flag in flags.items() if not flag]
    drawn = draw_overview(
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
            land=style.land,
            land_beyond=style.land_beyond,
            language=book.language,
        ),
        widths,
        visited=sorted(countries),
        country_names=countries,
        note=write_distance(distance_m, book.journey.unit, book.language),
        memory=memory,
    )
    return replace(drawn, findings=(*findings, *drawn.findings))


def mark_places(places: Sequence[RoutePlace], language: str) -> list[MapPlace]:
    """Give the places to mark, in their order, with the day one first came there."""
    return [_mark(place, language) for place in places]


def _mark(place: RoutePlace, language: str) -> MapPlace:
    first = min(day for day, _ in place.visits)
    weight = SLEPT_WEIGHT if place.nights else 1.0
    return MapPlace(place.name, place.place, write_day_month(first, language), weight=weight)


def _say_no_flag(country: str) -> Finding:
    return Finding(
        "map-flag",
        Severity.NOTE,
        country,
        "There is no flag for this country, so its places stand without one.",
        f"For a map without flags: {Mend.FLAGS}.",
    )

"""The map beside the journey: all of it, or one day of it, and where each picture was taken."""

from __future__ import annotations

from collections import OrderedDict
from dataclasses import dataclass
from datetime import date, datetime
from weakref import WeakKeyDictionary

from wayfold.app.evidence import read_tracks
from wayfold.app.identity import list_key
from wayfold.app.rooms.journey_clocks import trace_local_time
from wayfold.app.session import Session
from wayfold.app.stages import Results
from wayfold.base.days import say_day
from wayfold.base.errors import NotFoundError
from wayfold.base.geometry import Size
from wayfold.base.hashing import hash_values
from wayfold.base.world import LonLat
from wayfold.maps.excerpt import Excerpt, draw_excerpt
from wayfold.maps.model import MapFrame, MapLeg, MapPlace
from wayfold.maps.outlines import load_outlines
from wayfold.maps.style import MapStyle
from wayfold.pages.overview import OVER_WATER
from wayfold.trip.journey.model import Stay

SIZE = Size(92.0, 103.0)
"""Of the map (mm): about as large as it stands on the screen, so that its type reads well."""
KEPT = 12
STEP_S = 30.0
"""Of a track no more than a place in so many seconds is drawn."""


@dataclass(frozen=True, slots=True)
class SpotView:
    """Where something lies on the map (mm from its left and top edges): a stay or a picture."""

    x: float
    y: float
    stay: int | None = None
    photo: str | None = None


@dataclass(frozen=True, slots=True)
class MapView:
    """A map as an SVG, its size (mm), and what lies where on it."""

    svg: str
    width_mm: float
    height_mm: float
    spots: tuple[SpotView, ...]


_DRAWN: WeakKeyDictionary[Session, OrderedDict[str, MapView | None]] = WeakKeyDictionary()


def view_map(session: Session, day: date | None = None) -> MapView | None:
    """Give the map of the whole journey, or of one day; None where nothing tells a place.

    Raises NotFoundError for a day that is none of the journey's.
    """
    results = session.results
    if day is not None and not any(one.date == day for one in results.journey.days):
        raise NotFoundError(f"{say_day(day)} is no day of the journey.")
    kept = _DRAWN.setdefault(session, OrderedDict())
    key = hash_values(results.journey, results.trip.moments, results.book.style, str(day),
                      list_key(session.folder.list_tracks()))  # fmt: skip
    if key not in kept:
        kept[key] = _draw(session, day)
        while len(kept) > KEPT:
            kept.popitem(last=False)
    return kept[key]


def _draw(session: Session, day: date | None) -> MapView | None:
    results = session.results
    journey = results.journey
    shown = list(range(len(journey.stays)))
    legs = list(journey.legs)
    photos: list[tuple[str, LonLat]] = []
    tracks: list[tuple[LonLat, ...]] = []
    if day is not None:
        (told,) = (one for one in journey.days if one.date == day)
        legs = [journey.legs[n] for n in told.legs]
        shown = sorted({*told.stays, *(n for leg in legs for n in (leg.start, leg.end))})
        photos = _list_places(results, set(told.photos))
        tracks = _list_tracks(session, day)
        legs = [leg for leg in legs if not leg.track] if tracks else legs
    places = [_mark(journey.stays[n]) for n in shown]
    ways = [
        MapLeg(shown.index(leg.start), shown.index(leg.end), leg.track, leg.mode in OVER_WATER)
        for leg in legs
        if leg.start != leg.end
    ]
    ways += [MapLeg(0, 0, track) for track in tracks] if places else []
    style = results.book.style
    drawn = draw_excerpt(
        "the journey" if day is None else f"the journey on {say_day(day)}",
        load_outlines(),
        places,
        ways,
        [place for _, place in photos],
        MapFrame(SIZE, margin=5.0),
        MapStyle(
            serif=style.serif,
            sans=style.sans,
            ink=style.ink,
            quiet_ink=style.quiet_ink,
            accent=style.accent,
            land=style.land,
            land_beyond=style.land_beyond,
            language=results.book.language,
        ),
        session.shown.measure_widths,
        {stay.spot.country for stay in journey.stays},
    )
    return None if drawn is None else _view(session, drawn, shown, [name for name, _ in photos])


def _view(session: Session, drawn: Excerpt, stays: list[int], photos: list[str]) -> MapView:
    spots = [SpotView(at.x, at.y, stay=stay) for stay, at in zip(stays, drawn.places, strict=True)]
    spots += [
        SpotView(at.x, at.y, photo=photo) for photo, at in zip(photos, drawn.spots, strict=True)
    ]
    drawing = drawn.drawn.drawing
    svg = session.shown.draw_svg(drawing)
    return MapView(svg, drawing.size.width, drawing.size.height, tuple(spots))


def _mark(stay: Stay) -> MapPlace:
    return MapPlace(stay.name, stay.place, weight=2.0 if stay.nights else 1.0)


def _list_places(results: Results, photos: set[str]) -> list[tuple[str, LonLat]]:
    return [(m.photo, m.place) for m in results.trip.moments if m.photo in photos and m.place]


def _list_tracks(session: Session, day: date) -> list[tuple[LonLat, ...]]:
    """Give the recordings of a local day as lines."""
    times = trace_local_time(session.results.trip)
    lines = []
    for track in read_tracks(session.folder, session.memory):
        for segment in track.segments:
            line: list[LonLat] = []
            last: datetime | None = None
            for fix in segment:
                if times.tell(fix.utc).date() != day:
                    continue
                if last is None or (fix.utc - last).total_seconds() >= STEP_S:
                    line.append(fix.place)
                    last = fix.utc
            if len(line) > 1:
                lines.append(tuple(line))
    return lines

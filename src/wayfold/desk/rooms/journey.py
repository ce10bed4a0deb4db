"""The room for the journey: days, clocks, stops, legs."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import fields
from typing import Annotated

from fastapi import APIRouter
from pydantic import Field

from wayfold.app.rooms import journey as room
from wayfold.app.rooms import journey_clocks, journey_map, journey_said, journey_set_clock
from wayfold.app.session import Session
from wayfold.desk.reading import REFUSALS
from wayfold.desk.rooms.journey_handed_in import add_file_routes
from wayfold.desk.rooms.journey_wire import Clocks, Journey, JourneyMap, Mode, Unit
from wayfold.desk.wire import Wire

NAME = Field(min_length=1, max_length=200)
LINE = Field(max_length=500)
LONG = Field(max_length=200_000)


class ClockMove(Wire):
    """A camera's pictures taken to be ``by_s`` later than they were taken for until now."""

    body: Annotated[str, NAME]
    by_s: int
    keeping: journey_set_clock.Keeping = "one"


class ClockLine(Wire):
    """The person's own line on a camera's clock; null leaves it to the evidence."""

    body: Annotated[str, NAME]
    line: Annotated[str, LINE] | None


class ClockShows(Wire):
    """A picture of a right clock, and the local time it shows; null takes it back."""

    photo: Annotated[str, NAME]
    shows: dt.datetime | None
    zone: Annotated[str, NAME] | None = None


class StopName(Wire):
    """The name of the ``visit``-th stay at a place; null gives it its own again."""

    place: Annotated[str, NAME]
    visit: Annotated[int, Field(ge=1, le=10_000)]
    name: Annotated[str, NAME] | None


class LegSaid(Wire):
    """What the person says of a way, told by its ends and day; null is left as it is known."""

    start: Annotated[str, NAME]
    end: Annotated[str, NAME]
    day: dt.date
    mode: Mode | None = None
    depart: dt.datetime | None = None
    arrive: dt.datetime | None = None
    service: Annotated[str, LINE] | None = None
    distance_km: float | None = None
    note: Annotated[str, LINE] | None = None


class Evening(Wire):
    """What a lodging is told by: its place and first evening."""

    place: Annotated[str, NAME]
    first: dt.date


class LodgingSaid(Wire):
    """Where one slept; ``before`` is what it stands for now."""

    place: Annotated[str, LINE]
    name: Annotated[str, LINE]
    first: dt.date
    nights: int
    note: Annotated[str, LINE] = ""
    before: Evening | None = None


class DayWords(Wire):
    """A day's line for the itinerary, or its text in the book; ``was`` is what it began from."""

    date: dt.date
    words: Annotated[str, LONG]
    was: Annotated[str, LONG] | None = None


class UnitChoice(Wire):
    """The unit of the book's distances."""

    unit: Unit


class EventChoice(Wire):
    """Whether calendar events of a name are left out."""

    name: Annotated[str, LINE]
    out: bool


def make_router(find_session: Callable[[], Session]) -> APIRouter:
    """The routes over the book that ``find_session`` gives, at each request anew."""
    router = APIRouter(prefix="/api/journey", responses=REFUSALS)

    @router.get("")
    def get_journey() -> Journey:
        """The days with their pictures, stays, ways, lodgings, and what is in doubt."""
        return Journey.mirror(room.view_journey(find_session()))

    @router.get("/clocks")
    def get_clocks() -> Clocks:
        """What is known of each camera's clock, and its pictures in time."""
        view = journey_clocks.view_clocks(find_session())
        return Clocks.mirror(view)

    @router.get("/map")
    def get_map(day: dt.date | None = None) -> JourneyMap | None:
        """The map of the journey, or of a day of it; null where nothing tells a place."""
        view = journey_map.view_map(find_session(), day)
        return JourneyMap.mirror(view) if view else None

    @router.post("/clocks/move")
    def move_clock(move: ClockMove) -> str:
        """Take a camera's pictures to be later; gives the line that now says so."""
        return journey_set_clock.move_clock(find_session(), move.body, move.by_s, move.keeping)

    @router.put("/clocks/line")
    def write_clock(said: ClockLine) -> None:
        """Put the person's own line on a clock down, or take it back."""
        journey_set_clock.write_clock(find_session(), said.body, said.line)

    @router.put("/clocks/shown")
    def show_clock(said: ClockShows) -> None:
        """Say what clock a picture shows, or take it back."""
        journey_set_clock.show_clock(find_session(), said.photo, said.shows, said.zone)

    @router.put("/stop")
    def name_stop(said: StopName) -> None:
        """Name a stay."""
        journey_said.name_stop(find_session(), said.place, said.visit, said.name)

    @router.put("/leg")
    def say_leg(said: LegSaid) -> None:
        """Say something of a way; nothing at all takes back what was said."""
        names = [field.name for field in fields(journey_said.LegWords)]
        words = journey_said.LegWords(**{name: getattr(said, name) for name in names})
        journey_said.say_leg(find_session(), said.start, said.end, said.day, words)

    @router.put("/lodging")
    def say_lodging(said: LodgingSaid) -> None:
        """Say where one slept."""
        words = journey_said.LodgingWords(said.place, said.name, said.first, said.nights, said.note)
        before = (said.before.place, said.before.first) if said.before else None
        journey_said.say_lodging(find_session(), words, before)

    @router.post("/lodging/unsay")
    def unsay_lodging(evening: Evening) -> None:
        """Take back what was said of a lodging."""
        journey_said.unsay_lodging(find_session(), evening.place, evening.first)

    @router.put("/note")
    def note_day(said: DayWords) -> None:
        """Write a day's line for the itinerary."""
        journey_said.note_day(find_session(), said.date, said.words, said.was)

    @router.put("/text")
    def write_text(said: DayWords) -> None:
        """Write a day's text."""
        journey_said.write_day_text(find_session(), said.date, said.words, said.was)

    @router.put("/unit")
    def choose_unit(choice: UnitChoice) -> None:
        """Choose the unit of the distances."""
        journey_said.choose_unit(find_session(), choice.unit)

    @router.put("/left-out")
    def leave_out(choice: EventChoice) -> None:
        """Leave a calendar's event out, or take it back in."""
        journey_said.leave_out_event(find_session(), choice.name, out=choice.out)

    add_file_routes(router, find_session)
    return router

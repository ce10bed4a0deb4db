"""The journey as a calendar for other programs: iCalendar (RFC 5545)."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta

from icalendar import Calendar, Event

from wayfold.base.hashing import hash_values
from wayfold.trip.journey.model import Journey, Leg

ONE_DAY = timedelta(days=1)


def dump_events(journey: Journey, title: str) -> bytes:
    """Give the itinerary as a calendar: legs with their times, stays and lodgings by days.

    The same journey gives the same bytes: what the standard has be the time of making is the
    journey's first day. There are no coordinates in it.
    """
    calendar = Calendar()
    calendar.add("prodid", "-//Wayfold//Itinerary//EN")
    calendar.add("version", "2.0")
    calendar.add("x-wr-calname", title)
    if journey.days:
        first = journey.days[0].date
        stamp = datetime.combine(first, time(), UTC)
        for event in (*_list_legs(journey), *_list_stays(journey), *_list_lodgings(journey)):
            event.add("dtstamp", stamp)
            calendar.add_component(event)
        calendar.add_missing_timezones(
            first_date=first - 400 * ONE_DAY, last_date=journey.days[-1].date + 400 * ONE_DAY
        )
    return bytes(calendar.to_ical())


def _list_legs(journey: Journey) -> Iterator[Event]:
    for leg in journey.legs:
        start, end = journey.stays[leg.start].name, journey.stays[leg.end].name
        how = " ".join(part for part in (leg.mode.value if leg.mode else "", leg.service) if part)
        words = f"{how[:1].upper()}{how[1:]}: {start} – {end}" if how else f"{start} – {end}"
        event = _begin(words, "leg", leg.day, start, end)
        if leg.depart and leg.arrive:
            event.add("dtstart", leg.depart.aware)
            event.add("dtend", leg.arrive.aware)
        elif leg.depart:
            event.add("dtstart", leg.depart.aware)
        else:
            _add_days(event, leg.day, leg.day)
        event.add("location", start)
        event.add("description", _describe(leg))
        yield event


def _describe(leg: Leg) -> str:
    return f"{leg.distance_m / 1000.0:.0f} km" + (f". {leg.note}" if leg.note else "")


def _list_stays(journey: Journey) -> Iterator[Event]:
    for number, stay in enumerate(journey.stays):
        if not stay.change:
            event = _begin(stay.name, f"stay {number}", stay.first, stay.name)
            _add_days(event, stay.first, stay.last)
            event.add("location", f"{stay.name}, {stay.country_name}")
            yield event


def _list_lodgings(journey: Journey) -> Iterator[Event]:
    for lodging in journey.lodgings:
        event = _begin(lodging.name, "lodging", lodging.first, lodging.name)
        _add_days(event, lodging.first, lodging.last - ONE_DAY)
        if lodging.spot:
            event.add("location", lodging.spot.name)
        yield event


def _begin(words: str, kind: str, *of: date | str) -> Event:
    event = Event()
    event.add("uid", f"{hash_values(kind, of)}@wayfold")
    event.add("summary", words)
    event.add("transp", "TRANSPARENT")
    return event


def _add_days(event: Event, first: date, last: date) -> None:
    event.add("dtstart", first)
    event.add("dtend", last + ONE_DAY)

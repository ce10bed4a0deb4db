"""Ways in calendars: which airports or towns an event goes between."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from wayfold.base.world import LonLat
from wayfold.trip.bookings.airports import Airport, find_airport
from wayfold.trip.bookings.model import Spot
from wayfold.trip.calendars.model import Event
from wayfold.trip.town_names import NameFinder, find_meant
from wayfold.trip.zones import find_zone

_CODE = r"\b([A-Z]{3})\b"
_ARROW = r"(?:→|⇒|➔|➜|✈|->|–>|=>|>|–|—|-|/|\bto\b|\bnach\b|\ba\b|\bà\b)"
_CODE_PAIR = re.compile(rf"{_CODE}\)?\s*{_ARROW}\s*(?:[^()A-Z→]*\()?{_CODE}")
_ANY_CODE = re.compile(_CODE)
_IN_BRACKETS = re.compile(r"\(([A-Z]{3})\)")
_FLIGHT_NUMBER = re.compile(r"\b((?:[A-Z]{2}|[A-Z]\d|\d[A-Z])\s?\d{1,4})\b")
_SERVICE = re.compile(r"\b([A-Z]{2,5}\s?\d{1,5})\b")
_TOWNS = re.compile(
    r"(?P<start>[^:→>]+?)\s*(?:→|⇒|➔|➜|->|–>|=>|>|\s[–—-]\s|\s(?:to|nach|bis|à|a)\s)\s*(?P<end>.+)"
)
_LEADING = re.compile(
    r"^(?:from|von|de|da|desde|aus|du)\s+|^.*?\b(?:from|von|desde|depuis|da)\s+", re.IGNORECASE
)


@dataclass(frozen=True, slots=True)
class End:
    """One end of a way: the town it counts as, where exactly it lies, and its zone."""

    spot: Spot
    zone: str


def find_airports(event: Event) -> tuple[Airport, Airport] | None:
    """Give the airports that an event flies between, told by their IATA codes.

    "BIO → BCN", "Bilbao (BIO) to Barcelona (BCN)", or one code as the event's location and one in
    its name. None where there are not two codes of airports.
    """
    for text in (event.summary, event.location, event.description):
        for pattern in (_CODE_PAIR,):
            for found in pattern.finditer(text):
                pair = _pair(found[1], found[2])
                if pair:
                    return pair
        codes = [c for c in dict.fromkeys(_IN_BRACKETS.findall(text)) if find_airport(c)]
        if len(codes) == 2 and (pair := _pair(codes[0], codes[1])):
            return pair
    here = [c for c in _ANY_CODE.findall(event.location) if find_airport(c)]
    there = [c for c in _ANY_CODE.findall(event.summary) if find_airport(c)]
    return _pair(here[0], there[-1]) if len(here) == 1 and there else None


def _pair(one: str, other: str) -> tuple[Airport, Airport] | None:
    start, end = find_airport(one), find_airport(other)
    return (start, end) if start and end and start != end else None


def find_flight_number(event: Event) -> str:
    """Give the flight's number ("IB 3312"), or nothing."""
    found = _FLIGHT_NUMBER.search(event.summary) or _FLIGHT_NUMBER.search(event.description)
    return _space(found[1], 2) if found else ""


def find_service(event: Event) -> str:
    """Give a train's or ferry's number ("ICE 579"), or nothing."""
    found = _SERVICE.search(event.summary)
    return " ".join(found[1].split()) if found else ""


def _space(number: str, letters: int) -> str:
    plain = "".join(number.split())
    return f"{plain[:letters]} {plain[letters:]}"


def find_towns(event: Event, near: Sequence[LonLat], finder: NameFinder) -> tuple[End, End] | None:
    """Give the towns that an event's name says it goes between; None where that is not clear.

    The place of departure may also be the event's location: "Train to Milan", at "Roma Termini".
    """
    split = _TOWNS.search(event.summary)
    if split:
        before = split["start"]
        starts = [_LEADING.sub("", before), before.split(":")[-1], *_tails(before)]
        start = _first_meant([*starts, event.location], near, finder)
        end = _first_meant(_heads(split["end"]), near, finder)
        return _ends(start, end)
    toward = re.search(r"\b(?:to|nach|bis|à|a)\s+(.+)$", event.summary)
    if toward and event.location:
        start = _first_meant([event.location], near, finder)
        return _ends(start, _first_meant(_heads(toward[1]), near, finder))
    return None


def _tails(text: str) -> list[str]:
    words = text.split()
    return [" ".join(words[-count:]) for count in (3, 2, 1) if len(words) > count]


def _heads(text: str) -> list[str]:
    words = text.split()
    return [text, *(" ".join(words[:count]) for count in (3, 2, 1) if len(words) > count)]


def _first_meant(texts: Sequence[str], near: Sequence[LonLat], finder: NameFinder) -> Spot | None:
    for text in texts:
        town = find_meant(text, near, finder) if text.strip() else None
        if town:
            return Spot(town.name, town.country, town.place)
    return None


def _ends(start: Spot | None, end: Spot | None) -> tuple[End, End] | None:
    if start is None or end is None or start == end:
        return None
    zones = find_zone(start.place), find_zone(end.place)
    if zones[0] is None or zones[1] is None:
        return None
    return End(start, zones[0]), End(end, zones[1])


def end_of_airport(airport: Airport, near: Sequence[LonLat], finder: NameFinder) -> End:
    """Give an airport as an end of a way: it counts as the town it serves, at its own place."""
    named = finder.named(airport.city)
    own = [t for t in named if t.country == airport.country]
    town = find_meant(airport.city, (airport.place, *near), finder) if own else None
    name = town.name if town and town.country == airport.country else airport.city
    return End(Spot(name, airport.country, airport.place), airport.zone)

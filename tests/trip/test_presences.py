"""Pictures without a place take that of a booking, where nothing better gives them one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from tests.trip.journey_world import GAZETTEER, book, event, shots
from wayfold.photos.model import Photo
from wayfold.trip.bookings.presences import list_presences
from wayfold.trip.build import build_trip


def blind(*rows: str) -> list[Photo]:
    """Pictures of a camera that knows no places; the town of each row is not looked at."""
    return [replace(photo, place=None) for photo in shots(*rows)]


EVENTS = (
    event("Hotel Arriaga", "20250503", "20250507", "Bilbao"),
    event("BIO → BCN", "20250506T100000", "20250506T111500"),
    event("Hotel Sol", "20250506", "20250509", "Barcelona"),
    event("Sagrada Família", "20250507T110000", "", "Barcelona"),
)
ROWS = (
    "Bilbao 2025-05-03T16:00 120",
    "Bilbao 2025-05-05T12:00 120",
    "Barcelona 2025-05-06T14:00 120",
    "Barcelona 2025-05-08T12:00 120",
)


def stops(photos: Sequence[Photo], *near: str) -> list[str]:
    # Places of the journey tell namesakes apart; a telephone in the party would have them.
    booked = book([*photos, *shots(*near)], *EVENTS)
    trip = build_trip(photos, GAZETTEER, presences=list_presences(booked))
    return [stop.name for stop in trip.stops]


def test_a_journey_without_any_place_has_those_of_its_lodgings() -> None:
    assert stops(blind(*ROWS), *ROWS) == ["Bilbao", "Barcelona"]


def test_a_picture_with_a_place_near_in_time_is_trusted_more() -> None:
    photos = [*blind(*ROWS), *shots("Nice 2025-05-05T11:00 120", "Nice 2025-05-05T12:30 120")]
    ordered = [replace(p, id=f"q{i}", path=f"/p/q{i}.jpg") for i, p in enumerate(photos)]
    assert stops(ordered, *ROWS) == ["Bilbao", "Nice", "Barcelona"]


def test_between_two_lodgings_the_way_parts_the_day() -> None:
    photos = blind("Bilbao 2025-05-06T09:30 120", "Bilbao 2025-05-06T12:30 120")
    assert stops(photos, *ROWS) == ["Bilbao", "Barcelona"]

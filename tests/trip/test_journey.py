"""The journey: stays, legs, nights, hard clocks, contradictions; what is said wins.

Offsets from UTC are those of the tz database: New Zealand +12/+13, Hawaii -10, Fiji +12,
Nepal +5:45, India +5:30, Portugal one hour behind Spain. Distances: geographiclib's authors'
method, tested in test_geodesy.py; here only against published airport distances.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from tests.trip.journey_world import (
    GAZETTEER,
    NAMES,
    book,
    event,
    legs_of,
    place_of,
    rules,
    shots,
    travel,
)
from wayfold.base.world import LonLat
from wayfold.book.trip_choices import (
    DayNote,
    LegChoice,
    LodgingChoice,
    Mode,
    StopChoice,
    TripChoices,
)
from wayfold.trip.bookings.anchors import list_anchors
from wayfold.trip.bookings.model import Source
from wayfold.trip.build import build_trip
from wayfold.trip.journey.route import list_route
from wayfold.trip.journey.said import name_stops
from wayfold.trip.town_names import find_meant
from wayfold.trip.tracks import Fix

SPRING = (
    "Bilbao 2025-05-03T10:00 120",
    "Bilbao 2025-05-05T21:00 120",
    "Barcelona 2025-05-06T18:00 120",
    "Barcelona 2025-05-08T21:30 120",
    "Milan 2025-05-09T12:00 120",
    "Milan 2025-05-10T20:30 120",
)


def test_pictures_alone_give_stays_nights_and_distances() -> None:
    journey = travel(shots(*SPRING))
    assert [(s.name, s.nights) for s in journey.stays] == [
        ("Bilbao", 3),
        ("Barcelona", 3),
        ("Milan", 1),
    ]
    assert legs_of(journey) == ["Bilbao > Barcelona ?", "Barcelona > Milan ?"]
    assert journey.distance_m == sum(leg.distance_m for leg in journey.legs)
    assert not journey.booked
    assert journey.findings == ()


def test_a_flight_by_codes_has_times_of_both_places_and_the_true_duration() -> None:
    journey = travel(
        shots("London 2025-05-02T12:00 60", *SPRING),
        event("BA 482 LHR-BIO", "TZID=Europe/London:20250502T175000",
              "TZID=Europe/Madrid:20250502T205000"),
    )  # fmt: skip
    leg = journey.legs[0]
    assert leg.mode is Mode.FLIGHT
    assert leg.service == "BA 482"
    assert leg.depart and leg.arrive
    assert leg.depart.local == datetime(2025, 5, 2, 17, 50)
    assert leg.arrive.local == datetime(2025, 5, 2, 20, 50)
    assert leg.duration == timedelta(hours=2)
    assert journey.stays[0].name == "London"  # Heathrow counts as the town one was in
    # Published great-circle distance London Heathrow to Bilbao: 927 km (any flight table).
    assert leg.distance_m == pytest.approx(927_000, abs=2_000)


@pytest.mark.parametrize(
    ("name", "depart", "arrive", "hours"),
    [
        # Eastwards over the date line one arrives before one left: 19:55 +12 to 06:55 -10.
        ("AKL-HNL", "20250610T235500", "20250610T105500", 9.0),
        # Westwards a date is skipped: 13:00 -10 to 20:00 +12 of the next day.
        ("HNL-AKL", "20250610T130000", "20250611T200000", 9.0),
        # The night clocks go back in Europe, 26 October 2025: 8 hours on the clock are 9.
        ("CDG-NCE", "20251025T220000", "20251026T060000", 9.0),
        # The night they go forward, 30 March 2025: 8 hours on the clock are 7.
        ("CDG-NCE", "20250329T220000", "20250330T060000", 7.0),
        # Quarter hours: 10:00 +5:45 is 9:45 +5:30.
        ("KTM-DEL", "20250610T100000", "20250610T113000", 1.75),
        # An hour west within Iberia.
        ("MAD-LIS", "20250610T100000", "20250610T101500", 1.25),
        # New Zealand's clocks go forward on 28 September 2025 while those of Fiji stay.
        ("NAN-AKL", "20250927T230000", "20250928T031500", 3.25),
    ],
)
def test_true_durations_over_hard_clocks(name: str, depart: str, arrive: str, hours: float) -> None:
    town = {"A": "Auckland", "H": "Honolulu", "C": "Paris", "K": "Kathmandu", "M": "Madrid",
            "N": "Nadi"}[name[0]]  # fmt: skip
    at = datetime.strptime(depart, "%Y%m%dT%H%M%S").date()
    photos = shots(f"{town} {at - timedelta(days=1)}T12:00 0")
    (way,) = book(photos, event(f"Flight {name}", depart, arrive)).ways
    assert way.duration == timedelta(hours=hours)


def test_over_the_date_line_each_crossing_is_told() -> None:
    journey = travel(
        shots("Auckland 2025-06-08T12:00 720", "Honolulu 2025-06-11T12:00 -600",
              "Nadi 2025-06-15T12:00 720"),
        event("Flight AKL-HNL", "20250610T235500", "20250610T105500"),
        event("Flight HNL-NAN", "20250612T230000", "20250614T044500"),
    )  # fmt: skip
    assert legs_of(journey) == ["Auckland > Honolulu flight", "Honolulu > Nadi flight"]
    told = [f.message for f in journey.findings if f.rule == "journey.date-line"]
    assert any("10 June 2025 twice" in message for message in told)
    assert any("no 13 June 2025" in message for message in told)
    # Over the line the short way round: 7,085 km by any flight table, not 33,000.
    assert journey.legs[0].distance_m == pytest.approx(7_085_000, rel=0.01)


def test_lodgings_tell_nights_and_day_trips() -> None:
    journey = travel(
        shots("Bilbao 2025-05-03T10:00 120", "Nice 2025-05-04T12:00 120",
              "Nice 2025-05-04T13:00 120", "Nice 2025-05-04T14:00 120"),
        event("Stay at Hotel Arriaga", "20250503", "20250506", "Ribera 3\\, 48005 Bilbao\\, Spain"),
    )  # fmt: skip
    assert [s.name for s in journey.stays] == ["Bilbao", "Nice", "Bilbao"]
    assert sum(s.nights for s in journey.stays if s.name == "Bilbao") == 3
    assert journey.days[0].night and journey.days[0].night.lodging
    assert journey.days[0].night.lodging.name == "Hotel Arriaga"


def test_the_day_of_leaving_is_not_slept_at_the_old_lodging() -> None:
    photos = shots(*SPRING)
    bookings = book(
        photos,
        event("Hotel one", "20250503", "20250507", "Bilbao"),
        event("Hotel two", "20250506", "20250509", "Barcelona"),
    )
    assert [(x.name, x.nights) for x in bookings.lodgings] == [("Hotel one", 3), ("Hotel two", 3)]


def test_trains_and_ferries_by_name() -> None:
    journey = travel(
        shots(*SPRING),
        event("Train: Bilbao → Barcelona", "TZID=Europe/Madrid:20250506T092000",
              "TZID=Europe/Madrid:20250506T155800"),
        event("Ferry from Barcelona to Milan", "20250508T220000", "20250509T110000"),
    )  # fmt: skip
    assert legs_of(journey) == ["Bilbao > Barcelona train", "Barcelona > Milan boat"]
    assert journey.legs[1].duration == timedelta(hours=13)


def test_changes_on_the_way_are_no_stops() -> None:
    journey = travel(
        shots(*SPRING),
        event("BIO → MAD", "20250506T070000", "20250506T081000"),
        event("MAD → BCN", "20250506T093000", "20250506T105000"),
    )
    assert [(s.name, s.change) for s in journey.stays[:3]] == [
        ("Bilbao", False),
        ("Madrid", True),
        ("Barcelona", False),
    ]
    assert legs_of(journey)[:2] == ["Bilbao > Madrid flight", "Madrid > Barcelona flight"]


def test_of_namesakes_the_one_on_the_way_is_meant_and_two_in_one_journey_are_told() -> None:
    journey = travel(
        shots(*SPRING), event("Hotel", "20250506", "20250508", "Passeig 1\\, Barcelona")
    )
    assert journey.lodgings[0].spot and journey.lodgings[0].spot.country == "ES"
    both = travel(shots("Santiago/CL 2025-05-03T10:00 -240", "Santiago/ES 2025-05-09T10:00 120"))
    assert "journey.namesakes" in rules(both)
    (finding,) = (f for f in both.findings if f.rule == "journey.namesakes")
    assert "Chile" in finding.message
    assert "Spain" in finding.message
    assert len(both.stays) == 2


def test_a_distance_that_nothing_else_covers_is_a_flight() -> None:
    journey = travel(shots("Madrid 2025-05-03T10:00 120", "Tokyo 2025-05-04T14:00 540"))
    assert legs_of(journey) == ["Madrid > Tokyo flight"]
    assert journey.legs[0].mode_source is Source.SPEED


def track(start: LonLat, end: LonLat, first: datetime, minutes: int) -> list[Fix]:
    return [
        Fix(
            first + timedelta(minutes=n),
            LonLat(
                start.longitude + (end.longitude - start.longitude) * n / minutes,
                start.latitude + (end.latitude - start.latitude) * n / minutes,
            ),
        )
        for n in range(minutes + 1)
    ]


def test_a_track_tells_times_length_and_mode() -> None:
    here, there = place_of("Bilbao"), place_of("Barcelona")
    # 468 km in 2 h 20 min are 200 km/h: no road allows it, no aeroplane is as slow.
    run = track(here, there, datetime(2025, 5, 6, 7, 0, tzinfo=UTC), 140)
    leg = travel(shots(*SPRING), runs=[run]).legs[0]
    assert leg.mode is Mode.TRAIN
    assert leg.along_track
    assert leg.track[0] == run[0].place
    assert leg.depart and leg.depart.local == datetime(2025, 5, 6, 9, 0)
    assert leg.duration == timedelta(minutes=140)
    assert leg.distance_m == pytest.approx(468_000, rel=0.01)


def test_said_before_booked_before_track() -> None:
    here, there = place_of("Bilbao"), place_of("Barcelona")
    run = track(here, there, datetime(2025, 5, 6, 7, 0, tzinfo=UTC), 140)
    booked = event("BIO → BCN", "20250506T100000", "20250506T111500")
    leg = travel(shots(*SPRING), booked, runs=[run]).legs[0]
    assert (leg.mode, leg.mode_source) == (Mode.FLIGHT, Source.BOOKING)
    said = TripChoices(
        legs=(LegChoice("Bilbao", "Barcelona", Mode.ROAD, note="The flight was cancelled."),)
    )
    leg = travel(shots(*SPRING), booked, choices=said, runs=[run]).legs[0]
    assert (leg.mode, leg.mode_source) == (Mode.ROAD, Source.SAID)
    assert leg.note == "The flight was cancelled."


def test_a_said_way_with_times_replaces_the_booked_one() -> None:
    said = TripChoices(
        legs=(
            LegChoice(
                "Bilbao",
                "Barcelona",
                depart=datetime(2025, 5, 6, 12),
                arrive=datetime(2025, 5, 6, 13),
            ),
        )
    )
    journey = travel(
        shots(*SPRING), event("BIO → BCN", "20250506T100000", "20250506T111500"), choices=said
    )
    assert legs_of(journey)[0] == "Bilbao > Barcelona flight"
    assert journey.legs[0].depart and journey.legs[0].depart.local.hour == 12
    assert journey.legs[0].time_source is Source.SAID
    assert journey.legs[0].mode_source is Source.BOOKING
    assert len(journey.legs) == 2


def test_names_that_the_person_gives_go_everywhere() -> None:
    said = TripChoices(
        stops=(StopChoice("Bilbao", "Bilbo"),),
        lodgings=(LodgingChoice("Bilbo", "The room", date(2025, 5, 3), 3),),
        days=(DayNote(date(2025, 5, 4), "Rain."),),
    )
    journey = travel(shots(*SPRING), choices=said)
    assert journey.stays[0].name == "Bilbo"
    assert journey.lodgings[0].spot and journey.lodgings[0].spot.name == "Bilbo"
    assert [day.note for day in journey.days if day.note] == ["Rain."]
    assert journey.booked


@pytest.mark.parametrize(
    ("said", "rule", "says"),
    [
        (TripChoices(stops=(StopChoice("Bilbau", "B"),)), "journey.stop", "Bilbao"),
        (TripChoices(stops=(StopChoice("Bilbao", "B", 2),)), "journey.stop", "visit 2"),
        (
            TripChoices(legs=(LegChoice("Bilbao", "Milan", Mode.ROAD),)),
            "journey.leg",
            "Bilbao to Barcelona",
        ),
        (
            TripChoices(lodgings=(LodgingChoice("Nowhere", "A hut", date(2025, 5, 3)),)),
            "journey.lodging",
            "A hut",
        ),
        (TripChoices(days=(DayNote(date(2205, 5, 4), "x"),)), "journey.far-date", "2205"),
    ],
)
def test_words_that_fit_nothing_are_findings(said: TripChoices, rule: str, says: str) -> None:
    photos = shots(*SPRING)
    journey = travel(photos, choices=said)
    trip = name_stops(build_trip(photos, GAZETTEER), said)
    found = [f for f in (*trip.findings, *journey.findings) if f.rule == rule]
    assert found
    assert says in f"{found[0].where} {found[0].message} {found[0].remedy}"
    assert found[0].remedy
    assert len(journey.days) < 30


def test_bookings_that_cannot_be_true_are_told_and_kept() -> None:
    backwards = travel(shots(*SPRING), event("BIO → BCN", "20250506T100000", "20250506T090000"))
    assert "journey.times" in rules(backwards)
    assert legs_of(backwards)[0] == "Bilbao > Barcelona flight"
    assert backwards.legs[0].arrive is None
    early = travel(shots(*SPRING), event("BIO → BCN", "20250505T100000", "20250505T111500"))
    assert "journey.contradiction" in rules(early)
    skipped = book(
        shots("Paris 2025-03-29T12:00 60"), event("CDG-NCE", "20250330T023000", "20250330T060000")
    )
    assert "journey.skipped-hour" in {f.rule for f in skipped.findings}
    twice = book(
        shots("Paris 2025-10-25T12:00 120"), event("CDG-NCE", "20251026T023000", "20251026T060000")
    )
    assert "journey.repeated-hour" in {f.rule for f in twice.findings}


def test_what_cannot_be_placed_is_told() -> None:
    photos = shots(*SPRING)
    assert "calendar.way" in {
        f.rule for f in book(photos, event("Train home", "20250510T100000")).findings
    }
    assert "calendar.lodging" in {
        f.rule for f in book(photos, event("Hotel", "20250503", "20250505")).findings
    }
    assert "calendar.left-out" in {
        f.rule for f in book(photos, event("Dentist", "20250504T100000")).findings
    }
    assert book(photos, event("Dentist", "20250504T100000"), left_out=["dentist"]).findings == ()


def test_a_night_between_two_places_is_not_guessed() -> None:
    rows = ("Bilbao 2025-05-03T12:00 120", "Barcelona 2025-05-04T12:00 120")
    assert sum(s.nights for s in travel(shots(*rows)).stays) == 0
    booked = event("BIO → BCN", "20250504T080000", "20250504T091500")
    assert [s.nights for s in travel(shots(*rows), booked).stays] == [1, 0]
    night_train = event("Train Bilbao → Barcelona", "20250503T220000", "20250504T073000")
    journey = travel(shots(*rows), night_train)
    assert [s.nights for s in journey.stays] == [0, 0]
    assert journey.nights[0].leg == 0


def test_bookings_are_evidence_for_clocks() -> None:
    bookings = book(
        shots(*SPRING),
        event("BIO → BCN", "20250506T100000", "20250506T111500"),
        event("Hotel", "20250503", "20250504", "Bilbao"),
    )
    anchors = list_anchors(bookings)
    assert len(anchors) == 3
    assert all(a.first < a.last for a in anchors)
    departure = next(a for a in anchors if a.last == datetime(2025, 5, 6, 8, 0, tzinfo=UTC))
    assert departure.place.latitude == pytest.approx(43.30, abs=0.01)  # the airport, not the town


def test_one_event_in_two_calendars_counts_once() -> None:
    twice = event("BIO → BCN", "20250506T100000", "20250506T111500") * 2
    assert len(book(shots(*SPRING), twice).ways) == 1


def test_a_map_has_each_place_once() -> None:
    route = list_route(
        travel(
            shots("Bilbao 2025-05-03T10:00 120", "Nice 2025-05-04T12:00 120",
                  "Bilbao 2025-05-06T12:00 120", "Barcelona 2025-05-07T18:00 120"),
            event("BIO → MAD", "20250507T070000", "20250507T081000"),
            event("MAD → BCN", "20250507T093000", "20250507T105000"),
        )
    )  # fmt: skip
    assert [p.name for p in route.places] == ["Bilbao", "Nice", "Barcelona"]
    assert [(leg.start, leg.end) for leg in route.legs] == [(0, 1), (1, 0), (0, 2)]
    assert route.legs[2].mode is Mode.FLIGHT  # by way of Madrid, which is no place of its own
    assert route.places[0].visits == (
        (date(2025, 5, 3), date(2025, 5, 3)),
        (date(2025, 5, 6), date(2025, 5, 7)),
    )
    assert {p.country for p in route.places} == {"ES", "FR"}
    both = travel(shots("Santiago/CL 2025-05-03T10:00 -240", "Santiago/ES 2025-05-09T10:00 120"))
    assert [p.country for p in list_route(both).places] == ["CL", "ES"]


def test_the_same_input_gives_the_same_journey() -> None:
    events = (
        event("BIO → BCN", "20250506T100000", "20250506T111500"),
        event("Hotel", "20250503", "20250506", "Bilbao"),
    )
    assert travel(shots(*SPRING), *events) == travel(shots(*SPRING), *reversed(events))


@pytest.mark.parametrize(
    ("written", "town"),
    [
        ("Lisboa", "Lisbon"),
        ("Milano", "Milan"),
        ("Roma", "Rome"),
        ("Barcelone", "Barcelona"),
        ("Mailand", "Milan"),
    ],
)
def test_towns_of_the_journey_are_known_in_other_languages(written: str, town: str) -> None:
    found = find_meant(written, [place_of(town), place_of("Tokyo")], NAMES)
    assert found and found.name == town


def test_a_strange_name_is_no_town_of_the_journey() -> None:
    for written in ("Hotel", "Rua 1", "Dentist", "Bern"):
        assert find_meant(written, [place_of("Lisbon"), place_of("Rome")], NAMES) is None


def test_late_arrivals_and_early_departures_agree_with_their_lodgings() -> None:
    journey = travel(
        shots("London 2025-05-02T12:00 60", "Bilbao 2025-05-03T10:00 120",
              "Barcelona 2025-05-06T18:00 120"),
        event("LHR-BIO", "TZID=Europe/London:20250502T213000",
              "TZID=Europe/Madrid:20250503T003000"),
        event("Hotel Arriaga", "20250502", "20250506", "Bilbao"),
        event("BIO → BCN", "20250506T060000", "20250506T071500"),
    )  # fmt: skip
    assert legs_of(journey) == ["London > Bilbao flight", "Bilbao > Barcelona flight"]
    assert "journey.contradiction" not in rules(journey)
    assert [s.nights for s in journey.stays] == [0, 4, 0]


def test_the_last_night_is_told_but_makes_no_day_of_its_own() -> None:
    journey = travel(
        shots("Bilbao 2025-05-03T10:00 120", "Bilbao 2025-05-04T20:00 120"),
        event("Hotel Arriaga", "20250503", "20250505", "Bilbao"),
    )
    assert [day.date.day for day in journey.days] == [3, 4]
    assert journey.stays[0].nights == 2
    last = journey.days[-1].night
    assert last and last.lodging


def test_pictures_taken_aboard_are_no_stay() -> None:
    aboard = shots("Barcelona 2025-05-08T12:00 120", "Milan 2025-05-10T12:00 120")
    # At sea, without a place: it lies nearer in time to Milan, whose town it would borrow.
    at_sea = replace(
        shots("Milan 2025-05-10T06:00 120")[0], id="sea", path="/p/sea.jpg", place=None
    )
    journey = travel(
        [*aboard, at_sea], event("Ferry Barcelona → Milan", "20250509T220000", "20250510T110000")
    )
    assert legs_of(journey) == ["Barcelona > Milan boat"]
    assert "journey.contradiction" not in rules(journey)

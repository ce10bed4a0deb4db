"""The list of towns and its search against the world outside.

Sources: the IANA time zone database's zone.tab (public domain, in the ``tzdata`` package), which
gives a country and a position to the minute of arc for the chief city of each zone; geographiclib
(C. Karney), which solves the geodesic on WGS84; well-known positions, from memory.
"""

import re
import unicodedata
from importlib.resources import files

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic

from wayfold.base.world import LonLat
from wayfold.trip.earth import distance_m
from wayfold.trip.gazetteer import Gazetteer, load_gazetteer

# Zones named after a city that spells its name the same in both sources.
CITIES = """
Europe/Madrid Europe/Berlin Europe/Paris Europe/London Europe/Vienna Europe/Prague Europe/Warsaw
Europe/Budapest Europe/Lisbon Europe/Athens Europe/Oslo Europe/Stockholm Europe/Helsinki
Europe/Copenhagen Europe/Dublin Europe/Brussels Europe/Amsterdam Europe/Istanbul Europe/Moscow
Asia/Tokyo Asia/Seoul Asia/Shanghai Asia/Singapore Asia/Bangkok Asia/Manila Asia/Jakarta
Asia/Kathmandu Australia/Sydney Australia/Melbourne America/Chicago America/Denver
America/Toronto America/Bogota America/Lima America/Santiago Africa/Cairo Africa/Nairobi
Africa/Lagos Africa/Johannesburg Atlantic/Reykjavik
"""

# Their minute of arc lies across a border from the city (looked at one by one on the data).
ACROSS_A_BORDER = {"Europe/Rome": "VA", "Europe/Monaco": "FR", "Africa/Bangui": "CD"}

# From memory: sights known to about 100 m, and the town a traveller would name.
SIGHTS = [
    ("Colosseum", 41.8902, 12.4922, "Rome", "IT"),
    ("Casino of Monte Carlo", 43.7392, 7.4274, "Monaco", "MC"),
    ("Sagrada Família", 41.4036, 2.1744, "Barcelona", "ES"),
    ("Shibuya crossing", 35.6595, 139.7005, "Tokyo", "JP"),
    ("Intramuros", 14.5910, 120.9740, "Manila", "PH"),
    ("Palace of Versailles", 48.8049, 2.1204, "Versailles", "FR"),
    ("Manly beach", -33.7970, 151.2870, "Sydney", "AU"),
    ("Brooklyn, Prospect Park", 40.6602, -73.9690, "Brooklyn", "US"),
    ("Alhambra", 37.1760, -3.5881, "Granada", "ES"),
    ("St Peter's Basilica", 41.9022, 12.4539, "Vatican City", "VA"),
    ("Potes, the tower", 43.1537, -4.6224, "Potes", "ES"),
    ("Tromsø, the Arctic Cathedral", 69.6481, 18.9873, "Tromsø", "NO"),
    ("Suva, on the far side of 180° from Samoa", -18.1416, 178.4419, "Suva", "FJ"),
]


@pytest.fixture(scope="module")
def world() -> Gazetteer:
    return load_gazetteer()


def read_zones() -> list[tuple[str, LonLat, str]]:
    rows = []
    for line in (files("tzdata") / "zoneinfo" / "zone.tab").read_text().splitlines():
        if not line.startswith("#"):
            country, position, zone = line.split("\t")[:3]
            matched = re.fullmatch(r"([+-]\d+)([+-]\d+)", position)
            assert matched
            latitude, longitude = (read_degrees(part) for part in matched.groups())
            rows.append((country, LonLat(longitude, latitude), zone))
    return rows


def read_degrees(text: str) -> float:
    """±DDMM, ±DDDMM, ±DDMMSS or ±DDDMMSS (ISO 6709, as zone.tab's head says)."""
    digits = text[1:]
    seconds_too = len(digits) >= 6
    degrees = digits[:-4] if seconds_too else digits[:-2]
    minutes = digits[len(degrees) : len(degrees) + 2]
    seconds = digits[-2:] if seconds_too else "0"
    return (-1 if text[0] == "-" else 1) * (int(degrees) + int(minutes) / 60 + int(seconds) / 3600)


def letters(name: str) -> str:
    return "".join(c for c in unicodedata.normalize("NFKD", name.lower()) if c.isalpha())


def test_whole_world_is_there(world):
    assert len(world) > 150_000


def test_countries_of_all_zones(world):
    found = {zone: world.find(place) for _, place, zone in read_zones()}
    wrong = {
        zone: town.country
        for country, _, zone in read_zones()
        if (town := found[zone]) and town.country != country
    }
    assert wrong == ACROSS_A_BORDER
    assert sum(town is not None for town in found.values()) > 380


@pytest.mark.parametrize("zone", CITIES.split())
def test_chief_cities(world, zone):
    (place,) = (place for _, place, name in read_zones() if name == zone)
    town = world.find(place)
    assert town is not None
    assert letters(town.name) == letters(zone.split("/")[-1])


@pytest.mark.parametrize(("sight", "latitude", "longitude", "name", "country"), SIGHTS)
def test_sights(world, sight, latitude, longitude, name, country):
    town = world.find(LonLat(longitude, latitude))
    assert town is not None
    assert (town.name, town.country) == (name, country)


@pytest.mark.parametrize(
    ("latitude", "longitude"),
    [(40.0, -40.0), (90.0, 0.0), (-90.0, 12.0), (-77.8, 166.6)],
    ids=["mid-Atlantic", "North Pole", "South Pole", "Ross Island"],
)
def test_nothing_near(world, latitude, longitude):
    assert world.find(LonLat(longitude, latitude)) is None


def list_probes() -> list[LonLat]:
    """Places all over the land side of the globe, most in the north, where degrees mislead."""
    rng = np.random.default_rng(20251011)
    cells = [(-60.0, 55.0, 20), (35.0, 60.0, 40), (58.0, 70.5, 60)]
    return [
        LonLat(float(rng.uniform(-180, 180)), float(rng.uniform(low, high)))
        for low, high, count in cells
        for _ in range(count)
    ]


def test_nearest_is_nearest_on_the_geodesic(world):
    towns = [world.town(i) for i in range(len(world))]
    lon = np.radians([t.place.longitude for t in towns])
    lat = np.radians([t.place.latitude for t in towns])
    compared = 0
    for probe in list_probes():
        x, y = np.radians(probe.longitude), np.radians(probe.latitude)
        # Haversine is within 0.56 % of the geodesic: the forty nearest by it hold the nearest.
        half = np.sin((lat - y) / 2) ** 2 + np.cos(y) * np.cos(lat) * np.sin((lon - x) / 2) ** 2
        near = np.argpartition(half, 40)[:40]
        ways = {int(i): measure_geodesic(probe, towns[i].place) for i in near}
        best = min(ways, key=ways.__getitem__)
        found = world.nearest(probe)
        if ways[best] > 149_000.0:
            assert found is None or ways[best] < 151_000.0
            continue
        compared += 1
        assert found is not None
        assert measure_geodesic(probe, found.place) == pytest.approx(ways[best], abs=0.01)
    assert compared > 30


def measure_geodesic(one: LonLat, other: LonLat) -> float:
    solved = Geodesic.WGS84.Inverse(one.latitude, one.longitude, other.latitude, other.longitude)
    return float(solved["s12"])


def test_straight_distance_is_close_to_the_geodesic():
    milan, monza = LonLat(9.18951, 45.46427), LonLat(9.27246, 45.58005)
    geodesic = measure_geodesic(milan, monza)
    assert distance_m(milan, monza) == pytest.approx(geodesic, rel=1e-5)

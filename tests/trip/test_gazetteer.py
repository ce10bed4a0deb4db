"""The search over a handful of towns, and the door to the list."""

import gzip
import json
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wayfold.base.errors import UserError
from wayfold.base.world import LonLat
from wayfold.trip import gazetteer as module
from wayfold.trip.earth import distance_m
from wayfold.trip.gazetteer import FARTHEST_M, Gazetteer, Town, load_gazetteer

degrees = st.floats(-2.0, 2.0).map(lambda v: round(v, 4))


@st.composite
def neighbourhoods(draw):
    """A place and others up to some 300 km round it: anywhere, at the poles, across 180°."""
    latitude = draw(st.sampled_from([-89.9, -45.0, 0.1, 45.0, 69.5, 89.0]) | st.floats(-88, 88))
    longitude = draw(st.sampled_from([-180.0, 179.9, 8.0]) | st.floats(-180, 180))
    shrink = max(0.012, math.cos(math.radians(latitude)))

    def place():
        lon = longitude + draw(degrees) / shrink
        lat = latitude + draw(degrees)
        return LonLat((lon + 180.0) % 360.0 - 180.0, max(-90.0, min(90.0, lat)))

    return place(), [place() for _ in range(draw(st.integers(1, 12)))]


def town(name: str, longitude: float, latitude: float, population: int = 0, country: str = "IT"):
    return Town(name, country, LonLat(longitude, latitude), population)


@given(neighbourhoods(), st.sampled_from([5_000.0, 30_000.0, FARTHEST_M]))
def test_nearest_is_what_looking_at_all_gives(neighbourhood, within_m):
    here, spots = neighbourhood
    towns = Gazetteer([Town(str(i), "XX", spot) for i, spot in enumerate(spots)])
    least = min(distance_m(spot, here) for spot in spots)
    found = towns.nearest(here, within_m)
    if found is None:
        assert least > within_m
    else:
        assert distance_m(found.place, here) == least <= within_m


def test_neighbours_across_the_antimeridian():
    # Fiji's 180th meridian: 0.02 degrees apart, not 359.98.
    east = town("east", -179.99, -16.8, country="FJ")
    west = town("west", 179.0, -16.8, country="FJ")
    assert Gazetteer([east, west]).nearest(LonLat(179.99, -16.8)) == east


@pytest.mark.parametrize("longitude", [-180.0, 180.0, -179.99, 179.99])
def test_the_antimeridian_has_two_longitudes(longitude):
    on_it = town("on it", 180.0, -16.8, country="FJ")
    assert Gazetteer([on_it]).nearest(LonLat(longitude, -16.8)) == on_it


def test_degrees_of_longitude_are_short_in_the_north():
    # At 70° a degree of longitude is 38 km, a degree of latitude 111 km (cos 70° = 0.342).
    sideways, upwards = town("sideways", 1.0, 70.0), town("upwards", 0.0, 70.5)
    assert Gazetteer([sideways, upwards]).nearest(LonLat(0.0, 70.0)) == sideways


def test_wgs84_axes():
    # NGA.STND.0036: a = 6378137 m, b = 6356752.3142 m.
    assert distance_m(LonLat(0, 0), LonLat(180, 0)) == pytest.approx(2 * 6378137.0)
    assert distance_m(LonLat(0, 90), LonLat(0, -90)) == pytest.approx(2 * 6356752.3142, abs=1e-3)


def test_suburb_yields_to_its_city():
    city, suburb = town("city", 0.0, 45.0, 300_000), town("suburb", 0.05, 45.0, 20_000)
    assert Gazetteer([city, suburb]).find(LonLat(0.05, 45.0)) == city


def test_town_out_of_the_citys_reach_keeps_its_name():
    # 300,000 people at 2,500 to the km² fill a circle of 6.2 km; the town lies 7.9 km away.
    city, small = town("city", 0.0, 45.0, 300_000), town("small", 0.1, 45.0, 20_000)
    assert math.sqrt(300_000 / 2_500 / math.pi) == pytest.approx(6.18, abs=0.01)
    assert Gazetteer([city, small]).find(LonLat(0.1, 45.0)) == small


def test_no_city_reaches_over_a_border():
    city = town("city", 0.0, 45.0, 3_000_000, "FR")
    small = town("small", 0.03, 45.0, 900, "MC")
    assert Gazetteer([city, small]).find(LonLat(0.03, 45.0)) == small


def test_great_cities_side_by_side_keep_their_names():
    greater, great = town("greater", 0.0, 45.0, 3_000_000), town("great", 0.12, 45.0, 1_500_000)
    quarter = town("quarter", 0.11, 45.0, 50_000)
    towns = Gazetteer([greater, great, quarter])
    assert towns.find(LonLat(0.12, 45.0)) == great
    assert towns.find(LonLat(0.11, 45.0)) == great


def test_empty_list_finds_nothing():
    assert Gazetteer([]).find(LonLat(9.0, 45.0)) is None


@pytest.mark.parametrize(
    "data",
    [
        None,
        b"",
        b"no gzip at all",
        gzip.compress(b"[{"),
        gzip.compress(json.dumps([{"city": "nowhere"}]).encode()),
        gzip.compress(
            json.dumps(
                [
                    {
                        "city": "a",
                        "country_code": "b",
                        "latitude": "x",
                        "longitude": 1,
                        "population": 1,
                    }
                ]
            ).encode()
        ),
    ],
    ids=["missing", "empty", "other bytes", "broken", "no position", "position of letters"],
)
def test_unreadable_list_says_what_to_do(monkeypatch, tmp_path, data):
    folder = tmp_path / "gazetteer"
    folder.mkdir()
    if data is not None:
        (folder / "geocode.gz").write_bytes(data)
    monkeypatch.setattr(module, "files", lambda _: tmp_path)
    with pytest.raises(UserError) as caught:
        load_gazetteer()
    assert "geocode.gz" in caught.value.where
    assert "Install Wayfold again" in caught.value.remedy

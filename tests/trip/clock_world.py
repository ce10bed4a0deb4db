"""Simulated journeys whose true times are known, to measure how well clocks are read.

What is simulated, all from one seed (``random.Random``), nothing fitted to the reader:

- A journey of 6-14 days through 2-5 towns of different zones, half-hour ones among them, with a
  day of travelling between two towns. Each day has 8-18 scenes between 9:00 and 20:00 local
  time, each at a spot within 2 km of the town.
- Telephones write zone, position and receiver's time; the receiver's time lags by an exponential
  of mean 8 s; a tenth of the pictures have lost their zone.
- Cameras write neither. Each stands at a zone that is a multiple of 15 min (-12:00 to +14:00),
  with a slip of N(0, 150 s) within 7 min; two in five drift by up to 2 s a day; where the zones of
  the journey change, one in four is set to the new zone on the way, by a whole number of
  quarters. A camera takes a scene with its own probability (0.35-0.7), 1-3 pictures, the first
  N(0, 45 s) from the scene's moment.
- Evidence for a camera, each piece wrong with probability ``WRONG`` (40 %):
  8-20 pairs of one scene with a telephone (wrong: another scene of the journey, or the same
  time of another day); with a track, 8-20 pictures with a place given by the person within 20 m
  (wrong: the place of another scene); in one camera of five 5-12 receiver's times (wrong: up to
  two days off).
- A track has a fix every 20-60 s on the way from scene to scene and while standing at one, from
  1-3 min before its moment to 1-3 min after; none indoors. Three scenes in ten are taken in
  passing, and on every second way the party stands still for 1.5-6 min where nobody takes a
  picture.
"""

from __future__ import annotations

import itertools
import math
import random
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from wayfold.base.world import LonLat
from wayfold.photos.model import Camera, CaptureTime, Photo, SizePx
from wayfold.trip.clocks.evidence import Evidence
from wayfold.trip.clocks.model import ScenePair
from wayfold.trip.tracks import Fix, Track

WRONG = 0.4
TOWNS = [
    ("Europe/Madrid", 2.17, 41.38), ("Europe/London", -0.12, 51.5), ("Asia/Kolkata", 77.2, 28.6),
    ("Asia/Kathmandu", 85.32, 27.7), ("Asia/Tokyo", 139.7, 35.68),
    ("America/New_York", -74.0, 40.72), ("Australia/Adelaide", 138.6, -34.92),
    ("Europe/Athens", 23.73, 37.98), ("America/Lima", -77.03, -12.05),
    ("Pacific/Auckland", 174.76, -36.86),
]  # fmt: skip


@dataclass(frozen=True)
class Scene:
    utc: datetime
    place: LonLat
    zone: str
    day: int


@dataclass
class World:
    """Photographs and evidence to give, and the truth to compare with.

    ``helped``: keys of the camera bodies that a telephone or a track can bear witness for.
    """

    photos: list[Photo] = field(default_factory=list)
    evidence: Evidence = field(default_factory=Evidence)
    truth: dict[str, datetime] = field(default_factory=dict)
    bodies: dict[str, list[str]] = field(default_factory=dict)
    helped: set[str] = field(default_factory=set)
    wrong: int = 0
    pieces: int = 0


def make_world(seed: int, *, phones: int = 1, track: bool = False, cameras: int = 3) -> World:
    """Give one simulated journey."""
    rng = random.Random(seed)
    scenes = _make_scenes(rng)
    world = World()
    taken: dict[str, dict[int, str]] = {}
    for number in range(phones):
        taken[f"phone{number}"] = _take_with_phone(rng, world, scenes, f"phone{number}")
    tracks = (_record(rng, scenes),) if track else ()
    pairs: list[ScenePair] = []
    for number in range(cameras):
        _take_with_camera(rng, world, scenes, f"camera{number}", taken, pairs, placed=track)
        if phones or track:
            world.helped.add(f"Maker camera{number} {number}")
    world.evidence = Evidence(tracks=tracks, pairs=tuple(pairs))
    rng.shuffle(world.photos)
    return world


def _make_scenes(rng: random.Random) -> list[Scene]:
    towns = rng.sample(TOWNS, rng.randint(2, 5))
    days = rng.randint(max(6, 2 * len(towns)), 14)
    first = datetime(2025, 1, 1) + timedelta(days=rng.randint(0, 364))
    scenes = []
    for day in range(days):
        number = day * len(towns) // days
        zone, lon, lat = towns[number]
        for _ in range(rng.randint(8, 18)):
            wall = first + timedelta(days=day + number, hours=9, seconds=rng.uniform(0, 11 * 3600))
            utc = wall.replace(tzinfo=ZoneInfo(zone)).astimezone(UTC)
            scenes.append(Scene(utc, _near(rng, LonLat(lon, lat), 2000.0), zone, day))
    return sorted(scenes, key=lambda s: s.utc)


def _near(rng: random.Random, place: LonLat, within_m: float) -> LonLat:
    north, east = rng.uniform(-within_m, within_m), rng.uniform(-within_m, within_m)
    lat = place.latitude + north / 111_000
    return LonLat(place.longitude + east / (111_000 * math.cos(math.radians(lat))), lat)


def _add(
    world: World,
    name: str,
    utc: datetime,
    taken: CaptureTime,
    camera: Camera,
    place: LonLat | None = None,
    gps: datetime | None = None,
) -> None:
    world.photos.append(
        Photo(name, name, f"/p/{name}.jpg", SizePx(6, 4), taken=taken, camera=camera,
              place=place, gps_utc=gps)
    )  # fmt: skip
    world.truth[name] = utc


def _take_with_phone(
    rng: random.Random, world: World, scenes: list[Scene], key: str
) -> dict[int, str]:
    """Give the first picture of each scene taken."""
    eager = rng.uniform(0.4, 0.8)
    taken = {}
    for index, scene in enumerate(scenes):
        if rng.random() > eager:
            continue
        for shot in range(rng.randint(1, 3)):
            utc = scene.utc + timedelta(seconds=rng.gauss(0, 45) + 8 * shot)
            local = utc.astimezone(ZoneInfo(scene.zone))
            offset = local.utcoffset()
            minutes = None if rng.random() < 0.1 else int(offset.total_seconds() // 60)
            name = f"{key}-{index:03d}-{shot}"
            gps = (utc - timedelta(seconds=rng.expovariate(1 / 8))).replace(microsecond=0)
            taking = CaptureTime(local.replace(tzinfo=None, microsecond=0), minutes)
            _add(world, name, utc, taking, Camera("Phone", key), _near(rng, scene.place, 15), gps)
            taken.setdefault(index, name)
    return taken


def _take_with_camera(
    rng: random.Random,
    world: World,
    scenes: list[Scene],
    key: str,
    phones: dict[str, dict[int, str]],
    pairs: list[ScenePair],
    *,
    placed: bool,
) -> None:
    eager = rng.uniform(0.35, 0.7)
    zone_s = 900.0 * rng.randint(-48, 56)
    slip_s = max(-420.0, min(420.0, rng.gauss(0, 150)))
    drift = rng.uniform(-2, 2) if rng.random() < 0.4 else 0.0
    reset = _choose_reset(rng, scenes)
    camera = Camera("Maker", key, key[-1])
    mine: dict[int, str] = {}
    rows = []
    for index, scene in enumerate(scenes):
        if rng.random() > eager:
            continue
        jitter = rng.gauss(0, 45)
        for shot in range(rng.randint(1, 3)):
            utc = scene.utc + timedelta(seconds=jitter + 6 * shot)
            ahead_s = zone_s + slip_s + drift * (utc - scenes[0].utc).total_seconds() / 86_400
            if reset and utc >= reset[0]:
                ahead_s += reset[1]
            local = (utc + timedelta(seconds=ahead_s)).replace(tzinfo=None, microsecond=0)
            name = f"{key}-{index:03d}-{shot}"
            mine.setdefault(index, name)
            rows.append((name, utc, CaptureTime(local), index))
    places = _place_some(rng, world, scenes, mine) if placed else {}
    receiver = _receive_some(rng, world, rows) if rng.random() < 0.2 else {}
    for name, utc, taking, _ in rows:
        _add(world, name, utc, taking, camera, places.get(name), receiver.get(name))
    for taken in phones.values():
        pairs += _pair_some(rng, world, scenes, mine, taken)
    world.bodies[f"Maker {key} {key[-1]}"] = [row[0] for row in rows]


def _choose_reset(rng: random.Random, scenes: list[Scene]) -> tuple[datetime, float] | None:
    changes = [(a, b) for a, b in itertools.pairwise(scenes) if a.zone != b.zone]
    if rng.random() > 0.25 or not changes:
        return None
    before, after = rng.choice(changes)
    step = after.utc.astimezone(ZoneInfo(after.zone)).utcoffset()
    step -= before.utc.astimezone(ZoneInfo(before.zone)).utcoffset()
    return after.utc - timedelta(minutes=10), step.total_seconds()


def _is_wrong(rng: random.Random, world: World) -> bool:
    wrong = rng.random() < WRONG
    world.pieces += 1
    world.wrong += wrong
    return wrong


def _pair_some(
    rng: random.Random, world: World, scenes: list[Scene], mine: dict[int, str],
    theirs: dict[int, str],
) -> list[ScenePair]:  # fmt: skip
    shared = sorted(mine.keys() & theirs.keys())
    pairs = []
    for index in rng.sample(shared, min(len(shared), rng.randint(8, 20))):
        other = index
        if _is_wrong(rng, world):
            hour = scenes[index].utc.hour
            alike = [i for i in theirs if scenes[i].utc.hour == hour and i != index]
            choices = alike if alike and rng.random() < 0.5 else [i for i in theirs if i != index]
            other = rng.choice(choices)
        pairs.append(ScenePair(mine[index], theirs[other]))
    return pairs


def _place_some(
    rng: random.Random, world: World, scenes: list[Scene], mine: dict[int, str]
) -> dict[str, LonLat]:
    places = {}
    for index in rng.sample(sorted(mine), min(len(mine), rng.randint(8, 20))):
        scene = scenes[rng.randrange(len(scenes)) if _is_wrong(rng, world) else index]
        places[mine[index]] = _near(rng, scene.place, 20.0)
    return places


def _receive_some(
    rng: random.Random, world: World, rows: list[tuple[str, datetime, CaptureTime, int]]
) -> dict[str, datetime]:
    stamps = {}
    for name, utc, _, _ in rng.sample(rows, min(len(rows), rng.randint(5, 12))):
        lag_s = rng.expovariate(1 / 8)
        if _is_wrong(rng, world):
            lag_s = rng.uniform(600, 2 * 86_400)
        stamps[name] = (utc - timedelta(seconds=lag_s)).replace(microsecond=0)
    return stamps


def _record(rng: random.Random, scenes: list[Scene]) -> Track:
    """Record the way on foot from scene to scene, a while spent at each before walking on."""
    fixes: list[Fix] = []

    def stand(place: LonLat, first: datetime, last: datetime) -> None:
        at = first
        while at <= last:
            fixes.append(Fix(at, _near(rng, place, 8.0)))
            at += timedelta(seconds=rng.uniform(20, 60))

    def linger() -> float:
        return rng.uniform(0, 15) if rng.random() < 0.3 else rng.uniform(60, 180)

    lingers = [(linger(), linger()) for _ in scenes]
    for number, (one, other) in enumerate(itertools.pairwise(scenes)):
        # Two scenes a minute apart leave no time to stand about.
        gap_s = (other.utc - one.utc).total_seconds()
        stay_s = min(lingers[number][1], 0.3 * gap_s)
        come_s = min(lingers[number + 1][0], 0.3 * gap_s)
        stand(one.place, one.utc, one.utc + timedelta(seconds=stay_s))
        walk_s = min(gap_s - stay_s - come_s, rng.uniform(1500, 3000))
        idle_s = min(rng.uniform(90, 360), 0.3 * walk_s) if rng.random() < 0.5 else 0.0
        idle_from = rng.uniform(0.0, walk_s - idle_s)
        # What is left of a long gap is spent indoors, without reception; nights too.
        start_s = gap_s - come_s - walk_s
        at_s = start_s
        while one.day == other.day and at_s < gap_s - come_s:
            into_s = at_s - start_s
            walked_s = into_s - min(max(into_s - idle_from, 0.0), idle_s)
            share = walked_s / (walk_s - idle_s)
            lon = one.place.longitude + share * (other.place.longitude - one.place.longitude)
            lat = one.place.latitude + share * (other.place.latitude - one.place.latitude)
            fixes.append(Fix(one.utc + timedelta(seconds=at_s), _near(rng, LonLat(lon, lat), 8.0)))
            at_s += rng.uniform(20, 60)
        stand(other.place, other.utc - timedelta(seconds=come_s), other.utc)
    fixes.append(Fix(scenes[-1].utc, scenes[-1].place))
    fixes.sort(key=lambda f: f.utc)
    kept = [f for i, f in enumerate(fixes) if i == 0 or f.utc > fixes[i - 1].utc]
    return Track("simulated", (tuple(kept),))


def measure(world: World, instants: dict[str, datetime], body: str) -> float | None:
    """Give the error (s) that 9 of 10 pictures of a body keep within; None if it has no times."""
    errors = sorted(
        abs((instants[p] - world.truth[p]).total_seconds())
        for p in world.bodies[body]
        if p in instants
    )
    if not errors:
        return None
    return errors[min(len(errors) - 1, math.ceil(0.9 * len(errors)) - 1)]

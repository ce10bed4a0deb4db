"""Read every body's clock, the sure ones first, for they are evidence for the others."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from math import isfinite

from wayfold.base.world import LonLat
from wayfold.photos.model import Photo
from wayfold.trip.clocks.bodies import list_bodies, name_pictures
from wayfold.trip.clocks.busy import find_pause_hints, find_rhythm_hints, list_pauses
from wayfold.trip.clocks.chosen import read_choice
from wayfold.trip.clocks.consensus import Consensus
from wayfold.trip.clocks.evidence import (
    Evidence,
    Nominal,
    find_clock_hints,
    find_event_hints,
    find_gps_hints,
    find_local_hint,
    find_pair_hints,
    find_tag_hint,
)
from wayfold.trip.clocks.model import Body, ClockChoice, ClockReading, Hint, State
from wayfold.trip.clocks.on_tracks import TrackVisits, find_track_hints
from wayfold.trip.clocks.spans import read_spans
from wayfold.trip.clocks.words import describe_clock, tabulate_evidence
from wayfold.trip.zones import find_zone, instant_of
from wayfold.trip.zones_timeline import ZoneTimeline, trace_zones

SURE_S = 60.0
"""A reading with a greater error than this is a rough one."""
OWN_SLIP_S = 60.0
"""A body that tells its zone is left alone unless it is farther off than this."""
TAGGED_SHARE = 0.5
ROUNDS = 5
WITNESSES = (State.KNOWN, State.OWN, State.CHOSEN)
TRACK_STEP = timedelta(minutes=30)


@dataclass(frozen=True, slots=True)
class Clocks:
    """All readings, the instants (aware, UTC) of the pictures they give, and the zones passed."""

    readings: tuple[ClockReading, ...] = ()
    instants: Mapping[str, datetime] = field(default_factory=dict)
    zones: ZoneTimeline = field(default_factory=ZoneTimeline)


def read_clocks(photos: Sequence[Photo], evidence: Evidence | None = None) -> Clocks:
    """Give a reading for every camera body that took a dated picture.

    Bodies that tell their zone, and those with enough evidence of their own, are read first;
    they then bear witness for the rest, round by round. What stays without enough evidence is
    "not known", and its pictures get no instant. Pure: the same input gives the same readings.
    """
    given = evidence or Evidence()
    by_id = {photo.id: photo for photo in photos}
    names = name_pictures(photos)
    chosen = {choice.body: choice for choice in given.choices}
    nominals = [read_nominal(body, by_id, chosen.get(body.key)) for body in list_bodies(photos)]
    places = {photo.id: photo.place for photo in photos if photo.place}
    visits = TrackVisits(given.tracks)
    pauses = list_pauses(given.tracks)
    readings: dict[str, ClockReading] = {}
    instants: dict[str, datetime] = {}
    levels: dict[str, int] = {}
    zones = _trace(given, readings, instants, places)
    for level in range(ROUNDS):
        before = dict(readings)
        for nominal in nominals:
            # Only those known before a body may speak for it, or two would vouch for each other.
            bound = levels.get(nominal.body.key, level)
            if nominal.body.key in chosen:
                bound = level  # it depends on nobody
            witnesses = {key: readings[key] for key, known in levels.items() if known < bound}
            sources = _Sources(
                given, by_id, names, places, visits, pauses, zones, witnesses, instants
            )
            choice = chosen.get(nominal.body.key)
            readings[nominal.body.key] = _read_body(nominal, sources, choice)
        # Who was read in this round bears witness in the next, so that their order is no matter.
        instants = {}
        for nominal in nominals:
            reading = readings[nominal.body.key]
            instants |= apply_reading(nominal, reading)
            if reading.state not in WITNESSES:
                levels.pop(nominal.body.key, None)
            else:
                # A body that tells its zone needs nobody, so it may speak even for those that were
                # read in the first round.
                levels.setdefault(nominal.body.key, -1 if nominal.tagged else level)
        zones = _trace(given, readings, instants, places)
        if level and readings == before:
            break
    instants |= _resolve_local(nominals, readings, places, zones)
    return Clocks(tuple(readings[n.body.key] for n in nominals), instants, zones)


@dataclass(frozen=True, slots=True)
class _Sources:
    given: Evidence
    photos: Mapping[str, Photo]
    names: Mapping[str, str]
    places: Mapping[str, LonLat]
    visits: TrackVisits
    pauses: Sequence[datetime]
    zones: ZoneTimeline
    witnesses: Mapping[str, ClockReading]
    instants: Mapping[str, datetime]


def read_nominal(
    body: Body, photos: Mapping[str, Photo], choice: ClockChoice | None = None
) -> Nominal:
    """Give the body's pictures by its own clock, with the zones its files tell taken off.

    They are left out of account where the person chose another setting.
    """
    local: dict[str, datetime] = {}
    tags: list[tuple[datetime, int]] = []
    for photo in body.photos:
        taken = photos[photo].taken
        assert taken is not None
        local[photo] = taken.local.replace(tzinfo=None)
        if taken.offset_minutes is not None:
            tags.append((local[photo], taken.offset_minutes))
    placed = any(photos[p].place or photos[p].gps_utc for p in body.photos)
    if len(tags) <= TAGGED_SHARE * len(local) or (choice and not choice.keeps_tags):
        return Nominal(body, local, False, placed)
    tags.sort()
    shown = {}
    for photo, wall in local.items():
        taken = photos[photo].taken
        assert taken is not None
        own = taken.offset_minutes
        shown[photo] = wall - timedelta(minutes=_nearest_tag(tags, wall) if own is None else own)
    return Nominal(body, shown, True, placed)


def _nearest_tag(tags: Sequence[tuple[datetime, int]], wall: datetime) -> int:
    index = bisect_left(tags, (wall, 0))
    return min(tags[max(0, index - 1) : index + 1], key=lambda t: abs(t[0] - wall))[1]


def _read_body(nominal: Nominal, sources: _Sources, choice: ClockChoice | None) -> ClockReading:
    others = {
        key: [sources.instants[p] for p in reading.body.photos if p in sources.instants]
        for key, reading in sources.witnesses.items()
    }
    sure = {
        photo: sources.instants[photo]
        for reading in sources.witnesses.values()
        for photo in reading.body.photos
        if photo in sources.instants
    }
    own_places = {p: sources.places[p] for p in nominal.shown if p in sources.places}
    hints = [
        *find_tag_hint(nominal),
        *find_gps_hints(nominal, sources.photos),
        *find_local_hint(nominal, sources.photos),
        *find_clock_hints(
            nominal, own_places, sources.given.clock_pictures, sources.zones, sources.names
        ),
        *find_track_hints(nominal, own_places, sources.visits),
        *find_event_hints(nominal, own_places, sources.given.anchors),
        *find_pair_hints(nominal, sources.given.pairs, sure, sources.names),
    ]
    if sources.zones.sightings:
        # Where no zone is known a clock set on the way would go unseen: one part of the pictures
        # keeps time with the others, and would speak for all.
        changes = sources.zones.changes()
        hints += find_rhythm_hints(nominal, others, changes)
        hints += find_pause_hints(nominal, sources.pauses, changes)
    return _judge_body(nominal, hints, sources, choice)


def _judge_body(
    nominal: Nominal, hints: Sequence[Hint], sources: _Sources, choice: ClockChoice | None
) -> ClockReading:
    pictures = sorted(nominal.shown.values())
    changes = sources.zones.changes()
    # Where every file tells its zone, the clock followed the journey and nothing was set by hand.
    if nominal.tagged:
        changes = ()
    unseen = not nominal.tagged and not sources.zones.sightings
    spans, found = read_spans(hints, pictures, changes, unseen=unseen)
    confidence = _confidence(found)
    state = State.UNKNOWN
    if nominal.tagged and not any(_is_off(span.ahead_s, span.error_s) for span in spans):
        state, spans = State.OWN, ()
    elif spans:
        errors = [s.error_s for s in spans if isfinite(s.error_s)]
        state = State.KNOWN if max(errors) <= SURE_S else State.ROUGH
    rows = tabulate_evidence(hints, spans, found)
    if choice is not None:
        state, spans = State.CHOSEN, read_choice(choice, nominal)
    words = describe_clock(nominal, state, spans, rows, found, choice)
    return ClockReading(nominal.body, state, spans, confidence, rows, words, choice)


def _is_off(ahead_s: float, error_s: float) -> bool:
    return abs(ahead_s) > max(OWN_SLIP_S, error_s)


def _confidence(found: Sequence[Consensus]) -> float:
    """Give the least share of any span's weight that speaks for its value, one doubt added."""
    return min((c.support / (c.support + c.rival + 1.0) for c in found), default=0.0)


def apply_reading(nominal: Nominal, reading: ClockReading) -> dict[str, datetime]:
    """Give the instants (aware, UTC) of a body's pictures; none where its clock is not known."""
    if reading.state is State.UNKNOWN or (reading.choice and reading.choice.local):
        return {}
    instants = {}
    for photo, shown in nominal.shown.items():
        span = reading.span_at(shown)
        if span is not None and not isfinite(span.error_s):
            continue
        ahead_s = span.ahead_at(shown) if span else 0.0
        instants[photo] = (shown - timedelta(seconds=ahead_s)).replace(tzinfo=UTC)
    return instants


def _trace(
    given: Evidence,
    readings: Mapping[str, ClockReading],
    instants: Mapping[str, datetime],
    places: Mapping[str, LonLat],
) -> ZoneTimeline:
    """Give the zones passed, by tracks, calendar and the bodies that tell their zone themselves.

    A place given by hand may be wrong, and would look like a flight and back; so those of other
    bodies count only where there is nothing else.
    """
    seen: list[tuple[datetime, LonLat]] = []
    for track in given.tracks:
        for segment in track.segments:
            last = None
            for fix in segment:
                if last is None or fix.utc - last >= TRACK_STEP or fix is segment[-1]:
                    seen.append((fix.utc, fix.place))
                    last = fix.utc
    for anchor in given.anchors:
        seen += [(anchor.first, anchor.place), (anchor.last, anchor.place)]
    for states in ((State.OWN,), tuple(State)):
        for reading in readings.values():
            if reading.state in states:
                pictures = [p for p in reading.body.photos if p in places and p in instants]
                seen += [(instants[p], places[p]) for p in pictures]
        if seen:
            break
    return trace_zones(seen)


def _resolve_local(
    nominals: Sequence[Nominal],
    readings: Mapping[str, ClockReading],
    places: Mapping[str, LonLat],
    zones: ZoneTimeline,
) -> dict[str, datetime]:
    """Give the instants of clocks that the person says always showed local time."""
    instants = {}
    for nominal in nominals:
        choice = readings[nominal.body.key].choice
        if choice is None or not choice.local:
            continue
        for photo, shown in nominal.shown.items():
            place = places.get(photo)
            wall = shown - timedelta(seconds=choice.slip_s)
            zone = (find_zone(place) if place else None) or zones.zone_at(wall.replace(tzinfo=UTC))
            if zone is not None:
                instants[photo] = instant_of(wall, zone)
    return instants

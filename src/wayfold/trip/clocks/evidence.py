"""Gather what tells of a body's clock: one list of hints, whatever their source."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from wayfold.base.days import say_day
from wayfold.base.world import LonLat
from wayfold.photos.model import Photo
from wayfold.trip.clocks.model import (
    Anchor,
    Body,
    ClockChoice,
    ClockPicture,
    Hint,
    Kind,
    ScenePair,
)
from wayfold.trip.earth import distance_m
from wayfold.trip.tracks import Track
from wayfold.trip.zones import find_zone, instant_of, offset_minutes
from wayfold.trip.zones_timeline import ZoneTimeline

THIN_S = 60.0
"""Pieces of one kind this close together are one piece: a burst proves no more than a picture."""
GPS_WEIGHT = 2.0
LOCAL_WEIGHT = 1.0
LOCAL_S = 120.0
CLOCK_WEIGHT = 100.0
EVENT_WEIGHT = 0.5
EVENT_M = 1000.0
TAG_WEIGHT = 3.0
PHONE_TAG_WEIGHT = 12.0
"""A body that writes both zone and position is a telephone or as good; it takes a lot to doubt."""


@dataclass(frozen=True, slots=True)
class Evidence:
    """All that is known beside the pictures themselves.

    ``pairs`` of pictures of one scene; ``anchors`` from calendars (of a flight two: at the one
    airport until it leaves, at the other from when it lands); ``clock_pictures`` and ``choices``
    from the person.
    """

    tracks: tuple[Track, ...] = ()
    pairs: tuple[ScenePair, ...] = ()
    anchors: tuple[Anchor, ...] = ()
    clock_pictures: tuple[ClockPicture, ...] = ()
    choices: tuple[ClockChoice, ...] = ()


@dataclass(frozen=True, slots=True)
class Nominal:
    """A body's pictures as its clock had them: naive, less the zone in the file where it has one.

    ``tagged``: most files tell a zone, so ``shown`` is the body's own idea of UTC. A file without
    a zone in between (an edited copy) gets that of its nearest neighbour.
    """

    body: Body
    shown: Mapping[str, datetime]
    tagged: bool
    placed: bool


def find_gps_hints(nominal: Nominal, photos: Mapping[str, Photo]) -> list[Hint]:
    """Give a hint for each reading of the receiver's clock.

    A receiver repeats its last fix, so the stamp is never later than the picture: of the pictures
    with one stamp the first lies nearest to it.
    """
    by_stamp: dict[datetime, datetime] = {}
    for photo, shown in nominal.shown.items():
        stamp = photos[photo].gps_utc
        if stamp is not None:
            by_stamp[stamp] = min(shown, by_stamp.get(stamp, shown))
    hints = []
    for stamp, shown in sorted(by_stamp.items()):
        ahead_s = (shown - stamp.replace(tzinfo=None)).total_seconds()
        words = f"receiver {stamp:%H:%M:%S} UTC on {say_day(stamp)}"
        hints.append(Hint(Kind.GPS, shown, ahead_s, ahead_s, GPS_WEIGHT, words))
    return hints


def find_local_hint(nominal: Nominal, photos: Mapping[str, Photo]) -> list[Hint]:
    """Give a hint if the clock showed the local time of a place that a receiver told, to 2 min.

    It backs a lone receiver's time: two clocks that are both wrong do not differ by just the
    zone of the place.
    """
    for photo, shown in sorted(nominal.shown.items(), key=lambda s: (s[1], s[0])):
        stamp, place = photos[photo].gps_utc, photos[photo].place
        zone = find_zone(place) if place and stamp else None
        if nominal.tagged or stamp is None or zone is None:
            continue
        zone_s = offset_minutes(stamp, zone) * 60.0
        ahead_s = (shown - stamp.replace(tzinfo=None)).total_seconds()
        if abs(ahead_s - zone_s) <= LOCAL_S:
            words = f"it showed the time of {zone}"
            return [Hint(Kind.LOCAL, shown, ahead_s, ahead_s, LOCAL_WEIGHT, words)]
    return []


def find_tag_hint(nominal: Nominal) -> list[Hint]:
    """Give the body's own word that it was right, where its files tell the zone."""
    if not nominal.tagged:
        return []
    times = sorted(nominal.shown.values())
    weight = PHONE_TAG_WEIGHT if nominal.placed else TAG_WEIGHT
    words = "the files tell their zone themselves"
    return [Hint(Kind.TAG, times[len(times) // 2], 0.0, 0.0, weight, words)]


def find_pair_hints(
    nominal: Nominal,
    pairs: Iterable[ScenePair],
    sure: Mapping[str, datetime],
    names: Mapping[str, str],
) -> list[Hint]:
    """Give a hint for each scene that a picture of known time (``sure``, aware) shows too.

    ``names`` are what to call pictures in words, by id.
    """
    hints = []
    for pair in pairs:
        for mine, theirs in ((pair.one, pair.other), (pair.other, pair.one)):
            if mine in nominal.shown and theirs in sure and theirs not in nominal.shown:
                shown = nominal.shown[mine]
                ahead_s = (shown - sure[theirs].replace(tzinfo=None)).total_seconds()
                words = f"same scene as {names[theirs]}"
                hints.append(Hint(Kind.SCENE, shown, ahead_s, ahead_s, pair.weight, words))
    return _thin(hints)


def find_event_hints(
    nominal: Nominal, places: Mapping[str, LonLat], anchors: Iterable[Anchor]
) -> list[Hint]:
    """Give a hint for each picture whose place is that of an event in the calendar."""
    hints = []
    for anchor in anchors:
        for photo, shown in nominal.shown.items():
            place = places.get(photo)
            if place is not None and distance_m(place, anchor.place) <= EVENT_M:
                low_s = (shown - anchor.last.replace(tzinfo=None)).total_seconds()
                high_s = (shown - anchor.first.replace(tzinfo=None)).total_seconds()
                words = anchor.words or "an event in the calendar"
                hints.append(Hint(Kind.EVENT, shown, low_s, high_s, EVENT_WEIGHT, words))
    return _thin(hints)


def find_clock_hints(
    nominal: Nominal,
    places: Mapping[str, LonLat],
    clocks: Iterable[ClockPicture],
    zones: ZoneTimeline,
    names: Mapping[str, str],
) -> list[Hint]:
    """Give a hint for each clock the person pointed at; ``names`` are what to call pictures.

    Its zone is the one named, that of the picture's place, or the one the party was in about
    then; a clock whose zone cannot be told gives none. A time without seconds is that minute.
    """
    hints = []
    for clock in clocks:
        if clock.photo not in nominal.shown:
            continue
        place = places.get(clock.photo)
        zone = clock.zone or (find_zone(place) if place else None)
        zone = zone or zones.zone_at(clock.shown.replace(tzinfo=UTC))
        if zone is None:
            continue
        utc = instant_of(clock.shown, zone).replace(tzinfo=None)
        shown = nominal.shown[clock.photo]
        high_s = (shown - utc).total_seconds()
        low_s = high_s if clock.shown.second or clock.shown.microsecond else high_s - 60.0
        words = f"{names[clock.photo]} shows a clock at {clock.shown:%H:%M:%S} ({zone})"
        hints.append(Hint(Kind.CLOCK_PICTURE, shown, low_s, high_s, CLOCK_WEIGHT, words))
    return hints


def _thin(hints: Sequence[Hint]) -> list[Hint]:
    """Give one of each bunch that neither clock nor evidence tells apart, the heaviest first."""
    kept: list[Hint] = []
    for hint in sorted(hints, key=lambda h: (-h.weight, h.shown, h.low_s)):
        same = any(
            abs((hint.shown - other.shown).total_seconds()) <= THIN_S
            and abs(hint.low_s - other.low_s) <= THIN_S
            and abs(hint.high_s - other.high_s) <= THIN_S
            for other in kept
        )
        if not same:
            kept.append(hint)
    return sorted(kept, key=lambda h: (h.shown, h.low_s))

"""The cameras' clocks at the desk: what is known of each, with the evidence, side by side."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from math import isfinite
from statistics import median

from wayfold.app.session import Session
from wayfold.photos.model import Photo
from wayfold.trip.clocks.bodies import name_pictures
from wayfold.trip.clocks.model import ClockReading, EvidenceRow, State
from wayfold.trip.model import Moment, Trip
from wayfold.trip.zones import find_zone, instant_of, offset_minutes

STATES = {
    State.CHOSEN: "chosen",
    State.OWN: "own",
    State.KNOWN: "known",
    State.ROUGH: "rough",
    State.UNKNOWN: "unknown",
}
AGREE_S = 60.0
"""Pictures later or less late than the others by no more than this are as late."""


@dataclass(frozen=True, slots=True)
class EvidenceView:
    """One kind of evidence: how many pieces, how many agree, and an example."""

    kind: str
    pieces: int
    agreeing: int
    words: str


@dataclass(frozen=True, slots=True)
class ShownView:
    """A picture of a right clock, as the person said; ``name`` is its file's name."""

    photo: str
    name: str
    shows: datetime
    zone: str | None


@dataclass(frozen=True, slots=True)
class ClockPictures:
    """A camera's pictures in the order it took them, in columns.

    ``at_s`` are instants as they are now known or taken for, in seconds since 1970 UTC;
    ``shown_s`` is what the camera's clock showed, counted as if it were UTC.
    """

    photo: tuple[str, ...]
    of: tuple[str, ...]
    name: tuple[str, ...]
    aspect: tuple[float, ...]
    at_s: tuple[int, ...]
    shown_s: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class ClockView:
    """What is known of one camera's clock; ``name`` is the body's without its serial number.

    ``late_s`` is how late the clock was against the local time of its pictures (early if
    negative), as it is now taken to have been; ``steady`` whether it was so all the way, and
    ``crosses`` whether local time changed meanwhile.
    ``error_s`` is what the reading keeps within; None where nothing is known, or nothing read.
    ``line`` is the person's own line; ``shown`` the clocks they pointed at in its pictures.
    """

    body: str
    name: str
    state: str
    words: str
    error_s: float | None
    late_s: float
    steady: bool
    crosses: bool
    line: str | None
    evidence: tuple[EvidenceView, ...]
    shown: tuple[ShownView, ...]
    pictures: ClockPictures


@dataclass(frozen=True, slots=True)
class ClocksView:
    """All clocks, and the party's local time: ``zones`` are (since when in s, minutes east)."""

    clocks: tuple[ClockView, ...]
    zones: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class LocalTime:
    """The local time where the party was: minutes east of UTC seen at instants (aware, UTC)."""

    seen: tuple[tuple[datetime, int], ...]

    def offset_at(self, utc: datetime) -> int:
        """Give the minutes east of UTC at the sighting nearest in time; 0 where there is none."""
        index = bisect_left(self.seen, utc, key=lambda s: s[0])
        around = self.seen[max(0, index - 1) : index + 1]
        return min(around, key=lambda s: abs(s[0] - utc), default=(utc, 0))[1]

    def tell(self, utc: datetime) -> datetime:
        """Give the local time (naive) there at an instant (aware, UTC)."""
        local = utc.astimezone(UTC) + timedelta(minutes=self.offset_at(utc))
        return local.replace(tzinfo=None)

    def take_for(self, local: datetime) -> datetime:
        """Give the instant (aware, UTC) that a local time (naive) there is most likely."""
        about = local.replace(tzinfo=UTC)
        about -= timedelta(minutes=self.offset_at(about))
        return local.replace(tzinfo=UTC) - timedelta(minutes=self.offset_at(about))

    def list_changes(self) -> tuple[tuple[int, int], ...]:
        """Give the minutes east with the instants (s since 1970) from which they were seen."""
        changes: list[tuple[int, int]] = []
        for utc, east in self.seen:
            if not changes or changes[-1][1] != east:
                changes.append((int(utc.timestamp()), east))
        return tuple(changes)


def trace_local_time(trip: Trip) -> LocalTime:
    """Give the party's local time by the pictures that tell it.

    Where no clock is known, a picture with a place is taken to show the local time there.
    """
    known = [(m.utc, m.zone) for m in trip.moments if m.utc and m.zone]
    if not known:
        for moment in trip.moments:
            zone = find_zone(moment.place) if moment.place else None
            if zone and moment.local:
                known.append((instant_of(moment.local, zone), zone))
    return LocalTime(tuple(sorted((utc, round(offset_minutes(utc, zone))) for utc, zone in known)))


def view_clocks(session: Session) -> ClocksView:
    """Give what is known of every clock now."""
    results = session.results
    times = trace_local_time(results.trip)
    moments = {moment.photo: moment for moment in results.trip.moments}
    names = name_pictures(results.catalogue.photos)
    lines = {clock.body: clock.line for clock in results.book.journey.clocks}
    models = [reading.body.key.rpartition(" ")[0] for reading in results.trip.clocks]
    clocks = []
    for reading, model in zip(results.trip.clocks, models, strict=True):
        mine = set(reading.body.photos)
        shown = tuple(
            ShownView(photo, names[photo], said.shows, said.zone)
            for said in results.book.journey.clocks_shown
            for photo in mine
            if said.photo in (photo, names[photo])
        )
        late = list_lateness(reading, results.photos, moments)
        errors = [span.error_s for span in reading.spans if isfinite(span.error_s)]
        body = reading.body.key
        pictures = _list_pictures(reading, results.photos, moments, names, times)
        offsets = {times.offset_at(datetime.fromtimestamp(at_s, UTC)) for at_s in pictures.at_s}
        clocks.append(
            ClockView(
                body,
                # Two bodies of one model are told apart by what follows it.
                model if model and models.count(model) == 1 else body,
                STATES[reading.state],
                _say_state(reading),
                max(errors, default=None) if reading.state is not State.CHOSEN else None,
                median(late),
                max(late) - min(late) <= AGREE_S,
                len(offsets) > 1,
                lines.get(body),
                tuple(_view_evidence(row) for row in reading.evidence),
                shown,
                pictures,
            )
        )
    return ClocksView(tuple(clocks), times.list_changes())


def list_lateness(
    reading: ClockReading, photos: Mapping[str, Photo], moments: Mapping[str, Moment]
) -> Sequence[float]:
    """Give for each picture of a camera how late its clock was against local time, in s."""
    late = []
    for name in reading.body.photos:
        local = moments[name].local
        assert local is not None
        late.append((local.replace(fold=0) - shown_at(photos[name])).total_seconds())
    return late


def shown_at(photo: Photo) -> datetime:
    """Give what the camera's clock showed (naive)."""
    assert photo.taken is not None
    return photo.taken.local.replace(tzinfo=None, fold=0)


def _say_state(reading: ClockReading) -> str:
    said = reading.words.removeprefix(f"{reading.body.key}: ")
    # The sentence ends with what to do in a terminal; the room offers its own ways.
    said = said.split(" Point at a picture")[0]
    return said[0].upper() + said[1:]


def _view_evidence(row: EvidenceRow) -> EvidenceView:
    return EvidenceView(row.kind.value, row.pieces, row.agreeing, row.words.removeprefix("e.g. "))


def _list_pictures(
    reading: ClockReading,
    photos: Mapping[str, Photo],
    moments: Mapping[str, Moment],
    names: Mapping[str, str],
    times: LocalTime,
) -> ClockPictures:
    mine = [photos[name] for name in reading.body.photos]
    instants = []
    for photo in mine:
        moment = moments[photo.id]
        assert moment.local is not None
        instants.append(int((moment.utc or times.take_for(moment.local)).timestamp()))
    return ClockPictures(
        tuple(photo.id for photo in mine),
        tuple(photo.content[:8] for photo in mine),
        tuple(names[photo.id] for photo in mine),
        tuple(round(photo.size.aspect, 4) for photo in mine),
        tuple(instants),
        tuple(int(shown_at(photo).replace(tzinfo=UTC).timestamp()) for photo in mine),
    )

"""What is known of the journey's times beside the photographs: tracks, and the person's words."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path, PurePath

from wayfold.app.picture_files import FileList, list_files
from wayfold.base.errors import NotFoundError, UserError
from wayfold.base.findings import Finding, Severity
from wayfold.base.memory import Memory
from wayfold.book.trip_choices import ClockShown, TripChoices
from wayfold.photos.model import Photo
from wayfold.project.files import BookFolder
from wayfold.trip.clocks.chosen import read_clock_line
from wayfold.trip.clocks.evidence import Evidence
from wayfold.trip.clocks.model import Anchor, ClockPicture
from wayfold.trip.tracks import Track
from wayfold.trip.tracks_gpx import parse_gpx
from wayfold.trip.zones import load_zone

TRIP_FILE = "trip.toml"


def gather_evidence(
    folder: BookFolder,
    journey: TripChoices,
    photos: Sequence[Photo],
    anchors: tuple[Anchor, ...] = (),
    memory: Memory | None = None,
) -> Evidence:
    """Read the tracks in the book's folder, and what ``trip.toml`` says of clocks.

    ``anchors`` are those of the bookings. Tracks in ``memory`` are not read again.

    A track that cannot be read is a finding, and the rest goes on. Raises UserError where a line
    on a clock is none, NotFoundError where the photograph of a clock is not there.
    """
    return Evidence(
        anchors=anchors,
        tracks=read_tracks(folder, memory),
        clock_pictures=tuple(_find_clock_picture(shown, photos) for shown in journey.clocks_shown),
        choices=tuple(
            read_clock_line(clock.body, clock.line, f'{TRIP_FILE}, [clocks] "{clock.body}"')
            for clock in journey.clocks
        ),
    )


def read_tracks(folder: BookFolder, memory: Memory | None = None) -> tuple[Track, ...]:
    """Read the tracks in the book's folder; one that cannot be read is empty, with a finding.

    Those in ``memory`` that lie there as they did are not read again.
    """
    memory = memory or Memory()
    return tuple(
        memory.recall(_read_track, folder, path, list_files([path]), at=path)
        for path in folder.list_tracks()
    )


def _read_track(folder: BookFolder, path: Path, _seen: FileList) -> Track:
    name = folder.name_of(path)
    try:
        return parse_gpx(path.read_bytes(), name)
    except UserError as error:
        what, remedy = error.what, error.remedy
    except OSError as error:
        what, remedy = (
            f"The file cannot be read: {error.strerror}.",
            "Look whether it is all there.",
        )
    return Track(name, findings=(Finding("tracks.unread", Severity.WARN, name, what, remedy),))


def _find_clock_picture(shown: ClockShown, photos: Sequence[Photo]) -> ClockPicture:
    found = [p for p in photos if shown.photo in (p.id, PurePath(p.path).name)]
    where = f"{TRIP_FILE}, [[clock_picture]]"
    if not found:
        raise NotFoundError(
            f"There is no photograph {shown.photo!r} with a clock in it.",
            where=where,
            remedy="Write its file's name as it lies in the folder of photographs.",
        )
    if len(found) > 1:
        raise UserError(
            f"{len(found)} photographs are called {shown.photo!r}.",
            where=where,
            remedy=f"Write the id of the one you mean: {', '.join(p.id for p in found)}.",
        )
    if shown.zone is not None:
        try:
            load_zone(shown.zone)
        except UserError as error:
            raise UserError(error.what, where=where, remedy=error.remedy) from error
    return ClockPicture(found[0].id, shown.shows, shown.zone)

"""What the photographs do not tell about the journey, as findings."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from wayfold.base.findings import Finding, Severity
from wayfold.photos.model import Photo
from wayfold.trip.model import Day, Moment

LONG_PAUSE_DAYS = 60


def judge_trip(
    photos: Sequence[Photo], moments: Sequence[Moment], days: Sequence[Day]
) -> tuple[Finding, ...]:
    """Give the findings on a trip: no pictures, no times, no places, a clock that looks wrong."""
    if not photos:
        return (_note("trip.empty", "There are no photographs to build a journey from."),)
    findings = [*_judge_times(photos), *_judge_places(photos, moments), *_judge_pauses(days)]
    if len(photos) == 1:
        findings.append(_note("trip.single", "The journey has one photograph only."))
    return tuple(findings)


def _judge_times(photos: Sequence[Photo]) -> list[Finding]:
    undated = [p for p in photos if p.taken is None]
    if not undated:
        return []
    if len(undated) == len(photos):
        what = f"None of your {_count(photos)} tells its time, so they stay in order of name."
        remedy = "Add the originals from the camera, which carry the time, or name them in order."
    else:
        what = (
            f"{len(undated)} of your {_count(photos)} tell no time and stand at the end: "
            f"{_list_names(undated)}."
        )
        remedy = "Use the originals from the camera for these, or leave them out of the book."
    return [Finding("trip.undated", Severity.WARN, "photographs", what, remedy)]


def _judge_places(photos: Sequence[Photo], moments: Sequence[Moment]) -> list[Finding]:
    lost = [m for m in moments if m.stop is None and m.local is not None]
    if not any(p.place for p in photos):
        what = f"None of your {_count(photos)} tells its place, so the chapters go by days."
        remedy = "Pictures from a telephone usually carry places; a few a day are enough."
        return [Finding("trip.placeless", Severity.NOTE, "photographs", what, remedy)]
    if not lost:
        return []
    one = len(lost) == 1
    what = (
        f"For {len(lost)} of your {_count(photos)} no town could be found: "
        + ("it carries no place and lies" if one else "they carry no place and lie")
        + f" hours from those that do, or {'was' if one else 'were'} taken far from any town. "
        + f"{'It goes' if one else 'They go'} with the pictures nearest in time."
    )
    return [_note("trip.lost", what)]


def _judge_pauses(days: Sequence[Day]) -> list[Finding]:
    found = []
    for before, after in pairwise(days):
        pause = (after.date - before.date).days
        if pause > LONG_PAUSE_DAYS:
            what = f"Between {before.date} and {after.date} lie {pause} days without a picture."
            remedy = (
                "If that was not so, a camera's clock was wrong, or a picture is of another trip."
            )
            found.append(Finding("trip.pause", Severity.WARN, f"{after.date}", what, remedy))
    return found


def _note(rule: str, what: str) -> Finding:
    return Finding(rule, Severity.NOTE, "photographs", what)


def _count(photos: Sequence[Photo]) -> str:
    return "1 photograph" if len(photos) == 1 else f"{len(photos):,} photographs"


def _list_names(photos: Sequence[Photo], most: int = 3) -> str:
    names = sorted(p.path.rsplit("/", 1)[-1] for p in photos)
    more = f" and {len(names) - most} more" if len(names) > most else ""
    return ", ".join(names[:most]) + more

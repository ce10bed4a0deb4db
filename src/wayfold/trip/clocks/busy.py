"""Moments at which a camera was busy, against those at which something else was."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from itertools import pairwise

from wayfold.trip.clocks.evidence import Nominal
from wayfold.trip.clocks.model import Hint, Kind
from wayfold.trip.clocks.rhythm import compare_rhythms
from wayfold.trip.tracks import Track
from wayfold.trip.tracks_pauses import find_pauses
from wayfold.trip.zones_timeline import ZoneChange

RHYTHM_WEIGHT = 2.5
PAUSE_WEIGHT = 2.0
"""Not enough alone: people also stand still for other reasons, and photograph as they walk."""


def list_pauses(tracks: Sequence[Track]) -> tuple[datetime, ...]:
    """Give the middles (naive, UTC) of all short pauses on the tracks, in order."""
    pauses = [pause for track in tracks for pause in find_pauses(track.fixes)]
    return tuple(sorted((p.first + (p.last - p.first) / 2).replace(tzinfo=None) for p in pauses))


def find_rhythm_hints(
    nominal: Nominal,
    others: Mapping[str, Sequence[datetime]],
    changes: Sequence[ZoneChange],
) -> list[Hint]:
    """Give a hint for each sure body (key -> aware instants) that was busy at the same moments.

    One for each stretch between ``changes``, for the clock may have been set there.
    """
    hints = []
    for key, instants in sorted(others.items()):
        plain = sorted(i.replace(tzinfo=None) for i in instants)
        hints += _compare(nominal, plain, changes, Kind.RHYTHM, f"busy when {key} was")
    return hints


def find_pause_hints(
    nominal: Nominal, pauses: Sequence[datetime], changes: Sequence[ZoneChange]
) -> list[Hint]:
    """Give a hint for each stretch in which pictures were taken while the tracks stood still.

    ``pauses`` as of ``list_pauses``. It tells a time even of pictures whose place nobody knows.
    """
    return _compare(nominal, pauses, changes, Kind.PAUSE, "busy when the track stood still")


def _compare(
    nominal: Nominal,
    sure: Sequence[datetime],
    changes: Sequence[ZoneChange],
    kind: Kind,
    words: str,
) -> list[Hint]:
    mine = sorted(nominal.shown.values())
    edges = [datetime.min, *(c.last for c in changes), datetime.max]
    hints = []
    for first, last in pairwise(edges):
        within = [s for s in sure if first <= s < last]
        found = compare_rhythms(mine, within)
        if found is not None:
            said = f"{words} (score {found.score:.0f}, next {found.next_score:.0f})"
            shown = within[len(within) // 2] + timedelta(seconds=found.ahead_s)
            weight = RHYTHM_WEIGHT if kind is Kind.RHYTHM else PAUSE_WEIGHT
            hints.append(Hint(kind, shown, found.ahead_s, found.ahead_s, weight, said))
    return hints

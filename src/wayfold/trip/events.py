"""Events: runs of pictures between pauses that are long for their own stretch of the journey.

Pictures come in bursts, and what is a pause among holiday snaps is none on a long walk, so a pause
is held against its neighbours: the rule of J. Platt, M. Czerwinski and B. Field, "PhotoTOC", 2003
(log gap at least K above the mean of the log gaps within ``REACH`` on either side). A change of
place counts as a longer pause.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from wayfold.trip.earth import distance_m
from wayfold.trip.model import Moment

REACH = 10
"""So many pauses on either side say what is usual."""
PARTS = 17.0
"""A pause this many times the usual one parts two events (the paper's own value)."""
LEAST_S = 1.0
"""Shots of one second are a second apart."""
NEAR_M = 50.0
"""About how far one walks round a thing while taking it."""
PLACE_WEIGHT = 0.5
"""How much a way counts beside a pause: 15 times ``NEAR_M`` weigh as a pause four times as long."""


def find_events(moments: Sequence[Moment]) -> tuple[int, ...]:
    """Give each moment, in order of time, the number of its event, from 0.

    Where the times are not known, everything after belongs to the event before.
    """
    numbers = [0] * len(moments)
    for index, weight in enumerate(weigh_pauses(moments), start=1):
        numbers[index] = numbers[index - 1] + (weight >= math.log(PARTS))
    return tuple(numbers)


def weigh_pauses(moments: Sequence[Moment]) -> list[float]:
    """Give for each two neighbours how far the log of their pause is above the usual about it."""
    logs = [_log_pause(one, other) for one, other in pairwise(moments)]
    weights = []
    for index, log in enumerate(logs):
        around = logs[max(0, index - REACH) : index + REACH + 1]
        weights.append(log - sum(around) / len(around))
    return weights


def _log_pause(one: Moment, other: Moment) -> float:
    first, last = (one.utc, other.utc) if one.utc and other.utc else (one.local, other.local)
    seconds = (last - first).total_seconds() if first and last else LEAST_S
    log = math.log(max(LEAST_S, seconds))
    if one.place and other.place:
        log += PLACE_WEIGHT * math.log1p(distance_m(one.place, other.place) / NEAR_M)
    return log

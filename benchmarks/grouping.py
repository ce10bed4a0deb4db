"""Events told from each other by the times of their pictures: a simulation, not a labelled set.

No set of picture times with events named by people comes with an open package, so journeys are
made up: ``python -m benchmarks.grouping``. A day has three to eight events (a market, a church, a
walk). An event has a pace of its own, a picture every 8 s to 4 min (log-uniform), and gaps about
it that are log-normal (sigma 1.1 of the natural log): bursts and rests, as capture times are known
to be (U. Gargi, 2003, finds them fractal). It has 2 to 40 pictures (log-uniform). Between events
lie 12 min to 3 h (log-uniform), in four of five with a way of 0.2 to 8 km; half the cameras know
places. Nights are left out: a day ends every event whatever the rule.

The second table shows what it does to pages: of the groups that ``story.grouping`` makes of the
pictures taken, the share that runs two events together; without events, with those found, and with
the true ones, which is the least there can be: an event with one picture taken finds company.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Sequence
from datetime import datetime, timedelta
from itertools import pairwise
from statistics import median

from wayfold.base.world import LonLat
from wayfold.story.entries import Entry
from wayfold.story.grouping import divide_into_groups
from wayfold.trip.events import find_events
from wayfold.trip.model import Moment

JOURNEYS, DAYS = 40, 10
METRES_A_DEGREE = 111_000.0


def make_day(rng: random.Random, day: int, *, placed: bool) -> tuple[list[Moment], list[int]]:
    """Give the pictures of a day and the event of each."""
    at = datetime(2025, 6, 1, 8) + timedelta(days=day, minutes=rng.uniform(0, 120))
    latitude = 45.0
    moments: list[Moment] = []
    events: list[int] = []
    for event in range(rng.randint(3, 8)):
        pace = _log_uniform(rng, 8, 240)
        for _ in range(round(_log_uniform(rng, 2, 40))):
            here = LonLat(7.0, latitude + rng.gauss(0, 20) / METRES_A_DEGREE)
            local = at.replace(microsecond=0)
            moments.append(Moment(str(len(moments)), local, 0, place=here if placed else None))
            events.append(event)
            at += timedelta(seconds=rng.lognormvariate(math.log(pace), 1.1))
        at += timedelta(seconds=_log_uniform(rng, 720, 10_800))
        if rng.random() < 0.8:
            latitude += _log_uniform(rng, 200, 8_000) / METRES_A_DEGREE
    return moments, events


def _log_uniform(rng: random.Random, low: float, high: float) -> float:
    return math.exp(rng.uniform(math.log(low), math.log(high)))


def part_at(minutes: float) -> Callable[[Sequence[Moment]], tuple[int, ...]]:
    """Give the rule that parts at every pause of so many minutes."""

    def find(moments: Sequence[Moment]) -> tuple[int, ...]:
        numbers = [0]
        for pause in _pauses(moments):
            numbers.append(numbers[-1] + (pause >= 60 * minutes))
        return tuple(numbers)

    return find


def part_at_times_median(times: float) -> Callable[[Sequence[Moment]], tuple[int, ...]]:
    """Give the rule that parts at every pause so many times the day's median."""

    def find(moments: Sequence[Moment]) -> tuple[int, ...]:
        return part_at(times * median(_pauses(moments)) / 60)(moments)

    return find


def _pauses(moments: Sequence[Moment]) -> list[float]:
    return [
        max(1.0, (b.local - a.local).total_seconds())
        for a, b in pairwise(moments)
        if a.local and b.local
    ]


def measure(find: Callable[[Sequence[Moment]], tuple[int, ...]], seed: int) -> tuple[float, ...]:
    """Give precision, recall and their harmonic mean over all boundaries of the journeys."""
    rng = random.Random(seed)
    right = found = true = 0
    for journey in range(JOURNEYS):
        moments: list[Moment] = []
        events: list[tuple[int, int]] = []
        for day in range(DAYS):
            more, of_day = make_day(rng, day, placed=journey % 2 == 0)
            moments += more
            events += [(day, event) for event in of_day]
        numbers = find(moments)
        for i in range(1, len(moments)):
            if events[i][0] != events[i - 1][0]:
                continue
            is_true, is_found = events[i] != events[i - 1], numbers[i] != numbers[i - 1]
            right += is_true and is_found
            found += is_found
            true += is_true
    precision, recall = right / max(1, found), right / true
    return precision, recall, 2 * precision * recall / max(1e-9, precision + recall)


RULES: dict[str, Callable[[Sequence[Moment]], tuple[int, ...]]] = {
    "the rule (17 times the usual pause about it, places too)": find_events,
    **{f"every pause of {m} min": part_at(m) for m in (10, 20, 30, 60)},
    **{f"{t} times the median": part_at_times_median(t) for t in (17, 30)},
}


def measure_pages(share: float, told: str, seed: int = 1) -> tuple[float, float]:
    """Give the share of mixed groups and the pictures a group, so much of all pictures taken."""
    rng = random.Random(seed)
    mixed, sizes = 0, []
    for journey in range(JOURNEYS // 2):
        days = [make_day(rng, day, placed=journey % 2 == 0) for day in range(DAYS)]
        found = iter(find_events([m for moments, _ in days for m in moments]))
        for moments, events in days:
            numbers = {"none": [0] * len(moments), "true": events}
            given = numbers.get(told) or [next(found) for _ in moments]
            taken = sorted(rng.sample(range(len(moments)), max(2, round(share * len(moments)))))
            entries = [
                Entry(str(k), moments[k].local, 0, rng.choice([0.67, 1.5]), event=given[k])
                for k in taken
            ]
            for group in divide_into_groups(entries):
                sizes.append(len(group))
                mixed += len({events[int(entry.photo)] for entry in group}) > 1
    return mixed / len(sizes), sum(sizes) / len(sizes)


if __name__ == "__main__":
    for name, rule in RULES.items():
        rows = [measure(rule, seed) for seed in range(1, 4)]
        print(f"| {name} |", *(f"{median(r[i] for r in rows):.2f} |" for i in range(3)))
    for taken_share in (1.0, 0.3, 0.1):
        for told in ("none", "found", "true"):
            rate, size = measure_pages(taken_share, told)
            print(f"| {taken_share:.0%} taken, events {told} | {rate:.3f} | {size:.1f} |")

"""How long listing thousands of pictures takes at the desk: python -m benchmarks.desk_pictures

Photographs as records only, with looks, of one camera and a dozen days; processor time, so that a
busy machine does not spoil the figures. Scrolling over real files is measured by the desk's own.
"""

from __future__ import annotations

import statistics
import time
from collections import defaultdict
from collections.abc import Callable
from datetime import date, datetime
from types import SimpleNamespace
from typing import TypeVar, cast

from benchmarks.invented_book import invent_photo
from wayfold.app.rooms.pictures import gather_facts
from wayfold.app.rooms.pictures_verdicts import gather_verdicts
from wayfold.app.sets import list_sets
from wayfold.app.stages import Results
from wayfold.base.world import LonLat
from wayfold.book.state import Book
from wayfold.desk.rooms.pictures import Facts, Verdicts, send_view
from wayfold.layout.model import BookLayout
from wayfold.trip.model import Day, Moment, Stop, Trip

COUNT = 5000
GOAL_MS, GOAL_MB = 100, 1.5
TIMES = 7
T = TypeVar("T")


def invent_results(count: int) -> Results:
    """Give what the room reads of a book of ``count`` photographs, all undecided."""
    made = [invent_photo(number, count) for number in range(count)]
    photos = sorted(made, key=lambda p: p.taken.local if p.taken else datetime.max)
    days: dict[date, list[str]] = defaultdict(list)
    moments = []
    for photo in photos:
        assert photo.taken is not None
        moments.append(Moment(photo.id, photo.taken.local, 0))
        days[photo.taken.local.date()].append(photo.id)
    first, last = min(days), max(days)
    stop = Stop("Lisbon", "PT", "Portugal", LonLat(-9.14, 38.72), first, last)
    numbered = (Day(n, day, tuple(own)) for n, (day, own) in enumerate(sorted(days.items()), 1))
    read = SimpleNamespace(
        trip=Trip(tuple(moments), tuple(numbered), (stop,)),
        book=Book("A Measured Journey"),
        photos={photo.id: photo for photo in photos},
        sets=list_sets(photos),
        layout=BookLayout(()),
    )
    return cast(Results, read)


def measure(do: Callable[[], T]) -> tuple[T, float]:
    """Give what ``do`` gives, and the median of the processor time it takes, in ms."""
    taken = []
    for _ in range(TIMES):
        start = time.process_time()
        result = do()
        taken.append(1000 * (time.process_time() - start))
    return result, statistics.median(taken)


def main() -> None:
    """Print the figures as a table."""
    results = invent_results(COUNT)
    facts, facts_ms = measure(lambda: gather_facts(results))
    verdicts, verdicts_ms = measure(lambda: gather_verdicts(results, facts))
    sent, send_ms = measure(lambda: send_view(Facts, facts))
    told, tell_ms = measure(lambda: send_view(Verdicts, verdicts))
    print(f"| {COUNT:,} pictures | ms, worked out | goal | ms, sent again | MB | goal |")
    print("|---|--:|--:|--:|--:|--:|")
    for what, ms, again, data in (
        ("facts", facts_ms, send_ms, sent.body),
        ("verdicts after a decision", verdicts_ms, tell_ms, told.body),
    ):
        size = len(data) / 1e6
        print(f"| {what} | {ms:.0f} | < {GOAL_MS} | {again:.1f} | {size:.2f} | < {GOAL_MB} |")


if __name__ == "__main__":
    main()

"""What the journey does not tell, or tells twice over, as findings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import timedelta
from itertools import combinations, pairwise

from wayfold.base.days import say_day
from wayfold.base.findings import Finding, Severity
from wayfold.base.mends import Mend
from wayfold.book.trip_choices import LegChoice
from wayfold.trip.bookings.model import Lodging, Source
from wayfold.trip.earth import distance_m
from wayfold.trip.journey.model import Leg, Night, Stay

NAMESAKES_M = 50_000.0
"""Two places of one name farther apart than this are two places."""
LATE = timedelta(minutes=30)


def judge_journey(
    stays: Sequence[Stay],
    legs: Sequence[Leg],
    nights: Sequence[Night],
    lodgings: Sequence[Lodging],
    missed: Sequence[LegChoice],
    booked: bool,
) -> Iterator[Finding]:
    """Give the findings on the whole. Little is said where nothing but pictures tell of it."""
    yield from _judge_names(stays)
    yield from _judge_line(legs)
    yield from _judge_lodgings(lodgings)
    yield from _judge_times(stays, legs)
    yield from _judge_not_taken(stays, legs)
    for choice in missed:
        yield _miss_leg(choice, stays, legs)
    if booked:
        yield from _judge_modes(stays, legs)
        yield from _judge_nights(nights)


def _judge_names(stays: Sequence[Stay]) -> Iterator[Finding]:
    told: set[str] = set()
    for one, other in combinations(stays, 2):
        away_m = distance_m(one.place, other.place)
        if one.name == other.name and away_m > NAMESAKES_M and one.name not in told:
            told.add(one.name)
            what = f"Two places of the journey are called {one.name}, {away_m / 1000:,.0f} km apart"
            what += f" ({one.country_name}, and {other.country_name})."
            if one.country_name == other.country_name:
                what = f"{what.split(' (')[0]}, both in {one.country_name}."
            remedy = f"Tell them apart by a fuller name: {Mend.STOPS}."
            yield Finding("journey.namesakes", Severity.WARN, "the journey", what, remedy)


def _judge_line(legs: Sequence[Leg]) -> Iterator[Finding]:
    for leg in legs:
        if not (leg.depart and leg.arrive):
            continue
        left, came = leg.depart.local, leg.arrive.local
        across = abs(leg.start_place.longitude - leg.end_place.longitude) > 180
        days = (came.date() - left.date()).days
        if across and days >= 2:
            lost = left.date() + timedelta(days=1)
            what = f"Over the date line westwards, the journey has no {say_day(lost)}."
            yield Finding("journey.date-line", Severity.NOTE, "the journey", what)
        elif across and days <= 0:
            what = (
                f"Over the date line eastwards, the journey has {say_day(came.date())} twice: it "
            )
            what += "is told as one day." if days == 0 else "goes back by a day."
            yield Finding("journey.date-line", Severity.NOTE, "the journey", what)


def _judge_lodgings(lodgings: Sequence[Lodging]) -> Iterator[Finding]:
    for one, other in combinations(lodgings, 2):
        if one.first < other.last and other.first < one.last:
            first, last = max(one.first, other.first), min(one.last, other.last)
            nights = (last - first).days
            what = f"“{one.name}” and “{other.name}” are both for "
            what += f"{nights} nights" if nights > 1 else "the night"
            what += f" from {say_day(first)}; the first counts."
            remedy = f"Leave one out ({Mend.LEAVE_OUT}), or say which it was: {Mend.LODGINGS}."
            yield Finding("journey.two-lodgings", Severity.WARN, "calendars", what, remedy)


def _judge_times(stays: Sequence[Stay], legs: Sequence[Leg]) -> Iterator[Finding]:
    for leg in legs:
        here, there = stays[leg.start], stays[leg.end]
        words = f"the leg from {here.name} to {there.name}"
        if leg.depart and here.seen_last - leg.depart.utc > LATE:
            what = f"By its times, {words} departs at {leg.depart.local:%H:%M on %d %B}, but "
            what += f"something shows the party at {here.name} after that."
        elif leg.arrive and leg.arrive.utc - there.seen_first > LATE:
            what = f"By its times, {words} arrives at {leg.arrive.local:%H:%M on %d %B}, but "
            what += f"something shows the party at {there.name} before that."
        else:
            continue
        remedy = "Either a camera's clock was wrong, or one took another flight or train: give "
        remedy += f"the true times ({Mend.LEGS})."
        yield Finding("journey.contradiction", Severity.WARN, "the journey", what, remedy)


def _judge_not_taken(stays: Sequence[Stay], legs: Sequence[Leg]) -> Iterator[Finding]:
    """Find ways after which one is seen where they began, as if they had not been taken."""
    for leg, back in pairwise(legs):
        start, end = stays[leg.start], stays[leg.end]
        if (
            leg.time_source in (Source.SAID, Source.BOOKING)
            and back.mode is None
            and end.stop is None
            and start.name == stays[back.end].name
        ):
            when = f" on {say_day(leg.depart.local.date())}" if leg.depart else ""
            what = f"A way from {start.name} to {end.name} is booked{when}, but the pictures show "
            what += f"you at {start.name} again right after it."
            remedy = f"If it was not taken, leave the event out ({Mend.LEAVE_OUT}); if it was "
            remedy += f"taken at another time, say so ({Mend.LEGS}). Or a camera's clock is wrong."
            yield Finding("journey.contradiction", Severity.WARN, "the journey", what, remedy)


def _judge_modes(stays: Sequence[Stay], legs: Sequence[Leg]) -> Iterator[Finding]:
    unknown = [leg for leg in legs if leg.mode is None]
    if unknown:
        rows = [f"{stays[leg.start].name} to {stays[leg.end].name}" for leg in unknown]
        more = f" and {len(rows) - 6} more" if len(rows) > 6 else ""
        what = f"How you travelled is not known for: {', '.join(rows[:6])}{more}."
        remedy = f"Say how you travelled, by train, road or otherwise: {Mend.LEGS}."
        yield Finding("journey.mode", Severity.NOTE, "the journey", what, remedy)


def _judge_nights(nights: Sequence[Night]) -> Iterator[Finding]:
    unknown = [n for n in nights if n.stay is None and n.leg is None and n.lodging is None]
    if unknown:
        shown = ", ".join(say_day(n.evening) for n in unknown[:6])
        more = f" and {len(unknown) - 6} more" if len(unknown) > 6 else ""
        count = "one night" if len(unknown) == 1 else f"{len(unknown)} nights"
        what = f"Where you slept is not known for {count}: {shown}{more}."
        remedy = f"Say where it was, and from which day: {Mend.LODGINGS}."
        yield Finding("journey.nights", Severity.NOTE, "the journey", what, remedy)


def _miss_leg(choice: LegChoice, stays: Sequence[Stay], legs: Sequence[Leg]) -> Finding:
    known = dict.fromkeys(f"{stays[x.start].name} to {stays[x.end].name}" for x in legs)
    return Finding(
        "journey.leg",
        Severity.WARN,
        f"trip.toml, leg from {choice.start} to {choice.end}",
        "The journey has no such leg, so what is said of it is not used.",
        f"The journey's legs are: {'; '.join(known) or 'none'}. A leg with a departure is added "
        "where its towns are known.",
    )

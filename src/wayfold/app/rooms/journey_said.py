"""What the person says of the journey at the desk: names, ways, lodgings, words on days."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from wayfold.app.session import Session
from wayfold.app.stages import Results
from wayfold.base.days import say_day
from wayfold.base.errors import ConflictError, NotFoundError, RewrittenError, UserError
from wayfold.book.edits import (
    Edit,
    LeaveOut,
    SetDayNote,
    SetLeg,
    SetLodging,
    SetStop,
    SetText,
    SetUnit,
    Unsay,
)
from wayfold.book.trip_choices import LegChoice, LodgingChoice, Mode, StopChoice, Unit
from wayfold.trip.bookings.times import LONGEST, read_said
from wayfold.trip.journey.legs import says_of
from wayfold.trip.journey.model import Leg
from wayfold.trip.journey.timeline import zone_of

FARTHEST_KM = 45_000.0
"""Longer than round the earth is a slip of the pen."""
LONGEST_WAY = timedelta(days=60)
MOST_NIGHTS = 1000


@dataclass(frozen=True, slots=True)
class LegWords:
    """What the person says of a way; None is left to what tells of it otherwise."""

    mode: str | None = None
    depart: datetime | None = None
    arrive: datetime | None = None
    service: str | None = None
    distance_km: float | None = None
    note: str | None = None


@dataclass(frozen=True, slots=True)
class LodgingWords:
    """What the person says of a lodging: ``nights`` from the evening of ``first`` on."""

    place: str
    name: str
    first: date
    nights: int = 1
    note: str = ""


def name_stop(session: Session, place: str, visit: int, name: str | None) -> None:
    """Give the ``visit``-th stay at ``place`` a name everywhere in the book; None its own again.

    ``place`` is what the journey calls it by itself. What was said of ways and lodgings there
    goes with it. Raises NotFoundError where no such stay is.
    """
    with session.hold() as results:
        said = results.book.journey
        here = [stop for stop in results.trip.stops if stop.own_name == place]
        if not 1 <= visit <= len(here):
            raise NotFoundError(f"The journey has no stay number {visit} at {place}.")
        before = here[visit - 1].name
        after = (name or "").strip() or place
        if after == before:
            return
        # One who came here once means the place, one who came often this visit.
        which = visit if len(here) > 1 else None
        edits: list[Edit] = [
            Unsay(StopChoice(place, "", visit)),
            Unsay(StopChoice(place, "", None)),
        ]
        if which is not None:
            # A name for every visit stays that of the others.
            others = [c for c in said.stops if c.key == (place, None)]
            edits += [
                SetStop(StopChoice(place, c.name, n))
                for c in others
                for n in range(1, len(here) + 1)
                if n != visit and not any(o.key == (place, n) for o in said.stops)
            ]
        if after != place:
            edits.append(SetStop(StopChoice(place, after, which)))
        if not any(s.name == before for i, s in enumerate(here) if i != visit - 1):
            edits += _rename(results, before, after)
        session.edit(*edits)


def _rename(results: Results, before: str, after: str) -> list[Edit]:
    """Give the edits that let the person's words on a place follow its name."""
    edits: list[Edit] = []
    for leg in results.book.journey.legs:
        if before in (leg.start, leg.end):
            start, end = (after if name == before else name for name in (leg.start, leg.end))
            edits += [Unsay(leg), SetLeg(replace(leg, start=start, end=end))]
    for lodging in results.book.journey.lodgings:
        if lodging.place == before:
            edits += [Unsay(lodging), SetLodging(replace(lodging, place=after))]
    return edits


def say_leg(session: Session, start: str, end: str, day: date, words: LegWords | None) -> None:
    """Say of the way of ``day`` from ``start`` to ``end`` what ``words`` say, and no more.

    None takes back all that was said. Raises ConflictError where the journey has no such way
    (any more), UserError for words that cannot be true.
    """
    with session.hold() as results:
        leg = _find_leg(results, start, end, day)
        stays = results.journey.stays
        told = [c for c in results.book.journey.legs if says_of(c, leg, stays)]
        before = max(told, key=lambda c: c.on is not None, default=None)
        edits: list[Edit] = []
        if words is None or words == LegWords():
            if before is not None:
                session.edit(Unsay(before))
            return
        _check_leg(results, leg, words)
        alike = [g for g in results.journey.legs if _ends(results, g) == (start, end)]
        said = LegChoice(
            start,
            end,
            Mode(words.mode) if words.mode else None,
            words.depart,
            words.arrive,
            words.service,
            words.distance_km,
            words.note,
            # The day tells one of several such ways from the others; a departure tells it too.
            day=day if len(alike) > 1 and words.depart is None else None,
        )
        # What was said of all such ways at once still holds for the others.
        of_all = before is not None and before.on is None and len(alike) > 1
        if before is not None and before.key != said.key and not of_all:
            edits.append(Unsay(before))
        session.edit(*edits, SetLeg(said))


def _find_leg(results: Results, start: str, end: str, day: date) -> Leg:
    for leg in results.journey.legs:
        if _ends(results, leg) == (start, end) and leg.day == day:
            return leg
    raise ConflictError(
        f"The journey has no way from {start} to {end} on {say_day(day)} (any more).",
        remedy="Look at the journey as it is now; it may have changed meanwhile.",
    )


def _ends(results: Results, leg: Leg) -> tuple[str, str]:
    stays = results.journey.stays
    return stays[leg.start].name, stays[leg.end].name


def _check_leg(results: Results, leg: Leg, words: LegWords) -> None:
    start, end = _ends(results, leg)
    where = f"the way from {start} to {end}"
    km = words.distance_km
    if km is not None and not 0 < km <= FARTHEST_KM:
        raise UserError(
            f"{km:g} km is no distance on earth.",
            where=where,
            remedy=f"Write more than 0 and at most {FARTHEST_KM:,.0f} km, or leave it empty.",
        )
    stays = results.journey.stays
    depart = read_said(words.depart, zone_of(stays[leg.start].spot)) or leg.depart
    arrive = read_said(words.arrive, zone_of(stays[leg.end].spot)) or leg.arrive
    if (words.depart is None and words.arrive is None) or not (depart and arrive):
        return
    if arrive.utc <= depart.utc:
        raise UserError(
            f"It would arrive at {arrive.local:%H:%M on %d %B} before it departs, at "
            f"{depart.local:%H:%M on %d %B}, by the clocks of both places.",
            where=where,
            remedy="Compare with the ticket, and write each time as the clocks of its own place "
            "show it.",
        )
    longest = LONGEST if words.mode == Mode.FLIGHT.value else LONGEST_WAY
    if arrive.utc - depart.utc > longest:
        raise UserError(
            f"It would take {(arrive.utc - depart.utc).days} days, longer than any such way.",
            where=where,
            remedy="Look at both dates.",
        )


def say_lodging(
    session: Session, words: LodgingWords, before: tuple[str, date] | None = None
) -> None:
    """Say where one slept; ``before`` is the place and evening of what it stands for now.

    Raises UserError where the name is empty or the nights cannot be meant.
    """
    name, place = words.name.strip(), words.place.strip()
    if not name or not place:
        raise UserError("A lodging needs a name and a place.", remedy="Write how you call it.")
    if not 1 <= words.nights <= MOST_NIGHTS:
        raise UserError(
            f"{words.nights} nights cannot be meant.",
            where=name,
            remedy=f"Write 1 to {MOST_NIGHTS:,}.",
        )
    edits: list[Edit] = []
    if before is not None and before != (place, words.first):
        edits.append(Unsay(LodgingChoice(before[0], "", before[1])))
    said = LodgingChoice(place, name, words.first, words.nights, words.note.strip() or None)
    session.edit(*edits, SetLodging(said))


def unsay_lodging(session: Session, place: str, first: date) -> None:
    """Take back what was said of a lodging; what a calendar has of it counts again."""
    session.edit(Unsay(LodgingChoice(place, "", first)))


def note_day(session: Session, day: date, note: str, was: str | None = None) -> None:
    """Write a day's line for the itinerary; an empty one takes it away.

    ``was`` is what the writer began from; RewrittenError where it has become another meanwhile.
    """
    line = " ".join(note.split())
    with session.hold() as results:
        now = next((d.note for d in results.book.journey.days if d.date == day), "")
        if was is not None and was != now:
            raise RewrittenError(kept=now)
        session.edit(SetDayNote(day, line or None))


def write_day_text(session: Session, day: date, text: str, was: str | None = None) -> None:
    """Write a day's text, in Markdown, which stands beside its pictures in the book.

    ``was`` is what the writer began from; RewrittenError where it has become another meanwhile.
    """
    key = day.isoformat()
    with session.hold() as results:
        now = results.book.texts.get(key, "")
        if was is not None and was != now:
            raise RewrittenError(kept=now)
        session.edit(SetText(key, text.rstrip() + "\n" if text.strip() else ""))


def choose_unit(session: Session, unit: str) -> None:
    """Give the distances of the book in "km" or "miles"."""
    session.edit(SetUnit(Unit(unit)))


def leave_out_event(session: Session, name: str, *, out: bool) -> None:
    """Leave the calendar's events of a name out of the journey, or take them back in."""
    with session.hold() as results:
        names = results.book.journey.left_out
        kept = tuple(n for n in names if n.casefold() != name.casefold())
        session.edit(LeaveOut((*kept, name) if out else kept))

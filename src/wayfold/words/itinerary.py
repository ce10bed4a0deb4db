"""The itinerary: a row a day with its places, ways, night and notes, and the sum of it all."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from wayfold.book.state import Book
from wayfold.drawing.text import Align, Paragraph, Run, TextStyle
from wayfold.trip.journey.model import Journey, JourneyDay, Leg
from wayfold.words.dates import EN_RULE, write_dates, write_day_month
from wayfold.words.journey_terms import JourneyTerm, say_journey, say_mode, say_weekday
from wayfold.words.numbers import write_distance, write_duration
from wayfold.words.punctuation import set_punctuation
from wayfold.words.styles import (
    style_caption,
    style_day_line,
    style_folio,
    style_small_caps,
)
from wayfold.words.tables import Cell, Table

ITINERARY = "itinerary"
HEADS = (
    JourneyTerm.DAY,
    None,
    JourneyTerm.PLACE,
    JourneyTerm.WAY,
    JourneyTerm.NIGHT,
    JourneyTerm.NOTES,
    JourneyTerm.PAGE,
)
RANKS = (9, 0, 8, 3, 2, 1, 7)
"""On a narrow page the date goes under the day's number first, then notes under the night …"""
NO_BREAK = "\N{NO-BREAK SPACE}"
THIN = "\N{THIN SPACE}"
AIR_BETWEEN_PT = 2.5
"""Between two things in one cell."""


@dataclass(frozen=True, slots=True)
class Itinerary:
    """The title with its line of totals, and the table under it."""

    title: tuple[Paragraph, ...]
    table: Table


def wants_itinerary(book: Book, journey: Journey) -> bool:
    """Whether the book has an itinerary: as the person says, else where bookings tell of it."""
    said = book.journey.itinerary
    return bool(journey.days) and (journey.booked if said is None else said)


def write_itinerary(
    book: Book, journey: Journey, pages: Mapping[date, int] | None = None
) -> Itinerary:
    """Give the itinerary. Columns that no day fills are left out.

    ``pages`` are those on which days begin; while these are not known, every day has one of three
    figures, which no page of a book is wider than.
    """
    known = dict.fromkeys((day.date for day in journey.days), 888) if pages is None else pages
    writer = _Writer(book, journey, known)
    head = tuple(writer.head(term) for term in HEADS)
    rows = tuple(writer.row(day, before) for day, before in _with_before(journey.days))
    table = Table(head, rows, RANKS).without_empty_columns()
    return Itinerary(_write_title(book, journey), table)


def _with_before(
    days: Sequence[JourneyDay],
) -> list[tuple[JourneyDay, JourneyDay | None]]:
    return list(zip(days, [None, *days], strict=False))


def _write_title(book: Book, journey: Journey) -> tuple[Paragraph, ...]:
    language = book.language
    title = Paragraph((Run(say_journey(JourneyTerm.TITLE, language)),), style_small_caps(book))
    first, last = journey.days[0].date, journey.days[-1].date
    count = len(journey.days)
    days = say_journey(JourneyTerm.ONE_DAY if count == 1 else JourneyTerm.DAYS, language)
    parts = [write_dates(first, last, language), days.format(n=count)]
    if journey.distance_m:
        parts.append(write_distance(journey.distance_m, book.journey.unit, language))
    style = replace(style_caption(book), space_before_pt=5.0)
    return title, Paragraph((Run(", ".join(parts)),), style)


class _Writer:
    """Writes the cells of one book's itinerary."""

    def __init__(self, book: Book, journey: Journey, pages: Mapping[date, int]) -> None:
        self._book, self._journey, self._language = book, journey, book.language
        self._pages = pages
        # Names are not divided; what is told may be.
        self._plain = style_folio(book)
        self._told = replace(self._plain, hyphenate=True)
        self._quiet = replace(self._plain, italic=True, colour=book.style.quiet_ink)
        names = [(stay.name, stay.country_name) for stay in journey.stays]
        self._namesakes = {name for name, _ in names if len({c for n, c in names if n == name}) > 1}

    def head(self, term: JourneyTerm | None) -> Cell:
        if term is None:
            return ()
        style = style_day_line(self._book)
        if term is JourneyTerm.PAGE:
            style = replace(style, align=Align.RIGHT)
        return (Paragraph((Run(say_journey(term, self._language)),), style),)

    def row(self, day: JourneyDay, before: JourneyDay | None) -> tuple[Cell, ...]:
        return (
            self._write_number(day.date),
            (self._paragraph(self._write_date(day.date), self._plain),),
            _spaced(self._write_places(day, before)),
            _spaced([p for index in day.legs for p in self._write_leg(self._journey.legs[index])]),
            self._write_night(day, before),
            _spaced(self._write_notes(day)),
            self._write_page(day.date),
        )

    def _write_page(self, day: date) -> Cell:
        page = self._pages.get(day)
        style = replace(self._plain, align=Align.RIGHT)
        return () if page is None else (self._paragraph(str(page), style),)

    def _write_number(self, day: date) -> Cell:
        """Give the day's number, as the day lines of the pages have it."""
        number = self._journey.number_of(day)
        return () if number is None else (self._paragraph(str(number), self._plain),)

    def _write_date(self, day: date) -> str:
        weekday = say_weekday(day.weekday(), self._language)
        return f"{weekday}{NO_BREAK}{write_day_month(day, self._language)}"

    def _write_places(self, day: JourneyDay, before: JourneyDay | None) -> list[Paragraph]:
        stays = [self._journey.stays[i] for i in day.stays]
        earlier = [self._journey.stays[i].country_name for i in before.stays] if before else []
        country = earlier[-1] if earlier else ""
        paragraphs: list[Paragraph] = []
        told: set[tuple[str, str]] = set()
        for stay in stays:
            key = (stay.name, stay.country_name)
            if stay.change or key in told:
                continue
            told.add(key)
            runs = [Run(self._text(stay.name))]
            tells_more = stay.country_name not in ("", stay.name)
            if tells_more and (stay.country_name != country or stay.name in self._namesakes):
                runs.append(Run(f", {stay.country_name}", italic=True))
            country = stay.country_name
            paragraphs.append(Paragraph(tuple(runs), self._plain))
        return paragraphs

    def _write_leg(self, leg: Leg) -> list[Paragraph]:
        start, end = self._journey.stays[leg.start], self._journey.stays[leg.end]
        ends = f"{self._text(start.name)}{NO_BREAK}{EN_RULE} {self._text(end.name)}"
        times = _write_times(leg)
        first = self._paragraph(f"{times}{NO_BREAK} {ends}" if times else ends, self._plain)
        how = " ".join(
            part for part in (say_mode(leg.mode, self._language) if leg.mode else "",
                              leg.service.replace(" ", NO_BREAK)) if part
        )  # fmt: skip
        details = [
            how,
            write_duration(leg.duration) if leg.duration else "",
            write_distance(leg.distance_m, self._book.journey.unit, self._language),
        ]
        return [first, self._paragraph(", ".join(d for d in details if d), self._quiet)]

    def _write_night(self, day: JourneyDay, before: JourneyDay | None) -> Cell:
        """Tell a lodging, or the nights at a place, on the first of its nights."""
        night, last = day.night, before.night if before else None
        if night is None:
            return ()
        if night.lodging is not None:
            if last and last.lodging == night.lodging:
                return ()
            name = self._paragraph(self._text(night.lodging.name), self._plain)
            return (name, *self._count_nights(night.lodging.nights))
        if night.leg is not None:
            aboard = say_journey(JourneyTerm.ABOARD, self._language)
            return (self._paragraph(aboard, self._quiet),)
        if night.stay is None or (last and last.stay == night.stay and not last.lodging):
            return ()
        same = [n for n in self._journey.nights if n.stay == night.stay and not n.lodging]
        return self._count_nights(len(same))

    def _count_nights(self, count: int) -> Cell:
        term = JourneyTerm.ONE_NIGHT if count == 1 else JourneyTerm.NIGHTS
        return (self._paragraph(say_journey(term, self._language).format(n=count), self._quiet),)

    def _write_notes(self, day: JourneyDay) -> list[Paragraph]:
        lines = []
        for visit in day.visits:
            at = f"{visit.at:%H:%M}{NO_BREAK} " if visit.at else ""
            lines.append(f"{at}{self._text(visit.name)}")
        legs = [self._journey.legs[index] for index in day.legs]
        lodging = day.night.lodging if day.night else None
        begins = lodging is not None and lodging.first == day.date
        notes = [day.note, *(leg.note for leg in legs), lodging.note if lodging and begins else ""]
        lines += [self._text(note) for note in notes if note]
        return [self._paragraph(line, self._told) for line in lines]

    def _text(self, text: str) -> str:
        return set_punctuation(text, self._language)

    def _paragraph(self, text: str, style: TextStyle) -> Paragraph:
        return Paragraph((Run(text),), style)


def _write_times(leg: Leg) -> str:
    """Give "09:20–15:58", and by how many days later one arrived."""
    if leg.depart is None and leg.arrive is None:
        return ""
    left = f"{leg.depart.local:%H:%M}" if leg.depart else "…"
    if leg.arrive is None:
        return left
    began = leg.depart.local.date() if leg.depart else leg.day
    later = (leg.arrive.local.date() - began).days
    sign = f"{THIN}{'+' if later > 0 else '−'}{abs(later)}" if later else ""
    return f"{left}{EN_RULE}{leg.arrive.local:%H:%M}{sign}"


def _spaced(paragraphs: Sequence[Paragraph]) -> Cell:
    """Give paragraphs with air before each that begins a thing of its own."""
    return tuple(
        replace(p, style=replace(p.style, space_before_pt=AIR_BETWEEN_PT))
        if i and not p.style.italic
        else p
        for i, p in enumerate(paragraphs)
    )

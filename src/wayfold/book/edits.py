"""Edits as values: ``apply_edit(book, edit)`` gives the book after it and touches nothing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import TypeVar

from wayfold.base.geometry import Rect
from wayfold.book.arranging import HandLaid, exchange
from wayfold.book.casing import PocketItem, Stock
from wayfold.book.planning import PinChoice, PlanChoice
from wayfold.book.state import Book, ChapterChoice, PhotoChoice, Pick
from wayfold.book.trip_choices import (
    ClockLine,
    ClockShown,
    DayNote,
    LegChoice,
    LodgingChoice,
    StopChoice,
    TripChoices,
    Unit,
)


@dataclass(frozen=True, slots=True)
class SetCaption:
    """Give a photograph a caption; None returns to the one in its file."""

    photo: str
    caption: str | None


@dataclass(frozen=True, slots=True)
class SetPicks:
    """Take or leave photographs, or make them heroes: pairs of a photograph and what is said."""

    picks: tuple[tuple[str, Pick], ...]


@dataclass(frozen=True, slots=True)
class SetCrop:
    """Show only part of a photograph (fractions of the upright picture); None shows all."""

    photo: str
    crop: Rect | None


@dataclass(frozen=True, slots=True)
class SetInterleaf:
    """Ask for a translucent leaf over a photograph, which then lies alone; or take it away."""

    photo: str
    wanted: bool


@dataclass(frozen=True, slots=True)
class SetChapterLeaf:
    """Open the chapter of a place behind a translucent leaf, or without one."""

    place: str
    wanted: bool


@dataclass(frozen=True, slots=True)
class ChoosePlan:
    """Take another of the plans on offer."""

    choice: PlanChoice


@dataclass(frozen=True, slots=True)
class HoldBlocks:
    """Hold blocks fast, each as said here alone; what is held of other blocks stays.

    A pin that says nothing lets its block go.
    """

    pins: tuple[PinChoice, ...]


@dataclass(frozen=True, slots=True)
class SetWays:
    """Lay blocks of pictures in the ways named; None leaves the choice to the layout again."""

    ways: tuple[tuple[str, str | None], ...]


@dataclass(frozen=True, slots=True)
class PlaceByHand:
    """Place the pictures of blocks; None gives a block back to the layout."""

    blocks: tuple[tuple[str, HandLaid | None], ...]


@dataclass(frozen=True, slots=True)
class ExchangePictures:
    """Let two pictures of different blocks change places."""

    one: str
    other: str


@dataclass(frozen=True, slots=True)
class SetTitle:
    """Name the chapter of a place, or the book itself where ``place`` is "".

    None returns a chapter to its place's name, and to no subtitle.
    """

    place: str
    title: str | None
    subtitle: str | None


@dataclass(frozen=True, slots=True)
class SetText:
    """Write one of the book's texts (Markdown)."""

    key: str
    text: str


@dataclass(frozen=True, slots=True)
class SetStop:
    """Name a stop, in place of what was said of it before."""

    stop: StopChoice


@dataclass(frozen=True, slots=True)
class SetLeg:
    """Say something of a way, in place of what was said of it before."""

    leg: LegChoice


@dataclass(frozen=True, slots=True)
class SetLodging:
    """Say where one slept, in place of what was said of that place and evening before."""

    lodging: LodgingChoice


@dataclass(frozen=True, slots=True)
class SetDayNote:
    """Write a day's line for the itinerary; None takes it away."""

    day: date
    note: str | None


@dataclass(frozen=True, slots=True)
class SetStocks:
    """Say which sheets and rolls lie in the cupboard or can be bought: these and no others."""

    stocks: tuple[Stock, ...]


@dataclass(frozen=True, slots=True)
class SetPocketItems:
    """Say what goes into the pocket: this and nothing else."""

    items: tuple[PocketItem, ...]


@dataclass(frozen=True, slots=True)
class Unsay:
    """Take back what was said of a stop, a way or a lodging; nothing where it was not said."""

    said: StopChoice | LegChoice | LodgingChoice


@dataclass(frozen=True, slots=True)
class SetClock:
    """Say what a camera's clock was set to, in one line; None leaves it to the evidence again."""

    body: str
    line: str | None


@dataclass(frozen=True, slots=True)
class SetClockShown:
    """Say what clock a photograph shows; None takes it back."""

    photo: str
    shown: ClockShown | None


@dataclass(frozen=True, slots=True)
class LeaveOut:
    """Leave calendar events of these names out of the journey, and no others."""

    names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SetUnit:
    """Give the distances in this unit."""

    unit: Unit


T = TypeVar("T")
K = TypeVar("K", StopChoice, LegChoice, LodgingChoice, DayNote, ClockLine, ClockShown)

JourneyEdit = (
    SetStop
    | SetLeg
    | SetLodging
    | SetDayNote
    | Unsay
    | SetClock
    | SetClockShown
    | LeaveOut
    | SetUnit
)
BenchEdit = SetStocks | SetPocketItems
Edit = (
    SetCaption
    | SetPicks
    | SetCrop
    | SetInterleaf
    | SetChapterLeaf
    | ChoosePlan
    | HoldBlocks
    | SetWays
    | PlaceByHand
    | ExchangePictures
    | SetTitle
    | SetText
    | BenchEdit
    | JourneyEdit
)


def apply_edit(book: Book, edit: Edit) -> Book:
    """Give the book after ``edit``."""
    match edit:
        case SetCaption(photo, caption):
            return _with_choice(book, photo, replace(book.choice(photo), caption=caption))
        case SetPicks(picks):
            picked = {photo: replace(book.choice(photo), pick=pick) for photo, pick in picks}
            return replace(book, choices={**book.choices, **picked})
        case SetCrop(photo, crop):
            return _with_choice(book, photo, replace(book.choice(photo), crop=crop))
        case SetInterleaf(photo, wanted):
            return _with_choice(book, photo, replace(book.choice(photo), interleaf=wanted))
        case SetChapterLeaf(place, wanted):
            said = {chapter.place: chapter for chapter in book.chapters}
            said[place] = replace(said.get(place, ChapterChoice(place)), interleaf=wanted)
            return replace(book, chapters=tuple(said.values()))
        case ChoosePlan(choice):
            return replace(book, planning=replace(book.planning, choice=choice))
        case HoldBlocks(pins):
            named = {pin.block for pin in pins}
            others = (pin for pin in book.planning.pins if pin.block not in named)
            held = (*others, *(pin for pin in pins if not pin.is_empty))
            return replace(book, planning=replace(book.planning, pins=held))
        case SetWays(ways):
            changed = {**book.arranging.ways, **dict(ways)}
            kept = {block: way for block, way in changed.items() if way is not None}
            return replace(book, arranging=replace(book.arranging, ways=kept))
        case PlaceByHand(blocks):
            placed = {**book.arranging.by_hand, **dict(blocks)}
            laid = {block: hand for block, hand in placed.items() if hand is not None}
            return replace(book, arranging=replace(book.arranging, by_hand=laid))
        case ExchangePictures(one, other):
            pairs = exchange(book.arranging.exchanged, one, other)
            return replace(book, arranging=replace(book.arranging, exchanged=pairs))
        case SetTitle(place, title, subtitle):
            return _with_title(book, place, title, subtitle)
        case SetText(key, text):
            return replace(book, texts=_with(book.texts, key, text))
        case SetStocks(stocks):
            return replace(book, bench=replace(book.bench, stocks=stocks))
        case SetPocketItems(items):
            pocket = replace(book.bench.pocket, items=items)
            return replace(book, bench=replace(book.bench, pocket=pocket))
        case _:
            return replace(book, journey=change_journey(book.journey, edit))


def _with_title(book: Book, place: str, title: str | None, subtitle: str | None) -> Book:
    if not place:
        return replace(book, title=title or "", subtitle=subtitle or "")
    known = {chapter.place: chapter for chapter in book.chapters}
    old = known.get(place, ChapterChoice(place))
    named = {**known, place: replace(old, title=title, subtitle=subtitle)}
    return replace(book, chapters=tuple(named.values()))


def change_journey(journey: TripChoices, edit: JourneyEdit) -> TripChoices:
    """Give what the person says of the journey after ``edit``."""
    match edit:
        case SetStop(stop):
            return replace(journey, stops=_put(journey.stops, stop))
        case SetLeg(leg):
            return replace(journey, legs=_put(journey.legs, leg))
        case SetLodging(lodging):
            return replace(journey, lodgings=_put(journey.lodgings, lodging))
        case SetDayNote(day, note):
            if note is None:
                return replace(journey, days=tuple(d for d in journey.days if d.date != day))
            return replace(journey, days=_put(journey.days, DayNote(day, note)))
        case Unsay(said):
            return replace(
                journey,
                stops=tuple(s for s in journey.stops if not _is_of(s, said)),
                legs=tuple(s for s in journey.legs if not _is_of(s, said)),
                lodgings=tuple(s for s in journey.lodgings if not _is_of(s, said)),
            )
        case SetClock(body, line):
            if line is None:
                return replace(journey, clocks=tuple(c for c in journey.clocks if c.body != body))
            return replace(journey, clocks=_put(journey.clocks, ClockLine(body, line)))
        case SetClockShown(photo, shown):
            if shown is None:
                kept = tuple(c for c in journey.clocks_shown if c.photo != photo)
                return replace(journey, clocks_shown=kept)
            return replace(journey, clocks_shown=_put(journey.clocks_shown, shown))
        case LeaveOut(names):
            return replace(journey, left_out=names)
        case SetUnit(unit):
            return replace(journey, unit=unit)


def _is_of(one: object, said: StopChoice | LegChoice | LodgingChoice) -> bool:
    return isinstance(one, type(said)) and one.key == said.key


def _put(said: tuple[K, ...], new: K) -> tuple[K, ...]:
    """Give what was said with ``new`` in the place of what it replaces, or at the end."""
    put: list[K] = [new if one.key == new.key else one for one in said]
    if new not in put:
        put.append(new)
    return tuple(put)


def _with_choice(book: Book, photo: str, choice: PhotoChoice) -> Book:
    return replace(book, choices=_with(book.choices, photo, choice))


def _with(mapping: Mapping[str, T], key: str, value: T) -> Mapping[str, T]:
    return {**mapping, key: value}

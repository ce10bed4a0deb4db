"""The whole of what the person decided. All else is derived from it and the photographs."""

from __future__ import annotations

import enum
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from wayfold.base.geometry import Rect, Size
from wayfold.book.arranging import Arranging
from wayfold.book.casing import BenchChoices
from wayfold.book.materials import Binding, Paper, Printer, Translucent
from wayfold.book.planning import Planning
from wayfold.book.registration import Registration
from wayfold.book.reprinting import Reprinting
from wayfold.book.style import Style
from wayfold.book.trip_choices import TripChoices


class Pick(enum.StrEnum):
    """What the person wants of a photograph."""

    HERO = "hero"
    """Across two pages, or a page of its own."""
    TAKE = "take"
    LEAVE = "leave"
    OPEN = "open"
    """Not decided: the story may take it or leave it."""


@dataclass(frozen=True, slots=True)
class PhotoChoice:
    """The person's decisions on one photograph.

    ``caption`` None means the one in the file's own metadata; ``crop`` is in fractions of the
    upright picture. ``alone`` asks for a page of its own; ``interleaf`` for that and for a
    translucent leaf over it, which then carries the caption. ``text`` is the key of a text that
    stands on the picture's page; pictures that name the same text share the page.
    """

    pick: Pick = Pick.OPEN
    caption: str | None = None
    crop: Rect | None = None
    alone: bool = False
    interleaf: bool = False
    text: str | None = None


@dataclass(frozen=True, slots=True)
class ChapterChoice:
    """What the person says of one chapter; ``place`` is the stop's name the chapter belongs to."""

    place: str
    title: str | None = None
    subtitle: str | None = None
    text: str | None = None
    """Key of the text (file name without ending) that opens the chapter."""
    accent: str | None = None
    interleaf: bool = False
    """Whether the chapter opens with a picture behind a translucent leaf that bears its title."""
    opening_photo: str | None = None
    """That picture: a photograph's id or its file's name; None leaves the choice to the story."""
    country_map: bool = False
    """Whether that leaf also bears the outline of the country with the journey's places in it."""


@dataclass(frozen=True, slots=True)
class Book:
    """The book as its maker wants it."""

    title: str
    subtitle: str = ""
    author: str = ""
    finished: date | None = None
    """When the book was made, for its colophon."""
    language: str = "en"
    trim: Size = Size(210.0, 297.0)
    bleed: float = 3.0
    paper: Paper = Paper()
    translucent: Translucent = Translucent()
    printer: Printer = Printer()
    registration: Registration | None = None
    binding: Binding = Binding()
    style: Style = Style()
    planning: Planning = Planning()
    arranging: Arranging = Arranging()
    reprinting: Reprinting = Reprinting()
    photographs: tuple[str, ...] = ("photographs",)
    """Folders to read pictures from; relative ones lie in the book folder."""
    openers_on: str = "recto"
    chapters: tuple[ChapterChoice, ...] = ()
    choices: Mapping[str, PhotoChoice] = field(default_factory=dict)
    """Photo id -> decisions."""
    texts: Mapping[str, str] = field(default_factory=dict)
    """Text key -> Markdown (CommonMark). "foreword", "closing", "colophon" have their places."""
    journey: TripChoices = TripChoices()
    bench: BenchChoices = BenchChoices()
    """Sewing, case, pocket, stocks and costs."""

    def choice(self, photo_id: str) -> PhotoChoice:
        """The decisions on one photograph, or none yet."""
        return self.choices.get(photo_id, _UNDECIDED)


_UNDECIDED = PhotoChoice()

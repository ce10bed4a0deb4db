"""Everything that the checks may look at."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from wayfold.base.findings import Finding
from wayfold.base.geometry import Rect
from wayfold.book.state import Book
from wayfold.drawing.items import Drawing
from wayfold.layout.model import BookLayout, PageLayout, PictureFrame
from wayfold.pages.washes import PageWash
from wayfold.photos.model import Photo
from wayfold.photos.sets import NO_SETS, PhotoSets
from wayfold.plan.model import Plan
from wayfold.press.ledger import SheetInk
from wayfold.press.model import PressSheet
from wayfold.story.model import Chapter, Story
from wayfold.trip.journey.model import Journey
from wayfold.trip.town_names import NameFinder, NoNames
from wayfold.words.model import Words


@dataclass(frozen=True, slots=True)
class Subject:
    """A book as far as it is made; what does not exist yet is None or empty.

    ``missing``: ids of photographs the book knows and whose file is gone. ``sets``: those among
    them nearly alike. ``drawings``: the pages as composed. ``towns``: knows the world's towns by
    name. ``earlier``: what the stages themselves found (reading, planning, laying out, setting).
    ``printed``: the ink of the sheets that lie printed, ``inks`` that of the sheets as they are.
    """

    book: Book
    photos: Mapping[str, Photo] = field(default_factory=dict)
    missing: tuple[str, ...] = ()
    story: Story | None = None
    plan: Plan | None = None
    words: Words | None = None
    layout: BookLayout | None = None
    sheets: tuple[PressSheet, ...] = ()
    journey: Journey | None = None
    sets: PhotoSets = NO_SETS
    drawings: tuple[Drawing, ...] = ()
    towns: NameFinder = NoNames()
    earlier: tuple[Finding, ...] = ()
    washes: tuple[PageWash, ...] = ()
    printed: tuple[SheetInk, ...] = ()
    inks: tuple[SheetInk, ...] = ()

    @property
    def pages(self) -> tuple[PageLayout, ...]:
        """The pages that are laid out."""
        return self.layout.pages if self.layout is not None else ()

    @property
    def page(self) -> Rect:
        """A page as it is cut, in page space."""
        return Rect(0.0, 0.0, self.book.trim.width, self.book.trim.height)

    def was_told(self, rule: str, where: str) -> bool:
        """Whether a stage has already said this of that place."""
        return any(f.rule == rule and f.where == where for f in self.earlier)

    def name_photo(self, photo: str) -> str:
        """The file name of a photograph, or its id where no file is known."""
        known = self.photos.get(photo)
        return known.path.rsplit("/", 1)[-1] if known is not None else photo


@dataclass(frozen=True, slots=True)
class Placement:
    """A photograph on its page, or on two facing pages, whose frames are then one picture.

    ``box`` is in the space of the first page.
    """

    photo: str
    pages: tuple[int, ...]
    box: Rect
    crop: Rect

    @property
    def where(self) -> str:
        """How findings name the place, "page 12" or "pages 12 and 13"."""
        return name_pages(self.pages)


def list_placements(subject: Subject) -> tuple[Placement, ...]:
    """Every picture of the book once: the two halves across a fold are one placement."""
    placements: list[Placement] = []
    versos: dict[tuple[str, int], list[int]] = defaultdict(list)
    for page in subject.pages:
        for frame in page.frames:
            if not isinstance(frame, PictureFrame):
                continue
            facing = versos[frame.photo, page.number - 1] if page.number % 2 else []
            moved = frame.box.moved(subject.book.trim.width, 0.0)
            other = next((i for i in facing if _is_same(placements[i].box, moved)), None)
            if other is None:
                versos[frame.photo, page.number].append(len(placements))
                placements.append(Placement(frame.photo, (page.number,), frame.box, frame.crop))
            else:
                facing.remove(other)
                both = (page.number - 1, page.number)
                placements[other] = replace(placements[other], pages=both)
    return tuple(placements)


def _is_same(box: Rect, other: Rect) -> bool:
    return box.contains(other, 0.01) and other.contains(box, 0.01)


def show_box(frame: PictureFrame, page: Rect) -> Rect | None:
    """The part of a picture that is seen on the cut page, or None."""
    box = frame.box if frame.clip is None else frame.box.overlap(frame.clip)
    return None if box is None else box.overlap(page)


def name_pages(numbers: tuple[int, ...]) -> str:
    """Say "page 12" or "pages 12 and 13"."""
    if len(numbers) == 1:
        return f"page {numbers[0]}"
    return f"pages {', '.join(str(n) for n in numbers[:-1])} and {numbers[-1]}"


def name_chapter(chapter: Chapter) -> str:
    """Say "book.toml, chapter Rome": the place that the person would write it under."""
    return f"book.toml, chapter {chapter.place or chapter.title}"

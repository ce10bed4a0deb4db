"""What a layout family is given: a block, its pages, and all that may be asked about them."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from wayfold.base.findings import Finding
from wayfold.base.geometry import Rect
from wayfold.base.hashing import Keyed
from wayfold.base.units import mm_from_pt
from wayfold.book.arranging import HandLaid
from wayfold.book.state import Book
from wayfold.drawing.text import Paragraph, TextBlock, TextMeasurer, VerticalAlign
from wayfold.layout.cropping import (
    crop_to,
    keep_across,
    keep_on_page,
    may_lose,
    shown_aspect,
    shown_part,
)
from wayfold.layout.grid import Grid
from wayfold.layout.model import Frame, Overset, PageLayout, PictureFrame, TextFrame
from wayfold.photos.largest import Demand, Limit, list_limits
from wayfold.photos.model import Photo
from wayfold.plan.paper import is_recto
from wayfold.story.model import Block, BlockKind
from wayfold.words.model import Words

BALANCED = (0.62, 0.68, 0.74, 0.8, 0.86, 0.92, 1.0)
"""Measures tried for ragged lines of even length, as parts of the full one."""
SAME_SHAPE = 1e-6
SOFT_WIDTH = 120.0
"""A soft picture may be shown so wide (mm): it only looks soft, and at that size hardly."""
LEAST_WEIGHT = 0.3
"""However little room a picture bears, it is given this part of an equal share's weight."""
ROOM_FOR_ROUNDING = 0.1
"""Added to measured heights (mm), so that no text is called too tall by a rounding."""


class RememberingMeasurer:
    """A text measurer that asks another one and never asks the same twice."""

    def __init__(self, measurer: TextMeasurer) -> None:
        self._measurer = measurer
        self._heights: dict[TextBlock, float] = {}
        self._parts: dict[tuple[TextBlock, tuple[float, ...]], tuple[tuple[Paragraph, ...], ...]]
        self._parts = {}

    @property
    def key(self) -> str:
        """The identity of what is asked, where it has one; AttributeError where not."""
        if isinstance(self._measurer, Keyed):
            return self._measurer.key
        raise AttributeError(f"{type(self._measurer).__name__} has no key")

    def measure_heights(self, blocks: Sequence[TextBlock]) -> tuple[float, ...]:
        """Give the height in mm of each block; the unknown ones are measured together."""
        unknown = tuple(dict.fromkeys(b for b in blocks if b not in self._heights))
        if unknown:
            heights = self._measurer.measure_heights(unknown)
            self._heights.update(zip(unknown, heights, strict=True))
        return tuple(self._heights[b] for b in blocks)

    def split_to_height(
        self, block: TextBlock, heights: Sequence[float]
    ) -> tuple[tuple[Paragraph, ...], ...]:
        """Thread a text through frames; see ``TextMeasurer``."""
        asked = block, tuple(heights)
        if asked not in self._parts:
            self._parts[asked] = self._measurer.split_to_height(block, heights)
        return self._parts[asked]


def _one_line_each(paragraphs: tuple[Paragraph, ...]) -> float:
    points = sum(p.style.leading_pt + p.style.space_before_pt for p in paragraphs)
    return mm_from_pt(points) + ROOM_FOR_ROUNDING


@dataclass(frozen=True, slots=True)
class Matter:
    """One block on its pages. ``numbers`` are its page numbers in order.

    ``veiled`` are those of them that lie under a leaf made for them; ``unbroken`` says whether
    two facing pages lie on one side of one sheet, so that nothing is parted in their fold.
    """

    book: Book
    grid: Grid
    words: Words
    photos: Mapping[str, Photo]
    measurer: RememberingMeasurer
    block: Block
    numbers: tuple[int, ...]
    veiled: tuple[int, ...] = ()
    unbroken: bool = False
    hand: HandLaid | None = None
    """Where the person placed the pictures, if they did."""

    def aspect(self, photo: str) -> float:
        """Width over height of what is shown of a photograph."""
        return shown_aspect(self.book, self.photos[photo])

    def whole(self, photo: str, box: Rect) -> PictureFrame:
        """A frame that shows all the person wants shown."""
        return PictureFrame(box, photo, shown_part(self.book, self.photos[photo]))

    def show_in(self, photo: str, box: Rect, number: int) -> PictureFrame:
        """A frame in ``box``, cropped to it where it is of another shape.

        Where a crop would cost what matters the picture stands whole, in the middle of the box.
        """
        aspect = self.aspect(photo)
        if abs(box.width / box.height - aspect) <= SAME_SHAPE * aspect:
            return self.whole(photo, box)
        crop = self.crop_on_page(photo, box, number)
        if crop:
            return PictureFrame(box, photo, crop)
        return self.stand_in(photo, box)

    def stand_in(self, photo: str, box: Rect) -> PictureFrame:
        """A frame that shows the picture whole, as large as ``box`` allows, in its middle."""
        aspect = self.aspect(photo)
        width = min(box.width, box.height * aspect)
        left = box.x + (box.width - width) / 2
        top = box.y + (box.height - width / aspect) / 2
        return self.whole(photo, Rect(left, top, width, width / aspect))

    def may_lose(self, photo: str) -> float:
        """The part that a photograph may lose, across or down, to lie in line with others."""
        return may_lose(self.book, self.photos[photo])

    def crop_on_page(self, photo: str, box: Rect, number: int) -> Rect | None:
        """What to show in ``box`` on one page, or None if nothing does the picture justice."""
        keep = keep_on_page(self.book, self.grid, box, on_recto(number))
        return crop_to(self.book, self.photos[photo], box.size.aspect, keep)

    def crop_across(self, photo: str, box: Rect) -> Rect | None:
        """What to show in ``box`` across the fold, in the left page's space, or None."""
        keep = keep_across(self.book, self.grid, box, self.unbroken)
        return crop_to(self.book, self.photos[photo], box.size.aspect, keep)

    def largest(self, photo: str, crop: Rect | None = None) -> float:
        """How wide (mm) a photograph may be printed before its pixels or its grain show.

        Softness alone, which may be meant, makes none smaller than ``SOFT_WIDTH``. What the person
        singled out goes as far as its pixels bear.
        """
        limits = list_limits(
            self.photos[photo],
            crop or shown_part(self.book, self.photos[photo]),
            distance=self.book.arranging.reading_distance,
            surface=self.book.paper.surface,
            demand=Demand.LEAST if self.singled_out else Demand.FAIR,
        )
        if self.singled_out:
            return limits[Limit.PIXELS]
        soft = max(SOFT_WIDTH, limits.get(Limit.SHARPNESS, math.inf))
        return min(limits[Limit.PIXELS], limits.get(Limit.GRAIN, math.inf), soft)

    @property
    def singled_out(self) -> bool:
        """Whether the person wants the block's picture large: a hero, or one with its own page."""
        asked = self.block.kind is BlockKind.HERO
        return asked or any(self.book.choice(photo).alone for photo in self.block.photos)

    def weight(self, photo: str) -> float:
        """How much room a photograph deserves beside its neighbours (1 = as much as any).

        By its rating, and less where it would bear less than an equal part of the page.
        """
        rating = self.photos[photo].rating
        deserved = 1.0 if not rating else 0.7 + 0.1 * rating
        width = self.largest(photo)
        part = self.grid.picture_area(True).area / max(1, len(self.block.photos))
        borne = width * width / self.aspect(photo) / part
        return deserved * min(1.0, max(LEAST_WEIGHT, borne))

    def height(self, paragraphs: tuple[Paragraph, ...], width: float) -> float:
        """The height in mm of paragraphs set to ``width``; 0 for none."""
        return self.heights(paragraphs, (width,))[0]

    def heights(
        self, paragraphs: tuple[Paragraph, ...], widths: Sequence[float]
    ) -> tuple[float, ...]:
        """The heights in mm of paragraphs set to each of ``widths``, in one question."""
        if not paragraphs:
            return (0.0,) * len(widths)
        return self.measurer.measure_heights([TextBlock(paragraphs, w) for w in widths])

    def count_over(self, paragraphs: tuple[Paragraph, ...], width: float) -> Overset | None:
        """Count the words and lines of what finds no room; None where nothing is left over."""
        if not paragraphs:
            return None
        words = sum(len(p.plain.split()) for p in paragraphs)
        lines = self.height(paragraphs, width) / mm_from_pt(paragraphs[0].style.leading_pt)
        return Overset(words, max(1, math.ceil(lines - ROOM_FOR_ROUNDING)))

    def balance(self, paragraphs: tuple[Paragraph, ...], width: float) -> float:
        """The narrowest measure (mm, up to ``width``) that needs no more lines than ``width``.

        Ragged lines come out about equally long, and no word stands alone.
        """
        if not paragraphs or self.height(paragraphs, width) <= _one_line_each(paragraphs):
            return width
        widths = [width * share for share in BALANCED]
        heights = self.heights(paragraphs, widths)
        most = heights[-1] + ROOM_FOR_ROUNDING
        return next(w for w, h in zip(widths, heights, strict=True) if h <= most)

    def set_text(
        self,
        key: str,
        paragraphs: tuple[Paragraph, ...],
        x: float,
        y: float,
        width: float,
        stands: bool = False,
    ) -> TextFrame:
        """A frame as tall as its text, hanging from ``y`` or standing on it."""
        height = self.height(paragraphs, width) + ROOM_FOR_ROUNDING
        vertical = VerticalAlign.BOTTOM if stands else VerticalAlign.TOP
        return TextFrame(
            Rect(x, y - height if stands else y, width, height), key, paragraphs, vertical
        )


@dataclass(frozen=True, slots=True)
class Laid:
    """What a family made of a block: its pages, and captions that found no white beside them."""

    pages: tuple[PageLayout, ...]
    homeless: tuple[tuple[int, str], ...] = ()
    """Page number and photograph."""
    findings: tuple[Finding, ...] = ()
    score: float | None = None
    """How good the arrangement is (0-1), where there was one to judge."""


def blank_page(number: int) -> PageLayout:
    """An empty page."""
    return PageLayout(number, "blank", (), folio=False)


def on_recto(number: int) -> bool:
    """Whether a page lies on the right of the fold."""
    return is_recto(number)


def with_frames(page: PageLayout, *frames: Frame) -> PageLayout:
    """The page with more frames on top."""
    return replace(page, frames=(*page.frames, *frames))


def page_for_one(numbers: tuple[int, ...]) -> int:
    """The page that takes a block's one picture: a recto where the block has one."""
    return next((n for n in numbers if is_recto(n)), numbers[0])


def with_blanks(matter: Matter, page: PageLayout) -> Laid:
    """The page, and the block's other pages empty."""
    return Laid(tuple(page if n == page.number else blank_page(n) for n in matter.numbers))


def facing_pair(numbers: tuple[int, ...]) -> bool:
    """Whether two pages face each other across the fold."""
    return len(numbers) == 2 and not is_recto(numbers[0]) and numbers[1] == numbers[0] + 1

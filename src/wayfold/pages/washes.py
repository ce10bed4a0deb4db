"""The washes of a book: a few a chapter, each in white beside a text or under a title.

None lies under a picture, under small type, or where words would not stand out from it; none where
a translucent leaf shows it through.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from wayfold.base.geometry import Rect
from wayfold.base.hashing import hash_values
from wayfold.book.state import Book
from wayfold.book.style import Washes
from wayfold.drawing.colour import Colour
from wayfold.drawing.contrast import luminance
from wayfold.drawing.text import Paragraph, TextBlock, TextMeasurer, VerticalAlign
from wayfold.layout.grid import make_grid
from wayfold.layout.judge import shown_box
from wayfold.layout.model import BookLayout, DrawnFrame, PageLayout, PictureFrame, TextFrame
from wayfold.pages.folio import place_folio
from wayfold.pages.wash_rooms import WashRoom, list_rooms
from wayfold.photos.look import Look
from wayfold.photos.model import Photo
from wayfold.plan.model import Plan
from wayfold.plan.paper import is_recto
from wayfold.story.model import BlockKind, Story
from wayfold.washes.model import DARKEST, Wash
from wayfold.words.leaves import list_ends
from wayfold.words.tint import Tint, choose_chapter_tint, vary_tint

FEW = ((4, 1), (9, 2), (1_000_000, 3))
"""Chapters of fewer pages than the first number have so many washes."""
WORTH = {BlockKind.OPENER: 3, BlockKind.TEXT: 2, BlockKind.SINGLE: 1, BlockKind.GROUP: 1}
"""How much the pages of a block want a wash."""
BESIDE_PICTURES = 1
"""So many washes of a chapter may lie on pages of pictures, the least wanted ones."""
UNDER_TITLE, AT_CORNER, AS_BEFORE = 0.6, 0.15, 0.5
"""What a place gains under a title and at a corner, and loses if the chapter's last was alike."""
MOST_SHARE, MOST_UNDER_TITLE = 0.22, 0.34
"""The largest box, as a part of the page; a wash fills about three quarters of its own."""
LEAST_TITLE_PT = 14.0
"""Words of this size may stand on a wash; smaller ones are read better beside it."""
WORD_CONTRAST = 12.0
"""Least contrast of words on a wash with its darkest part."""
ROUNDING = 0.015
"""Luminance that rounding and the picture's file may take from its darkest part."""
PICTURE_CLEAR, TEXT_CLEAR, SMALL_CLEAR = 8.0, 5.0, 2.5
"""White (mm) between a wash and pictures, running text, other small words."""
NEAR = 2
"""Pictures so many pages away still have a say in its hue."""


@dataclass(frozen=True, slots=True)
class PageWash:
    """A wash on its page: ``box`` in page space (mm), over the trim where it runs off."""

    page: int
    box: Rect
    wash: Wash
    tint: Tint
    chapter: int


@dataclass(frozen=True, slots=True)
class _Words:
    """A paragraph's place, and the luminance that its ground needs; None where it bears none."""

    box: Rect
    needs: float | None


def choose_washes(
    book: Book,
    story: Story,
    plan: Plan,
    layout: BookLayout,
    photos: Mapping[str, Photo],
    measurer: TextMeasurer,
) -> tuple[PageWash, ...]:
    """Give the washes of a book in the order of its pages."""
    if book.style.washes is Washes.NONE:
        return ()
    chooser = _Chooser(book, story, plan, layout, photos, measurer)
    found = [w for index in range(len(story.chapters)) for w in chooser.choose(index)]
    return tuple(sorted(found, key=lambda w: w.page))


class _Chooser:
    def __init__(
        self,
        book: Book,
        story: Story,
        plan: Plan,
        layout: BookLayout,
        photos: Mapping[str, Photo],
        measurer: TextMeasurer,
    ) -> None:
        self._book, self._story, self._photos = book, story, photos
        self._grid = make_grid(book)
        self._measurer = measurer
        self._pages = {page.number: page for page in layout.pages}
        self._blocks = {block.id: block for block in story.blocks}
        self._planned = plan.pages
        ends = [end.after_page for end in list_ends(plan)]
        self._shut = {n for end in ends for n in (end, end + 1)}

    def choose(self, chapter: int) -> Iterator[PageWash]:
        """Choose the washes of one chapter, the pages that want them most first."""
        blocks = self._story.blocks
        shown = [p for b in blocks if b.chapter == chapter for p in b.photos]
        own = self._story.chapters[chapter].accent
        tint = choose_chapter_tint(self._looks(shown), Colour.of(own) if own else None)
        pages = [
            (WORTH.get(block.kind, 0), planned)
            for planned in self._planned
            if (block := self._blocks.get(planned.block or "")) and block.chapter == chapter
        ]
        left = next(count for below, count in FEW if len(pages) < below)
        beside_pictures = BESIDE_PICTURES
        before: WashRoom | None = None
        for worth, planned in sorted(pages, key=lambda p: -p[0]):
            page = self._pages.get(planned.number)
            if not left or worth <= 0 or (worth == 1 and not beside_pictures):
                return
            if page is None or not page.frames or self._is_shut(page):
                continue
            name = (self._book.style.wash_seed, planned.block, planned.part)
            found = self._place(page, chapter, vary_tint(tint, self._near(page)), name, before)
            if found is not None:
                wash, before = found
                self._shut |= {page.number, page.number ^ 1}
                left -= 1
                beside_pictures -= worth == 1
                yield wash

    def _is_shut(self, page: PageLayout) -> bool:
        return page.number in self._shut or any(isinstance(f, DrawnFrame) for f in page.frames)

    def _near(self, page: PageLayout) -> Iterator[Look]:
        for number in range(page.number - NEAR, page.number + NEAR + 1):
            frames = self._pages[number].frames if number in self._pages else ()
            yield from self._looks([f.photo for f in frames if isinstance(f, PictureFrame)])

    def _looks(self, photos: Sequence[str]) -> Iterator[Look]:
        for name in photos:
            photo = self._photos.get(name)
            if photo is not None and photo.look is not None:
                yield photo.look

    def _place(
        self,
        page: PageLayout,
        chapter: int,
        tint: Tint,
        name: tuple[object, ...],
        before: WashRoom | None,
    ) -> tuple[PageWash, WashRoom] | None:
        book, most_light = self._book, luminance(tint.colour)
        words = [w for f in page.frames if isinstance(f, TextFrame) for w in self._read(f)]
        bearing = [w for w in words if w.needs is not None and w.needs <= most_light - ROUNDING]
        taken = [w.box for w in words if w not in bearing]
        taken += [
            shown_box(f).grown(PICTURE_CLEAR) for f in page.frames if isinstance(f, PictureFrame)
        ]
        if page.folio:
            taken.append(place_folio(book, self._grid, page.number).grown(SMALL_CLEAR))
        most = MOST_UNDER_TITLE if bearing else MOST_SHARE
        rooms = list_rooms(book.trim, book.bleed, is_recto(page.number), taken, most)
        if not rooms:
            return None

        def judge(room: WashRoom) -> tuple[float, str]:
            size = room.box.area / (most * book.trim.width * book.trim.height)
            under = _share_under(room.box, bearing)
            like = before is not None and before.lies_like(room)
            worth = size + UNDER_TITLE * under + AT_CORNER * room.at_corner - AS_BEFORE * like
            return worth, hash_values(name, room)  # among equals chance decides, the same each time

        best = max(rooms, key=judge)
        borne = [w.needs for w in bearing if w.needs and w.box.overlap(best.box)]
        darkest = max([DARKEST, *(need + ROUNDING for need in borne)])
        wash = Wash(best.box.size, best.edges, tint.colour, hash_values(name), darkest)
        return PageWash(page.number, best.box, wash, tint, chapter), best

    def _read(self, frame: TextFrame) -> Iterator[_Words]:
        """Tell a text's paragraphs apart where some of them may stand on a wash."""
        needs = [need_light(p) for p in frame.paragraphs]
        large = [p.style.size_pt >= LEAST_TITLE_PT for p in frame.paragraphs]
        if not any(large):
            clear = TEXT_CLEAR if all(n is not None for n in needs) else SMALL_CLEAR
            yield _Words(frame.box.grown(clear), None)
            return
        ends = [
            TextBlock(frame.paragraphs[: n + 1], frame.box.width)
            for n in range(len(frame.paragraphs))
        ]
        heights = self._measurer.measure_heights(ends)
        top = frame.box.y
        if frame.vertical is not VerticalAlign.TOP:
            top = frame.box.bottom - heights[-1]
        start = 0.0
        for end, need, is_large in zip(heights, needs, large, strict=True):
            box = Rect(frame.box.x, top + start, frame.box.width, end - start)
            yield _Words(box if is_large else box.grown(SMALL_CLEAR), need if is_large else None)
            start = end


def need_light(paragraph: Paragraph) -> float | None:
    """Give the luminance (0-1) that the ground of a paragraph needs; None where none will do."""
    inks = {run.colour or paragraph.style.colour for run in paragraph.runs}
    lightest = max((luminance(ink) for ink in inks), default=0.0)
    need = WORD_CONTRAST * (lightest + 0.05) - 0.05
    return need if need <= 1.0 else None


def _share_under(box: Rect, words: Sequence[_Words]) -> float:
    area = sum(w.box.area for w in words)
    under = sum(o.area for w in words if (o := w.box.overlap(box)))
    return under / area if area else 0.0

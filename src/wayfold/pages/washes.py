"""The washes of a book: a few a chapter, each in white beside a text or under a title.

None lies under a picture, under small type, or where words would not stand out from it; none where
a translucent leaf shows it through.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from wayfold.base.geometry import Rect
from wayfold.base.hashing import hash_values
from wayfold.base.memory import Memory
from wayfold.book.state import Book
from wayfold.book.style import Washes
from wayfold.drawing.colour import Colour
from wayfold.drawing.contrast import luminance
from wayfold.drawing.text import TextMeasurer
from wayfold.layout.grid import make_grid
from wayfold.layout.judge import shown_box
from wayfold.layout.model import (
    BookLayout,
    DrawnFrame,
    PageLayout,
    PictureFrame,
    RuleFrame,
    TextFrame,
)
from wayfold.pages.folio import place_folio
from wayfold.pages.wash_rooms import WashRoom, list_rooms
from wayfold.pages.wash_words import SMALL_CLEAR, WashWords, read_words
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
OF_PICTURES = 1
"""What pages of pictures are worth; they have a wash where a chapter has fewer than ``FEWEST``."""
FEWEST = 2
UNDER_TITLE, AT_CORNER, AS_BEFORE = 0.6, 0.15, 0.5
"""What a place gains under a title and at a corner, and what it loses for each that lies alike: the
chapter's last, and that on the last page of its kind."""
MOST_SHARE, MOST_UNDER_TITLE = 0.22, 0.34
"""The largest box, as a part of the page; a wash fills about three quarters of its own."""
ROUNDING = 0.02
"""Luminance that rounding and the picture's file may take from its darkest part."""
PICTURE_CLEAR = 8.0
"""White (mm) between a wash and pictures."""
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


def choose_washes(
    book: Book,
    story: Story,
    plan: Plan,
    layout: BookLayout,
    photos: Mapping[str, Photo],
    measurer: TextMeasurer,
    memory: Memory | None = None,
) -> tuple[PageWash, ...]:
    """Give the washes of a book in the order of its pages.

    What is in ``memory`` from the last time is not chosen again.
    """
    if book.style.washes is Washes.NONE:
        return ()
    chooser = _Chooser(book, story, plan, layout, photos, measurer, memory or Memory())
    return tuple(sorted(chooser.choose(), key=lambda w: w.page))


class _Chooser:
    def __init__(
        self,
        book: Book,
        story: Story,
        plan: Plan,
        layout: BookLayout,
        photos: Mapping[str, Photo],
        measurer: TextMeasurer,
        memory: Memory,
    ) -> None:
        self._story, self._photos, self._memory = story, photos, memory
        # All that finding a place on a page reads of the book.
        self._about = Book(
            "", language=book.language, trim=book.trim, bleed=book.bleed, style=book.style
        )
        self._measurer = measurer
        self._pages = {page.number: page for page in layout.pages}
        self._blocks = {block.id: block for block in story.blocks}
        self._planned = plan.pages
        ends = [end.after_page for end in list_ends(plan)]
        self._shut = {n for end in ends for n in (end, end + 1)}

    def choose(self) -> Iterator[PageWash]:
        """Choose the washes of all chapters: first on the pages that want them most."""
        pages = [
            (WORTH.get(block.kind, 0), planned, block.chapter)
            for planned in self._planned
            if (block := self._blocks.get(planned.block or "")) and block.chapter is not None
        ]
        counts = Counter(chapter for _, _, chapter in pages)
        most = {c: next(few for below, few in FEW if n < below) for c, n in counts.items()}
        tints = {chapter: self._choose_tint(chapter) for chapter in counts}
        found: dict[int, list[WashRoom]] = {chapter: [] for chapter in counts}
        # One place for all openers would look like a stamp.
        lately: dict[BlockKind, tuple[WashRoom]] = {}
        for worth, planned, chapter in sorted(pages, key=lambda p: (-p[0], p[1].number)):
            there, page = found[chapter], self._pages.get(planned.number)
            enough = min(most[chapter], FEWEST) if worth == OF_PICTURES else most[chapter]
            if worth <= 0 or len(there) >= enough or page is None or self._is_shut(page):
                continue
            near = tuple(self._near(page))
            tint = self._memory.recall(vary_tint, tints[chapter], near, at=page.number)
            name = (self._about.style.wash_seed, planned.block, planned.part)
            kind = self._blocks[planned.block or ""].kind
            before = (*there[-1:], *lately.get(kind, ()))
            placed = self._memory.recall(
                _place,
                self._about,
                page,
                chapter,
                tint,
                name,
                before,
                self._measurer,
                at=page.number,
            )
            if placed is not None:
                wash, room = placed
                there.append(room)
                lately[kind] = (room,)
                self._shut |= {page.number, page.number ^ 1}
                yield wash

    def _choose_tint(self, chapter: int) -> Tint:
        shown = [p for b in self._story.blocks if b.chapter == chapter for p in b.photos]
        own = self._story.chapters[chapter].accent
        accent = Colour.of(own) if own else None
        return self._memory.recall(
            choose_chapter_tint, tuple(self._looks(shown)), accent, at=chapter
        )

    def _is_shut(self, page: PageLayout) -> bool:
        drawn = any(isinstance(f, DrawnFrame) for f in page.frames)
        return not page.frames or drawn or page.number in self._shut

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
    book: Book,
    page: PageLayout,
    chapter: int,
    tint: Tint,
    name: tuple[object, ...],
    before: tuple[WashRoom, ...],
    measurer: TextMeasurer,
) -> tuple[PageWash, WashRoom] | None:
    most_light = luminance(tint.colour)
    texts = [f for f in page.frames if isinstance(f, TextFrame)]
    words = [w for text in texts for w in read_words(text, measurer)]
    bearing = [w for w in words if w.needs is not None and w.needs <= most_light - ROUNDING]
    taken = [w.box for w in words if w not in bearing]
    taken += [shown_box(f).grown(PICTURE_CLEAR) for f in page.frames if isinstance(f, PictureFrame)]
    taken += [f.box.grown(SMALL_CLEAR) for f in page.frames if isinstance(f, RuleFrame)]
    if page.folio:
        taken.append(place_folio(book, make_grid(book), page.number).grown(SMALL_CLEAR))
    most = MOST_UNDER_TITLE if bearing else MOST_SHARE
    rooms = list_rooms(book.trim, book.bleed, is_recto(page.number), taken, most)
    if not rooms:
        return None

    def judge(room: WashRoom) -> tuple[float, str]:
        size = room.box.area / (most * book.trim.width * book.trim.height)
        under = _share_under(room.box, bearing)
        like = sum(other.lies_like(room) for other in before)
        worth = size + UNDER_TITLE * under + AT_CORNER * room.at_corner - AS_BEFORE * like
        return worth, hash_values(name, room)  # among equals chance decides, the same each time

    best = max(rooms, key=judge)
    borne = [w.needs for w in bearing if w.needs and w.box.overlap(best.box)]
    darkest = max([DARKEST, *(need + ROUNDING for need in borne)])
    wash = Wash(best.box.size, best.edges, tint.colour, hash_values(name), darkest)
    return PageWash(page.number, best.box, wash, tint, chapter), best


def _share_under(box: Rect, words: Sequence[WashWords]) -> float:
    area = sum(w.box.area for w in words)
    under = sum(o.area for w in words if (o := w.box.overlap(box)))
    return under / area if area else 0.0

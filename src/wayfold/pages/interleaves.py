"""The ink on translucent leaves: a title or a caption over a picture, a small motif, or nothing."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from wayfold.base.memory import Memory
from wayfold.book.state import Book
from wayfold.drawing.items import Drawing
from wayfold.drawing.text import TextMeasurer
from wayfold.layout.grid import make_grid
from wayfold.layout.model import BookLayout, PageLayout, PictureFrame
from wayfold.pages.leaf_ink import CountryMapper, LeafMatter, ink_leaf
from wayfold.photos.lightness import Lightness
from wayfold.photos.model import Photo
from wayfold.plan.model import EndRole, InterleafEnd, Plan
from wayfold.plan.paper import is_recto
from wayfold.story.model import BlockKind, Story
from wayfold.words.leaves import CAPTION, NAME, TITLE
from wayfold.words.model import Words


@dataclass(frozen=True, slots=True)
class InterleafLeaf:
    """One translucent leaf and the ink on its two faces, each a drawing of the page's size.

    ``interleaf`` and ``end`` are its indices in the plan; it lies after page ``after_page``. The
    recto lies to the reader while the leaf covers the next page, the verso once it is turned.
    """

    interleaf: int
    end: int
    after_page: int
    role: EndRole
    recto: Drawing
    verso: Drawing

    @property
    def label(self) -> str:
        """How reports name it, "leaf after page 12"."""
        return f"leaf after page {self.after_page}"


def compose_interleaves(
    book: Book,
    story: Story,
    plan: Plan,
    words: Words,
    layout: BookLayout,
    measurer: TextMeasurer,
    lightness: Mapping[str, Lightness],
    photos: Mapping[str, Photo],
    find_country: Callable[[str], CountryMapper] | None = None,
    memory: Memory | None = None,
) -> tuple[tuple[InterleafLeaf, ...], BookLayout]:
    """Give every leaf of every interleaf, in the plan's order, and the pages to lie under them.

    Where words over a picture that fills its page cannot be read anywhere, it is cropped otherwise
    if that helps; all else of the layout stays as it is.

    ``lightness`` is that of the photographs under leaves; where it is not known, words stand where
    titles hang. A leaf cut back to a stub bears nothing. ``find_country`` gives what draws the map
    of a country (ISO 3166-1 alpha-2) that a chapter asks for. What is in ``memory`` from the last
    time is not worked out again.
    """
    memory = memory or Memory()
    pages = {page.number: page for page in layout.pages}
    about = _bare(book)
    gathering = _Gathering(about, book, story, plan, words, measurer, lightness, photos)
    leaves = []
    for index, interleaf in enumerate(plan.interleaves):
        for number, end in enumerate(interleaf.ends):
            beneath = end.over if end.over is not None else gathering.choose_beneath(end)
            around = tuple(pages[n] for n in (beneath, beneath ^ 1) if n in pages)
            matter = gathering.gather(end, beneath, around, find_country)
            inked = memory.recall_lasting(ink_leaf, matter, at=(index, number))
            pages.update({page.number: page for page in inked.pages})
            on_recto = is_recto(beneath)
            recto, verso = (
                Drawing(f"leaf after page {end.after_page}, {side}", book.trim, book.bleed, ink)
                for side, ink in (
                    ("recto", inked.items if on_recto else ()),
                    ("verso", () if on_recto else inked.items),
                )
            )
            leaf = InterleafLeaf(index, number, end.after_page, end.role, recto, verso)
            leaves.append(memory.keep(leaf, ("leaf", index, number)))
    return tuple(leaves), replace(layout, pages=tuple(pages[p.number] for p in layout.pages))


def _bare(book: Book) -> Book:
    """Give a book with what inking leaves reads of it, but for the crops."""
    return Book(
        "",
        trim=book.trim,
        bleed=book.bleed,
        style=book.style,
        translucent=book.translucent,
        arranging=replace(book.arranging, ways={}, by_hand={}, exchanged=()),
    )


class _Gathering:
    """Gathers for each leaf what inking it reads, and no more."""

    def __init__(
        self,
        about: Book,
        book: Book,
        story: Story,
        plan: Plan,
        words: Words,
        measurer: TextMeasurer,
        lightness: Mapping[str, Lightness],
        photos: Mapping[str, Photo],
    ) -> None:
        self._about, self._choices, self._grid = about, book.choices, make_grid(book)
        self._blocks = {block.id: block for block in story.blocks}
        self._chapters, self._planned, self._ways = story.chapters, plan.pages, dict(plan.choices)
        self._words, self._measurer = words, measurer
        self._lightness, self._photos = lightness, photos

    def choose_beneath(self, end: InterleafEnd) -> int:
        """The page a leaf's motif lies over: the right one, unless only the left one bears it."""
        after = end.after_page
        return after if not self._bears(after + 1) and after and self._bears(after) else after + 1

    def gather(
        self,
        end: InterleafEnd,
        beneath: int,
        around: tuple[PageLayout, ...],
        find_country: Callable[[str], CountryMapper] | None,
    ) -> LeafMatter:
        """Give what inking a leaf reads; ``around`` has the page beneath and the one it faces."""
        key, mapped, opener = "", None, False
        if end.role is EndRole.WANTED:
            key, mapped, opener = self._find_wanted(beneath)
        elif end.role is EndRole.ECHO:
            key = f"{NAME}:{self._find_chapter(end.after_page, beneath)}"
        shown = [
            f.photo
            for page in around
            if page.number == beneath
            for f in page.frames
            if isinstance(f, PictureFrame)
        ]
        return LeafMatter(
            book=replace(
                self._about, choices={p: self._choices[p] for p in shown if p in self._choices}
            ),
            grid=self._grid,
            measurer=self._measurer,
            role=end.role,
            after=end.after_page,
            beneath=beneath,
            key=key,
            paragraphs=self._words.get(key),
            opener=opener,
            pages=around,
            lightness={p: self._lightness[p] for p in shown if p in self._lightness},
            photos={p: self._photos[p].bare() for p in shown if p in self._photos},
            draw_country=find_country(mapped).draw if mapped and find_country else None,
        )

    def _bears(self, page: int) -> bool:
        """Whether a leaf's own words may lie beside a page."""
        if not 1 <= page <= len(self._planned):
            return True
        planned = self._planned[page - 1]
        if planned.block is None:
            return True
        way = self._ways.get(planned.block, 0)
        return planned.part in self._blocks[planned.block].alternatives[way].bears

    def _find_wanted(self, page: int) -> tuple[str, str | None, bool]:
        """The key of the chapter's title or the picture's caption, and the country to be drawn."""
        name = self._planned[page - 1].block
        if name is None:
            return "", None, False
        block = self._blocks[name]
        if block.kind is BlockKind.OPENER:
            mapped = self._chapters[block.chapter].mapped if block.chapter is not None else None
            return f"{TITLE}:{block.chapter}", mapped, True
        return (f"{CAPTION}:{block.photos[0]}" if block.photos else ""), None, False

    def _find_chapter(self, after: int, page: int) -> int | None:
        """The chapter that a leaf lies in."""
        near = (n for n in (page, after + 1, after) if 1 <= n <= len(self._planned))
        names = (self._planned[n - 1].block for n in near)
        chapters = (self._blocks[name].chapter for name in names if name is not None)
        return next((c for c in chapters if c is not None), None)

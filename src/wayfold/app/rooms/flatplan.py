"""The flatplan: every page on its leaf, its sheet and its gathering, and what lies on it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import PurePath

from wayfold.app.block_names import name_blocks
from wayfold.app.rooms.flatplan_pages import find_small_pages
from wayfold.app.session import Session
from wayfold.app.stages import Results
from wayfold.book.planning import PinChoice
from wayfold.book.state import Book
from wayfold.photos.model import Photo
from wayfold.plan.model import Plan
from wayfold.press.signatures import signature_of
from wayfold.project.ledger_file import read_ledger
from wayfold.story.model import Block, BlockKind, Story


@dataclass(frozen=True, slots=True)
class FlatPage:
    """A page: part ``part`` (from 0) of ``block`` lies on it, None where it is white.

    ``picture`` is the key of what it looks like.
    """

    number: int
    block: str | None
    part: int
    picture: str


@dataclass(frozen=True, slots=True)
class FlatPhoto:
    """A photograph of a block; ``of`` are digits that its content begins with."""

    id: str
    name: str
    of: str
    pick: str
    interleaf: bool


@dataclass(frozen=True, slots=True)
class Held:
    """How a block is held fast: on a page, at a centre, in a way (from 1), where it was."""

    page: int | None
    centre: bool
    way: int | None
    stays: bool


@dataclass(frozen=True, slots=True)
class FlatBlock:
    """A block as it lies; ``place`` is the chapter's, of a block that opens one, else empty.

    ``leaf`` says whether that chapter opens behind a translucent leaf; ``crosses`` are the pages
    on which a picture of it begins that crosses the fold.
    """

    id: str
    name: str
    kind: str
    chapter: str
    first_page: int
    pages: int
    crosses: tuple[int, ...]
    photos: tuple[FlatPhoto, ...]
    held: Held | None
    place: str
    leaf: bool


@dataclass(frozen=True, slots=True)
class FlatGathering:
    """A gathering; ``printed`` are those of its sheets that lie printed (1 is the outermost).

    ``signature`` is the letter that is printed on its spine.
    """

    number: int
    signature: str
    sheets: int
    first_page: int
    last_page: int
    printed: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class FlatEnd:
    """Where an interleaf comes out: after page ``after_page``, made for page ``over`` or none."""

    after_page: int
    role: str
    over: int | None


@dataclass(frozen=True, slots=True)
class FlatLeaf:
    """An interleaf, ``depth`` paper sheets outside it; None where it is pasted in."""

    gathering: int
    depth: int | None
    ends: tuple[FlatEnd, ...]


@dataclass(frozen=True, slots=True)
class Flatplan:
    """The whole flatplan; lengths in mm."""

    revision: str
    trim_width_mm: float
    trim_height_mm: float
    pages: tuple[FlatPage, ...]
    blocks: tuple[FlatBlock, ...]
    gatherings: tuple[FlatGathering, ...]
    leaves: tuple[FlatLeaf, ...]


def view_flatplan(session: Session) -> Flatplan:
    """Give the flatplan of the open book as it is now."""
    shown = session.shown
    results = shown.results
    plan, book = results.plan, results.book
    keys = find_small_pages(session).list_keys(shown)
    printed = read_ledger(session.folder.ledger_file)
    return Flatplan(
        shown.revision,
        book.trim.width,
        book.trim.height,
        tuple(
            FlatPage(page.number, page.block, page.part, key)
            for page, key in zip(plan.pages, keys, strict=True)
        ),
        tuple(_view_blocks(results)),
        tuple(
            FlatGathering(
                g.number,
                signature_of(g.number),
                g.sheets,
                g.first_page,
                g.last_page,
                tuple(
                    n
                    for n in range(1, g.sheets + 1)
                    if f"gathering {g.number}, sheet {n}" in printed
                ),
            )
            for g in plan.gatherings
        ),
        view_leaves(plan),
    )


def view_leaves(plan: Plan) -> tuple[FlatLeaf, ...]:
    """Give the interleaves of a plan."""
    return tuple(
        FlatLeaf(
            leaf.gathering,
            leaf.depth,
            tuple(FlatEnd(end.after_page, end.role.value, end.over) for end in leaf.ends),
        )
        for leaf in plan.interleaves
    )


def _view_blocks(results: Results) -> Iterator[FlatBlock]:
    book, story, plan, photos = results.book, results.story, results.plan, results.photos
    names = name_blocks(story, photos)
    held = {pin.block: pin for pin in book.planning.pins}
    leaves = {chapter.place: chapter.interleaf for chapter in book.chapters}
    ways = dict(plan.choices)
    for block in story.blocks:
        way = block.alternatives[ways[block.id]]
        first = plan.first_page_of(block.id)
        place = _name_place(story, block)
        yield FlatBlock(
            block.id,
            names[block.id],
            block.kind.value,
            story.chapters[block.chapter].title if block.chapter is not None else "",
            first,
            way.pages,
            tuple(first + at for at in way.spreads),
            tuple(_view_photo(photos[photo], book) for photo in block.photos),
            _view_held(held.get(block.id)),
            place,
            leaves.get(place, False),
        )


def _name_place(story: Story, block: Block) -> str:
    opens = block.kind is BlockKind.OPENER and block.chapter is not None
    return story.chapters[block.chapter].place if opens and block.chapter is not None else ""


def _view_photo(photo: Photo, book: Book) -> FlatPhoto:
    choice = book.choice(photo.id)
    name = PurePath(photo.path).stem
    return FlatPhoto(photo.id, name, photo.content[:12], choice.pick.value, choice.interleaf)


def _view_held(pin: PinChoice | None) -> Held | None:
    return None if pin is None else Held(pin.page, pin.centre, pin.way, pin.stays)

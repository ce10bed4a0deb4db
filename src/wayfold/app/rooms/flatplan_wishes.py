"""What a person may wish of the plan at the desk, as edits; and the wish that each is for."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from wayfold.app.stages import Results
from wayfold.base.errors import NotFoundError
from wayfold.book.edits import ChoosePlan, Edit, HoldBlocks, SetChapterLeaf, SetInterleaf, SetPicks
from wayfold.book.planning import PinChoice, PlanChoice
from wayfold.book.state import Book, Pick
from wayfold.plan.wishes import WishKind

WishName = Literal[
    "move", "hold", "hold centre", "let go", "hero", "no hero", "leaf", "no leaf",
    "chapter leaf", "no chapter leaf", "plan", "centre", "whole", "folded", "size",
]  # fmt: skip
"""The last four are wishes of blocks that are there already (``plan.wishes.WishKind``)."""


@dataclass(frozen=True, slots=True)
class Asked:
    """A wish as it is asked.

    ``what`` is the id of a block or photograph, a chapter's place or a plan's name; ``page`` where
    a block is to begin.
    """

    name: WishName
    what: str
    page: int | None = None


@dataclass(frozen=True, slots=True)
class Wanted:
    """What the person is after: ``edits`` to have it tried, and what should come of them.

    ``kind`` of wish should be met for the block that shows ``photo``, or for ``block``.
    """

    edits: tuple[Edit, ...]
    block: str | None = None
    photo: str | None = None
    kind: WishKind | None = None
    page: int | None = None
    """Where the block should begin."""


def read_asked(results: Results, asked: Asked) -> Wanted:
    """Give the edits for a wish. Raises NotFoundError for what the book has not."""
    what = asked.what
    match asked.name:
        case "hero" | "no hero" | "leaf" | "no leaf":
            return _ask_photo(results, asked.name, what)
        case "chapter leaf" | "no chapter leaf":
            return _ask_chapter(results, what, wanted=asked.name == "chapter leaf")
        case "plan":
            return Wanted((ChoosePlan(_find_choice(what)),))
        case "centre" | "whole" | "folded" | "size":
            _require_block(results, what)
            return Wanted((), block=what, kind=WishKind(asked.name))
        case _:
            return _ask_block(results, asked)


def _ask_photo(results: Results, name: WishName, photo: str) -> Wanted:
    if photo not in results.photos:
        raise NotFoundError("The book has no such photograph.", where=photo)
    match name:
        case "hero":
            edit: Edit = SetPicks(((photo, Pick.HERO),))
            return Wanted((edit,), photo=photo, kind=WishKind.CENTRE)
        case "no hero":
            return Wanted((SetPicks(((photo, Pick.TAKE),)),), photo=photo)
        case "leaf":
            return Wanted((SetInterleaf(photo, True),), photo=photo, kind=WishKind.FOLDED)
        case _:
            return Wanted((SetInterleaf(photo, False),), photo=photo)


def _ask_chapter(results: Results, place: str, *, wanted: bool) -> Wanted:
    story = results.story
    for block in story.blocks:
        opens = block.id.startswith("opener:") and block.chapter is not None
        if opens and block.chapter is not None and story.chapters[block.chapter].place == place:
            kind = WishKind.FOLDED if wanted else None
            return Wanted((SetChapterLeaf(place, wanted),), block=block.id, kind=kind)
    raise NotFoundError("No chapter of the book is told of that place.", where=place)


def _ask_block(results: Results, asked: Asked) -> Wanted:
    block = _require_block(results, asked.what)
    held = _find_pin(results.book, block)
    if asked.name == "let go":
        return Wanted((HoldBlocks((PinChoice(block),)),), block=block)
    if asked.name == "hold centre":
        return Wanted((HoldBlocks((replace(held, centre=True),)),), block=block)
    if asked.name == "hold":
        pin = replace(held, page=results.plan.first_page_of(block))
        return Wanted((HoldBlocks((pin,)),), block=block)
    page = asked.page or 1
    # Whoever moves it by hand means that page, and not where it was held until now.
    pin = PinChoice(block, page=page, way=held.way)
    return Wanted((HoldBlocks((pin,)),), block=block, page=page)


def _find_pin(book: Book, block: str) -> PinChoice:
    return next((pin for pin in book.planning.pins if pin.block == block), PinChoice(block))


def _require_block(results: Results, block: str) -> str:
    if all(told.id != block for told in results.story.blocks):
        raise NotFoundError("The story has no such block any more.", where=block)
    return block


def _find_choice(name: str) -> PlanChoice:
    try:
        return PlanChoice(name)
    except ValueError:
        raise NotFoundError("No such plan is on offer.", where=name) from None

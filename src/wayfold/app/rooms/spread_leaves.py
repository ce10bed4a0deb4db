"""The translucent leaves between two facing pages, and what here could ask for one."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.app.rooms.spread_views import InterleafView, LeafWishView
from wayfold.app.session import Session
from wayfold.app.stages import Results
from wayfold.app.views import BookView
from wayfold.base.errors import NotFoundError, UserError
from wayfold.book.edits import SetChapterLeaf, SetInterleaf
from wayfold.plan.paper import is_recto
from wayfold.story.model import Block, BlockKind
from wayfold.words.leaves import find_veiled_pages

CAN_ASK = frozenset({BlockKind.SINGLE, BlockKind.GROUP})
OVER_FOLD = "A leaf over a picture across two pages would hide half of it."
WITH_TEXT = "This picture stands with a text; a leaf would part them."


def show_leaves(results: Results, view: BookView, pages: tuple[int, ...]) -> InterleafView:
    """Give the leaves between ``pages``, and the wishes for one that can be had there or not."""
    seen = [r for r in view.reading if r.veiled is not None and r.number in pages]
    lying = [r.veiled for r in seen if is_recto(r.number)]
    turned = [r.veiled for r in seen if not is_recto(r.number)]
    return InterleafView(
        # All leaves still lie on the right page first; all are turned onto the left one last.
        lying=lying[0] if lying else None,
        turned=turned[-1] if turned else None,
        wishes=tuple(wish for number in pages for wish in _list_wishes(results, number)),
    )


def ask_for_leaf(session: Session, photo: str | None, chapter: str | None, wanted: bool) -> None:
    """Ask for a translucent leaf over a picture or over a chapter's opening, or do without it.

    The book is planned anew for it. Raises UserError where none can be had there.
    """
    results = session.results
    pages = range(1, len(results.layout.pages) + 1)
    wishes = (wish for page in pages for wish in _list_wishes(results, page))
    wish = next((w for w in wishes if (w.photo, w.chapter) == (photo, chapter)), None)
    if wish is None:
        raise NotFoundError("No page of the book is that picture's or that chapter's.")
    if wanted and not wish.possible:
        raise UserError(wish.why_not, remedy="Ask for it over another picture.")
    session.edit(SetInterleaf(photo, wanted) if photo else SetChapterLeaf(chapter or "", wanted))


def _list_wishes(results: Results, page: int) -> Iterator[LeafWishView]:
    name = results.plan.pages[page - 1].block
    if name is None:
        return
    block = results.story.block(name)
    lies = page in find_veiled_pages(results.plan)
    if block.kind is BlockKind.OPENER and block.chapter is not None:
        place = results.story.chapters[block.chapter].place
        wanted = any(c.place == place and c.interleaf for c in results.book.chapters)
        possible = bool(place)
        why_not = "" if possible else "This chapter is on the way and has no place to ask by."
        yield LeafWishView(page, None, place, wanted, lies, possible, why_not)
        return
    why_not = _say_why_not(block)
    for frame in results.layout.pages[page - 1].frames:
        photo = getattr(frame, "photo", None)
        if photo is not None:
            wanted = results.book.choice(photo).interleaf
            over = lies and block.photos == (photo,)
            yield LeafWishView(page, photo, None, wanted, over, not why_not, why_not)


def _say_why_not(block: Block) -> str:
    if block.kind in CAN_ASK:
        return ""
    return OVER_FOLD if block.kind is BlockKind.HERO else WITH_TEXT

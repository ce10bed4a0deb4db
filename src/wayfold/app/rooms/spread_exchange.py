"""Two pictures change places."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import PurePath

from wayfold.app.rooms.spread_placing import find_block_of, is_by_hand, list_numbers, read_hand
from wayfold.app.session import Session
from wayfold.app.shown import Shown
from wayfold.app.stages import Results
from wayfold.base.errors import UserError
from wayfold.book.arranging import HandLaid, PlacedPicture
from wayfold.book.edits import Edit, ExchangePictures, PlaceByHand
from wayfold.layout.by_hand_texts import CAPTION
from wayfold.layout.model import PictureFrame
from wayfold.story.exchange import EXCHANGEABLE
from wayfold.story.model import Block

WITH_WORDS = "A picture that stands with a text or title stays with it."


def exchange_places(session: Session, one: str, other: str) -> None:
    """Let two pictures change places. Raises UserError saying why where they cannot.

    Each is cropped to the other's frame where that costs nothing that matters, else it stands
    whole in the middle of it; nothing else moves. Where it is alone on its pages they are laid as
    suits it.
    """
    if one == other:
        raise UserError("A picture cannot change places with itself.", remedy="Choose another.")
    with session.hold() as results:
        blocks = {b.id: b for b in (find_block_of(results, photo) for photo in (one, other))}
        first, *_, last = (*blocks.values(), *blocks.values())
        if not may_exchange(first, last):
            raise UserError(
                WITH_WORDS, remedy="Choose pictures that stand without a text or title."
            )
        edits: list[Edit] = [ExchangePictures(one, other)] if len(blocks) > 1 else []
        placed = tuple(
            (name, _exchange(results, block, {one: other, other: one}))
            for name, block in blocks.items()
            if len(block.photos) > 1 or is_by_hand(results, name)
        )
        session.edit(*edits, *([PlaceByHand(placed)] if placed else []))


@dataclass(frozen=True, slots=True)
class OtherPicture:
    """A picture that another may change places with, and the first page that shows it."""

    photo: str
    content: str
    name: str
    page: int
    width_px: int
    height_px: int


def list_others(shown: Shown, photo: str) -> tuple[OtherPicture, ...]:
    """Give the pictures that a picture may change places with, in the order of their pages.

    Raises NotFoundError where no page shows it, UserError saying why where it stays.
    """
    results = shown.results
    own = find_block_of(results, photo)
    others: dict[str, OtherPicture] = {}
    for page, laid in zip(results.plan.pages, results.layout.pages, strict=True):
        block = results.story.block(page.block) if page.block else None
        if block is None or not may_exchange(own, block):
            continue
        for frame in laid.frames:
            if isinstance(frame, PictureFrame) and frame.photo not in (photo, *others):
                known = results.photos[frame.photo]
                others[known.id] = OtherPicture(
                    known.id,
                    known.content,
                    PurePath(known.path).name,
                    page.number,
                    known.size.width_px,
                    known.size.height_px,
                )
    return tuple(others.values())


def may_exchange(block: Block, other: Block) -> bool:
    """Whether pictures of two blocks may change places."""
    return block.id == other.id or {block.kind, other.kind} <= EXCHANGEABLE


def _exchange(results: Results, block: Block, turned: dict[str, str]) -> HandLaid:
    """Give the block as it lies, with other pictures in the places of those that are ``turned``."""
    hand = read_hand(results, block)
    pictures = (
        _stand(results, block, turned[p.photo], p) if p.photo in turned else p
        for p in hand.pictures
    )
    # A caption that was placed stands by the place, not by the picture.
    texts = (
        replace(text, text=f"{CAPTION}{turned[photo]}")
        if text.text.startswith(CAPTION) and (photo := text.text.removeprefix(CAPTION)) in turned
        else text
        for text in hand.texts
    )
    return replace(hand, pictures=tuple(pictures), texts=tuple(texts))


def _stand(results: Results, block: Block, photo: str, place: PlacedPicture) -> PlacedPicture:
    """Put a photograph into another's place."""
    gathered = next(m for m in results.blocks.matters if m.block.id == block.id)
    matter = replace(gathered, book=results.book, photos=results.photos)
    number = list_numbers(results, block.id)[place.page - 1]
    frame = matter.show_in(photo, place.box, number)
    return PlacedPicture(photo, place.page, frame.box)

"""Two pictures change places."""

from __future__ import annotations

from dataclasses import replace

from wayfold.app.rooms.spread_frames import say_why_held
from wayfold.app.rooms.spread_placing import find_block_of, list_numbers, read_hand
from wayfold.app.session import Session
from wayfold.app.stages import Results
from wayfold.base.errors import UserError
from wayfold.book.arranging import HandLaid, PlacedPicture
from wayfold.book.edits import PlaceByHand
from wayfold.story.model import Block


def exchange_pictures(session: Session, one: str, other: str) -> None:
    """Let two pictures change places. Raises UserError saying why where they cannot.

    Each is cropped to the other's frame where that costs nothing that matters, else it stands
    whole in the middle of it.
    """
    results = session.results
    blocks = [find_block_of(results, photo) for photo in (one, other)]
    if one == other:
        raise UserError("A picture cannot change places with itself.", remedy="Choose another.")
    for block in blocks:
        why_not = say_why_held(block)
        if why_not:
            raise UserError(why_not, remedy="Choose pictures that stand without a text.")
    if blocks[0].id != blocks[1].id:
        raise UserError(
            "These pictures lie in different groups.",
            remedy="Choose two that lie together.",
        )
    session.edit(PlaceByHand(((blocks[0].id, _exchange(results, blocks[0], one, other)),)))


def _exchange(results: Results, block: Block, one: str, other: str) -> HandLaid:
    hand = read_hand(results, block)
    at = {picture.photo: picture for picture in hand.pictures}
    turned = {one: at[other], other: at[one]}
    pictures = (
        _stand(results, block, p.photo, turned[p.photo]) if p.photo in turned else p
        for p in hand.pictures
    )
    return replace(hand, pictures=tuple(pictures))


def _stand(results: Results, block: Block, photo: str, place: PlacedPicture) -> PlacedPicture:
    """Put a photograph into another's place."""
    matter = next(m for m in results.blocks.matters if m.block.id == block.id)
    number = list_numbers(results, block.id)[place.page - 1]
    frame = matter.show_in(photo, place.box, number)
    return PlacedPicture(photo, place.page, frame.box)

"""Texts and captions placed by hand at the desk, set by themselves, and given back."""

from __future__ import annotations

from dataclasses import replace

from wayfold.app.rooms.spread_frames import list_frames
from wayfold.app.rooms.spread_placing import (
    LEAST_SIDE,
    begin_hand,
    find_block_of,
    list_numbers,
    read_hand,
)
from wayfold.app.rooms.spread_views import FrameView
from wayfold.app.session import Session
from wayfold.app.stages import Results
from wayfold.base.errors import NotFoundError, UserError
from wayfold.base.geometry import Rect
from wayfold.book.arranging import LEAST_MEASURE, HandLaid, PlacedText
from wayfold.book.edits import PlaceByHand
from wayfold.layout.by_hand_texts import CAPTION, count_page, name_text
from wayfold.layout.captions import CAPTION_GAP, NARROWEST
from wayfold.layout.fixed import FIXED
from wayfold.layout.homes import is_clear
from wayfold.layout.judge import SAFE, shown_box
from wayfold.layout.model import PictureFrame
from wayfold.story.model import Block

CLEAR = 0.5
"""White (mm) that a caption set by itself has round it at the least."""
FARTHEST = 1
"""A text may go so many pages before its block's first or behind its last."""


def place_text(
    session: Session, frame: str, page: int, corner: tuple[float, float], width: float
) -> None:
    """Place a text, by its frame's id, on ``page``: its upper left corner and its measure in mm.

    Raises UserError for what cannot be, NotFoundError for what is not there.
    """
    with session.hold() as results:
        found = _find_frame(results, frame)
        if not found.movable or found.block is None:
            raise UserError(found.why_not, remedy="Write it otherwise, or move what lies near it.")
        name = name_text(frame.partition("@")[0])
        if name.startswith("captions") and page != found.page:
            raise UserError(
                f"These captions stand together for the pictures of page {found.page}.",
                remedy="Set one of them by itself: it may stand on the page that faces it.",
            )
        _check_box(results, Rect(*corner, width, found.box.height), page)
        _keep(session, results, found.block, name, page, (*corner, width))


def set_caption_apart(session: Session, photo: str) -> None:
    """Set the caption of one picture by itself: where there is white near it, else under it."""
    with session.hold() as results:
        block = find_block_of(results, photo)
        if not results.words.get(f"{CAPTION}{photo}"):
            raise UserError("This picture has no caption yet.", remedy="Write one first.")
        number, box = _find_shown(results, block, photo)
        name = f"{CAPTION}{photo}"
        place = _find_white(results, block, name, number, box)
        _keep(session, results, block.id, name, number, place)


def release_text(session: Session, frame: str) -> None:
    """Let a text that was placed find its own place again."""
    with session.hold() as results:
        found = _find_frame(results, frame)
        name = name_text(frame.partition("@")[0])
        if not found.by_hand or found.block is None:
            raise NotFoundError("This text was not placed by hand.")
        hand = begin_hand(results, found.block)
        kept = replace(hand, texts=tuple(one for one in hand.texts if one.text != name))
        left = kept if kept.pictures or kept.texts else None
        session.edit(PlaceByHand(((found.block, left),)))


def _keep(
    session: Session,
    results: Results,
    block: str,
    name: str,
    page: int,
    place: tuple[float, float, float],
) -> None:
    numbers = list_numbers(results, block)
    at = count_page(numbers, page)
    if not 1 - FARTHEST <= at <= len(numbers) + FARTHEST:
        raise UserError(
            f"This text belongs to page {numbers[0]}, too far from page {page}.",
            remedy="Let it stand on a page beside its own.",
        )
    hand = _hold_pictures(results, results.story.block(block), name)
    others = tuple(one for one in hand.texts if one.text != name)
    placed = replace(hand, texts=(*others, PlacedText(name, at, *place)))
    session.edit(PlaceByHand(((block, placed),)))


def _hold_pictures(results: Results, block: Block, name: str) -> HandLaid:
    """Give what was placed of a block; a caption that is placed holds its pictures too.

    Else the families, which find room for captions, would lay the pictures otherwise.
    """
    is_caption = name.startswith("caption")
    if block.photos and (is_caption or block.kind not in FIXED):
        return read_hand(results, block)
    return begin_hand(results, block.id)


def _find_frame(results: Results, frame: str) -> FrameView:
    _, _, number = frame.rpartition("@")
    if number.isdecimal() and 1 <= int(number) <= len(results.layout.pages):
        for one in list_frames(results, int(number)):
            if one.id == frame and one.picture is None:
                return one
    raise NotFoundError("This text does not stand there any more.")


def _find_shown(results: Results, block: Block, photo: str) -> tuple[int, Rect]:
    """Give the last page that shows a picture, where the eye leaves it, and what is seen there."""
    trim = results.book.trim
    for number in reversed(list_numbers(results, block.id)):
        for frame in results.layout.pages[number - 1].frames:
            if isinstance(frame, PictureFrame) and frame.photo == photo:
                page = Rect(0.0, 0.0, trim.width, trim.height)
                return number, shown_box(frame).overlap(page) or page
    raise NotFoundError("This picture is on no page of the book.")


def _find_white(
    results: Results, block: Block, name: str, number: int, box: Rect
) -> tuple[float, float, float]:
    """Give corner and measure for a caption: under its picture, over it, or under all on the page.

    Where none of them is white it stands under its picture, upon what lies there.
    """
    matter = next(m for m in results.blocks.matters if m.block.id == block.id)
    grid, page = matter.grid, results.layout.pages[number - 1]
    width = min(grid.caption_measure, max(box.width, NARROWEST))
    left = min(max(box.x, SAFE), grid.trim.width - SAFE - width)
    height = matter.height(matter.words.get(name), width)
    lowest = max(shown_box(frame).bottom for frame in page.frames)
    under = box.bottom + CAPTION_GAP
    safe = grid.media.grown(-grid.bleed - SAFE)
    for top in (under, box.y - CAPTION_GAP - height, lowest + CAPTION_GAP):
        wanted = Rect(left, top, width, height)
        if safe.contains(wanted) and is_clear(page, wanted, CLEAR):
            return left, top, width
    return left, under if under + height < safe.bottom else safe.bottom - height, width


def _check_box(results: Results, box: Rect, page: int) -> None:
    if box.width < LEAST_MEASURE:
        raise UserError(
            f"A text {box.width:.1f} mm wide would be too narrow.",
            remedy=f"Make it {LEAST_MEASURE:g} mm wide or more.",
        )
    trim = results.book.trim
    # A line of words is lower than that, and lies on the page with half its height.
    low = min(LEAST_SIDE, box.height / 2)
    seen = box.overlap(Rect(0.0, 0.0, trim.width, trim.height))
    if seen is None or seen.width < LEAST_SIDE or seen.height < low:
        raise UserError(
            "The text would lie outside its page.",
            where=f"page {page}",
            remedy=f"Leave {LEAST_SIDE:g} mm of it on the page or more.",
        )

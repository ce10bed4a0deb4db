"""The things on a page, one by one, as the room Spread names and measures them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import PurePath

from wayfold.app.rooms.spread_views import FrameView, PictureView, WordsView
from wayfold.app.rooms.spread_words import find_words, show_caption, show_title, tell_kind
from wayfold.app.stages import Results
from wayfold.base.geometry import Rect, Size
from wayfold.base.units import ppi_of
from wayfold.book.arranging import BY_HAND
from wayfold.layout.by_hand_texts import find_number, name_text
from wayfold.layout.judge import shown_box
from wayfold.layout.model import DrawnFrame, PageLayout, PictureFrame, TextFrame
from wayfold.photos.largest import largest_print
from wayfold.plan.paper import is_recto
from wayfold.story.model import Block, BlockKind

SET_BY_LAYOUT = "This is set from what the book says elsewhere, and finds its place by itself."
NOTES = "Notes stand at the foot of the page that calls them."
PLACED_KINDS = frozenset({"caption", "text", "title"})
DRAWN = "A map fills its pages."
TABLE = "itinerary"


def list_frames(results: Results, page: int) -> tuple[FrameView, ...]:
    """Give the things on a page in reading order: from the head down, from left to right.

    The cells of a table are one thing; hairlines belong to what they stand by.
    """
    laid = results.layout.pages[page - 1]
    name = results.plan.pages[page - 1].block
    block = results.story.block(name) if name else None
    shown = [*_list_pictures(results, laid, block), *_list_others(results, laid, block)]
    table = [f for f in shown if f.id.startswith(TABLE)]
    if table:
        whole = replace(table[0], id=f"{TABLE}@{page}", box=_join([f.box for f in table]))
        shown = [whole, *(f for f in shown if f not in table)]
    return tuple(sorted(shown, key=lambda f: (round(f.box.y), f.box.x)))


def _list_pictures(results: Results, laid: PageLayout, block: Block | None) -> Iterator[FrameView]:
    for frame in laid.frames:
        if isinstance(frame, PictureFrame):
            yield FrameView(
                id=f"picture:{frame.photo}@{laid.number}",
                page=laid.number,
                kind="picture",
                block=block.id if block else None,
                box=shown_box(frame),
                movable=True,
                why_not="",
                picture=_show_picture(results, laid, frame),
                words=tuple(_list_words(results, block, frame.photo)),
            )


def _show_picture(results: Results, laid: PageLayout, frame: PictureFrame) -> PictureView:
    book, photo = results.book, results.photos[frame.photo]
    box, crop, size = frame.box, frame.crop, photo.size
    largest = largest_print(
        photo, crop, distance=book.arranging.reading_distance, surface=book.paper.surface
    ).width
    across = _is_across(results, laid, frame)
    page = Rect(0.0, 0.0, book.trim.width, book.trim.height)
    return PictureView(
        photo=photo.id,
        content=photo.content,
        name=PurePath(photo.path).name,
        width_px=size.width_px,
        height_px=size.height_px,
        crop=crop,
        crop_kept=_is_crop_kept(results, laid.number, photo.id),
        across=across,
        whole=box.moved(book.trim.width, 0.0) if across and is_recto(laid.number) else box,
        ppi=min(
            ppi_of(crop.width * size.width_px, box.width),
            ppi_of(crop.height * size.height_px, box.height),
        ),
        largest=Size(largest, largest * box.height / box.width),
        faces=tuple(face.box for face in photo.look.faces) if photo.look else (),
        bleeds=not page.contains(shown_box(frame), 0.01),
    )


def _is_crop_kept(results: Results, page: int, photo: str) -> bool:
    """Whether the person said which part of a picture is to be shown here."""
    name = results.plan.pages[page - 1].block
    hand = results.book.arranging.by_hand.get(name or "")
    if hand is not None and results.layout.pages[page - 1].family == BY_HAND:
        return any(one.photo == photo and one.crop for one in hand.pictures)
    return results.book.choice(photo).crop is not None


def _list_words(results: Results, block: Block | None, photo: str) -> Iterator[WordsView]:
    yield show_caption(results, photo)
    if block and block.kind is BlockKind.OPENER and block.chapter is not None:
        yield show_title(results, block.chapter)


def _list_others(results: Results, laid: PageLayout, block: Block | None) -> Iterator[FrameView]:
    number, name = laid.number, block.id if block else None
    for frame in laid.frames:
        if isinstance(frame, TextFrame):
            kind = tell_kind(frame.key)
            words = find_words(results, number, frame)
            why_not = NOTES if frame.key.startswith("notes:") else ""
            if kind not in PLACED_KINDS or not words:
                why_not = SET_BY_LAYOUT
            yield FrameView(
                id=f"{frame.key}@{number}",
                page=number,
                kind=kind,
                block=find_owner(results, frame, number) or name,
                box=frame.box,
                movable=not why_not,
                why_not=why_not,
                words=words,
                by_hand=frame.by_hand,
            )
        elif isinstance(frame, DrawnFrame):
            seen = frame.box.overlap(frame.clip) or frame.clip
            yield FrameView(f"map:{frame.key}@{number}", number, "map", name, seen, False, DRAWN)


def find_owner(results: Results, frame: TextFrame, number: int) -> str | None:
    """Give the block that a text belongs to, on whatever page it stands."""
    kind, _, rest = frame.key.partition("#")[0].partition(":")
    if kind == "caption":
        return next((b.id for b in results.story.blocks if rest in b.photos), None)
    if kind in ("captions", "text"):
        return rest
    if frame.by_hand:
        name = name_text(frame.key)
        for block, hand in results.book.arranging.by_hand.items():
            numbers = [page.number for page in results.plan.pages if page.block == block]
            for one in hand.texts:
                if numbers and one.text == name and find_number(numbers, one.page) == number:
                    return block
    return results.plan.pages[number - 1].block


def _is_across(results: Results, laid: PageLayout, frame: PictureFrame) -> bool:
    """Whether the facing page shows the other half of a picture."""
    number = laid.number + (-1 if is_recto(laid.number) else 1)
    if not 1 <= number <= len(results.layout.pages):
        return False
    facing = results.layout.pages[number - 1].frames
    return any(isinstance(f, PictureFrame) and f.photo == frame.photo for f in facing)


def _join(boxes: list[Rect]) -> Rect:
    x, y = min(b.x for b in boxes), min(b.y for b in boxes)
    right, bottom = max(b.right for b in boxes), max(b.bottom for b in boxes)
    return Rect(x, y, right - x, bottom - y)

"""Texts and captions where the person placed them, on pages that are laid out."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace

from wayfold.book.arranging import PlacedText
from wayfold.drawing.text import Paragraph
from wayfold.layout.captions import name_captions
from wayfold.layout.matter import Matter, on_recto, with_frames
from wayfold.layout.model import PageLayout, PictureFrame, TextFrame
from wayfold.words.terms import Term, say

CAPTION = "caption:"


def name_text(key: str) -> str:
    """Give the name that a text has among its block's, by its frame's key.

    A caption is named with its photograph; of other keys what the block itself says is left out.
    """
    if key.startswith(CAPTION):
        return key
    stem, sign, part = key.partition("#")
    return stem.partition(":")[0] + sign + part


def find_number(numbers: Sequence[int], page: int) -> int:
    """Give a page's number by its count from a block's first (1), beyond the block's own too."""
    if page > len(numbers):
        return numbers[-1] + page - len(numbers)
    return numbers[page - 1] if page >= 1 else numbers[0] + page - 1


def count_page(numbers: Sequence[int], number: int) -> int:
    """Give the count of a page from a block's first, as ``find_number`` reads it."""
    if number in numbers:
        return numbers.index(number) + 1
    if number > numbers[-1]:
        return len(numbers) + number - numbers[-1]
    return number - numbers[0] + 1


def leave_out_placed(matter: Matter) -> Matter:
    """Give a block without the captions that were placed by hand: they need no room of it."""
    placed = {one.text for one in matter.hand.texts} if matter.hand else set()
    captions = {name for name in placed if name.startswith(CAPTION)}
    if not captions & matter.words.paragraphs.keys():
        return matter
    kept = {key: text for key, text in matter.words.paragraphs.items() if key not in captions}
    return replace(matter, words=replace(matter.words, paragraphs=kept))


def place_texts(
    matters: Sequence[Matter], pages: Mapping[int, PageLayout], obeyed: Collection[str]
) -> dict[int, PageLayout]:
    """Give the pages with the texts of the blocks that are ``obeyed`` where they were placed.

    A text that is not there any more is passed over.
    """
    placed = dict(pages)
    for matter in matters:
        if matter.hand is None or matter.block.id not in obeyed:
            continue
        # All are taken up before the first is laid down: none is taken for another.
        taken = [(one, _take_out(matter, placed, one)) for one in matter.hand.texts]
        for one, frame in taken:
            number = find_number(matter.numbers, one.page)
            text = _set(matter, placed, one, frame, number)
            if text is not None:
                placed[number] = with_frames(placed[number], text)
    return placed


def _take_out(matter: Matter, pages: dict[int, PageLayout], one: PlacedText) -> TextFrame | None:
    """Take a text from its page, first from the one that it is placed on."""
    wanted = find_number(matter.numbers, one.page)
    for number in sorted(matter.numbers, key=lambda n: n != wanted):
        for frame in pages[number].frames:
            if isinstance(frame, TextFrame) and name_text(frame.key) == one.text:
                kept = tuple(f for f in pages[number].frames if f is not frame)
                pages[number] = replace(pages[number], frames=kept)
                return frame
    return None


def _set(
    matter: Matter,
    pages: Mapping[int, PageLayout],
    one: PlacedText,
    frame: TextFrame | None,
    number: int,
) -> TextFrame | None:
    if number not in pages:
        # The book ends before that page: it stays where it was found.
        return None
    if one.text.startswith(CAPTION):
        photo = one.text.removeprefix(CAPTION)
        key, paragraphs = one.text, _point_at(matter, pages, photo, number)
    elif frame is not None:
        key, paragraphs = frame.key, frame.paragraphs
    else:
        return None
    if not paragraphs:
        return None
    text = matter.set_text(key, paragraphs, one.left, one.top, one.width)
    return replace(text, by_hand=True, overset=frame.overset if frame else None)


def _point_at(
    matter: Matter, pages: Mapping[int, PageLayout], photo: str, number: int
) -> tuple[Paragraph, ...]:
    """Give a caption; on a page without its picture it says where that is."""
    caption = matter.words.get(f"{CAPTION}{photo}")
    shown = [n for n in _list_showing(matter, pages, photo) if n in pages]
    if not caption or not shown or number in shown:
        return caption
    facing = number - 1 if on_recto(number) else number + 1
    if facing in shown:
        term = Term.OPPOSITE
    elif number - shown[-1] > 1 or (number > shown[-1] and not on_recto(shown[-1])):
        term = Term.PRECEDING
    else:
        term = Term.OVERLEAF
    return name_captions(matter, [(say(term, matter.book.language), caption[0])])


def _list_showing(matter: Matter, pages: Mapping[int, PageLayout], photo: str) -> Iterator[int]:
    for number in matter.numbers:
        if any(isinstance(f, PictureFrame) and f.photo == photo for f in pages[number].frames):
            yield number

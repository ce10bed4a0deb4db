"""Pictures placed by hand at the desk: moved, resized, cropped, exchanged, and given back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from wayfold.app.rooms.spread import find_pages
from wayfold.app.session import Session
from wayfold.app.stages import Results
from wayfold.base.errors import NotFoundError, UserError
from wayfold.base.geometry import Rect
from wayfold.book.arranging import HandLaid, PlacedPicture
from wayfold.book.edits import Edit, PlaceByHand, SetCrop
from wayfold.layout.cropping import shown_part
from wayfold.layout.model import PictureFrame
from wayfold.photos.crop import WHOLE
from wayfold.plan.paper import is_recto
from wayfold.story.model import Block

LEAST_SIDE = 5.0
"""The shortest side (mm) of a picture placed by hand, and the least of it that is seen."""
LEAST_CROP = 0.02
"""The shortest side of a crop, as a part of the picture's."""
SAME_CROP = 1e-6
SAME_SHAPE = 1e-3


@dataclass(frozen=True, slots=True)
class Wish:
    """Where a picture is wanted: ``box`` (mm) in the space of ``page``.

    The box may reach over the fold; ``crop`` (fractions of the upright picture) None leaves what
    is shown.
    """

    photo: str
    page: int
    box: Rect
    crop: Rect | None = None


def place_pictures(session: Session, block: str, wishes: Sequence[Wish]) -> None:
    """Place pictures of a block by hand; its others stay as they lie.

    Raises UserError for what cannot be, NotFoundError for what is not there.
    """
    with session.hold() as results:
        found = _find_block(results, block)
        placed = _read_placed(results, found)
        for wish in wishes:
            placed[wish.photo] = _grant(results, found, placed, wish)
        session.edit(PlaceByHand(((block, _hand(results, found, placed)),)))


def release_block(session: Session, block: str) -> None:
    """Give a block back to the layout, its pictures and its texts."""
    if block not in session.results.book.arranging.by_hand:
        raise NotFoundError("These pictures were not placed by hand.")
    session.edit(PlaceByHand(((block, None),)))


def crop_picture(session: Session, photo: str, crop: Rect | None) -> None:
    """Show only a part of a picture, whatever lays it; None shows all that may be shown."""
    if crop is not None:
        _check_crop(crop)
    with session.hold() as results:
        block = find_block_of(results, photo)
        edit: Edit = SetCrop(photo, crop)
        hand = begin_hand(results, block.id)
        if hand.pictures:
            placed = (replace(p, crop=crop) if p.photo == photo else p for p in hand.pictures)
            edit = PlaceByHand(((block.id, replace(hand, pictures=tuple(placed))),))
        session.edit(edit)


def find_block_of(results: Results, photo: str) -> Block:
    """Give the block that shows a photograph. Raises NotFoundError where none does."""
    for block in results.story.blocks:
        if photo in block.photos:
            return block
    raise NotFoundError("This picture is on no page of the book.")


def read_hand(results: Results, block: Block) -> HandLaid:
    """Give how a block's pictures lie now, as if each had been placed by hand."""
    return _hand(results, block, _read_placed(results, block))


def is_by_hand(results: Results, block: str) -> bool:
    """Whether a block lies now as the person laid it, its pictures or its texts."""
    return block in results.blocks.by_hand


def list_numbers(results: Results, block: str) -> list[int]:
    """Give the pages of a block in order."""
    return [page.number for page in results.plan.pages if page.block == block]


def begin_hand(results: Results, block: str) -> HandLaid:
    """Give what was placed of a block, where it is obeyed; else a placing of nothing yet."""
    if is_by_hand(results, block):
        return results.book.arranging.by_hand[block]
    return HandLaid("recto" if is_recto(list_numbers(results, block)[0]) else "verso")


def _hand(results: Results, block: Block, placed: Mapping[str, PlacedPicture]) -> HandLaid:
    return replace(begin_hand(results, block.id), pictures=tuple(placed.values()))


def _read_placed(results: Results, block: Block) -> dict[str, PlacedPicture]:
    """Give each picture's place, lowest first; one across the fold by its left page."""
    pictures = begin_hand(results, block.id).pictures
    if pictures:
        return {one.photo: one for one in pictures}
    placed: dict[str, PlacedPicture] = {}
    for at, number in enumerate(list_numbers(results, block.id), start=1):
        for frame in results.layout.pages[number - 1].frames:
            if isinstance(frame, PictureFrame) and frame.photo not in placed:
                crop = None if _is_plain(results, frame) else frame.crop
                placed[frame.photo] = PlacedPicture(frame.photo, at, frame.box, crop)
    return placed


def _is_plain(results: Results, frame: PictureFrame) -> bool:
    """Whether a frame shows all that the person wants shown of its picture."""
    part = shown_part(results.book, results.photos[frame.photo])
    return part.grown(SAME_CROP).contains(frame.crop) and frame.crop.grown(SAME_CROP).contains(part)


def _grant(
    results: Results, block: Block, placed: Mapping[str, PlacedPicture], wish: Wish
) -> PlacedPicture:
    numbers = list_numbers(results, block.id)
    if wish.photo not in placed:
        raise NotFoundError("This picture does not belong to the pictures that were to be placed.")
    if wish.page not in numbers:
        raise UserError(
            f"These pictures lie on {_say_pages(numbers)}, not on page {wish.page}.",
            where=f"page {wish.page}",
            remedy="To bring a picture to other pages, let it change places with one of theirs.",
        )
    _check_box(results, numbers, wish)
    if wish.crop is not None:
        _check_crop(wish.crop)
    old = placed[wish.photo]
    same = abs(wish.box.size.aspect / old.box.size.aspect - 1.0) < SAME_SHAPE
    # What the layout cropped for a frame of one shape is no wish for another.
    kept = old.crop if same or begin_hand(results, block.id).pictures else None
    return PlacedPicture(wish.photo, numbers.index(wish.page) + 1, wish.box, wish.crop or kept)


def _check_box(results: Results, numbers: Sequence[int], wish: Wish) -> None:
    trim, box = results.book.trim, wish.box
    if min(box.width, box.height) < LEAST_SIDE:
        raise UserError(
            f"A picture of {box.width:.1f} x {box.height:.1f} mm is too small to be placed.",
            remedy=f"Make each side {LEAST_SIDE:g} mm or more.",
        )
    both = set(find_pages(results, wish.page)) <= set(numbers)
    left = -trim.width if both and is_recto(wish.page) else 0.0
    width = trim.width * (len(find_pages(results, wish.page)) if both else 1)
    seen = box.overlap(Rect(left, 0.0, width, trim.height))
    if seen is None or min(seen.width, seen.height) < LEAST_SIDE:
        raise UserError(
            "The picture would lie outside its page.",
            where=f"page {wish.page}",
            remedy=f"Leave {LEAST_SIDE:g} mm of it on the page or more.",
        )


def _check_crop(crop: Rect) -> None:
    if not WHOLE.contains(crop) or min(crop.width, crop.height) < LEAST_CROP:
        raise UserError(
            "This part does not lie within the picture, or is nearly nothing of it.",
            remedy="A crop is given in fractions of the upright picture, from 0 to 1.",
        )


def _find_block(results: Results, block: str) -> Block:
    try:
        return results.story.block(block)
    except KeyError:
        raise NotFoundError("These pictures are in the book as one group no more.") from None


def _say_pages(numbers: Sequence[int]) -> str:
    said = " and ".join(map(str, numbers))
    return f"page {said}" if len(numbers) == 1 else f"pages {said}"

"""What is shown of a picture in a frame, and where on the page what matters may lie."""

from __future__ import annotations

from functools import lru_cache

from wayfold.base.geometry import Rect
from wayfold.book.state import Book
from wayfold.layout.grid import Grid
from wayfold.photos.crop import WHOLE, Keep, bears_crop, find_crop, list_crops
from wayfold.photos.look import Look
from wayfold.photos.model import Photo

OWN_CROP_LOSS = 0.03
"""What a page's edge may take from a crop the person made: about what the bleed loses."""
IN_LINE = (0.04, 0.03, 0.02, 0.01)
"""Parts that a picture may be asked for so that its edges lie on lines of others."""
FOLD_PRICE, BROKEN_FOLD_PRICE = 1.0, 3.0
"""What it costs that something to look at lies in the fold, at a centre spread and elsewhere,
where the two halves are printed on different sheets."""


def shown_part(book: Book, photo: Photo) -> Rect:
    """Give the part of a photograph that the person wants shown (all of it, unless cropped)."""
    return book.choice(photo.id).crop or WHOLE


def shown_aspect(book: Book, photo: Photo) -> float:
    """Give width over height of the part that is shown."""
    part = shown_part(book, photo)
    return photo.size.aspect * part.width / part.height


def crop_to(book: Book, photo: Photo, wanted: float, keep: Keep) -> Rect | None:
    """Give what to show in a frame of aspect ``wanted``, or None if nothing does justice to it.

    A crop the person made is hardly touched.
    """
    part, most = shown_part(book, photo), _most_loss(book, photo)
    return find_crop(photo.look, photo.size.aspect, wanted, most, part, keep)


def cut_to(part: Rect, aspect: float, wanted: float) -> Rect:
    """Give the middle of ``part`` of a picture, as large as a frame of aspect ``wanted`` allows.

    ``aspect`` is the whole picture's.
    """
    shape = wanted / aspect
    width = min(part.width, part.height * shape)
    height = width / shape
    left, top = part.x + (part.width - width) / 2, part.y + (part.height - height) / 2
    return Rect(left, top, width, height)


def other_crops(book: Book, photo: Photo, wanted: float, keep: Keep) -> tuple[Rect, ...]:
    """Give what else might be shown in such a frame, within what may be lost; the best first."""
    part, most = shown_part(book, photo), _most_loss(book, photo)
    return list_crops(photo.look, photo.size.aspect, wanted, most, part, keep)


def may_lose(book: Book, photo: Photo) -> float:
    """Give the part that a picture may lose, across or down, to lie in line with others (0-0.04).

    0 where a face is so near to the picture's edge that nothing may go.
    """
    part, most = shown_part(book, photo), _most_loss(book, photo)
    return _may_lose(photo.look, photo.size.aspect, part, most)


@lru_cache(maxsize=4096)
def _may_lose(look: Look | None, aspect: float, part: Rect, most: float) -> float:
    shown = aspect * part.width / part.height

    def bears(loss: float) -> bool:
        shapes = (shown * (1.0 - loss), shown / (1.0 - loss))
        return all(bears_crop(look, aspect, shape, most, part) for shape in shapes)

    return next((loss for loss in IN_LINE if loss <= most and bears(loss)), 0.0)


def _most_loss(book: Book, photo: Photo) -> float:
    own = book.choice(photo.id).crop is not None
    return min(OWN_CROP_LOSS, book.arranging.most_crop) if own else book.arranging.most_crop


def keep_on_page(book: Book, grid: Grid, box: Rect, recto: bool) -> Keep:
    """Give where in ``box`` on one page what matters may lie."""
    trim, choices = grid.trim, book.arranging
    fold, edge = choices.face_from_fold, choices.face_from_trim
    left, right = (fold, edge) if recto else (edge, fold)
    safe = Rect(left, edge, trim.width - left - right, trim.height - 2 * edge)
    return Keep(_within(box, safe))


def keep_across(book: Book, grid: Grid, box: Rect, unbroken: bool) -> Keep:
    """Give where in ``box``, across two pages in the left one's space, what matters may lie.

    ``unbroken`` where both pages are on one side of one sheet.
    """
    trim, choices = grid.trim, book.arranging
    edge, fold = choices.face_from_trim, choices.face_from_fold
    safe = Rect(edge, edge, 2 * trim.width - 2 * edge, trim.height - 2 * edge)
    band = tuple((trim.width + off - box.x) / box.width for off in (-fold, fold))
    price = FOLD_PRICE if unbroken else BROKEN_FOLD_PRICE
    return Keep(_within(box, safe), (band[0], band[1]), price)


def _within(box: Rect, safe: Rect) -> Rect:
    """Give the part of ``box`` that lies in ``safe``, in fractions of it.

    A side of the box that lies within the page asks nothing of a face beside it.
    """
    left = max(0.0, (safe.x - box.x) / box.width)
    top = max(0.0, (safe.y - box.y) / box.height)
    right = min(1.0, (safe.right - box.x) / box.width)
    bottom = min(1.0, (safe.bottom - box.y) / box.height)
    return Rect(left, top, right - left, bottom - top)

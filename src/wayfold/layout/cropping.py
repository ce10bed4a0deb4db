"""How much of a picture is shown, and how much that loses."""

from __future__ import annotations

from wayfold.base.geometry import Rect
from wayfold.book.state import Book
from wayfold.photos.model import Photo

MOST_LOSS = 0.18
"""No layout takes more than this part of a picture away by itself."""


def shown_part(book: Book, photo: Photo) -> Rect:
    """Give the part of a photograph that the person wants shown (all of it, unless cropped)."""
    return book.choice(photo.id).crop or Rect(0.0, 0.0, 1.0, 1.0)


def shown_aspect(book: Book, photo: Photo) -> float:
    """Give width over height of the part that is shown."""
    part = shown_part(book, photo)
    return photo.size.aspect * part.width / part.height


def crop_loss(aspect: float, wanted: float) -> float:
    """Give the part of a picture that goes when ``aspect`` is cropped to ``wanted``."""
    return 1.0 - min(aspect, wanted) / max(aspect, wanted)


def crop_to(book: Book, photo: Photo, wanted: float) -> Rect:
    """Give the largest part of aspect ``wanted`` within what is shown, about its middle."""
    part = shown_part(book, photo)
    aspect = shown_aspect(book, photo)
    if aspect > wanted:
        width = part.width * wanted / aspect
        return Rect(part.x + (part.width - width) / 2, part.y, width, part.height)
    height = part.height * aspect / wanted
    return Rect(part.x, part.y + (part.height - height) / 2, part.width, height)

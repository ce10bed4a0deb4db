"""The picture under a leaf cropped otherwise, where the words over it cannot be read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from wayfold.book.arranging import BY_HAND
from wayfold.book.state import Book
from wayfold.layout.cropping import keep_on_page, other_crops
from wayfold.layout.grid import Grid
from wayfold.layout.model import PageLayout, PictureFrame
from wayfold.photos.model import Photo
from wayfold.plan.paper import is_recto

TRIES = 32
"""So many crops are tried."""


def list_recropped(
    book: Book, grid: Grid, photos: Mapping[str, Photo], page: PageLayout | None
) -> Iterator[PageLayout]:
    """Give a page that one picture fills with other crops of it, those nearest in worth first.

    None cuts a face, loses more than the book allows, or touches a crop of the person's own by more
    than the page's edge does. Pages of another kind, and those laid by hand, give nothing.
    """
    pictures = [f for f in page.frames if isinstance(f, PictureFrame)] if page else []
    if (
        page is None
        or page.family == BY_HAND
        or len(pictures) != 1
        or pictures[0].photo not in photos
    ):
        return
    (frame,) = pictures
    if not frame.box.contains(grid.media):
        return
    keep = keep_on_page(book, grid, frame.box, is_recto(page.number))
    crops = other_crops(book, photos[frame.photo], frame.box.size.aspect, keep)
    for crop in [c for c in crops if c != frame.crop][:TRIES]:
        shown = replace(frame, crop=crop)
        yield replace(page, frames=tuple(shown if f is frame else f for f in page.frames))

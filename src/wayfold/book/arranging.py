"""The person's hand on how pages are arranged."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from wayfold.base.geometry import Rect
from wayfold.book.families import Family

BY_HAND = "by-hand"
"""What a page is said to be laid by where the person placed its pictures; no family's name."""

LEAST_MEASURE = 15.0
"""No text is set narrower than this (mm): a longer word would stand out of it."""

Side = Literal["recto", "verso"]


@dataclass(frozen=True, slots=True)
class PlacedPicture:
    """Where the person put a picture: on which of its block's pages (from 1), and its ``box``.

    ``box`` (mm, page space) may reach over the fold to the facing page. ``crop`` (fractions of the
    upright picture) is what they want shown there, None what is shown of the picture anywhere; a
    box of another shape shows the middle of it.
    """

    photo: str
    page: int
    box: Rect
    crop: Rect | None = None


@dataclass(frozen=True, slots=True)
class PlacedText:
    """Where the person put a text or caption: its upper corner and its measure (mm, page space).

    ``text`` names it among its block's: "caption:PHOTO", "captions" where several stand together,
    "text", "opener", "title" and so on. ``page`` counts the block's pages from 1; 0 is the one
    before them, and so on both ways. It is as high as its words are.
    """

    text: str
    page: int
    left: float
    top: float
    width: float


@dataclass(frozen=True, slots=True)
class HandLaid:
    """A block that the person laid by hand; its first page lay on ``begins``.

    ``pictures``, lowest first, are all of the block's, or none: then the layout lays them.
    ``texts`` are those that were placed; the others find their places by themselves.
    It is obeyed as it stands, and judged. Where the block's pages or pictures have become others
    it is set aside, and kept.
    """

    begins: Side
    pictures: tuple[PlacedPicture, ...] = ()
    texts: tuple[PlacedText, ...] = ()


def exchange(
    pairs: tuple[tuple[str, str], ...], one: str, other: str
) -> tuple[tuple[str, str], ...]:
    """Give the pairs after one more exchange; the last one done again is taken back."""
    if pairs and set(pairs[-1]) == {one, other}:
        return pairs[:-1]
    return (*pairs, (one, other))


@dataclass(frozen=True, slots=True)
class Arranging:
    """How pictures may be laid.

    Faces, with the room that belongs to them, keep ``face_from_trim`` mm from where the page is
    cut and ``face_from_fold`` mm from the fold. ``most_crop`` is the largest part of a picture
    that a layout may take away by itself. ``ways`` holds the arrangements the person chose: block
    id -> name of the way; ``by_hand`` the blocks that they laid themselves, which goes
    before ways and families; ``exchanged`` the pairs of pictures they let change places, in order.
    ``families`` are the person's own. Another ``seed`` scatters pictures another way.
    ``reading_distance`` (mm) is that of the eye from the page: the nearer, the more pixels a
    picture wants.
    """

    face_from_trim: float = 8.0
    face_from_fold: float = 12.0
    most_crop: float = 0.18
    ways: Mapping[str, str] = field(default_factory=dict)
    families: tuple[Family, ...] = ()
    seed: int = 0
    reading_distance: float = 350.0
    by_hand: Mapping[str, HandLaid] = field(default_factory=dict)
    exchanged: tuple[tuple[str, str], ...] = ()

"""The person's hand on how pages are arranged."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from wayfold.book.families import Family


@dataclass(frozen=True, slots=True)
class Arranging:
    """How pictures may be laid.

    Faces, with the room that belongs to them, keep ``face_from_trim`` mm from where the page is
    cut and ``face_from_fold`` mm from the fold. ``most_crop`` is the largest part of a picture
    that a layout may take away by itself. ``ways`` holds the arrangements the person chose: block
    id -> name of the way. ``families`` are the person's own. Another ``seed`` scatters pictures
    another way. ``reading_distance`` (mm) is that of the eye from the page: the nearer, the more
    pixels a picture wants.
    """

    face_from_trim: float = 8.0
    face_from_fold: float = 12.0
    most_crop: float = 0.18
    ways: Mapping[str, str] = field(default_factory=dict)
    families: tuple[Family, ...] = ()
    seed: int = 0
    reading_distance: float = 350.0

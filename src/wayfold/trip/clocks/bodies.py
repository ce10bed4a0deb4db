"""Tell camera bodies apart."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from datetime import datetime

from wayfold.photos.model import Photo
from wayfold.trip.clocks.model import Body

_LETTERS = re.compile(r"[A-Za-z]+")


def list_bodies(photos: Sequence[Photo]) -> tuple[Body, ...]:
    """Give the bodies in order of their keys, each with its dated pictures in order of time.

    By serial number; without one, by make, model and the letters the file names begin with
    (two bodies of one model are usually set to different letters; if not, they are one here).
    """
    groups: dict[str, list[Photo]] = {}
    for photo in photos:
        if photo.taken is not None:
            groups.setdefault(name_body(photo), []).append(photo)
    return tuple(
        Body(key, tuple(p.id for p in sorted(group, key=_order)))
        for key, group in sorted(groups.items())
    )


def name_body(photo: Photo) -> str:
    """Give the key of the body that took ``photo``."""
    camera = photo.camera
    model = ""
    if camera is not None:
        maker = camera.make.split(" ")[0]
        doubled = camera.model.lower().startswith(maker.lower())
        model = camera.model if doubled or not maker else f"{maker} {camera.model}".strip()
        if camera.serial:
            return f"{model} {camera.serial}"
    letters = _LETTERS.match(photo.path.rsplit("/", 1)[-1])
    return f"{model or 'unnamed camera'} {letters[0].upper() if letters else '#'}*"


def name_pictures(photos: Iterable[Photo]) -> dict[str, str]:
    """Give what to call each picture when speaking of it, by id: its file's name."""
    return {photo.id: photo.path.rsplit("/", 1)[-1] for photo in photos}


def _order(photo: Photo) -> tuple[datetime, str, str]:
    assert photo.taken is not None
    return photo.taken.local, photo.path, photo.id

"""Reading something off photographs, each kept by its content so that it is read once."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TypeVar

from wayfold.app.code_reach import function_key
from wayfold.base.cache import Cache
from wayfold.base.hashing import hash_bytes
from wayfold.base.progress import NoProgress, Progress
from wayfold.photos.crew import Crew, Lost
from wayfold.photos.model import Photo
from wayfold.photos.workers import FORKED

FEW = 0 if FORKED else 4
"""So few pictures, all read before, are read here, where a process takes as long to start: a crash
of their decoder is not survived then, and the finder of faces keeps a copy of each."""

R = TypeVar("R")
T = TypeVar("T")


def read_kept(
    cache: Cache,
    photos: Sequence[Photo],
    read: Callable[[Photo], R | None],
    take: Callable[[Photo, R], T],
    pack: Callable[[T], bytes],
    unpack: Callable[[bytes], T | None],
    crew: Crew,
    about: str = "",
    progress: Progress | None = None,
    label: str = "",
) -> Mapping[str, T]:
    """Give by id what ``take`` makes, here, of what ``read`` (a module's function) gives elsewhere.

    Photographs of which ``read`` gives None are left out.

    What ``cache`` keeps holds while the code that ``read`` and ``pack`` reach stays the same.
    ``unpack`` gives None for bytes that are no such record: they are read again. ``about`` names
    what else the answer hangs on. Raises CancelledError when the person stops it.
    """
    about = f"{function_key(read)} {function_key(pack)} {about}"
    found: dict[str, T] = {}
    unread = []
    for photo in photos:
        kept = cache.get(_key(photo, about))
        value = None if kept is None else unpack(kept)
        if value is None:
            unread.append(photo)
        else:
            found[photo.id] = value
    if not unread:
        return found
    hands = crew if len(unread) > FEW else Crew(0)
    with (progress or NoProgress()).task(label, len(unread)) as task:
        for outcome in hands.run(read, unread):
            if outcome.result is not None and not isinstance(outcome.result, Lost):
                value = found[outcome.item.id] = take(outcome.item, outcome.result)
                cache.put(_key(outcome.item, about), pack(value))
            task.advance()
    return found


def _key(photo: Photo, about: str) -> str:
    return hash_bytes(f"{photo.content} {about}".encode())

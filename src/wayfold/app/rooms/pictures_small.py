"""Photographs for the screen, whole and small: made by a few hands, what is looked at first."""

from __future__ import annotations

import threading
from collections.abc import Sequence
from concurrent.futures import Future
from dataclasses import dataclass, field
from pathlib import Path
from weakref import WeakKeyDictionary

from wayfold.app.kept_copies import CopySize, name_copy, open_copies
from wayfold.app.session import Session
from wayfold.base.errors import NotFoundError
from wayfold.base.geometry import Rect
from wayfold.photos.derive import make_preview
from wayfold.photos.model import Photo

WHOLE = Rect(0.0, 0.0, 1.0, 1.0)
HANDS = 2
"""Pictures made at once: more would not be quicker, and what is asked for last would wait."""
MOST_AHEAD = 400
"""Pictures wished for ahead; older wishes are forgotten, for one has scrolled on."""
PACKED = 24
"""Small copies that are given together."""


@dataclass(frozen=True, slots=True)
class _Job:
    photo: Photo
    size: CopySize
    key: str
    made: Future[bytes] = field(default_factory=Future)


class Copies:
    """Copies of photographs for the screen: upright, sRGB, JPEG. Safe to use from several threads.

    What a caller waits for is made before what is wished for ahead, and of either the newest
    first: it is what the person looks at now.
    """

    def __init__(self, cache: Path) -> None:
        """Keep copies below ``cache``, by the photograph's content."""
        self._kept = open_copies(cache)
        self._lock = threading.Lock()
        self._asked: dict[str, _Job] = {}
        self._ahead: dict[str, _Job] = {}
        self._going_on: dict[str, _Job] = {}
        self._hands = 0

    def get_kept(self, photo: Photo, size: CopySize) -> bytes | None:
        """Give a copy where it is made already: no longer than reading a small file takes."""
        return self._kept.get_file(name_copy(photo, size))

    def pack_kept(self, photos: Sequence[Photo | None]) -> tuple[bytes, bool]:
        """Give the small copies that are made already in one piece, and whether all are.

        First how long each is in bytes, as four bytes, the lowest first (0 for none); then the
        copies, one after the other. A browser asks for few things at once: of hundreds of small
        ones each would wait for its turn.
        """
        found = [b"" if p is None else self.get_kept(p, CopySize.SMALL) or b"" for p in photos]
        lengths = (len(data).to_bytes(4, "little") for data in found)
        return b"".join((*lengths, *found)), all(found)

    def get(self, photo: Photo, size: CopySize) -> bytes:
        """Give a copy, and wait for it where it is not made yet.

        Raises NotFoundError where the photograph's file cannot be read.
        """
        kept = self.get_kept(photo, size)
        if kept is not None:
            return kept
        key = name_copy(photo, size)
        with self._lock:
            job = self._going_on.get(key)
            if job is None:
                job = self._asked.pop(key, None) or self._ahead.pop(key, None)
                job = self._asked[key] = job or _Job(photo, size, key)
                self._call_hands()
        return job.made.result()

    def make_ahead(self, photos: Sequence[Photo], size: CopySize = CopySize.SMALL) -> None:
        """Wish for copies, the first first, before older wishes; return at once."""
        jobs = [_Job(photo, size, name_copy(photo, size)) for photo in photos[:MOST_AHEAD]]
        jobs = [job for job in jobs if not self._kept.has(job.key)]
        with self._lock:
            for job in reversed(jobs):
                if job.key not in self._asked and job.key not in self._going_on:
                    self._ahead[job.key] = self._ahead.pop(job.key, job)
            for key in list(self._ahead)[:-MOST_AHEAD]:
                del self._ahead[key]
            self._call_hands()

    def _call_hands(self) -> None:
        waiting = len(self._asked) + len(self._ahead)
        for _ in range(min(HANDS - self._hands, waiting)):
            self._hands += 1
            threading.Thread(target=self._work, daemon=True, name="copies").start()

    def _work(self) -> None:
        while job := self._take():
            try:
                self._make(job)
            except BaseException as error:
                # Whoever waits for it is told; a wish ahead is made again when it is asked for.
                job.made.set_exception(error)
            with self._lock:
                del self._going_on[job.key]

    def _take(self) -> _Job | None:
        with self._lock:
            row = self._asked or self._ahead
            if not row:
                self._hands -= 1
                return None
            key, job = row.popitem()
            self._going_on[key] = job
            return job

    def _make(self, job: _Job) -> None:
        target = self._kept.path(job.key)
        finding = make_preview(job.photo, WHOLE, job.size.value, target)
        if finding is not None:
            raise NotFoundError(finding.message, where=job.photo.id, remedy=finding.remedy)
        job.made.set_result(target.read_bytes())


_COPIES: WeakKeyDictionary[Session, Copies] = WeakKeyDictionary()


def find_copies(session: Session) -> Copies:
    """Give the copies of the open book's photographs, the same ones for all who ask."""
    return _COPIES.setdefault(session, Copies(session.folder.cache))


def find_photo(session: Session, photo_id: str) -> Photo:
    """Give a photograph of the book. Raises NotFoundError where it has none of that id."""
    photo = session.results.photos.get(photo_id)
    if photo is None:
        raise NotFoundError("The book has no such photograph.", where=photo_id)
    return photo

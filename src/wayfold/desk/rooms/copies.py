"""The routes of files that lie in a book's folder in two versions."""

from __future__ import annotations

from typing import Annotated, Self

from fastapi import APIRouter, Path

from wayfold.app.copies import CopyView
from wayfold.app.shelf import Shelf
from wayfold.desk.reading import REFUSALS
from wayfold.desk.wire import Wire
from wayfold.desk.wording import Told

HANDLE = r"^[0-9a-f]{16}$"


class VersionsDiffer(Wire):
    """What the two say in one place, "" where nothing; what is ``same`` is given of texts only."""

    where: str
    ours: str
    other: str
    same: bool


class TwoVersions(Wire):
    """A file of the book, ``of``, and the other version, found as ``name``; local times or ""."""

    handle: str
    name: str
    of: str
    our_time: str
    other_time: str
    is_text: bool
    trouble: Told
    rows: list[VersionsDiffer]

    @classmethod
    def of_copy(cls, copy: CopyView) -> Self:
        """The wire form of ``copy``."""
        return cls(
            handle=copy.handle,
            name=copy.name,
            of=copy.of,
            our_time=copy.our_time,
            other_time=copy.other_time,
            is_text=copy.is_text,
            trouble=copy.trouble,
            rows=[
                VersionsDiffer(where=r.where, ours=r.ours, other=r.other, same=r.same)
                for r in copy.rows
            ],
        )


class VersionChosen(Wire):
    """Whether the other version takes the place of ours, or is put away."""

    take: bool


def make_router(shelf: Shelf) -> APIRouter:
    """The routes over the book that lies open on ``shelf``, or could not be opened."""
    router = APIRouter(prefix="/api/copies", responses=REFUSALS)

    @router.get("")
    def get_copies() -> list[TwoVersions]:
        """All files that lie there in two versions, compared."""
        return [TwoVersions.of_copy(copy) for copy in shelf.list_copies()]

    @router.post("/{handle}")
    def choose(handle: Annotated[str, Path(pattern=HANDLE)], chosen: VersionChosen) -> None:
        """Take the other version or put it away: one change, which can be undone.

        A book that could not be opened is opened anew.
        """
        shelf.choose_version(handle, take=chosen.take)

    return router

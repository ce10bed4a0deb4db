"""The room where no book is open: books that were, folders, and a new one."""

from __future__ import annotations

from typing import Annotated, Self

from fastapi import APIRouter, Path
from pydantic import Field

from wayfold.app.doctor.examine import examine
from wayfold.app.doctor.tried import Standing
from wayfold.app.new import list_looks
from wayfold.app.places import Inside
from wayfold.app.shelf import Shelf
from wayfold.desk.reading import REFUSALS
from wayfold.desk.wire import Wire, WorkUnderWay
from wayfold.desk.wording import Told

HANDLE = r"^[A-Za-z0-9_-]{8,64}$"
Handle = Annotated[str, Field(pattern=HANDLE)]


class FolderShown(Wire):
    """A folder; its ``handle`` stands for it in requests."""

    handle: str
    name: str
    pictures: int
    has_book: bool


class FolderInside(Wire):
    """A folder and what folders lie in it; ``above`` leads down to it."""

    here: FolderShown
    above: list[FolderShown]
    folders: list[FolderShown]
    unshown: int

    @classmethod
    def of(cls, inside: Inside) -> Self:
        """The wire form of ``inside``."""
        return cls(
            here=FolderShown.mirror(inside.here),
            above=[FolderShown.mirror(place) for place in inside.above],
            folders=[FolderShown.mirror(place) for place in inside.folders],
            unshown=inside.unshown,
        )


class KnownBook(Wire):
    """A book that was open before."""

    handle: str
    title: str
    folder: str


class StyleShown(Wire):
    """A look that a book can have."""

    name: str
    about: str


class Beginning(Wire):
    """What one can begin with, and the work of opening, if any."""

    books: list[KnownBook]
    places: list[FolderShown]
    styles: list[StyleShown]
    works: list[WorkUnderWay]


class NewBook(Wire):
    """A book to be started: a folder of its own is made for it in ``parent``."""

    title: Annotated[str, Field(min_length=1, max_length=300)]
    photographs: Annotated[list[Handle], Field(min_length=1, max_length=50)]
    parent: Handle
    style: Annotated[str, Field(max_length=100)] | None = None


class PartTried(Wire):
    """A part of Wayfold that was tried on this machine."""

    group: str
    name: str
    standing: Standing
    what: Told
    remedy: Told


def make_router(shelf: Shelf) -> APIRouter:
    """The routes over ``shelf``."""
    router = APIRouter(prefix="/api/start", responses=REFUSALS)

    @router.get("")
    def get_beginning() -> Beginning:
        """Books that were open, where folders are, and the looks there are."""
        return Beginning(
            books=[
                KnownBook(handle=b.place.handle, title=b.title, folder=b.place.name)
                for b in shelf.list_books()
            ],
            places=[FolderShown.mirror(place) for place in shelf.places.list_beginnings()],
            styles=[StyleShown(name=name, about=about) for name, about in list_looks()],
            works=[WorkUnderWay.of(work) for work in shelf.work.works],
        )

    @router.get("/works-here")
    def try_machine() -> list[PartTried]:
        """What works on this machine, tried now; it takes seconds."""
        return [PartTried.mirror(tried) for tried in examine().tried]

    @router.get("/folders/{handle}")
    def look_inside(handle: Annotated[str, Path(pattern=HANDLE)]) -> FolderInside:
        """The folders within one that was shown."""
        return FolderInside.of(shelf.places.look_inside(handle))

    @router.post("/open/{handle}")
    def open_book(handle: Annotated[str, Path(pattern=HANDLE)]) -> WorkUnderWay:
        """Open the book in a folder that was shown."""
        return WorkUnderWay.of(shelf.begin_opening(shelf.places.find(handle)))

    @router.post("/new")
    def start_book(new: NewBook) -> WorkUnderWay:
        """Start a book, and open it."""
        return WorkUnderWay.of(shelf.start(new.title, new.photographs, new.parent, new.style))

    @router.post("/close")
    def close_book() -> None:
        """Put the open book away, to open another."""
        shelf.close()

    return router

"""Tracks and calendars handed in at the desk: raw bodies, read before they are kept."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Literal

from fastapi import APIRouter, Path, Query, Request
from fastapi.concurrency import run_in_threadpool

from wayfold.app.journey_files import FileKind
from wayfold.app.rooms import journey_files
from wayfold.app.session import Session
from wayfold.desk.rooms.journey_wire import Brought, JourneyFile

HANDLE = Path(pattern=r"^[0-9a-f]{16}$")
NAME = Query(max_length=300)


def add_file_routes(router: APIRouter, find_session: Callable[[], Session]) -> None:
    """Add the routes over the files of the book that ``find_session`` gives."""

    @router.get("/files")
    def get_files() -> list[JourneyFile]:
        """All tracks and calendars, those that were taken away last."""
        views = journey_files.view_files(find_session())
        return [JourneyFile.mirror(view) for view in views]

    @router.put("/files/{kind}")
    async def bring_file(
        kind: Literal["track", "calendar"], request: Request, name: Annotated[str, NAME] = ""
    ) -> Brought:
        """Hand in a file as it is; ``name`` is what it was called, of which we make our own."""
        data = await request.body()
        session = find_session()
        brought = await run_in_threadpool(
            journey_files.bring_file, session, FileKind(kind), name, data
        )
        return Brought.mirror(brought)

    @router.post("/files/{handle}/take-away")
    def take_away(handle: Annotated[str, HANDLE]) -> JourneyFile:
        """Let a file count no more; it is kept."""
        view = journey_files.take_file_away(find_session(), handle)
        return JourneyFile.mirror(view)

    @router.post("/files/{handle}/put-back")
    def put_back(handle: Annotated[str, HANDLE]) -> JourneyFile:
        """Let a file count again."""
        view = journey_files.put_file_back(find_session(), handle)
        return JourneyFile.mirror(view)

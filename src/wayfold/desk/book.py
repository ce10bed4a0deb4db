"""The routes of the open book as a whole: how it stands, undo, work, and what happens to it."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from typing import Annotated
from urllib.parse import quote

from fastapi import APIRouter, Path, Request
from fastapi.responses import StreamingResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from wayfold.app.events import Event
from wayfold.app.shelf import Shelf
from wayfold.desk.door import SAFE
from wayfold.desk.reading import REFUSALS
from wayfold.desk.wire import Change, Desk, OpenBook, WorkUnderWay

DESK_HEADER = "wayfold-desk"
"""The header that carries how the book stands, as JSON, what is not plain letters escaped."""
UNCHANGED = ' {}[]":,/'
REFUSED = 400
HEARTBEAT_S = 15.0
"""A line now and then, so that a window that was closed is noticed."""


def make_router(shelf: Shelf) -> APIRouter:
    """The routes over the book that lies open on ``shelf``."""
    router = APIRouter(prefix="/api", responses=REFUSALS)

    @router.get("/desk")
    def get_desk() -> Desk:
        """How the open book stands."""
        return _describe_desk(shelf)

    @router.post("/undo")
    def undo() -> OpenBook:
        """Take back the last change."""
        shelf.session.undo()
        return OpenBook.of(shelf.session.state())

    @router.post("/redo")
    def redo() -> OpenBook:
        """Do again what was undone."""
        shelf.session.redo()
        return OpenBook.of(shelf.session.state())

    @router.get("/changes")
    def get_changes() -> list[Change]:
        """All changes, the latest first."""
        return [
            Change(number=e.number, kind=e.kind.value, what=e.what, at=e.at)
            for e in reversed(shelf.session.changes())
        ]

    @router.post("/works/{number}/stop")
    def stop_work(number: Annotated[int, Path(ge=1)]) -> None:
        """Ask a piece of long work to stop."""
        shelf.session.work.stop(number)

    @router.get("/events", response_class=StreamingResponse)
    async def watch(request: Request) -> StreamingResponse:
        """Say what happens to the book, as server-sent events (WHATWG HTML, 9.2)."""
        return StreamingResponse(
            _tell(shelf, request),
            media_type="text/event-stream",
            headers={"Cache-Control": "no-store"},
        )

    return router


def _describe_desk(shelf: Shelf) -> Desk:
    book = None if shelf.is_empty else OpenBook.of(shelf.session.state())
    works = [WorkUnderWay.of(work) for work in shelf.work.works]
    return Desk(book=book, copies=shelf.count_copies(), works=works)


def _mark_state(shelf: Shelf) -> str:
    """Name how the book stands, so that a window that knows it need not ask."""
    book = _describe_desk(shelf).book
    return f"{book.revision}/{book.changes}" if book else ""


class StateTeller:
    """ASGI middleware: what may change the book answers with how it stands after it.

    So the window need not ask once more before it draws.
    """

    def __init__(self, app: ASGIApp, shelf: Shelf) -> None:
        self._app = app
        self._shelf = shelf

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass everything on, and put the header on answers to changes."""
        changes = scope["type"] == "http" and scope["method"] not in SAFE

        async def send_told(message: Message) -> None:
            if message["type"] == "http.response.start" and message["status"] < REFUSED:
                desk = quote(_describe_desk(self._shelf).model_dump_json(), safe=UNCHANGED)
                told = (DESK_HEADER.encode(), desk.encode())
                message = {**message, "headers": [*message["headers"], told]}
            await send(message)

        await self._app(scope, receive, send_told if changes else send)


async def _tell(shelf: Shelf, request: Request) -> AsyncIterator[str]:
    loop = asyncio.get_running_loop()
    # Of what nobody has read yet each kind is told once: the window looks at the book anyway.
    waiting: set[str] = set()
    woken = asyncio.Event()

    def hear(event: Event) -> None:
        loop.call_soon_threadsafe(wake, event.kind)

    def wake(kind: str) -> None:
        waiting.add(kind)
        woken.set()

    with shelf.listen(hear):
        yield ": watching\n\n"
        while not await request.is_disconnected():
            try:
                await asyncio.wait_for(woken.wait(), HEARTBEAT_S)
            except TimeoutError:
                yield ": still here\n\n"
                continue
            woken.clear()
            kinds = sorted(waiting)
            waiting.clear()
            for kind in kinds:
                yield f"event: {kind}\ndata: {_mark_state(shelf)}\n\n"

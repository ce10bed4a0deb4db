"""How much a request may carry: a little, but where a file is handed in."""

from __future__ import annotations

from starlette.datastructures import Headers
from starlette.exceptions import HTTPException
from starlette.responses import JSONResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from wayfold.desk.wire import Problem

TOO_LARGE = 413
MEGABYTE = 1_000_000
USUAL = 1 * MEGABYTE
LONGEST_LENGTH = 15
"""Figures of a length; Python reads no number of thousands of them."""
FILES: dict[str, int] = {
    "/api/sheets/registration/picture": 60 * MEGABYTE,
    "/api/sheets/proof/profile": 16 * MEGABYTE,
    "/api/journey/files/track": 50 * MEGABYTE,
    "/api/journey/files/calendar": 20 * MEGABYTE,
}
"""Addresses below which files are handed in, with the most bytes one may have."""


class BodyLimit:
    """ASGI middleware that reads no more of a request than its address allows.

    A body that says it is too long is refused unread; one that does not say is cut off there.
    """

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on with its body watched."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        most = find_limit(scope["path"])
        told = Headers(scope=scope).get("content-length", "0")
        if not told.isdecimal() or len(told) > LONGEST_LENGTH or int(told) > most:
            await _refuse(most)(scope, receive, send)
            return
        got = 0

        async def receive_watched() -> Message:
            nonlocal got
            message = await receive()
            got += len(message.get("body", b""))
            if got > most:
                raise HTTPException(TOO_LARGE, _tell(most))
            return message

        await self._app(scope, receive_watched, send)


def find_limit(path: str) -> int:
    """Give the most bytes that a request to ``path`` may carry."""
    return next((most for prefix, most in FILES.items() if path.startswith(prefix)), USUAL)


def _tell(most: int) -> str:
    return f"This is larger than the {most / MEGABYTE:g} MB that are taken here."


def _refuse(most: int) -> JSONResponse:
    remedy = "Hand in a smaller file, or put it into the book's folder yourself."
    return JSONResponse(Problem(what=_tell(most), remedy=remedy).model_dump(), TOO_LARGE)

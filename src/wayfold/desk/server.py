"""Put the desk together, and serve it to this machine's browser only."""

from __future__ import annotations

import contextlib
import mimetypes
import socket
import threading
import webbrowser
from collections.abc import Callable
from pathlib import Path

import uvicorn
from fastapi import FastAPI
from starlette.staticfiles import StaticFiles

from wayfold.app.shelf import Shelf
from wayfold.base.errors import UserError
from wayfold.desk import book, reading
from wayfold.desk.door import HOST_NAMES, Door, DoorKeeper
from wayfold.desk.limits import BodyLimit
from wayfold.desk.refusals import install_refusals
from wayfold.desk.rooms import (
    case,
    copies,
    findings,
    flatplan,
    journey,
    pictures,
    sheets,
    spread,
    start,
)

STATIC = Path(__file__).parent / "static"
DEFAULT_PORT = 8731
MEDIA_TYPES = {
    ".html": "text/html",
    ".js": "text/javascript",
    ".css": "text/css",
    ".svg": "image/svg+xml",
    ".ttf": "font/ttf",
    ".woff2": "font/woff2",
    ".txt": "text/plain",
}
"""As IANA has them; RFC 9239 for scripts, RFC 8081 for fonts."""


def create_desk(shelf: Shelf, door: Door | None = None) -> FastAPI:
    """The web application over the book that lies open on ``shelf``, or over none yet.

    Without a ``door`` a new one for the default port is made; it is at ``app.state.door``.
    """
    app = create_rooms(shelf)
    app.state.door = door or Door(DEFAULT_PORT)
    app.add_middleware(DoorKeeper, door=app.state.door)
    return app


def create_rooms(shelf: Shelf) -> FastAPI:
    """All that lies behind the door.

    The documentation pages of the framework are left out: they load scripts from elsewhere.
    """
    app = FastAPI(title="Wayfold desk", docs_url=None, redoc_url=None, openapi_url=None)
    app.add_middleware(book.StateTeller, shelf=shelf)
    app.add_middleware(BodyLimit)
    install_refusals(app)
    app.include_router(book.make_router(shelf))
    app.include_router(start.make_router(shelf))
    app.include_router(
        reading.make_router(
            lambda: shelf.session.shown, lambda asset: shelf.session.asset_jpeg(asset)
        )
    )
    app.include_router(pictures.make_router(lambda: shelf.session, shelf.places))
    for room in (journey, flatplan, spread, sheets, case, findings):
        app.include_router(room.make_router(lambda: shelf.session))
    app.include_router(copies.make_router(shelf))
    if (STATIC / "index.html").is_file():
        name_media_types()
        app.mount("/", StaticFiles(directory=STATIC, html=True), name="front-end")
    return app


def name_media_types() -> None:
    """Settle what the front end's files are; Windows takes that from its registry, wrong or right.

    A script under any other name is refused by the browser.
    """
    for ending, kind in MEDIA_TYPES.items():
        mimetypes.add_type(kind, ending)


def serve(
    shelf: Shelf,
    port: int | None,
    open_browser: bool,
    announce: Callable[[str], None] = print,
) -> None:
    """Serve the desk on 127.0.0.1 until it is stopped with Ctrl-C.

    ``port`` None takes any free one. ``announce`` is given the opening address, which lets one
    browser in, once. Raises ``UserError`` when the port is taken or the front end is not built.
    """
    server = DeskServer(shelf, port)
    announce(server.opening_address)
    if open_browser:
        # The listener already holds the port, so a browser that is quicker than us just waits.
        threading.Thread(
            target=webbrowser.open, args=(server.opening_address,), daemon=True, name="open-browser"
        ).start()
    with contextlib.suppress(KeyboardInterrupt):
        server.run()


class DeskServer:
    """A desk that has its port and waits to be served there."""

    def __init__(self, shelf: Shelf, port: int | None) -> None:
        """Take the port, or any free one. Raises ``UserError`` as ``serve`` does."""
        if not (STATIC / "index.html").is_file():
            raise UserError(
                "The desk's front end is not built.",
                where=str(STATIC),
                remedy="Run `make setup` in the checkout, or install Wayfold from a wheel.",
            )
        self._listener = _listen(port)
        door = Door(self._listener.getsockname()[1])
        self.opening_address = door.opening_address
        config = uvicorn.Config(
            create_desk(shelf, door),
            log_level="warning",
            access_log=False,
            server_header=False,
            lifespan="off",
            timeout_graceful_shutdown=2,
        )
        self._server = uvicorn.Server(config)

    def run(self) -> None:
        """Serve until ``end`` is called or Ctrl-C pressed, and let go of the port."""
        with contextlib.closing(self._listener):
            self._server.run(sockets=[self._listener])

    def end(self) -> None:
        """End the serving, from another thread."""
        self._server.should_exit = True


def _listen(port: int | None) -> socket.socket:
    # Named as TCP, or asyncio does not take it for that and lets small writes wait for each other:
    # then every answer, of a head and a body, stands still for 40 ms.
    listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    # On Windows "reuse" lets a second program take a port from under the first; asking for it alone
    # is what keeps it. Elsewhere "reuse" takes up a port whose last connection has just ended.
    alone = getattr(socket, "SO_EXCLUSIVEADDRUSE", socket.SO_REUSEADDR)
    listener.setsockopt(socket.SOL_SOCKET, alone, 1)
    try:
        listener.bind((HOST_NAMES[0], port or 0))
        listener.listen()
    except (OSError, OverflowError) as error:
        listener.close()
        raise UserError(
            f"Port {port} cannot be used: {error}.",
            remedy="Choose another port, or leave it out and any free one is taken.",
        ) from error
    return listener

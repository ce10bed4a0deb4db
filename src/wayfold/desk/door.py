"""Who may come in: this machine's own browser, with the key that ``serve`` gave it.

Any web page a person visits can send requests to 127.0.0.1, and any program on the machine can
knock there. So a request must name a host of ours (a foreign name that resolves here is refused),
must come from the desk's own page where it says where it comes from or may change something, and
must bring the cookie that the opened address, good for one use, was changed into. The cookie
is never sent along by another site's page, and no answer allows other origins to read it.
"""

from __future__ import annotations

import secrets
from dataclasses import dataclass, field

from starlette.datastructures import Headers, QueryParams
from starlette.requests import cookie_parser
from starlette.responses import HTMLResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

HOST_NAMES = ("127.0.0.1", "localhost")
KEY_NAME = "key"
FORBIDDEN = 403
MISDIRECTED = 421
SEE_OTHER = 303
SAFE = ("GET", "HEAD")
SAME_ORIGIN = "same-origin"

PROTECTION = {
    "Content-Security-Policy": (
        # Styles of single elements are what drawings and measured places need; no sheets but ours.
        "default-src 'none'; script-src 'self'; style-src 'self'; "
        "style-src-elem 'self'; style-src-attr 'unsafe-inline'; "
        "img-src 'self' data: blob:; font-src 'self'; connect-src 'self'; "
        "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
    ),
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
}

CLOSED = """<!doctype html><html lang="en"><meta charset="utf-8"><title>Wayfold</title>
<body style="font:18px/1.5 Georgia,serif;background:#faf8f4;color:#2a2723;margin:18vh auto;
max-width:30em;padding:0 1em"><p>{what}</p><p>{remedy}</p>"""


def _make_secret() -> str:
    return secrets.token_urlsafe(32)


@dataclass(slots=True)
class Door:
    """The secrets of one run of the desk, and where it is to be found."""

    port: int
    _key: str | None = field(default_factory=_make_secret, repr=False)
    _pass: str = field(default_factory=_make_secret, repr=False)

    @property
    def opening_address(self) -> str:
        """The address that lets one browser in, once."""
        return f"http://{HOST_NAMES[0]}:{self.port}/?{KEY_NAME}={self._key or ''}"

    @property
    def cookie_name(self) -> str:
        """Cookies do not tell ports apart, so each desk's has a name of its own."""
        return f"wayfold_desk_{self.port}"

    def is_ours(self, host: str) -> bool:
        """Tell whether the Host header names this desk."""
        return host.lower() in {f"{name}:{self.port}" for name in HOST_NAMES}

    def is_our_origin(self, origin: str) -> bool:
        """Tell whether an Origin header names this desk."""
        return origin.lower() in {f"http://{name}:{self.port}" for name in HOST_NAMES}

    def knows(self, cookies: str) -> bool:
        """Tell whether the Cookie header carries the pass."""
        held = cookie_parser(cookies).get(self.cookie_name, "")
        return secrets.compare_digest(held.encode(), self._pass.encode())

    def take_key(self, key: str) -> bool:
        """Tell whether ``key`` is the right one, and use it up if so."""
        if self._key is None or not secrets.compare_digest(key.encode(), self._key.encode()):
            return False
        self._key = None
        return True

    def admit(self) -> Response:
        """The answer that changes the key into the cookie and takes it out of the address."""
        response = RedirectResponse("/", SEE_OTHER, {"Cache-Control": "no-store"})
        response.set_cookie(self.cookie_name, self._pass, httponly=True, samesite="strict")
        return response


class DoorKeeper:
    """ASGI middleware that lets in only whom the door knows, and protects every answer."""

    def __init__(self, app: ASGIApp, door: Door) -> None:
        self._app = app
        self._door = door

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer refusals and the opening address; pass everything else on."""
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return

        async def send_protected(message: Message) -> None:
            if message["type"] == "http.response.start":
                # A print file brings the policy that a viewer in a window of its own needs.
                brought = {name.lower() for name, _ in message["headers"]}
                protection = ((k.lower().encode(), v.encode()) for k, v in PROTECTION.items())
                extra = [(name, value) for name, value in protection if name not in brought]
                message = {**message, "headers": [*message["headers"], *extra]}
            await send(message)

        answer = self._judge(scope)
        await (answer or self._app)(scope, receive, send_protected)

    def _comes_from_us(self, method: str, headers: Headers) -> bool:
        """Tell whether the desk's own page asks: the cookie alone does not tell ports apart.

        Browsers say where a request comes from in Origin, always where it may change something
        (Fetch standard, 3.2), and in Sec-Fetch-Site.
        """
        origin = headers.get("origin")
        if origin is not None and not self._door.is_our_origin(origin):
            return False
        if method in SAFE:
            return True
        site = headers.get("sec-fetch-site", SAME_ORIGIN)
        return origin is not None and site == SAME_ORIGIN

    def _judge(self, scope: Scope) -> Response | None:
        headers = Headers(scope=scope)
        if not self._door.is_ours(headers.get("host", "")):
            return _refuse("This desk is not known by that name.", "", MISDIRECTED)
        if not self._comes_from_us(scope["method"], headers):
            return _refuse(
                "Another page asked for this, so the desk does not do it.", "", FORBIDDEN
            )
        key = QueryParams(scope["query_string"]).get(KEY_NAME) if scope["path"] == "/" else None
        if self._door.knows(headers.get("cookie", "")):
            # The opening address loaded again: take the used key out of sight.
            return RedirectResponse("/", SEE_OTHER) if key is not None else None
        if key is not None and self._door.take_key(key):
            return self._door.admit()
        return _refuse(
            "This desk is open in another browser, or its address has been used already.",
            "Go back to that window, or stop the desk and open it anew: <em>wayfold desk</em>.",
            FORBIDDEN,
        )


def _refuse(what: str, remedy: str, status: int) -> Response:
    text = CLOSED.format(what=what, remedy=remedy)
    return HTMLResponse(text, status, headers={"Cache-Control": "no-store"})

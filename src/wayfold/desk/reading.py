"""The routes of the reading view: thin over the session."""

from __future__ import annotations

import hashlib
import threading
from collections.abc import Callable
from typing import Annotated, Any

from fastapi import APIRouter, Header, Path, Response

from wayfold.desk.ports import DeskShown
from wayfold.desk.wire import Problem, View

SVG = "image/svg+xml"
JPEG = "image/jpeg"
NOT_MODIFIED = 304
# The browser keeps what it got, and asks each time whether it still holds.
ASK_AGAIN = "private, no-cache"
# A preview's id names its content, so what it shows never changes.
KEEP = "private, max-age=86400, immutable"

REFUSALS: dict[int | str, dict[str, Any]] = {
    status: {"model": Problem} for status in (404, 409, 422)
}
ASSET_ID = Path(min_length=1, max_length=200, pattern=r"^[A-Za-z0-9._:-]+$")


def make_router(
    find_shown: Callable[[], DeskShown], give_asset: Callable[[str], bytes]
) -> APIRouter:
    """The routes over the pages that ``find_shown`` gives, at each request anew."""
    router = APIRouter(responses=REFUSALS)
    setting = threading.Lock()

    def send_svg(key: str, number: int, draw: Callable[[int], str], known: str | None) -> Response:
        # Typesetting keeps one compiler warm, which is not for two threads at once.
        with setting:
            tag = _make_tag(key)
            headers = {"ETag": tag, "Cache-Control": ASK_AGAIN}
            if known == tag:
                return Response(status_code=NOT_MODIFIED, headers=headers)
            return Response(draw(number), media_type=SVG, headers=headers)

    @router.get("/api/view")
    def get_view() -> View:
        """The book: its pages, spreads and measures."""
        return View.of(find_shown().view())

    @router.get("/pages/{number}.svg", response_class=Response, responses=gives(SVG))
    def get_page(
        number: Annotated[int, Path(ge=1)], if_none_match: Annotated[str | None, Header()] = None
    ) -> Response:
        """One page as SVG; its pictures are addresses below ``/assets``."""
        shown = find_shown()
        return send_svg(shown.page_key(number), number, shown.page_svg, if_none_match)

    @router.get("/veiled/{place}.svg", response_class=Response, responses=gives(SVG))
    def get_veiled(
        place: Annotated[int, Path(ge=1)], if_none_match: Annotated[str | None, Header()] = None
    ) -> Response:
        """One page as it is seen through translucent leaves, likewise."""
        shown = find_shown()
        return send_svg(shown.veiled_key(place), place, shown.veiled_svg, if_none_match)

    @router.get("/assets/{asset_id}", response_class=Response, responses=gives(JPEG))
    def get_asset(asset_id: Annotated[str, ASSET_ID]) -> Response:
        """A preview picture, as the pages' SVG refers to it; ``.jpg`` may follow the id."""
        data = give_asset(asset_id.removesuffix(".jpg"))
        return Response(data, media_type=JPEG, headers={"Cache-Control": KEEP})

    return router


def _make_tag(*parts: str) -> str:
    digest = hashlib.sha256("\0".join(parts).encode()).hexdigest()
    return f'"{digest[:32]}"'


def gives(media_type: str) -> dict[int | str, dict[str, Any]]:
    """What a route says of itself that gives no JSON."""
    return {200: {"content": {media_type: {}}}}

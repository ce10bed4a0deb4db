"""The room for the pictures: chosen, compared, healed."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any, Literal

from fastapi import APIRouter, Path, Response
from pydantic import Field

from wayfold.app.rooms.pictures_small import MOST_AHEAD, CopySize, find_copies, find_photo
from wayfold.app.session import Session
from wayfold.desk.reading import ASK_AGAIN, JPEG, KEEP, REFUSALS
from wayfold.desk.wire import Wire

PHOTO_ID = Path(min_length=1, max_length=80, pattern=r"^[\w-]+$")
SIZES = {"small": CopySize.SMALL, "large": CopySize.LARGE, "full": CopySize.FULL}
GIVES_JPEG: dict[int | str, dict[str, Any]] = {200: {"content": {JPEG: {}}}}


class Wish(Wire):
    """Photographs that will be looked at soon, the next one first."""

    photos: list[str] = Field(max_length=MOST_AHEAD)


def make_router(find_session: Callable[[], Session]) -> APIRouter:
    """The routes over the book that ``find_session`` gives, at each request anew."""
    router = APIRouter(prefix="/api/pictures", responses=REFUSALS)

    @router.get("/{photo}/{size}.jpg", response_class=Response, responses=GIVES_JPEG)
    def get_copy(
        photo: Annotated[str, PHOTO_ID],
        size: Literal["small", "large", "full"],
        of: str = "",
    ) -> Response:
        """A whole photograph for the screen: 320 pixels long, 1600, or every pixel there is.

        ``of`` are digits that its content begins with; so named, the browser need not ask again.
        """
        session = find_session()
        found = find_photo(session, photo)
        data = find_copies(session).get(found, SIZES[size])
        kept = KEEP if of and found.content.startswith(of) else ASK_AGAIN
        return Response(data, media_type=JPEG, headers={"Cache-Control": kept})

    @router.post("/ahead")
    def make_ahead(wish: Wish) -> None:
        """Have small copies made before they are asked for; photographs not there are passed by."""
        session = find_session()
        photos = session.results.photos
        wished = [photos[name] for name in wish.photos if name in photos]
        find_copies(session).make_ahead(wished)

    return router

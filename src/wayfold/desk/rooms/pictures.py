"""The room for the pictures: chosen, compared, healed."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date as date_
from typing import Annotated, Any, Literal

from fastapi import APIRouter, Path, Response
from pydantic import Field
from starlette.concurrency import run_in_threadpool

from wayfold.app.kept_copies import CopySize
from wayfold.app.places import Places
from wayfold.app.rooms.pictures import list_facts
from wayfold.app.rooms.pictures_missing import begin_search, list_missing
from wayfold.app.rooms.pictures_small import (
    MOST_AHEAD,
    PACKED,
    find_copies,
    find_photo,
)
from wayfold.app.rooms.pictures_verdicts import decide, list_verdicts
from wayfold.app.session import Session
from wayfold.desk.reading import ASK_AGAIN, JPEG, KEEP, REFUSALS
from wayfold.desk.wire import Wire, WorkUnderWay

MOST_AT_ONCE = 10_000
PHOTO_ID = Path(min_length=1, max_length=80, pattern=r"^[\w-]+$")
SIZES = {"small": CopySize.SMALL, "large": CopySize.LARGE, "full": CopySize.FULL}
BYTES = "application/octet-stream"
GIVES_BYTES: dict[int | str, dict[str, Any]] = {200: {"content": {BYTES: {}}}}
GIVES_JPEG: dict[int | str, dict[str, Any]] = {200: {"content": {JPEG: {}}}}


class Day(Wire):
    """A day of the journey; ``date`` is null for the photographs whose day is not known."""

    date: date_ | None
    number: int
    places: list[str]


class Facts(Wire):
    """What there is to know of the photographs, in columns: see ``PictureFacts``."""

    key: str
    page_mm: tuple[float, float]
    days: list[Day]
    places: list[str]
    cameras: list[str]
    limits: list[str]
    id: list[str]
    of: list[str]
    name: list[str]
    time: list[str]
    day: list[int]
    place: list[int]
    camera: list[int]
    width_px: list[int]
    height_px: list[int]
    tone: list[str]
    faces: list[int]
    eye_x: list[int]
    eye_y: list[int]
    sharp: list[int]
    clipped: list[int]
    largest_mm: list[int]
    limit: list[int]
    alike: list[int]
    scene: list[int]


class Verdicts(Wire):
    """What the book takes and leaves of them, in columns: see ``PictureVerdicts``."""

    key: str
    facts: str
    reasons: list[str]
    picks: str
    taken: str
    reason: list[int]
    instead: list[int]
    runner_up: list[int]
    page: list[int]


class Decision(Wire):
    """What the person says of one photograph."""

    photo: str
    pick: Literal["hero", "take", "leave", "open"]


class Decisions(Wire):
    """What the person says of several, as one change."""

    picks: list[Decision] = Field(max_length=MOST_AT_ONCE)


class MissingFile(Wire):
    """A photograph whose file is not found; its file's name and that of the folder it lay in."""

    photo: str
    name: str
    folder: str


class Search(Wire):
    """The folder to look for missing files in, by the handle it was shown with."""

    folder: str = Field(max_length=100)


class Wish(Wire):
    """Photographs that will be looked at soon, the next one first."""

    photos: list[str] = Field(max_length=MOST_AHEAD)


def make_router(find_session: Callable[[], Session], places: Places) -> APIRouter:
    """The routes over the book that ``find_session`` gives, at each request anew.

    ``places`` knows the folders that were shown.
    """
    router = APIRouter(prefix="/api/pictures", responses=REFUSALS)

    @router.get("", response_model=Facts)
    def get_facts() -> Response:
        """What there is to know of the photographs, whatever is decided."""
        return send_view(Facts, list_facts(find_session()))

    @router.get("/verdicts", response_model=Verdicts)
    def get_verdicts() -> Response:
        """What the book takes and leaves of them now."""
        return send_view(Verdicts, list_verdicts(find_session()))

    @router.put("/picks", response_model=Verdicts)
    def put_picks(decisions: Decisions) -> Response:
        """Decide on photographs, all as one change; give the verdicts after it."""
        session = find_session()
        decide(session, [(one.photo, one.pick) for one in decisions.picks])
        return send_view(Verdicts, list_verdicts(session))

    @router.get("/missing")
    def get_missing() -> list[MissingFile]:
        """The photographs whose files are not found."""
        return [
            MissingFile(photo=one.photo, name=one.name, folder=one.folder)
            for one in list_missing(find_session())
        ]

    @router.post("/missing/search")
    def search_missing(search: Search) -> WorkUnderWay:
        """Look for them in a folder and those below."""
        return WorkUnderWay.of(begin_search(find_session(), places.find(search.folder)))

    @router.get("/packs/{number}", response_class=Response, responses=GIVES_BYTES)
    def get_pack(number: Annotated[int, Path(ge=0, le=MOST_AT_ONCE)], facts: str) -> Response:
        """Small copies of 24 photographs in the order of the columns, those made already.

        ``number`` counts from 0, ``facts`` is the key of the columns; for other ones than there are
        now, none is given. First come 24 lengths of four bytes each, the lowest first, 0 for a copy
        that is not there; then the copies.
        """
        session = find_session()
        known = list_facts(session)
        ids = known.id[number * PACKED :][:PACKED] if known.key == facts else []
        photos = [session.results.photos.get(one) for one in ids]
        missing = [None] * (PACKED - len(photos))
        data, whole = find_copies(session).pack_kept([*photos, *missing])
        # The last pack is never whole: it is asked for again, which does no harm.
        headers = {"Cache-Control": KEEP if whole else ASK_AGAIN}
        return Response(data, media_type=BYTES, headers=headers)

    @router.get("/{photo}/{size}.jpg", response_class=Response, responses=GIVES_JPEG)
    async def get_copy(
        photo: Annotated[str, PHOTO_ID],
        size: Literal["small", "large", "full"],
        of: str = "",
    ) -> Response:
        """A whole photograph for the screen: 320 pixels long, 1600, or every pixel there is.

        ``of`` are digits that its content begins with; so named, the browser need not ask again.
        """
        session = find_session()
        found = find_photo(session, photo)
        copies = find_copies(session)
        # A screen is full of pictures, and a thread for each costs more than reading it.
        data = copies.get_kept(found, SIZES[size])
        if data is None:
            data = await run_in_threadpool(copies.get, found, SIZES[size])
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


def send_view(wire: type[Wire], view: object) -> Response:
    """Send a view in its wire form; of columns this long the framework's own way takes thrice."""
    data = wire.mirror(view).model_dump_json()
    return Response(data, media_type="application/json")

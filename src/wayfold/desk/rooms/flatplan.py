"""The room for the flatplan: spreads and gatherings."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any

from fastapi import APIRouter, Path, Response

from wayfold.app.rooms.flatplan import view_flatplan
from wayfold.app.rooms.flatplan_judged import judge_flatplan
from wayfold.app.rooms.flatplan_pages import find_small_pages
from wayfold.app.rooms.flatplan_trials import find_trials
from wayfold.app.rooms.flatplan_why import explain_page
from wayfold.app.session import Session
from wayfold.desk.reading import ASSET_ID, JPEG, KEEP, REFUSALS
from wayfold.desk.rooms.flatplan_wire import AskedTrial, Begun, Flatplan, Judged, Tried, Why

Number = Annotated[int, Path(ge=1)]
GIVES_JPEG: dict[int | str, dict[str, Any]] = {200: {"content": {JPEG: {}}}}


def make_router(find_session: Callable[[], Session]) -> APIRouter:
    """The routes over the book that ``find_session`` gives, at each request anew."""
    router = APIRouter(prefix="/api/flatplan", responses=REFUSALS)

    @router.get("")
    def get_flatplan() -> Flatplan:
        """Every page on its leaf, its sheet and its gathering."""
        return Flatplan.mirror(view_flatplan(find_session()))

    @router.get("/judged")
    def get_judged() -> Judged:
        """How good the plan is, the plans on offer, what is not met and what was found."""
        return Judged.mirror(judge_flatplan(find_session()))

    @router.get("/why/{page}")
    def get_why(page: Number) -> Why:
        """Why it lies there, and what it would cost otherwise."""
        return Why.mirror(explain_page(find_session(), page))

    @router.get("/pictures/{key}.jpg", response_class=Response, responses=GIVES_JPEG)
    def get_picture(key: Annotated[str, ASSET_ID]) -> Response:
        """A page small; its key names what it looks like."""
        data = find_small_pages(find_session()).get(key)
        return Response(data, media_type=JPEG, headers={"Cache-Control": KEEP})

    @router.post("/trials")
    def ask(asked: AskedTrial) -> Begun:
        """Begin to try a wish out: the book is planned as it would be, and nothing is changed."""
        session = find_session()
        return Begun.mirror(find_trials(session).ask(session, asked.read()))

    @router.get("/trials/{number}")
    def get_trial(number: Number) -> Tried:
        """A trial once it is planned: its pages drawn, or not yet."""
        session = find_session()
        return Tried.mirror(find_trials(session).view(session, number))

    @router.post("/trials/{number}/ways/{way}")
    def go(number: Number, way: Annotated[int, Path(ge=0)]) -> Begun:
        """Begin to try it by one of its ways out, counted from 0."""
        session = find_session()
        return Begun.mirror(find_trials(session).go(session, number, way))

    @router.post("/trials/{number}/leave")
    def leave(number: Number) -> None:
        """Go on no longer with what is being tried."""
        session = find_session()
        find_trials(session).leave(session, number)

    @router.post("/trials/{number}/make")
    def make(number: Number) -> Flatplan:
        """Make the change that was tried; it can be undone."""
        session = find_session()
        find_trials(session).make(session, number)
        return Flatplan.mirror(view_flatplan(session))

    return router

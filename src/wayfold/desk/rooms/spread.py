"""The room for one spread as it will print."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated

from fastapi import APIRouter, Path

from wayfold.app.rooms.spread import show_spread
from wayfold.app.session import Session
from wayfold.desk.reading import REFUSALS
from wayfold.desk.rooms.spread_wire import SpreadNow

PageNumber = Annotated[int, Path(ge=1)]


def make_router(find_session: Callable[[], Session]) -> APIRouter:
    """The routes over the book that ``find_session`` gives, at each request anew."""
    router = APIRouter(prefix="/api/spread", responses=REFUSALS)

    @router.get("/{page}")
    def get_spread(page: PageNumber) -> SpreadNow:
        """The spread with ``page``: what stands on it, where things may lie, what is wrong."""
        return SpreadNow.of(show_spread(find_session().shown, page))

    return router

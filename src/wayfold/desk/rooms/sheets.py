"""The room for the sheets: printed, to be printed again, in register."""

from __future__ import annotations

from collections.abc import Callable

from fastapi import APIRouter

from wayfold.app.session import Session
from wayfold.desk.reading import REFUSALS


def make_router(find_session: Callable[[], Session]) -> APIRouter:  # noqa: ARG001
    """The routes over the book that ``find_session`` gives, at each request anew."""
    return APIRouter(prefix="/api/sheets", responses=REFUSALS)

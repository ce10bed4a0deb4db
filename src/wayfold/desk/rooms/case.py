"""The room for the case and the work at the bench."""

from __future__ import annotations

from collections.abc import Callable

from fastapi import APIRouter

from wayfold.app.session import Session
from wayfold.desk.reading import REFUSALS


def make_router(find_session: Callable[[], Session]) -> APIRouter:  # noqa: ARG001
    """The routes over the book that ``find_session`` gives, at each request anew."""
    return APIRouter(prefix="/api/case", responses=REFUSALS)

"""The routes of the findings, which lead to all rooms."""

from __future__ import annotations

from collections.abc import Callable
from typing import Self

from fastapi import APIRouter

from wayfold.app.rooms.findings import FindingsKeeper, PlacedFinding, Room
from wayfold.app.session import Session
from wayfold.base.findings import Severity
from wayfold.desk.reading import REFUSALS
from wayfold.desk.wire import Wire
from wayfold.desk.wording import Told


class BookFinding(Wire):
    """What would disappoint, where, what to do, and the room and place that one goes to."""

    rule: str
    severity: Severity
    where: Told
    message: Told
    remedy: Told
    room: Room
    place: str

    @classmethod
    def of(cls, placed: PlacedFinding) -> Self:
        """The wire form of ``placed``."""
        found = placed.finding
        return cls(
            rule=found.rule,
            severity=found.severity,
            where=found.where,
            message=found.message,
            remedy=found.remedy,
            room=placed.room,
            place=placed.place,
        )


def make_router(find_session: Callable[[], Session]) -> APIRouter:
    """The routes over the book that ``find_session`` gives, at each request anew."""
    router = APIRouter(prefix="/api/findings", responses=REFUSALS)
    keeper = FindingsKeeper()

    @router.get("")
    def get_findings() -> list[BookFinding]:
        """All findings on the book, the gravest first."""
        return [BookFinding.of(placed) for placed in keeper.list_findings(find_session())]

    return router

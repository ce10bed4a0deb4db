"""The routes of the findings, which lead to all rooms, and of mending what is safe."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Self

from fastapi import APIRouter
from pydantic import Field

from wayfold.app.rooms.findings import FindingsKeeper, Mended, PlacedFinding, Room
from wayfold.app.session import Session
from wayfold.base.findings import Rewording, Severity
from wayfold.desk.reading import REFUSALS
from wayfold.desk.wire import Wire
from wayfold.desk.wording import Told


class SafeMend(Wire):
    """A passage, and how it is written where the finding is mended; ``source`` is where it is."""

    source: Annotated[str, Field(min_length=1, max_length=300)]
    old: Annotated[str, Field(min_length=1, max_length=2000)]
    new: Annotated[str, Field(max_length=2000)]


class BookFinding(Wire):
    """What would disappoint, where, what to do, and the room and place that one goes to.

    ``mends`` are safe to be done at once, and mend it.
    """

    rule: str
    severity: Severity
    where: Told
    message: Told
    remedy: Told
    room: Room
    place: str
    mends: list[SafeMend]

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
            mends=[SafeMend.mirror(one) for one in found.rewordings],
        )


class WantedMends(Wire):
    """The mends to be done, as the findings have them."""

    mends: Annotated[list[SafeMend], Field(min_length=1, max_length=10_000)]


class MendsDone(Wire):
    """How many passages were mended, how many findings remain but notes, and which are new."""

    done: int
    remaining: int
    worse: list[BookFinding]

    @classmethod
    def of(cls, mended: Mended) -> Self:
        """The wire form of ``mended``."""
        return cls(
            done=len(mended.rewordings),
            remaining=mended.remaining,
            worse=[BookFinding.of(one) for one in mended.worse],
        )


def make_router(find_session: Callable[[], Session]) -> APIRouter:
    """The routes over the book that ``find_session`` gives, at each request anew."""
    router = APIRouter(prefix="/api/findings", responses=REFUSALS)
    keeper = FindingsKeeper()

    @router.get("")
    def get_findings() -> list[BookFinding]:
        """All findings on the book, the gravest first."""
        return [BookFinding.of(placed) for placed in keeper.list_findings(find_session())]

    @router.post("/mend")
    def mend(wanted: WantedMends) -> MendsDone:
        """Do these mends, those of them that are still on offer, as one change."""
        chosen = {Rewording(one.source, one.old, one.new) for one in wanted.mends}
        return MendsDone.of(keeper.mend(find_session(), chosen))

    return router

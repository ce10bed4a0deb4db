"""The room for the case and the work at the bench."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated

from fastapi import APIRouter, Path, Query, Response

from wayfold.app.rooms.case import view_case_room
from wayfold.app.rooms.case_bench import tick_step, view_bench
from wayfold.app.rooms.case_cutting import StockView, set_stocks, view_cutting
from wayfold.app.rooms.case_drawings import case_svg
from wayfold.app.rooms.case_measures import PocketItemView, set_measure, set_pocket, try_measure
from wayfold.app.rooms.case_shopping import view_shopping
from wayfold.app.rooms.case_ticks import Ticks
from wayfold.app.session import Session
from wayfold.desk.reading import ASK_AGAIN, REFUSALS, SVG
from wayfold.desk.rooms.case_wire import (
    BenchDone,
    BenchTask,
    Case,
    Cutting,
    NewMeasure,
    NewPocket,
    NewStocks,
    Shopping,
)

Key = Annotated[str, Path(pattern=r"^[a-z]+\.[a-z_]+$", max_length=60)]
Name = Annotated[str, Path(pattern=r"^[a-z0-9-]+$", max_length=60)]


def make_router(find_session: Callable[[], Session]) -> APIRouter:
    """The routes over the book that ``find_session`` gives, at each request anew."""
    router = APIRouter(prefix="/api/case", responses=REFUSALS)

    @router.get("")
    def get_case() -> Case:
        """The maker's numbers, what follows from them, and what speaks against them."""
        return Case.mirror(view_case_room(find_session().results))

    @router.get("/measures/{key}")
    def try_number(key: Key, value: float | None = None) -> Case:
        """The case as it would be with another number; nothing is kept of it."""
        return Case.mirror(view_case_room(try_measure(find_session().results, key, value)))

    @router.get("/cutting")
    def get_cutting() -> Cutting:
        """The cutting plans, and the sheets that there are."""
        session = find_session()
        return Cutting.mirror(view_cutting(session.results.case, Ticks(session.folder)))

    @router.get("/shopping")
    def get_shopping() -> Shopping:
        """What is to be got."""
        session = find_session()
        view = view_shopping(session.folder, session.results, Ticks(session.folder))
        return Shopping.mirror(view)

    @router.get("/work")
    def get_work() -> list[BenchTask]:
        """The work at the bench, in order."""
        session = find_session()
        tasks = view_bench(session.results, Ticks(session.folder))
        return [BenchTask.mirror(task) for task in tasks]

    @router.get(
        "/drawings/{name}.svg",
        response_class=Response,
        responses={200: {"content": {SVG: {}}}},
    )
    def get_drawing(
        name: Name,
        lit: Annotated[str, Query(pattern=r"^[a-z._]*$", max_length=60)] = "",
        tried: float | None = None,
    ) -> Response:
        """A drawing; what the measure ``lit`` moves is in the accent, by a number ``tried``."""
        svg = case_svg(find_session(), name, lit, tried)
        return Response(svg, media_type=SVG, headers={"Cache-Control": ASK_AGAIN})

    @router.put("/measures/{key}")
    def put_measure(key: Key, new: NewMeasure) -> None:
        """Give a measure a new value."""
        set_measure(find_session(), key, new.value)

    @router.put("/pocket")
    def put_pocket(new: NewPocket) -> None:
        """Say what goes into the pocket."""
        items = tuple(PocketItemView(**item.model_dump()) for item in new.items)
        set_pocket(find_session(), items)

    @router.put("/stocks")
    def put_stocks(new: NewStocks) -> None:
        """Say which sheets and rolls there are."""
        set_stocks(find_session(), tuple(StockView(**stock.model_dump()) for stock in new.stocks))

    @router.put("/ticks/{of}/{item}")
    def put_tick(of: Name, item: Name, new: BenchDone) -> None:
        """Tick off a step, a sheet to cut or a thing to get, or take the tick away."""
        tick_step(find_session(), of, item, done=new.done)

    return router

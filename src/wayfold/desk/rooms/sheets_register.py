"""The registration of the printer: routes below the room for the sheets."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Literal

from fastapi import APIRouter, Depends, Request, Response
from fastapi.responses import FileResponse
from pydantic import Field

from wayfold.app.rooms import sheets_register as register
from wayfold.app.session import Session
from wayfold.base.geometry import Point
from wayfold.desk.reading import ASK_AGAIN, SVG, gives
from wayfold.desk.wire import Wire

PNG = "image/png"
Millimetres = Annotated[float, Field(allow_inf_nan=False, ge=-1000.0, le=5000.0)]


class RegistrationMark(Wire):
    """How far the back's cross lies right of 0 and below it at a mark (mm)."""

    name: Literal["A", "B", "C", "D"]
    right: Millimetres
    down: Millimetres


class BackLie(Wire):
    """How the back lies on the front: mm right and down, degrees clockwise, mm longer."""

    right: float
    down: float
    turn_deg: float
    across: float
    along: float


class Registration(Wire):
    """What was read off the registration sheet, and what it comes to."""

    marks: list[RegistrationMark]
    across: float | None
    along: float | None
    wanted_across: float
    wanted_along: float
    lie: BackLie | None
    doubt: str | None
    pictured: bool


class Readings(Wire):
    """Readings of the sheet; lengths that were not measured are null."""

    marks: Annotated[list[RegistrationMark], Field(max_length=4)]
    across: Millimetres | None
    along: Millimetres | None


async def read_file(request: Request) -> bytes:
    """Give the file that a request hands in as its body, whatever kind it says it is."""
    return await request.body()


def add_routes(router: APIRouter, find_session: Callable[[], Session]) -> None:
    """Add the routes over the book that ``find_session`` gives, at each request anew."""

    @router.get("/registration")
    def get_registration() -> Registration:
        """The readings that are kept."""
        return Registration.mirror(register.view_registration(find_session()))

    @router.post("/registration/sheet")
    def make_sheet() -> None:
        """Make the registration sheet."""
        register.make_sheet(find_session())

    @router.put("/registration")
    def keep_readings(readings: Readings) -> Registration:
        """Keep readings."""
        marks = {str(m.name): Point(m.right, m.down) for m in readings.marks}
        view = register.keep(find_session(), marks, readings.across, readings.along)
        return Registration.mirror(view)

    @router.delete("/registration")
    def forget() -> Registration:
        """Forget them."""
        return Registration.mirror(register.forget(find_session()))

    @router.post("/registration/picture")
    def measure_picture(
        picture: Annotated[bytes, Depends(read_file)],
    ) -> Registration:
        """Read the marks off a picture of the sheet against the light."""
        return Registration.mirror(register.measure_picture(find_session(), picture))

    @router.get("/registration/read.png", response_class=FileResponse, responses=gives(PNG))
    def get_picture() -> FileResponse:
        """That picture, with what was found drawn over it."""
        headers = {"Cache-Control": ASK_AGAIN}
        return FileResponse(register.find_picture(find_session()), media_type=PNG, headers=headers)

    @router.get("/registration/figures/{name}.svg", response_class=Response, responses=gives(SVG))
    def get_figure(name: Literal["light", "mark", "lengths", "found"]) -> Response:
        """A picture of how the sheet is read, or of what was found."""
        svg = register.figure_svg(find_session(), name)
        return Response(svg, media_type=SVG, headers={"Cache-Control": ASK_AGAIN})

"""The room for the sheets: printed, to be printed again, in register."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Literal

from fastapi import APIRouter, Header, Path, Response
from fastapi.responses import FileResponse

from wayfold.app.rooms import sheets
from wayfold.app.rooms.sheets_files import find_file, list_files
from wayfold.app.rooms.sheets_sides import find_sides, side_svg, small_jpeg
from wayfold.app.session import Session
from wayfold.desk.reading import (
    ASK_AGAIN,
    ASSET_ID,
    JPEG,
    KEEP,
    NOT_MODIFIED,
    REFUSALS,
    SVG,
    gives,
)
from wayfold.desk.rooms import sheets_leaf, sheets_printer, sheets_proof, sheets_register
from wayfold.desk.rooms.sheets_wire import File, Marks, PassedOver, Sheets
from wayfold.desk.wire import WorkUnderWay

PDF = "application/pdf"
VIEWER_POLICY = (
    "default-src 'none'; object-src 'self'; style-src 'unsafe-inline'; img-src 'self' data: blob:; "
    "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
"""For a PDF in a window of its own: what browsers' own viewers need, and no script."""
FILE_NAME = Path(pattern=r"^[a-z][a-z-]{1,30}$")
SHEET_NAME = Path(pattern=r"^([1-9]\d{0,3}\.[1-9]\d{0,2}|i[1-9]\d{0,3})$")


def make_router(find_session: Callable[[], Session]) -> APIRouter:
    """The routes over the book that ``find_session`` gives, at each request anew."""
    router = APIRouter(prefix="/api/sheets", responses=REFUSALS)

    @router.get("")
    def get_sheets() -> Sheets:
        """All sheets, and how each stands."""
        return Sheets.mirror(sheets.view_sheets(find_session()))

    @router.post("/marks")
    def mark(marks: Marks) -> Sheets:
        """Note that sheets lie printed, or free them to change again."""
        session = find_session()
        return Sheets.mirror(sheets.mark(session, marks.sheets, printed=marks.printed))

    @router.post("/marks/back")
    def take_back() -> Sheets:
        """Take the last marking back."""
        return Sheets.mirror(sheets.take_back(find_session()))

    @router.put("/passed-over")
    def pass_over(passed: PassedOver) -> Sheets:
        """Set what is no reason to print a sheet again."""
        return Sheets.mirror(sheets.pass_over(find_session(), passed.shift_mm, marks=passed.marks))

    @router.post("/make")
    def make() -> WorkUnderWay:
        """Begin making the print files."""
        return WorkUnderWay.of(sheets.start_making(find_session()))

    @router.get("/sides/{name}/{side}.svg", response_class=Response, responses=gives(SVG))
    def get_side(
        name: Annotated[str, SHEET_NAME],
        side: Literal["front", "back"],
        if_none_match: Annotated[str | None, Header()] = None,
    ) -> Response:
        """A side as it goes to the printer, pages and marks, as SVG."""
        session = find_session()
        key = find_sides(session).find_key(name, side)
        tag = f'"{key}"'
        headers = {"ETag": tag, "Cache-Control": ASK_AGAIN}
        if if_none_match == tag:
            return Response(status_code=NOT_MODIFIED, headers=headers)
        return Response(side_svg(session, name, side), media_type=SVG, headers=headers)

    @router.get("/pictures/{key}.jpg", response_class=Response, responses=gives(JPEG))
    def get_picture(key: Annotated[str, ASSET_ID]) -> Response:
        """A photograph as it lies on a page, small; the sides' SVG refers to it."""
        data = small_jpeg(find_session(), key)
        return Response(data, media_type=JPEG, headers={"Cache-Control": KEEP})

    @router.get("/files")
    def get_files() -> list[File]:
        """The print files that lie there, in the order of the work."""
        return [File.mirror(file) for file in list_files(find_session())]

    @router.get("/files/{name}.pdf", response_class=FileResponse, responses=gives(PDF))
    def get_file(name: Annotated[str, FILE_NAME]) -> FileResponse:
        """One of them, to be opened or kept."""
        return FileResponse(
            find_file(find_session(), name),
            media_type=PDF,
            filename=f"{name}.pdf",
            content_disposition_type="inline",
            headers={"Cache-Control": ASK_AGAIN, "Content-Security-Policy": VIEWER_POLICY},
        )

    for part in (sheets_register, sheets_printer, sheets_leaf, sheets_proof):
        part.add_routes(router, find_session)
    return router

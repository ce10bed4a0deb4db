"""What the room for the sheets sends and takes."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from wayfold.app.ledger_compare import SheetState
from wayfold.app.rooms.sheets import Freshness, Material
from wayfold.app.rooms.sheets_files import Use
from wayfold.desk.wire import Wire

SheetName = Annotated[str, Field(max_length=12, pattern=r"^([1-9]\d*(\.[1-9]\d*)?|i[1-9]\d*)$")]


class SheetSide(Wire):
    """A side as it goes to the printer: its pages from left to right, heads up.

    A translucent sheet's pages are those that its leaves lie after. ``turned`` sides are printed
    with the heads at the foot; ``key`` changes with what a side shows.
    """

    pages: list[int]
    turned: bool
    key: str


class Sheet(Wire):
    """A sheet and how it stands; ``name`` is what it is marked by.

    ``gathering`` is null for translucent sheets that are cut in two and tipped in. ``index``
    counts from the outside; for a translucent sheet so many paper sheets lie round it.
    """

    name: str
    label: str
    material: Material
    gathering: int | None
    index: int
    front: SheetSide
    back: SheetSide
    state: SheetState
    day: str | None
    reasons: list[str]
    ignored: list[str]


class Sheets(Wire):
    """All sheets in the order of printing, and what the print files are.

    Unless ``proven``, the states are what the book as it is now would come to, and no marks can
    be made. ``gatherings`` are the sheets in each, ``signatures`` the letters on
    their spines.
    """

    freshness: Freshness
    proven: bool
    sheets: list[Sheet]
    gatherings: list[int]
    signatures: list[str]
    outgrown: list[str]
    saved_sheets: int
    saved_ink_ml: float
    aspect: float
    leaf_aspect: float
    feed: str
    duplex: str
    printer: str
    paper: str
    translucent: str
    ignore_shift: float
    ignore_marks: bool


class Marks(Wire):
    """Sheets that lie printed as the print files have them, or are free again."""

    sheets: Annotated[list[SheetName], Field(min_length=1, max_length=2000)]
    printed: bool


class PassedOver(Wire):
    """What is no reason to print a sheet again: so many mm elsewhere, other marks."""

    shift_mm: Annotated[float, Field(ge=0.0, le=2.0, allow_inf_nan=False)]
    marks: bool


class File(Wire):
    """A print file that lies there; ``made_at`` is local time."""

    name: str
    use: Use
    made_at: str
    bytes: int

"""The form of the book's TOML files. Lengths carry their unit in the key."""

from __future__ import annotations

import dataclasses
from datetime import date
from functools import cached_property
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, field_validator, model_validator

from wayfold.base.geometry import Rect
from wayfold.book.materials import (
    BackOrder,
    Binding,
    Duplex,
    Feed,
    Grain,
    LeafInk,
    Paper,
    Printer,
    Source,
    Surface,
    Translucent,
)
from wayfold.book.planning import PlanChoice
from wayfold.book.state import Book, PhotoChoice, Pick
from wayfold.plan.model import EndRole, Status
from wayfold.plan.prices import Prices
from wayfold.project.bench_schema import BenchTables
from wayfold.project.layout_schema import LayoutTable
from wayfold.project.style_schema import BookStyleTable

BOOK_VERSION = 1
PHOTOS_VERSION = 1
PLAN_VERSION = 1
LEDGER_VERSION = 1

_BOOK, _PAPER, _PRINTER, _BINDING = Book(title=""), Paper(), Printer(), Binding()
_TRANSLUCENT = Translucent()
NOT_DECIDED = frozenset({"file", "content"})
"""Keys of a photograph that Wayfold itself writes."""
# What a file leaves out is what the decisions' own types start from.

PRICE_MAX = 1_000_000
"""Above any price of the planner's own; what a person writes beyond it is a slip."""
SHEETS_MAX = 64
"""Of a gathering that a plan may hold: far more than can be folded."""
STATES_LIMIT = 50_000_000
"""Beyond it a search would want more memory than a desk's machine has."""
Mm = Annotated[float, Field(ge=0, le=5000)]
LengthMm = Annotated[float, Field(gt=0, le=5000)]
Hex = Annotated[str, Field(pattern=r"^#[0-9a-fA-F]{6}$")]
Offset = Annotated[float, Field(ge=-8, le=8)]
OffsetMm = tuple[Offset, Offset]
Fraction = Annotated[float, Field(ge=0, le=1)]


class Table(BaseModel):
    """A table of the file: unknown keys are errors."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class BookTable(Table):
    """Who and what."""

    title: str = Field(min_length=1)
    subtitle: str = ""
    author: str = ""
    finished: date | None = None
    language: str = Field(_BOOK.language, pattern=r"^[a-z]{2,3}(-[A-Za-z0-9]+)*$")
    openers_on: Literal["recto", "any"] = "recto"
    photographs: list[str] = list(_BOOK.photographs)


class PageTable(Table):
    """The trimmed page."""

    width_mm: LengthMm = _BOOK.trim.width
    height_mm: LengthMm = _BOOK.trim.height
    bleed_mm: Annotated[float, Field(ge=0, le=20)] = _BOOK.bleed


class PaperTable(Table):
    """The sheet that goes through the printer."""

    name: str = _PAPER.name
    sheet_mm: tuple[LengthMm, LengthMm] = (_PAPER.sheet.width, _PAPER.sheet.height)
    grammage_gsm: Annotated[float, Field(gt=0, le=2000)] = _PAPER.grammage_gsm
    caliper_um: Annotated[float, Field(gt=0, le=2000)] = _PAPER.caliper_um
    caliper_source: Source = _PAPER.caliper_source
    grain: Grain = _PAPER.grain
    surface: Surface = _PAPER.surface


class TranslucentTable(Table):
    """The sheet that interleaves are made of."""

    name: str = _TRANSLUCENT.name
    sheet_mm: tuple[LengthMm, LengthMm] = (_TRANSLUCENT.sheet.width, _TRANSLUCENT.sheet.height)
    grammage_gsm: Annotated[float, Field(gt=0, le=2000)] = _TRANSLUCENT.grammage_gsm
    caliper_um: Annotated[float, Field(gt=0, le=2000)] = _TRANSLUCENT.caliper_um
    caliper_source: Source = _TRANSLUCENT.caliper_source
    ink: LeafInk = _TRANSLUCENT.ink
    read_through: list[Annotated[int, Field(ge=0)]] = []
    both_sides: list[Annotated[int, Field(ge=0)]] = []
    reflectance: Annotated[float, Field(ge=0, lt=1)] = _TRANSLUCENT.reflectance
    transmittance: Annotated[float, Field(gt=0, le=1)] = _TRANSLUCENT.transmittance
    gap_mm: Annotated[float, Field(ge=0, le=5)] = _TRANSLUCENT.gap
    haze_deg: Annotated[float, Field(gt=0, le=45)] = _TRANSLUCENT.haze_deg

    @model_validator(mode="after")
    def _check_gives_no_light(self) -> TranslucentTable:
        if self.reflectance + self.transmittance > 1.0:
            raise ValueError("reflectance and transmittance together are at most 1")
        return self

    @model_validator(mode="after")
    def _check_one_way(self) -> TranslucentTable:
        twice = set(self.read_through) & set(self.both_sides)
        if twice:
            raise ValueError(f"the leaf after page {min(twice)} is in read_through and both_sides")
        return self


class PrinterTable(Table):
    """What the printer cannot print on, with the sheet lying landscape, and how it turns sheets."""

    name: str = _PRINTER.name
    margin_left_mm: Mm = _PRINTER.margin_left
    margin_right_mm: Mm = _PRINTER.margin_right
    margin_head_mm: Mm = _PRINTER.margin_head
    margin_foot_mm: Mm = _PRINTER.margin_foot
    duplex: Duplex = _PRINTER.duplex
    back_order: BackOrder = _PRINTER.back_order
    feed: Feed = _PRINTER.feed
    profile: str = _PRINTER.profile


class BindingTable(Table):
    """Folding and gathering."""

    creep_coefficient: Annotated[float, Field(ge=0, le=2)] = _BINDING.creep_coefficient
    trim_fore_edge: bool = _BINDING.trim_fore_edge
    sheets_min: Annotated[int, Field(ge=1, le=16)] | None = None
    sheets_max: Annotated[int, Field(ge=1, le=16)] | None = None
    sheets_preferred: Annotated[int, Field(ge=1, le=16)] | None = None


class ChapterTable(Table):
    """What the person says of a chapter."""

    place: str
    title: str | None = None
    subtitle: str | None = None
    text: str | None = None
    accent: Hex | None = None
    interleaf: bool = False
    opening_photo: str | None = None
    country_map: bool = False

    @model_validator(mode="after")
    def _check_has_leaf(self) -> ChapterTable:
        if self.country_map and not self.interleaf:
            raise ValueError("a country_map is drawn on a translucent leaf: write interleaf = true")
        return self


class PinTable(Table):
    """A block of the story held fast."""

    block: str = Field(min_length=1)
    page: Annotated[int, Field(ge=1)] | None = None
    centre: bool = False
    way: Annotated[int, Field(ge=1)] | None = None
    stays: bool = False

    @model_validator(mode="after")
    def _check_says_something(self) -> PinTable:
        if self.page is None and self.way is None and not self.centre and not self.stays:
            raise ValueError("say how it is held: page, centre, way or stays")
        return self


class PlanTable(Table):
    """The person's hand on the planner."""

    choice: PlanChoice = _BOOK.planning.choice
    states_max: Annotated[int, Field(ge=1, le=STATES_LIMIT)] | None = None
    prices: dict[str, Annotated[int, Field(ge=0, le=PRICE_MAX)]] = {}
    pin: list[PinTable] = []

    @field_validator("prices")
    @classmethod
    def _check_prices(cls, prices: dict[str, int]) -> dict[str, int]:
        known = [f.name for f in dataclasses.fields(Prices)]
        for name in prices:
            if name not in known:
                raise ValueError(f"there is no price {name!r}; write one of: {', '.join(known)}")
        return prices


class RegistrationTable(Table):
    """What was read off the registration sheet: see ``book.registration``."""

    offsets_mm: tuple[OffsetMm, OffsetMm, OffsetMm, OffsetMm] = ((0.0, 0.0),) * 4
    across_mm: LengthMm | None = None
    along_mm: LengthMm | None = None


class PrintedTable(Table):
    """What of a change in printed sheets is passed over."""

    ignore_shift_mm: Annotated[float, Field(ge=0, le=2)] = _BOOK.reprinting.ignore_shift
    ignore_marks: bool = _BOOK.reprinting.ignore_marks


class BookFile(Table, BenchTables):
    """book.toml."""

    version: int
    book: BookTable
    page: PageTable = PageTable()
    paper: PaperTable = PaperTable()
    translucent: TranslucentTable = TranslucentTable()
    printer: PrinterTable = PrinterTable()
    registration: RegistrationTable | None = None
    binding: BindingTable = BindingTable()
    layout: LayoutTable = LayoutTable()
    style: BookStyleTable = BookStyleTable()
    plan: PlanTable = PlanTable()
    printed: PrintedTable = PrintedTable()
    chapter: list[ChapterTable] = []

    @field_validator("style", mode="before")
    @classmethod
    def _read_name(cls, style: object) -> object:
        """A style may be named alone: style = "garden"."""
        return {"name": style} if isinstance(style, str) else style


class PhotoTable(Table):
    """One photograph of photos.toml: where it lies, and what the person decided."""

    file: str
    content: str
    pick: Pick = Pick.OPEN
    caption: str | None = None
    alone: bool = False
    interleaf: bool = False
    text: str | None = None
    crop: tuple[Fraction, Fraction, Fraction, Fraction] | None = None
    """left, top, width, height in fractions of the upright picture"""

    @cached_property
    def choice(self) -> PhotoChoice | None:
        """What the person decided; None where they decided nothing."""
        if self.model_fields_set <= NOT_DECIDED:
            return None
        return PhotoChoice(
            pick=self.pick,
            caption=self.caption,
            crop=Rect(*self.crop) if self.crop else None,
            alone=self.alone,
            interleaf=self.interleaf,
            text=self.text,
        )


class PhotosFile(Table):
    """photos.toml."""

    version: int
    photo: dict[str, PhotoTable] = {}


class PlannedBlockTable(Table):
    """Where a block lies."""

    id: str
    first_page: Annotated[int, Field(ge=1)]
    pages: Annotated[int, Field(ge=1)]
    alternative: Annotated[int, Field(ge=0)]


class InterleafEndTable(Table):
    """One leaf of an interleaf."""

    after_page: Annotated[int, Field(ge=0)]
    role: EndRole
    over: Annotated[int, Field(ge=1)] | None = None


class InterleafTable(Table):
    """A translucent sheet; without ``depth`` a single leaf, tipped in."""

    gathering: Annotated[int, Field(ge=1)]
    depth: Annotated[int, Field(ge=0)] | None = None
    end: Annotated[list[InterleafEndTable], Field(min_length=1, max_length=2)]


class PlanFile(Table):
    """plan.lock.toml."""

    version: int
    story: str
    status: Status
    cost: int
    bound: int
    sheets: Annotated[list[Annotated[int, Field(ge=1, le=SHEETS_MAX)]], Field(max_length=1000)]
    printed: list[Annotated[int, Field(ge=1)]] = []
    block: list[PlannedBlockTable] = []
    interleaf: list[InterleafTable] = []


class PrintedSheetTable(Table):
    """A sheet as it was printed; ``ink`` is that of its two sides, part by part, as JSON."""

    label: str
    day: str
    looks: tuple[str, str]
    viewer: str
    code: str
    ink: str


class LedgerFile(Table):
    """printed.lock.toml."""

    version: int
    sheet: list[PrintedSheetTable] = []

"""The tables of book.toml on sewing, case, pocket, stocks and costs. Lengths carry their unit."""

from __future__ import annotations

import enum
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field, model_validator

from wayfold.base.geometry import Size
from wayfold.book.casing import (
    Back,
    BenchChoices,
    CaseStyle,
    Casing,
    Costs,
    Material,
    Pocket,
    PocketItem,
    Practice,
    Sewing,
    SewingMethod,
    SpinePiece,
    SpineTurn,
    Stock,
)
from wayfold.book.materials import Grain, Source

_CASING, _SEWING, _POCKET, _COSTS, _ALL = Casing(), Sewing(), Pocket(), Costs(), BenchChoices()
# What a file leaves out is what the decisions' own types start from.

Mm = Annotated[float, Field(ge=0, le=5000)]
LengthMm = Annotated[float, Field(gt=0, le=5000)]
Price = Annotated[float, Field(ge=0, le=1_000_000)]


class Table(BaseModel):
    """A table of the file: unknown keys are errors."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class CaseTable(Table):
    """The case. ``square_mm`` may be negative here, so that it can be spoken of with its reason."""

    style: CaseStyle = _CASING.style
    board_mm: LengthMm = _CASING.board
    square_mm: Annotated[float, Field(ge=-50, le=100)] = _CASING.square
    board_less_mm: Annotated[float, Field(ge=-50, le=100)] = _CASING.board_less
    joint_mm: LengthMm = _CASING.joint
    back: Back = _CASING.back
    spine: SpinePiece = _CASING.spine
    card_mm: LengthMm = _CASING.card
    turn_in_mm: LengthMm = _CASING.turn_in
    mitre_factor: Annotated[float, Field(gt=0, le=10)] = _CASING.mitre_factor
    overlap_mm: Mm = _CASING.overlap
    cloth_on_board_mm: LengthMm | None = None
    mull_beyond_mm: Mm = _CASING.mull_beyond
    pastedown_margin_mm: Mm = _CASING.pastedown_margin
    endpaper_um: Annotated[float, Field(gt=0, le=5000)] = _CASING.endpaper_um
    block_mm: LengthMm | None = None
    pressed_factor: Annotated[float, Field(gt=0, le=3)] = _CASING.pressed_factor
    spine_turn: SpineTurn = _CASING.spine_turn
    photo: str | None = None
    route: bool = _CASING.route

    @model_validator(mode="after")
    def _check_bends(self) -> CaseTable:
        if self.back is Back.ROUND and self.spine is SpinePiece.BOARD:
            raise ValueError(
                "a strip of board cannot follow a rounded back: take card for the spine piece, or "
                "a flat back"
            )
        return self


class SewingTable(Table):
    """The sewing."""

    method: SewingMethod = _SEWING.method
    kettle_mm: LengthMm = _SEWING.kettle
    spaces: Annotated[int, Field(ge=1, le=20)] | None = None
    tapes: Annotated[int, Field(ge=1, le=12)] | None = None
    tape_mm: LengthMm = _SEWING.tape
    thread_lea: Annotated[float, Field(gt=0, le=200)] = _SEWING.thread_lea
    thread_ply: Annotated[int, Field(ge=1, le=12)] = _SEWING.thread_ply
    thread_mm: LengthMm | None = None
    swell_factor: Annotated[float, Field(ge=0, le=2)] = _SEWING.swell_factor


class PocketItemTable(Table):
    """Something for the pocket, as it stands there: width, height, thickness."""

    name: str = "contents"
    size_mm: tuple[LengthMm, LengthMm, LengthMm]


class PocketTable(Table):
    """The pocket."""

    strip_um: Annotated[float, Field(gt=0, le=5000)] = _POCKET.strip_um
    item: list[PocketItemTable] = []


class StockTable(Table):
    """A sheet or a roll that the maker has or can buy."""

    material: Material
    size_mm: tuple[LengthMm, LengthMm]
    grain: Grain = Grain.UNKNOWN
    price: Price | None = None
    roll: bool = False
    name: str = ""
    source: Source = Source.MEASURED


class CostsTable(Table):
    """What things cost, in the maker's own money."""

    money: str = _COSTS.money
    paper_sheet: Price | None = None
    translucent_sheet: Price | None = None
    ink_ml: Price | None = None
    thread_m: Price | None = None
    ink_white_ml: Mm = _COSTS.ink_white_ml
    ink_black_ml: Mm = _COSTS.ink_black_ml
    ink_overhead: Annotated[float, Field(ge=0, le=10)] = _COSTS.ink_overhead


class DummyTable(Table):
    """The trial book."""

    sheet_mm: tuple[LengthMm, LengthMm] = (_ALL.dummy_sheet.width, _ALL.dummy_sheet.height)


class BenchTable(Table):
    """Who works."""

    hand: Practice = _ALL.hand


class BenchTables(Table):
    """All tables on the work at the bench; book.toml has them beside its others."""

    case: CaseTable = CaseTable()
    sewing: SewingTable = SewingTable()
    pocket: PocketTable = PocketTable()
    costs: CostsTable = CostsTable()
    dummy: DummyTable = DummyTable()
    bench: BenchTable = BenchTable()
    stock: list[StockTable] = []


def bench_from_tables(tables: BenchTables) -> BenchChoices:
    """Give the decisions that the tables describe."""
    return BenchChoices(
        casing=Casing(**_drop_unit(tables.case)),
        sewing=Sewing(**_drop_unit(tables.sewing)),
        pocket=Pocket(
            tuple(PocketItem(i.name, *i.size_mm) for i in tables.pocket.item),
            tables.pocket.strip_um,
        ),
        stocks=tuple(
            Stock(size=Size(*s.size_mm), **s.model_dump(exclude={"size_mm"})) for s in tables.stock
        ),
        costs=Costs(**tables.costs.model_dump()),
        hand=tables.bench.hand,
        dummy_sheet=Size(*tables.dummy.sheet_mm),
    )


def describe_bench(bench: BenchChoices) -> dict[str, Any]:
    """Give the tables that say what differs from where a book starts, by their names."""
    pocket = _list_changes(PocketTable, bench.pocket, _POCKET)
    pocket["item"] = [describe_item(item) for item in bench.pocket.items]
    if not pocket["item"]:
        del pocket["item"]
    tables: dict[str, Any] = {
        "case": _list_changes(CaseTable, bench.casing, _CASING),
        "sewing": _list_changes(SewingTable, bench.sewing, _SEWING),
        "pocket": pocket,
        "costs": _list_changes(CostsTable, bench.costs, _COSTS),
        "dummy": {},
        "bench": {},
        "stock": [describe_stock(stock) for stock in bench.stocks],
    }
    if bench.dummy_sheet != _ALL.dummy_sheet:
        tables["dummy"] = {"sheet_mm": [bench.dummy_sheet.width, bench.dummy_sheet.height]}
    if bench.hand is not _ALL.hand:
        tables["bench"] = {"hand": bench.hand.value}
    return {name: table for name, table in tables.items() if table}


def _list_changes(table: type[Table], value: object, start: object) -> dict[str, Any]:
    changes = {}
    for key in table.model_fields:
        name = key.removesuffix("_mm")
        new = getattr(value, name, None)
        if new is not None and new != getattr(start, name):
            changes[key] = new.value if isinstance(new, enum.Enum) else new
    return changes


def describe_item(item: PocketItem) -> dict[str, Any]:
    """Give the row of the file that says what goes into the pocket."""
    return {"name": item.name, "size_mm": [item.width, item.height, item.thickness]}


def describe_stock(stock: Stock) -> dict[str, Any]:
    """Give the row of the file that says of a sheet or a roll what is not as usual."""
    start = Stock(stock.material, stock.size)
    return {
        "material": stock.material.value,
        "size_mm": [stock.size.width, stock.size.height],
        **{
            key: value
            for key, value in _list_changes(StockTable, stock, start).items()
            if key not in ("material", "size_mm")
        },
    }


def _drop_unit(table: Table) -> dict[str, Any]:
    return {key.removesuffix("_mm"): value for key, value in table.model_dump().items()}

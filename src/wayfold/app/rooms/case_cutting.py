"""Cutting plans and the sheets they are cut from, those of the maker's own cupboard first."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from wayfold.app.rooms.case_ticks import Ticks, TickView
from wayfold.app.session import Session
from wayfold.base.errors import UserError
from wayfold.base.geometry import Size
from wayfold.book.casing import Material, Stock
from wayfold.book.edits import SetStocks
from wayfold.book.materials import Grain, Source
from wayfold.case.cutting import CutSheet
from wayfold.case.work import CaseWork, MaterialPlan

CUTTING = "cutting"


@dataclass(frozen=True, slots=True)
class SheetView:
    """A sheet to cut: its drawing's name, what lies on it, and whether it is cut."""

    drawing: str
    said: str
    width_mm: float
    height_mm: float
    cuts: int
    waste: float
    tick: TickView


@dataclass(frozen=True, slots=True)
class CuttingView:
    """How the pieces of one material are cut; ``usual`` where the maker named no sheet for it."""

    material: str
    stock: str
    usual: bool
    waste: float
    cost: float | None
    sheets: tuple[SheetView, ...]


@dataclass(frozen=True, slots=True)
class StockView:
    """A sheet or roll of the maker's; ``price`` is for one sheet, or for a metre of a roll."""

    material: str
    width_mm: float
    height_mm: float
    grain: str
    price: float | None
    roll: bool
    name: str


@dataclass(frozen=True, slots=True)
class CutView:
    """All cutting plans, the sheets there are, what was cut that no plan asks for any more."""

    plans: tuple[CuttingView, ...]
    stocks: tuple[StockView, ...]
    needed: tuple[str, ...]
    materials: tuple[str, ...]
    grains: tuple[str, ...]
    left: tuple[TickView, ...]


def view_cutting(work: CaseWork, ticks: Ticks) -> CutView:
    """Give the cutting plans of a book's case."""
    plans = tuple(_view_plan(plan, ticks) for plan in work.cutting)
    return CutView(
        plans=plans,
        stocks=tuple(
            StockView(
                s.material.value,
                s.size.width,
                s.size.height,
                s.grain.value,
                s.price,
                s.roll,
                s.name,
            )
            for s in work.book.bench.stocks
        ),
        needed=tuple(dict.fromkeys(part.material.value for part in work.parts)),
        materials=tuple(material.value for material in Material),
        grains=tuple(grain.value for grain in Grain),
        left=ticks.list_left(CUTTING, (s.tick.item for plan in plans for s in plan.sheets)),
    )


def list_cut_sheets(work: CaseWork) -> Iterator[tuple[str, MaterialPlan, int, CutSheet]]:
    """Give every sheet to cut with its key, its plan and its number there, from 1."""
    for plan in work.cutting:
        for number, sheet in enumerate(plan.sheets, start=1):
            yield f"{name_material(plan.material)}-{number}", plan, number, sheet


def name_material(material: Material) -> str:
    """Give the name of a material that may stand in an address."""
    return material.value.replace(" ", "-")


def describe_sheet(plan: MaterialPlan, sheet: CutSheet) -> str:
    """Say what is cut from a sheet."""
    pieces = Counter(
        f"{plan.pieces[laid.piece].name} {laid.box.width:.1f} × {laid.box.height:.1f}"
        for laid in sheet.laid
    )
    words = "; ".join(f"{count} × {piece}" for piece, count in sorted(pieces.items()))
    return f"{words} mm, from {plan.stock.title}"


def set_stocks(session: Session, stocks: tuple[StockView, ...]) -> None:
    """Say which sheets and rolls there are. Raises UserError for a material there is none of."""
    session.edit(SetStocks(tuple(_read_stock(stock) for stock in stocks)))


def _read_stock(view: StockView) -> Stock:
    try:
        material, grain = Material(view.material), Grain(view.grain)
    except ValueError as error:
        raise UserError(
            f"There is no such material or grain: {view.material}, {view.grain}.",
            remedy=f"Take one of: {', '.join(Material)}; {', '.join(Grain)}.",
        ) from error
    size = Size(view.width_mm, view.height_mm)
    return Stock(material, size, grain, view.price, view.roll, view.name)


def _view_plan(plan: MaterialPlan, ticks: Ticks) -> CuttingView:
    name = name_material(plan.material)
    sheets = []
    for number, sheet in enumerate(plan.sheets, start=1):
        said, item = describe_sheet(plan, sheet), f"{name}-{number}"
        sheets.append(
            SheetView(
                drawing=f"cut-{item}",
                said=said,
                width_mm=sheet.size.width,
                height_mm=sheet.size.height,
                cuts=len(sheet.cuts),
                waste=sheet.waste,
                tick=ticks.show(CUTTING, item, said),
            )
        )
    return CuttingView(
        material=plan.material.value,
        stock=plan.stock.title,
        usual=plan.stock.source is Source.ESTIMATED,
        waste=plan.waste,
        cost=plan.cost,
        sheets=tuple(sheets),
    )

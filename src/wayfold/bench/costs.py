"""What the book costs: sheets, ink by how much of it the pages take, thread, cloth, boards."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wayfold.book.casing import Costs, Stock
from wayfold.book.materials import Source
from wayfold.case.work import CaseWork

MM2_PER_M2 = 1e6


@dataclass(frozen=True, slots=True)
class InkLoad:
    """Printed picture of so much area (mm2) and darkness: 0 is white paper, 1 solid black."""

    area: float
    darkness: float


@dataclass(frozen=True, slots=True)
class CostRow:
    """A thing to buy, how much of it, and what it costs; None where its price is not known.

    ``key`` names it; ``price`` is the key under [costs] of its price, "" where that is its stock's.
    """

    key: str
    what: str
    amount: str
    cost: float | None
    price: str = ""


def ink_rate(darkness: float, costs: Costs) -> float:
    """Give the ink (ml/m2) a picture of that darkness takes.

    Between what makers of wide printers measured: 0.3 ml to the square foot for near-white
    pictures, 1.5 for near-black ones (3.2 and 16.1 ml/m2), 0.8 to 0.9 in the mean.
    """
    return costs.ink_white_ml + darkness * (costs.ink_black_ml - costs.ink_white_ml)


def measure_ink(loads: tuple[InkLoad, ...], costs: Costs) -> float:
    """Give the ink (ml) that all pictures take, with what cleaning adds."""
    drops = sum(load.area / MM2_PER_M2 * ink_rate(load.darkness, costs) for load in loads)
    return drops * (1 + costs.ink_overhead)


def list_costs(
    work: CaseWork, sheets: int, veils: int, ink_ml: float | None, thread_m: float
) -> tuple[CostRow, ...]:
    """Give all that is to be bought, with its cost where the maker has named prices."""
    return tuple(_list_rows(work, sheets, veils, ink_ml, thread_m))


def add_costs(rows: tuple[CostRow, ...]) -> tuple[float, int]:
    """Give the sum of the known costs, and how many are not known."""
    known = [row.cost for row in rows if row.cost is not None]
    return sum(known), len(rows) - len(known)


def _list_rows(
    work: CaseWork, sheets: int, veils: int, ink_ml: float | None, thread_m: float
) -> Iterator[CostRow]:
    costs = work.book.bench.costs
    spare = -(-sheets // 10)
    yield CostRow(
        "paper",
        work.book.paper.name,
        f"{sheets} sheets, and {spare} to spare",
        _times(costs.paper_sheet, sheets + spare),
        "paper_sheet",
    )
    if veils:
        extra = -(-veils // 5)
        yield CostRow(
            "translucent",
            work.book.translucent.name,
            f"{veils} sheets, and {extra} to spare",
            _times(costs.translucent_sheet, veils + extra),
            "translucent_sheet",
        )
    if ink_ml is not None:
        yield CostRow(
            "ink", "ink", f"about {ink_ml:.0f} ml", _times(costs.ink_ml, ink_ml), "ink_ml"
        )
    yield CostRow(
        "thread",
        "sewing thread",
        f"{thread_m:.1f} m",
        _times(costs.thread_m, thread_m),
        "thread_m",
    )
    for plan in work.cutting:
        if plan.stock.roll:
            length = sum(s.size.height for s in plan.sheets) / 1000
            amount = f"{length:.2f} m of {plan.stock.size.width:g} mm"
        else:
            size = plan.stock.size
            amount = f"{len(plan.sheets)} of {size.width:g} × {size.height:g} mm"
        amount += _mark(plan.stock)
        key = plan.material.name.lower()
        yield CostRow(key, plan.stock.name or plan.material.value, amount, plan.cost)
    for stock in dict.fromkeys(sheet.stock for sheet in work.printed.sheets):
        count = sum(sheet.stock == stock for sheet in work.printed.sheets)
        size = stock.size
        yield CostRow(
            f"{stock.material.name.lower()}-printed",
            f"{stock.name or stock.material.value}, printed",
            f"{count} of {size.width:g} × {size.height:g} mm, and 1 to spare{_mark(stock)}",
            _times(stock.price, count + 1),
        )


def _mark(stock: Stock) -> str:
    """Say where a size is only a usual one, because the maker has named none."""
    return " (a usual size)" if stock.source is Source.ESTIMATED else ""


def _times(price: float | None, count: float) -> float | None:
    return None if price is None else price * count

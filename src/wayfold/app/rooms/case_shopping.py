"""What is to be got for a book: materials with amounts and cost, and tools; ticked off once had."""

from __future__ import annotations

from dataclasses import dataclass

from wayfold.app.bench_papers import list_inks
from wayfold.app.build import find_miniatures
from wayfold.app.rooms.case_ticks import Ticks, TickView
from wayfold.app.stages import Results
from wayfold.bench.bench_book import list_buys
from wayfold.bench.costs import CostRow, InkLoad, add_costs
from wayfold.bench.tasks_start import list_tools
from wayfold.project.files import BookFolder

SHOPPING, TOOLS = "shopping", "tools"


@dataclass(frozen=True, slots=True)
class BuyView:
    """Something to get: ``price`` is the key of its price, "" where its stock has one."""

    what: str
    amount: str
    cost: float | None
    price: str
    tick: TickView


@dataclass(frozen=True, slots=True)
class ShoppingView:
    """The shopping list: ``total`` of what has a price, and of how many the price is not known.

    ``inked`` says whether the ink could be reckoned: that wants the pages' pictures made.
    """

    money: str
    buys: tuple[BuyView, ...]
    total: float
    unpriced: int
    inked: bool
    tools: tuple[BuyView, ...]
    left: tuple[TickView, ...]


def measure_inks(folder: BookFolder, results: Results) -> tuple[InkLoad, ...] | None:
    """Give the ink that every picture takes; None where they are not made for printing yet."""
    miniatures = find_miniatures(folder, results)
    return None if miniatures is None else tuple(list_inks(folder, results.drawings, miniatures))


def view_shopping(folder: BookFolder, results: Results, ticks: Ticks) -> ShoppingView:
    """Give what is to be got for the book in ``folder``."""
    work, inks = results.case, measure_inks(folder, results)
    rows, tools = list_buys(work, inks), tuple(list_tools(work))
    total, unpriced = add_costs(rows)
    return ShoppingView(
        money=work.book.bench.costs.money,
        buys=tuple(
            BuyView(
                row.what,
                row.amount,
                row.cost,
                f"costs.{row.price}" if row.price else "",
                ticks.show(SHOPPING, row.key, say_buy(row)),
            )
            for row in rows
        ),
        total=total,
        unpriced=unpriced,
        inked=inks is not None,
        tools=tuple(
            BuyView(row.what, "", None, "", ticks.show(TOOLS, row.key, row.what)) for row in tools
        ),
        left=(
            *ticks.list_left(SHOPPING, (row.key for row in rows)),
            *ticks.list_left(TOOLS, (row.key for row in tools)),
        ),
    )


def say_buy(row: CostRow) -> str:
    """Say what is bought, and how much of it."""
    return f"{row.what}: {row.amount}"

"""All that is reckoned for a book's case at once: what its measures, sheets and worksheets need."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import Size
from wayfold.book.casing import BenchChoices, Material, Stock, find_stocks
from wayfold.book.materials import Grain
from wayfold.book.state import Book
from wayfold.case.block import SewnBlock, reckon_block
from wayfold.case.cutting import CutSheet, Piece, plan_cuts, plan_roll
from wayfold.case.doubts import find_case_doubts, find_grain_doubts
from wayfold.case.lettering import CoverPicture
from wayfold.case.measure import CaseMeasures, measure_case
from wayfold.case.parts import Part, list_parts
from wayfold.case.pocket import PocketBlank, fold_pocket
from wayfold.case.printing import CoverPrint, find_printing_doubts, plan_printing
from wayfold.case.stations import Stations, place_stations
from wayfold.drawing.items import Drawing
from wayfold.plan.model import Plan


@dataclass(frozen=True, slots=True)
class MaterialPlan:
    """How the pieces of one material are cut: from which stock, sheet by sheet."""

    material: Material
    stock: Stock
    pieces: tuple[Piece, ...]
    sheets: tuple[CutSheet, ...]

    @property
    def waste(self) -> float:
        """What is not used of the sheets that are cut into, over the whole."""
        whole = sum(s.size.width * s.size.height for s in self.sheets)
        return 1 - sum(s.used for s in self.sheets) / whole

    @property
    def cost(self) -> float | None:
        """What it costs where the stock has a price: whole sheets, or metres of a roll."""
        if self.stock.price is None:
            return None
        if self.stock.roll:
            return self.stock.price * sum(s.size.height for s in self.sheets) / 1000
        return self.stock.price * len(self.sheets)


@dataclass(frozen=True, slots=True)
class CaseWork:
    """A book's block, case, pocket, pieces, and how they are printed and cut."""

    book: Book
    plan: Plan
    block: SewnBlock
    case: CaseMeasures
    pocket: PocketBlank | None
    parts: tuple[Part, ...]
    printed: CoverPrint
    stations: Stations
    cutting: tuple[MaterialPlan, ...]
    findings: tuple[Finding, ...]


def prepare_case(book: Book, plan: Plan, adorned: CoverPicture | Drawing | None = None) -> CaseWork:
    """Reckon a book's case from its plan and its maker's decisions."""
    block = reckon_block(book, plan)
    case = measure_case(block, book.bench.casing)
    pocket = fold_pocket(book.bench.pocket)
    doubts = find_case_doubts(book, block, case, pocket)
    parts = list_parts(case, pocket)
    if not all(p.size.width > 0 and p.size.height > 0 for p in parts):
        # A case that is told to be smaller than nothing is not laid out; the doubts say why.
        parts = tuple(p for p in parts if p.size.width > 0 and p.size.height > 0)
    printed = plan_printing(book, case, adorned)
    names = {placed.piece.name for sheet in printed.sheets for placed in sheet.placed}
    to_cut = [part for part in parts if not _is_printed(part, names)]
    cutting, uncut = _plan_materials(book.bench, to_cut)
    return CaseWork(
        book,
        plan,
        block,
        case,
        pocket,
        parts,
        printed,
        place_stations(book.trim.height, book.bench.sewing),
        cutting,
        (
            *doubts,
            *find_grain_doubts(book, parts),
            *find_printing_doubts(book, case, printed),
            *uncut,
        ),
    )


def _is_printed(part: Part, printed: set[str]) -> bool:
    """Whether a part is cut from sheets of its own, because the printer needs them so."""
    name = {
        "side paper": "front side",
        "side cloth": "front side",
        "spine cloth": "spine",
        "cloth": "cover",
    }.get(part.name)
    return name in printed


def _plan_materials(
    choices: BenchChoices, parts: Sequence[Part]
) -> tuple[tuple[MaterialPlan, ...], tuple[Finding, ...]]:
    plans, findings = [], []
    for material in dict.fromkeys(part.material for part in parts):
        mine = [part for part in parts if part.material is material]
        pieces = tuple(
            Piece(part.name, part.size, part.any_way) for part in mine for _ in range(part.count)
        )
        options = list(_list_options(choices, material, pieces))
        if options:
            plans.append(min(options, key=_weigh))
        else:
            findings.append(_refuse(choices, material, mine))
    return tuple(plans), tuple(findings)


def _list_options(
    choices: BenchChoices, material: Material, pieces: tuple[Piece, ...]
) -> Iterator[MaterialPlan]:
    for stock in find_stocks(choices, material):
        if stock.roll:
            sheet = plan_roll(pieces, stock.size.width, stock.size.height)
            if sheet is not None:
                yield MaterialPlan(material, stock, pieces, (sheet,))
            continue
        sheets = plan_cuts(pieces, upright(stock))
        if sheets is not None:
            yield MaterialPlan(material, stock, pieces, sheets)


def upright(stock: Stock) -> Size:
    """Give a sheet the way up on which its grain runs upright; unknown grain is taken for long."""
    size = stock.size
    long_up = size if size.height >= size.width else size.turned
    return long_up.turned if stock.grain is Grain.SHORT else long_up


def _weigh(plan: MaterialPlan) -> tuple[float, float]:
    area = sum(s.size.width * s.size.height for s in plan.sheets)
    return (plan.cost if plan.cost is not None else 0.0, area)


def _refuse(choices: BenchChoices, material: Material, parts: Sequence[Part]) -> Finding:
    largest = max(parts, key=lambda part: part.size.width * part.size.height)
    size = largest.size
    stocks = "; ".join(stock.title for stock in find_stocks(choices, material))
    return Finding(
        "stock-size",
        Severity.WARN,
        f"stock {material.value}",
        f"The {largest.name} of {size.width:.1f} × {size.height:.1f} mm, its grain along the "
        f"second measure, cannot be cut from: {stocks}.",
        f"Name among your sheets one of {material.value} at least {size.width:.0f} mm across and "
        f"{size.height:.0f} mm along its grain.",
    )

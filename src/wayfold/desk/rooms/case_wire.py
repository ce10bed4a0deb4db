"""What the room for case and bench sends and takes."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from wayfold.desk.wire import Wire
from wayfold.desk.wording import Told

Millimetres = Annotated[float, Field(gt=0, le=5000)]
Name = Annotated[str, Field(max_length=120)]
MOST_ROWS = 200


class CaseMeasure(Wire):
    """A number or a choice of the maker's, by its key in book.toml."""

    key: str
    group: str
    kind: Literal["number", "choice", "switch", "words"]
    unit: str
    value: float | str | bool | None
    start: float | str | bool | None
    options: list[str]
    usual: str
    source: str
    moves: list[str]


class CaseFigure(Wire):
    """Something that follows from the numbers: values in mm, and the sum behind them."""

    name: str
    values: list[float]
    sum: str


class CaseFinding(Wire):
    """What a binder would object to."""

    rule: str
    severity: Literal["note", "warn", "block"]
    where: Told
    message: Told
    remedy: Told


class PocketItem(Wire):
    """Something for the pocket, as it stands there."""

    name: Name
    width_mm: Millimetres
    height_mm: Millimetres
    thickness_mm: Millimetres


class Case(Wire):
    """The case by its numbers."""

    style: str
    measured: bool
    measures: list[CaseMeasure]
    figures: list[CaseFigure]
    findings: list[CaseFinding]
    pocket: list[PocketItem]


class BenchTick(Wire):
    """A box to tick: ``day`` is when it was, "" where it is not; ``then`` what was said by then."""

    of: str
    item: str
    day: str
    then: Told


class CutSheet(Wire):
    """A sheet to cut."""

    drawing: str
    said: str
    width_mm: float
    height_mm: float
    cuts: int
    waste: float
    tick: BenchTick


class CuttingPlan(Wire):
    """How the pieces of one material are cut."""

    material: str
    stock: str
    usual: bool
    waste: float
    cost: float | None
    sheets: list[CutSheet]


class BenchStock(Wire):
    """A sheet or a roll of the maker's."""

    material: Name
    width_mm: Millimetres
    height_mm: Millimetres
    grain: Name
    price: Annotated[float, Field(ge=0, le=1_000_000)] | None
    roll: bool
    name: Name


class Cutting(Wire):
    """All cutting plans, and what there is to cut from."""

    plans: list[CuttingPlan]
    stocks: list[BenchStock]
    needed: list[str]
    materials: list[str]
    grains: list[str]
    left: list[BenchTick]


class Buy(Wire):
    """Something to get."""

    what: str
    amount: str
    cost: float | None
    price: str
    tick: BenchTick


class Shopping(Wire):
    """The shopping list."""

    money: str
    buys: list[Buy]
    total: float
    unpriced: int
    inked: bool
    tools: list[Buy]
    left: list[BenchTick]


class BenchAside(Wire):
    """Words beside a step."""

    kind: Literal["care", "drying", "measure", "why"]
    words: Told


class BenchStep(Wire):
    """A step of the work; one without a box is a rule to keep to."""

    words: Told
    asides: list[BenchAside]
    tick: BenchTick | None


class BenchLine(Wire):
    """A line of a table."""

    what: str
    much: str
    strong: bool


class BenchTable(Wire):
    """Lines under a heading."""

    heading: str
    lines: list[BenchLine]


class BenchTask(Wire):
    """A piece of the work."""

    key: str
    title: str
    lead: str
    tools: str
    time: str
    steps: list[BenchStep]
    tables: list[BenchTable]
    drawings: list[str]
    left: list[BenchTick]
    done: int
    old: int
    total: int


class NewMeasure(Wire):
    """A measure's new value; null returns to what a book starts from."""

    value: float | Annotated[str, Field(max_length=200)] | bool | None


class NewPocket(Wire):
    """All that goes into the pocket."""

    items: list[PocketItem] = Field(max_length=MOST_ROWS)


class NewStocks(Wire):
    """All sheets and rolls that there are."""

    stocks: list[BenchStock] = Field(max_length=MOST_ROWS)


class BenchDone(Wire):
    """Whether a step is done."""

    done: bool

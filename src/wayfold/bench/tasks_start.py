"""What stands before the work: its order, hours, tools, materials with quantities and cost."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.mends import Mend
from wayfold.bench.cautions import KNIFE
from wayfold.bench.costs import CostRow, add_costs
from wayfold.bench.flow import Row, Step, Table, Task, care, why
from wayfold.bench.hours import Work, count_minutes, tell_time
from wayfold.book.casing import Practice
from wayfold.case.parts import Part
from wayfold.case.work import CaseWork

WAITS = (
    ("ink to dry before folding", "1 day; 2 to 3 for translucent sheets"),
    ("gatherings under a weight", "1 night"),
    ("sewn block in the press", "1 night"),
    ("spine glue and hollow", "1 night"),
    ("case between blotters", "1 night"),
    ("cased book in the press", "1 day"),
)


def list_start_tasks(work: CaseWork, amount: Work, costs: tuple[CostRow, ...]) -> tuple[Task, ...]:
    """Give the sheets that are read before the work begins."""
    return (_overview(work, amount), _materials(work, costs))


def _overview(work: CaseWork, amount: Work) -> Task:
    practice = work.book.bench.hand
    minutes = count_minutes(amount, practice)
    total = sum(minutes.values())
    block = work.block
    low, high = block.range
    layers = [
        Row(
            f"{layer.leaves} leaves, {layer.name} ({layer.caliper_um:g} µm, {layer.source.value})",
            f"{layer.thickness:.2f} mm",
        )
        for layer in block.layers
    ]
    layers.append(Row(f"threads of {block.gatherings} gatherings", f"{block.swell:.2f} mm"))
    if block.strips:
        layers.append(Row("strips that make up for the pocket", f"{block.strips:.2f} mm"))
    layers.append(Row("glue, mull and lining, about", "0.60 mm"))
    if block.measured is None:
        words = f"reckoned; it may well be {low:.1f} to {high:.1f}"
        layers.append(Row(f"the block at its spine, {words}", f"{block.estimate:.1f} mm", True))
    else:
        layers.append(Row("together", f"{block.estimate:.1f} mm", True))
        layers.append(Row("the block as measured: this counts", f"{block.measured:g} mm", True))
    hands = "beginner’s" if practice is Practice.BEGINNER else "practised"
    hours = [Row(name, tell_time(value)) for name, value in minutes.items()]
    hours.append(
        Row(f"hands-on, {hands} hands; from makers’ logs and memory", tell_time(total), True)
    )
    waits = [Row(what, how_long) for what, how_long in WAITS]
    return Task(
        "ahead",
        "The work ahead",
        f"{work.book.title}: from printed sheets to a book in the hand. Tick off what is done; "
        "every sheet after this one is one piece of the work, in its order.",
        tables=(
            Table("the block", tuple(layers), ticked=False),
            Table("hours", tuple(hours)),
            Table("waiting, besides", tuple(waits), ticked=False),
        ),
        steps=_rules(),
    )


def _rules() -> tuple[Step, ...]:
    return (
        Step(
            "",
            "All grain runs along the spine: paper, board, cloth, linings. When in doubt, test.",
            (why("Everything swells across its grain when glue wets it."),),
        ),
        Step("", "Where a sheet gives a measure and your block says another, your block is right."),
        Step(
            "",
            "Work on a clean table with good light and air, and rested: most slips, of the knife "
            "too, come from haste.",
            (care(KNIFE),),
        ),
    )


def _materials(work: CaseWork, costs: tuple[CostRow, ...]) -> Task:
    money = work.book.bench.costs.money
    rows = [
        Row(
            f"{row.what}: {row.amount}", "______" if row.cost is None else f"{money} {row.cost:.2f}"
        )
        for row in costs
    ]
    total, unknown = add_costs(costs)
    missing = f", and {unknown} without a price" if unknown else ""
    rows.append(Row(f"together{missing}", f"{money} {total:.2f}" if total else "______", True))
    parts = [Row(_name(part), _size(part)) for part in work.parts]
    return Task(
        "materials",
        "Materials",
        "What to have at hand before beginning. Sizes are width by height; the grain runs along "
        f"the height. Where a size is only usual, name your own: {Mend.STOCK}.",
        tables=(
            Table("to buy", tuple(rows)),
            Table("pieces", tuple(parts)),
            Table("tools", tuple(list_tools(work))),
        ),
    )


def _name(part: Part) -> str:
    words = f"{part.count} × {part.name}"
    named = part.material.value in part.name
    return words if named else f"{words}, {part.material.value}"


def _size(part: Part) -> str:
    return f"{part.size.width:.1f} × {part.size.height:.1f} mm"


def list_tools(work: CaseWork) -> Iterator[Row]:
    """Give the tools and helps that are wanted."""
    thread = work.book.bench.sewing
    count = (
        f"{thread.thread:g} mm"
        if thread.thread is not None
        else f"{thread.thread_lea:g}/{thread.thread_ply} linen"
    )
    yield Row("bone folder; steel rule of 500 mm; square", "", key="rules")
    yield Row("knife with fresh blades; cutting mat; scissors", "", key="knives")
    yield Row(
        f"pricker, trough or foam; two blunt needles; thread {count}; beeswax", "", key="needles"
    )
    yield Row("PVA or paste, brushes; waste paper, waxed paper, blotters", "", key="glues")
    yield Row(
        "two pressing boards, weights of 5 kg or a press; two rods for the joints",
        "",
        key="presses",
    )
    yield Row("calliper, or a rule that reads half millimetres", "", key="callipers")

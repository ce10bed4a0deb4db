"""The work on paper in words, with this book's measures: printing, folding, gathering."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.counts import count_of
from wayfold.base.mends import Mend
from wayfold.bench.cautions import GLUE, KNIFE, PRESS
from wayfold.bench.figures_block import draw_folding
from wayfold.bench.flow import Aside, Row, Step, Table, Task, care, drying, measured, why
from wayfold.bench.hours import Work, count_minutes, tell_time
from wayfold.bench.worksheet import Hand
from wayfold.book.materials import Duplex, Grain
from wayfold.case.work import CaseWork
from wayfold.press.signatures import signature_of


def list_paper_tasks(hand: Hand, work: CaseWork, amount: Work) -> tuple[Task, ...]:
    """Give the work on paper, in order."""
    minutes = count_minutes(amount, work.book.bench.hand)
    return (_print(work, minutes), _fold(hand, work, minutes))


def _print(work: CaseWork, minutes: dict[str, float]) -> Task:
    book, plan = work.book, work.plan
    sheets = sum(g.sheets for g in plan.gatherings)
    turn = {
        Duplex.SHORT_EDGE: "the printer turns them about the short edge",
        Duplex.LONG_EDGE: "the printer turns them about the long edge",
        Duplex.MANUAL: "fronts first; then turn the pile about its short edge and feed it again",
    }[book.printer.duplex]
    steps = [
        Step(
            "trial",
            "Print one sheet of sheets.pdf on both sides at 100 %, with no fitting to the page and "
            "without the borderless mode. Hold it to the light: the trim marks of front and back "
            "should lie within a millimetre of each other. If they do not, the registration sheet "
            f"({Mend.REGISTER}) sets them right.",
            (why("Borderless printing enlarges the page, and then nothing fits any more."),),
        ),
        Step(
            "print",
            f"Print all {count_of(sheets, 'sheet')} of sheets.pdf, {turn}.",
            _grain(work),
            by=_count_nested(work),
        ),
    ]
    if plan.interleaves:
        count = len(plan.interleaves)
        steps.append(
            Step(
                "print-leaves",
                f"Print {count_of(count, 'translucent sheet')} of interleaves.pdf, one at a time, "
                "with the grain along the fold. Lay them out singly.",
                (
                    drying(
                        "48 to 72 hours for translucent sheets; damp, they curl and cockle. Keep "
                        "them flat between blotters."
                    ),
                ),
            )
        )
    steps.append(
        Step(
            "dry",
            "Lay the sheets out with plain paper between them until they are dry.",
            (drying("24 hours before folding; ink that feels dry still gives off fluid."),),
        )
    )
    return Task(
        "printing",
        "Printing",
        f"{count_of(sheets, 'sheet')} of {book.paper.name}, both sides"
        + (
            f", and {count_of(len(plan.interleaves), 'translucent sheet')}."
            if plan.interleaves
            else "."
        ),
        tuple(steps),
        tables=(Table("sides of sheets.pdf", tuple(_list_sides(work))),),
        tools="printer, plain paper to lay between, a flat table",
        time=tell_time(minutes["printing"]),
    )


def _count_nested(work: CaseWork) -> str:
    sheets = ", ".join(str(gathering.sheets) for gathering in work.plan.gatherings)
    return f"Sheets in the gatherings: {sheets}."


def _list_sides(work: CaseWork) -> Iterator[Row]:
    """Which pages of the file each gathering is printed from, to print it a gathering at a time."""
    side = 1
    for gathering in work.plan.gatherings:
        last = side + 2 * gathering.sheets - 1
        name = f"{signature_of(gathering.number)}, {count_of(gathering.sheets, 'sheet')}"
        yield Row(name, f"{side} to {last}")
        side = last + 1


def _grain(work: CaseWork) -> tuple[Aside, ...]:
    paper = work.book.paper
    if paper.grain is Grain.UNKNOWN:
        return (
            measured(
                "Find the grain first: bend a sheet both ways; it gives more easily about an axis "
                "along the grain. It must run with the fold."
            ),
        )
    return ()


def _fold(hand: Hand, work: CaseWork, minutes: dict[str, float]) -> Task:
    book, plan = work.book, work.plan
    sheet = book.paper.sheet
    lying = sheet if sheet.width >= sheet.height else sheet.turned
    trim = book.trim
    steps = [
        Step(
            "trim",
            "Trim the sheets at their marks, or fold first and trim each gathering, whichever your "
            f"knife does better. A trimmed sheet is {2 * trim.width:g} × {trim.height:g} mm.",
            (care(KNIFE),),
        ),
        Step(
            "fold",
            "Fold each sheet once at its fold marks, heads up, the lower page number outside. "
            "Score heavy sheets along the mark with the bone before folding.",
        ),
        Step("bone", "Bone the fold from the middle to both ends, through a slip of clean paper."),
        Step(
            "nest",
            "Nest the sheets of each gathering, number 1 outside. Tick them off on the collation "
            "sheets, which show every page in its place.",
            by=_count_nested(work),
        ),
        *_interleave_steps(work),
        Step(
            "stair",
            "Check the steps on the spines: the black bars make one unbroken stair from head to "
            "tail. A gap or a doubled step is a gathering that is missing or misplaced.",
        ),
        Step(
            "press",
            "Press all gatherings together under a board and a weight.",
            (drying("1 hour or overnight, before pricking."), care(PRESS)),
        ),
    ]
    count = len(plan.gatherings)
    return Task(
        "folding",
        "Folding and gathering",
        f"{count_of(sum(g.sheets for g in plan.gatherings), 'sheet')} become "
        f"{count_of(count, 'gathering')}, {signature_of(1)} to {signature_of(count)}.",
        tuple(steps),
        (draw_folding(hand, trim, lying),),
        tools="bone folder, steel rule, knife, cutting mat, boards and a weight",
        time=tell_time(minutes["folding and boning"] + minutes["gathering and pressing"]),
    )


def _interleave_steps(work: CaseWork) -> Iterator[Step]:
    folded = [i for i in work.plan.interleaves if i.depth is not None]
    single = [i for i in work.plan.interleaves if i.depth is None]
    if folded:
        names = ", ".join(dict.fromkeys(signature_of(i.gathering) for i in folded))
        yield Step(
            "fold-leaves",
            f"Fold the {count_of(len(folded), 'translucent sheet')} and lay each round the inner "
            f"sheets of its gathering ({names}), as its own mark and the collation sheets say.",
            (
                why(
                    "A folded leaf is sewn in with the gathering, so it needs no glue, which would "
                    "cockle it."
                ),
            ),
        )
    if single:
        leaves = count_of(len(single), "single translucent leaf", "single translucent leaves")
        yield Step(
            "tip-in",
            f"Tip in {leaves}: "
            "glue no more than 3 mm along the spine edge, lay it deep in the fold, and bone it "
            "down from the middle outwards over waxed paper.",
            (drying("1 hour under a light weight."), care(GLUE)),
        )

"""What a binder would object to before cutting: slips in the numbers, a case that cannot work."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import Size
from wayfold.base.units import MM_PER_INCH
from wayfold.book.casing import BenchChoices
from wayfold.book.materials import Grain
from wayfold.book.state import Book
from wayfold.case.block import SewnBlock
from wayfold.case.measure import CaseMeasures, least_joint
from wayfold.case.parts import Part
from wayfold.case.pocket import STAY, PocketBlank
from wayfold.case.settings import SETTINGS
from wayfold.case.stations import place_stations, room_between
from wayfold.case.units_doubt import question_caliper, question_size, question_value

FLAT_BACK, ROUND_BACK = 1.15, 1.3
"""How much thicker than its fore-edge a block may be at the spine: a flat back stays flat up to the
first (common practice); the second is what binders aim at for backs that are rounded (Geraty)."""
ROUND_LEAST, ROUND_MOST = 1.1, 1.45
"""Between these a back is rounded well; from memory, about the 1.3 that binders aim at."""
FAR = 1.25
"""A measured block this many times its estimate, or its inverse, is asked about."""
PAGE_LEAST, STOCK_LEAST, ITEM_LEAST = 45.0, 45.0, 20.0
"""Longer sides (mm): the smallest are about those of a stamp book, a headband scrap, a tram ticket;
an A4 page in inches is 11.7 long, a board of 28 x 40 inches would be 40."""
LEAST_HOLES = 6.0


def find_case_doubts(
    book: Book, block: SewnBlock, case: CaseMeasures, pocket: PocketBlank | None
) -> tuple[Finding, ...]:
    """Give all that speaks against a case, the numbers first."""
    return (
        *_question_numbers(book),
        *_judge_block(block, case.is_round),
        *_judge_case(case),
        *_judge_sewing(book),
        *_judge_pocket(case, pocket),
    )


def _question_numbers(book: Book) -> Iterator[Finding]:
    found = [question_size("page", "A page", book.trim.width, book.trim.height, PAGE_LEAST)]
    found += [
        question_size(f"stock {s.title}", "A sheet", s.size.width, s.size.height, STOCK_LEAST)
        for s in book.bench.stocks
    ]
    found += [
        question_size("pocket.item.size_mm", f"“{i.name}”", i.width, i.height, ITEM_LEAST)
        for i in book.bench.pocket.items
    ]
    sheet = book.bench.dummy_sheet
    found.append(question_size("dummy.sheet_mm", "A sheet", sheet.width, sheet.height, STOCK_LEAST))
    found += [
        question_caliper(where, paper.name, paper.grammage_gsm, paper.caliper_um)
        for where, paper in (
            ("paper.caliper_um", book.paper),
            ("translucent.caliper_um", book.translucent),
        )
    ]
    for setting in SETTINGS:
        value = _read(book.bench, setting.key)
        tells = setting.key != "case.square_mm" or value is None or value >= 0
        if value is not None and tells:
            found.append(question_value(setting, value))
    yield from (finding for finding in found if finding is not None)


def _read(choices: BenchChoices, key: str) -> float | None:
    table, name = key.split(".")
    holder = {"case": choices.casing, "sewing": choices.sewing, "pocket": choices.pocket}[table]
    value: float | None = getattr(holder, name.removesuffix("_mm"))
    return value


def _judge_block(block: SewnBlock, round_back: bool) -> Iterator[Finding]:
    if block.measured is not None:
        yield from _judge_measured(block, block.measured)
    spine = block.leaves + block.swell
    if round_back:
        yield from _judge_round(block, spine)
    elif block.leaves > 0 and spine > FLAT_BACK * block.leaves:
        more = 100 * (spine / block.leaves - 1)
        yield Finding(
            "swell",
            Severity.WARN if spine > ROUND_BACK * block.leaves else Severity.NOTE,
            "sewing",
            f"The threads make the spine about {more:.0f} % thicker than the fore-edge; with a "
            "flat back more than 15 % stands open.",
            f"Take a thread of at most {_thinnest(block):.2f} mm, or more sheets to a gathering, "
            "or round the back.",
        )


def _judge_round(block: SewnBlock, spine: float) -> Iterator[Finding]:
    """A back is rounded by its swell: binders aim at a spine 30 % thicker than the fore-edge."""
    if block.leaves > 0 and not ROUND_LEAST <= spine / block.leaves <= ROUND_MOST:
        more = 100 * (spine / block.leaves - 1)
        few = spine < ROUND_LEAST * block.leaves
        yield Finding(
            "swell",
            Severity.NOTE,
            "sewing",
            f"The threads make the spine about {more:.0f} % thicker than the fore-edge; a rounded "
            f"back wants about 30 %, and {'stays nearly flat' if few else 'is hard to hold'} "
            f"with so {'little' if few else 'much'}.",
            "Take a thicker thread, or a flat back."
            if few
            else "Take a thinner thread, or more sheets to a gathering.",
        )


def _thinnest(block: SewnBlock) -> float:
    """The thread (mm) with which a flat back just stays flat, all else alike."""
    return block.thread * (FLAT_BACK - 1) * block.leaves / block.swell


def _judge_measured(block: SewnBlock, measured: float) -> Iterator[Finding]:
    ratio = measured / block.estimate
    if 1 / FAR <= ratio <= FAR:
        return
    low, high = block.range
    said = (
        f"The block was measured at {measured:g} mm; its leaves and threads come to "
        f"{block.estimate:.1f} mm ({low:.1f} to {high:.1f})."
    )
    for unit, factor in (("inches", MM_PER_INCH), ("centimetres", 10.0), ("tenths", 0.1)):
        if 1 / FAR <= ratio * factor <= FAR:
            yield Finding(
                "block-measure",
                Severity.BLOCK,
                "case.block_mm",
                f"{said} {measured:g} looks like {unit}.",
                f"If {unit} were meant, write {measured * factor:.1f}.",
            )
            return
    yield Finding(
        "block-measure",
        Severity.WARN,
        "case.block_mm",
        f"{said} The measure is taken.",
        "Measure again at head, middle and tail of the sewn and pressed spine; if it stands, the "
        "paper's caliper is not what was given, or the block wants more pressing.",
    )


def _judge_case(case: CaseMeasures) -> Iterator[Finding]:
    casing = case.casing
    least, most = case.square_fore
    if casing.square < 0:
        yield Finding(
            "square",
            Severity.BLOCK,
            "case.square_mm",
            f"A square of {casing.square:g} mm makes boards shorter than the pages by "
            f"{-2 * casing.square:g} mm: the block would stand on its own edges.",
            "Write 2 to 5; 3 mm is usual.",
        )
    if most < 0:
        yield Finding(
            "square",
            Severity.BLOCK,
            "case.board_less_mm",
            f"The boards would end {-most:.1f} mm inside the fore-edge of the pages: they are "
            f"{case.board.width:g} mm wide and lie no more than "
            f"{most + case.block.page.width - case.board.width:.1f} mm from the back.",
            "Let the boards be narrower than the page by less, or give the joint more room.",
        )
    elif least < 0:
        yield Finding(
            "square",
            Severity.WARN,
            "case.board_less_mm",
            f"The fore-edge square may come out {-least:.1f} mm short, if the cloth is pressed "
            "right to the floor of the joint.",
            "Let the boards be narrower than the page by less, or give the joint more room.",
        )
    if casing.joint < 2 * casing.board:
        yield Finding(
            "joint",
            Severity.WARN,
            "case.joint_mm",
            f"A gap of {casing.joint:g} mm cannot be pressed down between boards of "
            f"{casing.board:g} mm: the cover will not swing.",
            f"Give it {3.5 * casing.board:g} to {5 * casing.board:g} mm.",
        )
    elif casing.joint < least_joint(case.thickness):
        yield Finding(
            "joint",
            Severity.WARN,
            "case.joint_mm",
            f"A block of {case.thickness:.1f} mm wants a gap of a quarter of that, "
            f"{least_joint(case.thickness):.1f} mm; it has {casing.joint:g}.",
            "Give the joint more room.",
        )


def _judge_sewing(book: Book) -> Iterator[Finding]:
    stations = place_stations(book.trim.height, book.bench.sewing)
    if room_between(stations) < LEAST_HOLES:
        yield Finding(
            "stations",
            Severity.WARN,
            "sewing",
            f"{len(stations.holes)} holes on {book.trim.height:g} mm lie only "
            f"{room_between(stations):.1f} mm apart; the folds will tear.",
            "Take fewer spaces or tapes.",
        )


def _judge_pocket(case: CaseMeasures, pocket: PocketBlank | None) -> Iterator[Finding]:
    if pocket is None:
        return
    board, page = case.board, case.block.page
    room = Size(min(board.width, page.width) - 2 * STAY, page.height - 2 * STAY)
    over = Size(pocket.closed.width - room.width, pocket.closed.height - room.height)
    parts = [
        f"{more:.1f} mm too {what}"
        for more, what in ((over.width, "wide"), (over.height, "high"))
        if more > 0
    ]
    if parts:
        yield Finding(
            "pocket-size",
            Severity.BLOCK,
            "pocket",
            f"The pocket is {' and '.join(parts)}: inside the lower board there are "
            f"{room.width:g} × {room.height:g} mm, and it takes {pocket.closed.width:g} × "
            f"{pocket.closed.height:g} mm.",
            "Turn the largest item upright or fold it once, or keep it loose in the book's box.",
        )
    if pocket.gusset > 8.0:
        yield Finding(
            "pocket-size",
            Severity.WARN,
            "pocket",
            f"The pile in the pocket is {2 * (pocket.gusset - 1):g} mm thick; the book will not "
            "close flat over it even with the spine filled out.",
            "Take the thickest item out; up to about 10 mm goes well.",
        )


def find_grain_doubts(book: Book, parts: tuple[Part, ...]) -> tuple[Finding, ...]:
    """Say of which of the maker's own stocks the grain is not known."""
    needed = {part.material for part in parts}
    return tuple(
        Finding(
            "grain",
            Severity.WARN,
            f"stock {stock.title}",
            "Nobody has looked which way its grain runs; the cutting plan takes it to run along "
            "the long side. Across the spine it would warp the boards and cockle the joints.",
            "Bend it both ways: it gives more easily about an axis along the grain. Then say "
            "whether it runs along the long or the short side.",
        )
        for stock in book.bench.stocks
        if stock.grain is Grain.UNKNOWN and not stock.roll and stock.material in needed
    )

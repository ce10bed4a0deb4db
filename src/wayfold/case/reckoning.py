"""What follows from the maker's numbers, figure by figure, each with the sum it comes from.

``docs/bench.md`` says what the sums are after; ``tests/case`` checks them against worked examples.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wayfold.base.geometry import Size
from wayfold.base.units import mm_from_um
from wayfold.book.casing import SpinePiece
from wayfold.book.state import Book
from wayfold.case.block import GLUE_AND_MULL, SewnBlock, reckon_block
from wayfold.case.measure import CaseMeasures, measure_case
from wayfold.case.pocket import PocketBlank, fold_pocket, pile_thickness
from wayfold.case.stations import Stations, place_stations
from wayfold.case.thread import thread_length
from wayfold.plan.model import Plan


@dataclass(frozen=True, slots=True)
class Figure:
    """Something reckoned: its values in mm (a size is width and height), and the sum behind it.

    ``sum`` is in signs only, one for each value where they differ: "210 − 3.5".
    """

    name: str
    values: tuple[float, ...]
    sum: str = ""


def reckon_figures(book: Book, plan: Plan) -> tuple[Figure, ...]:
    """Give all figures of a book's block, case, sewing and pocket, in the order of the work."""
    block = reckon_block(book, plan)
    case = measure_case(block, book.bench.casing)
    return (
        *_reckon_block(block),
        *_reckon_sewing(block, place_stations(book.trim.height, book.bench.sewing)),
        *_reckon_case(case),
        *_reckon_covering(case),
        *_reckon_linings(case),
        *_reckon_pocket(book, fold_pocket(book.bench.pocket)),
    )


def find_moved(before: tuple[Figure, ...], after: tuple[Figure, ...]) -> tuple[str, ...]:
    """Name the figures whose values are others after a change, or that came or went with it."""
    was = {figure.name: figure.values for figure in before}
    now = {figure.name: figure.values for figure in after}
    return tuple(name for name in {**was, **now} if was.get(name) != now.get(name))


def _reckon_block(block: SewnBlock) -> Iterator[Figure]:
    piles = " + ".join(f"{g.leaves} × {mm_from_um(g.caliper_um):g}" for g in block.layers)
    pressed = f"({piles}) × {block.pressed_factor:g}" if block.pressed_factor != 1 else piles
    yield Figure("leaves", (block.leaves,), pressed)
    factor = block.swell / (block.gatherings * block.thread) if block.thread else 0.0
    yield Figure("thread", (block.thread,))
    yield Figure("swell", (block.swell,), f"{block.gatherings} × {block.thread:.2f} × {factor:.2g}")
    if block.strips:
        yield Figure("strips", (block.strips,))
    parts = [block.leaves, block.swell, *([block.strips] if block.strips else []), GLUE_AND_MULL]
    yield Figure("estimate", (block.estimate,), " + ".join(f"{part:.2f}" for part in parts))
    yield Figure("range", block.range)
    yield Figure("block", (block.spine,))


def _reckon_sewing(block: SewnBlock, stations: Stations) -> Iterator[Figure]:
    yield Figure("holes", stations.holes)
    length = thread_length(block.page.height, block.gatherings)
    factor = length / (block.gatherings * block.page.height)
    yield Figure(
        "thread-length",
        (length,),
        f"{block.gatherings} × {block.page.height:g} × {factor:.4g}",
    )


def _reckon_case(case: CaseMeasures) -> Iterator[Figure]:
    casing, page = case.casing, case.block.page
    yield Figure("board-width", (case.board.width,), f"{page.width:g} − {casing.board_less:g}")
    yield Figure("board-height", (case.board.height,), f"{page.height:g} + 2 × {casing.square:g}")
    boards = "" if casing.spine is SpinePiece.CARD else "2 × "
    if case.is_round:
        yield Figure("back-width", (case.back_width,), f"{case.thickness:.1f} × 2π / (3 × √3)")
        yield Figure("back-rise", (case.back_rise,), f"{case.thickness:.1f} / (2 × √3)")
    yield Figure(
        "spine-width", (case.spine.width,), f"{case.back_width:.1f} + {boards}{casing.board:g}"
    )
    yield Figure("joint", (case.joint,))
    least, most = case.square_fore
    g, b, lag = case.joint, casing.board, page.width - case.board.width
    yield Figure(
        "square-fore",
        (least, most),
        f"{g:g} − 2 × {b:g} − {lag:g}; 2 × √({g / 2:g}² − {b:g}²) − {lag:g}",
    )
    yield Figure(
        "open-width",
        (case.open.width,),
        f"2 × {case.board.width:g} + {case.spine.width:.1f} + 2 × {g:g}",
    )
    yield Figure("closed-thickness", (case.closed_thickness,), f"{case.thickness:.1f} + 2 × {b:g}")


def _reckon_covering(case: CaseMeasures) -> Iterator[Figure]:
    casing, turn_in = case.casing, case.casing.turn_in
    yield Figure("turn-in", (turn_in,))
    yield Figure("covering-height", (case.wrap.height,), f"{case.board.height:g} + 2 × {turn_in:g}")
    shown = case.cloth_on_board
    if case.side is None or shown is None:
        yield Figure("cloth-width", (case.wrap.width,), f"{case.open.width:.1f} + 2 × {turn_in:g}")
    else:
        yield Figure("cloth-on-board", (shown,))
        yield Figure(
            "spine-cloth-width",
            (case.wrap.width,),
            f"{case.between_boards:.1f} + 2 × {shown:g}",
        )
        yield Figure(
            "side-width",
            (case.side.width,),
            f"{case.board.width:g} − {shown:g} + {casing.overlap:g} + {turn_in:g}",
        )
    yield Figure("mitre", (case.mitre,), f"{casing.mitre_factor:g} × {casing.board:g}")


def _reckon_linings(case: CaseMeasures) -> Iterator[Figure]:
    for name, size in (
        ("endpaper", case.endpaper),
        ("mull", case.mull),
        ("lining", case.lining),
        ("hollow", case.hollow),
        ("headband", case.headband),
        ("infill", case.infill),
    ):
        yield Figure(name, _sides(size))


def _reckon_pocket(book: Book, pocket: PocketBlank | None) -> Iterator[Figure]:
    if pocket is not None:
        yield Figure("pile", (pile_thickness(book.bench.pocket),))
        yield Figure("gusset", (pocket.gusset,))
        yield Figure("pocket-front", _sides(pocket.closed))
        yield Figure("pocket-blank", _sides(pocket.blank))


def _sides(size: Size) -> tuple[float, float]:
    return (size.width, size.height)

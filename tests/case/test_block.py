"""How thick a block comes out, and that a measured one wins."""

import pytest

from tests.case.making import make_block, make_book, reckon
from wayfold.base.geometry import Size
from wayfold.book.casing import BenchChoices, Casing, Sewing
from wayfold.book.materials import Paper, Source, Translucent
from wayfold.book.state import Book
from wayfold.case.block import Layer, SewnBlock, reckon_block
from wayfold.case.thread import measure_swell
from wayfold.plan.model import EndRole, Gathering, Interleaf, InterleafEnd, Plan, PlannedPage


def test_a_block_of_three_papers() -> None:
    """Geometry: 32 leaves of 0.24, 8 of 0.09 and 4 of 0.16 mm are 9.04 mm before any swell."""
    plan = Plan(
        tuple(PlannedPage(n, None) for n in range(1, 65)),
        tuple(Gathering(k + 1, 2, 8 * k + 1) for k in range(8)),
        interleaves=tuple(
            Interleaf(
                g, 0, (InterleafEnd(8 * g - 8, EndRole.PLAIN), InterleafEnd(8 * g, EndRole.PLAIN))
            )
            for g in (1, 3, 5, 7)
        ),
    )
    block = reckon_block(Book("A Trip"), plan)
    assert [layer.leaves for layer in block.layers] == [32, 8, 4]
    assert [round(layer.thickness, 3) for layer in block.layers] == [7.68, 0.72, 0.64]
    assert block.leaves == pytest.approx(9.04)


@pytest.mark.parametrize(
    ("gatherings", "thread", "factor", "swell"),
    # The threads of all folds lie in the spine (R&E: swell); k from 0.5 to 1 (derived).
    [(10, 0.5, 1.0, 5.0), (10, 0.5, 0.5, 2.5), (8, 0.45, 1.0, 3.6)],
)
def test_swell(gatherings: int, thread: float, factor: float, swell: float) -> None:
    sewing = Sewing(thread=thread, swell_factor=factor)
    assert measure_swell(sewing, gatherings) == pytest.approx(swell)


def test_the_measured_block_wins() -> None:
    guessed, measured = reckon(3, 3, 3), reckon(3, 3, 3, block=7.7)
    assert guessed.spine == guessed.estimate == measured.estimate != 7.7
    assert measured.spine == 7.7


def test_an_estimate_says_how_far_it_may_be_off() -> None:
    low, high = reckon(3, 3, 3, 3).range
    assert low < reckon(3, 3, 3, 3).estimate < high
    assert high - low > 0.1 * reckon(3, 3, 3, 3).estimate
    known = Book("A Trip", paper=Paper(caliper_source=Source.MEASURED))
    sure = reckon_block(known, _plan(3, 3, 3, 3))
    assert sure.range[1] - sure.range[0] < high - low


def _plan(*sheets: int) -> Plan:
    from tests.bench.making import gather

    return gather(*sheets)


def test_a_rounded_and_backed_spine_shows_why_to_measure() -> None:
    """welbound.com 2012: one bulk of 13/16 in measures 0.95 in rounded, 1.18 in backed.

    Neither is to be had from the leaves alone, so Wayfold speaks of flat backs only, and a
    measure stands whatever the leaves say.
    """
    inch = 25.4
    for spine in (0.95 * inch, 1.18 * inch):
        block = SewnBlock(
            Size(210, 297),
            20,
            (Layer("paper", 86, 240.0, Source.MEASURED),),
            1.0,
            0.5,
            0.0,
            0.0,
            0.0,
            0.0,
            spine,
        )
        assert block.leaves / inch == pytest.approx(13 / 16, abs=0.01)
        assert block.spine == spine


def test_a_pocket_fills_out_the_spine() -> None:
    plain = reckon(3, 3, 3)
    filled = reckon(3, 3, 3, book=make_book((148.0, 210.0, 4.0)))
    # 4 mm over strips of 0.16 mm are 25 strips (R&E: compensation guard).
    assert filled.estimate - plain.estimate == pytest.approx(4.0)


def test_tracing_paper_by_its_density() -> None:
    """About 1.2 g/cm3: 112 g/m2 are 93 µm; the starting value is near that and can be set."""
    assert pytest.approx(112 / 1.2, abs=5) == Translucent().caliper_um
    assert make_block(9.0).spine == 9.0
    assert BenchChoices().casing == Casing()

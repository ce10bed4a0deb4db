"""Slips in the numbers are asked about, with what to write instead; nothing is changed silently.

What is usual for each number has its source in ``case.settings``; bulk is ISO 534's thickness over
grammage.
"""

from dataclasses import replace

import pytest

from tests.bench.making import gather
from tests.case.making import make_book
from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import Size
from wayfold.book.casing import Back, BenchChoices, Casing, Material, Sewing, Stock
from wayfold.book.materials import Grain, Paper
from wayfold.book.state import Book
from wayfold.case.settings import SETTINGS
from wayfold.case.work import prepare_case

PLAN = gather(2, 2, 2, 2, 2, 2, 2, 2)


def findings(book: Book, rule: str) -> list[Finding]:
    return [f for f in prepare_case(book, PLAN).findings if f.rule == rule]


def test_the_numbers_a_book_starts_from_are_usual_ones() -> None:
    book = make_book()
    found = prepare_case(book, PLAN).findings
    assert [f for f in found if f.rule in ("unit", "unusual-measure", "caliper", "square")] == []
    for setting in SETTINGS:
        assert setting.low < setting.high
        assert len(setting.source) > 15


@pytest.mark.parametrize(
    ("fields", "where", "meant"),
    [
        ({"turn_in": 0.625}, "case.turn_in_mm", "15.9"),  # 5/8 in
        ({"square": 0.125}, "case.square_mm", "3.2"),  # 1/8 in
        ({"joint": 0.375}, "case.joint_mm", "9.5"),  # 3/8 in
        ({"board": 0.08}, "case.board_mm", "2"),  # 0.08 in
        ({"mull_beyond": 1.5}, "case.mull_beyond_mm", "38.1"),  # 1 1/2 in
    ],
)
def test_inches_in_a_field_of_millimetres(fields: dict[str, float], where: str, meant: str) -> None:
    (found,) = [f for f in findings(make_book(**fields), "unit") if f.where == where]
    assert found.severity is Severity.BLOCK
    assert "inches" in found.message
    assert meant in found.remedy


def test_millimetres_in_a_field_of_micrometres() -> None:
    (found,) = findings(make_book(endpaper_um=0.16), "unit")
    assert found.where == "case.endpaper_um"
    assert "160" in found.remedy


def test_a_page_in_inches() -> None:
    (found,) = findings(replace(make_book(), trim=Size(8.27, 11.69)), "unit")
    assert "210.1 × 296.9" in found.remedy


@pytest.mark.parametrize(("caliper", "meant"), [(24.0, "240"), (2400.0, "240")])
def test_a_caliper_ten_times_off(caliper: float, meant: str) -> None:
    """190 g/m2 at 240 µm is a bulk of 1.26; a tenth or ten times of it no paper has."""
    book = replace(make_book(), paper=Paper(caliper_um=caliper))
    (found,) = findings(book, "caliper")
    assert found.severity is Severity.BLOCK
    assert f"write {meant}" in found.remedy


@pytest.mark.parametrize(
    ("grammage", "caliper"),
    # Uncoated papers as listed by a paper seller (a-size.com): g/m2 and µm.
    list(
        zip(
            (70, 80, 90, 100, 120, 140, 160, 170, 180, 210, 250, 300),
            (90, 100, 112, 125, 150, 175, 190, 212, 215, 250, 280, 350),
            strict=True,
        )
    ),
)
def test_ordinary_papers_are_not_asked_about(grammage: float, caliper: float) -> None:
    book = replace(make_book(), paper=Paper(grammage_gsm=grammage, caliper_um=caliper))
    assert findings(book, "caliper") == []


def test_a_block_measured_far_from_its_estimate() -> None:
    (found,) = findings(make_book(block=30.0), "block-measure")
    assert found.severity is Severity.WARN
    assert "is taken" in found.message
    assert prepare_case(make_book(block=30.0), PLAN).block.spine == 30.0


def test_a_block_measured_in_inches() -> None:
    estimate = prepare_case(make_book(), PLAN).block.estimate
    (found,) = findings(make_book(block=round(estimate / 25.4, 2)), "block-measure")
    assert found.severity is Severity.BLOCK
    assert "inches" in found.message


def test_a_block_measured_near_its_estimate_is_believed() -> None:
    estimate = prepare_case(make_book(), PLAN).block.estimate
    assert findings(make_book(block=estimate * 1.1), "block-measure") == []


def test_negative_squares() -> None:
    (found,) = findings(make_book(square=-1.5), "square")
    assert found.severity is Severity.BLOCK
    assert "3 mm" in found.message
    wide = findings(make_book(board_less=12.0), "square")
    assert wide[0].severity is Severity.BLOCK
    # 210 - 12 + 6.93 (the joint pressed to a V) - 210
    assert "5.1 mm inside" in wide[0].message


def test_a_joint_too_narrow_to_swing() -> None:
    assert findings(make_book(joint=3.5), "joint")
    assert findings(make_book(block=60.0), "joint")[0].message.count("15.0 mm") == 1


def test_thread_that_swells_a_flat_back() -> None:
    thick = BenchChoices(sewing=Sewing(thread=0.7, swell_factor=1.0))
    (found,) = findings(Book("A Trip", bench=thick), "swell")
    assert "thinner" in found.remedy or "at most" in found.remedy
    assert "outside of what is usual" not in found.message


def test_a_rounded_back_wants_about_a_third_more_at_the_spine() -> None:
    """P. Geraty: a spine about 30 % thicker than the fore-edge, for rounded books."""
    casing = Casing(back=Back.ROUND)

    def judge(sewing: Sewing) -> list[str]:
        book = Book("A Trip", bench=BenchChoices(casing=casing, sewing=sewing))
        return [found.message for found in findings(book, "swell")]

    assert judge(Sewing(thread=0.7, swell_factor=0.45)) == []
    assert "stays nearly flat" in judge(Sewing(thread=0.2, swell_factor=0.3))[0]
    assert "hard to hold" in judge(Sewing(thread=0.7, swell_factor=1.0))[0]


def test_items_too_large_for_the_pocket() -> None:
    (found,) = findings(make_book((297.0, 210.0, 2.0)), "pocket-size")
    assert found.severity is Severity.BLOCK
    assert "too wide" in found.message
    assert "upright" in found.remedy
    assert findings(make_book((148.0, 210.0, 6.0)), "pocket-size") == []
    assert findings(make_book((148.0, 210.0, 20.0)), "pocket-size")[0].severity is Severity.WARN


def test_a_stock_of_unknown_grain_and_one_too_small() -> None:
    small = Stock(Material.BOARD, Size(200.0, 300.0), Grain.UNKNOWN)
    book = Book("A Trip", bench=BenchChoices(casing=Casing(), stocks=(small,)))
    work = prepare_case(book, PLAN)
    assert [f.where for f in work.findings if f.rule == "grain"] == [f"stock {small.title}"]
    (found,) = [f for f in work.findings if f.rule == "stock-size"]
    assert "206.5 × 303.0" in found.message
    assert Material.BOARD not in {plan.material for plan in work.cutting}


def test_holes_too_close() -> None:
    book = Book("A Trip", trim=Size(74, 105), bench=BenchChoices(sewing=Sewing(spaces=10)))
    assert findings(book, "stations")


def test_stocks_and_tickets_in_inches() -> None:
    board = Stock(Material.BOARD, Size(28.0, 40.0), Grain.LONG)  # 28 x 40 in, a usual board
    book = make_book((3.4, 7.5, 0.1))
    book = replace(book, bench=replace(book.bench, stocks=(board,), dummy_sheet=Size(8.5, 11.0)))
    found = findings(book, "unit")
    assert [f.where.split()[0] for f in found] == ["stock", "pocket.item.size_mm", "dummy.sheet_mm"]
    assert "711.2 × 1016.0" in found[0].remedy
    assert "86.4 × 190.5" in found[1].remedy
    assert "215.9 × 279.4" in found[2].remedy

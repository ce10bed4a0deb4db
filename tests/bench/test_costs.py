"""Ink and hours against published figures; what is not known is said, never guessed."""

import pytest

from tests.bench.making import gather
from tests.case.making import make_book
from wayfold.base.geometry import Size
from wayfold.bench.costs import InkLoad, add_costs, ink_rate, list_costs, measure_ink
from wayfold.bench.hours import (
    BOARDS,
    CASE_IN,
    COVER,
    ENDPAPERS,
    FOLD,
    GATHER,
    GLUE,
    PRICK,
    SEW,
    TIP,
    Work,
    count_minutes,
    tell_time,
)
from wayfold.book.casing import BenchChoices, Costs, Material, Practice, Stock
from wayfold.book.materials import Grain
from wayfold.book.state import Book
from wayfold.case.work import prepare_case

FT2_PER_M2 = 1 / 0.3048**2
A3_PLUS_M2 = 0.329 * 0.483


def test_ink_by_darkness_spans_what_was_measured() -> None:
    """Wide-format users' figures: 0.3 ml/ft2 near white, 1.5 near black, 0.8 to 0.9 in the mean.

    Published as 4.3 to 16.1 ml/m2 for 0.4 to 1.5 ml/ft2.
    """
    costs = Costs()
    assert ink_rate(0.0, costs) / FT2_PER_M2 == pytest.approx(0.3, abs=0.01)
    assert ink_rate(1.0, costs) / FT2_PER_M2 == pytest.approx(1.5, abs=0.01)
    assert 0.8 <= ink_rate(0.45, costs) / FT2_PER_M2 <= 0.9


def test_a_side_of_a_large_sheet() -> None:
    """At 0.9 ml/ft2 a side of 329 x 483 mm takes 1.54 ml, both sides 3.08 ml."""
    flat = Costs(ink_white_ml=0.9 * FT2_PER_M2, ink_black_ml=0.9 * FT2_PER_M2, ink_overhead=0.0)
    side = InkLoad(A3_PLUS_M2 * 1e6, 0.5)
    assert measure_ink((side,), flat) == pytest.approx(1.54, abs=0.005)
    assert measure_ink((side, side), flat) == pytest.approx(3.08, abs=0.005)
    assert pytest.approx(9.7, abs=0.05) == 0.9 * FT2_PER_M2


def test_cleaning_adds_its_share() -> None:
    """10 to 50 % (common practice)."""
    load = (InkLoad(1e6, 1.0),)
    plain = measure_ink(load, Costs(ink_overhead=0.0))
    assert measure_ink(load, Costs(ink_overhead=0.25)) == pytest.approx(1.25 * plain)


def test_costs_add_up_and_the_unknown_are_counted() -> None:
    """Sheets x price + ml x price + metres x price + sheets of board: done by hand here."""
    costs = Costs(paper_sheet=1.2, ink_ml=0.5, thread_m=0.1)
    board = Stock(Material.BOARD, Size(700, 1000), Grain.LONG, price=4.0)
    cloth = Stock(Material.CLOTH, Size(1000, 2000), Grain.LONG, price=20.0, roll=True)
    book = Book("A Trip", bench=BenchChoices(costs=costs, stocks=(board, cloth)))
    work = prepare_case(book, gather(2, 2, 2, 2))
    rows = list_costs(work, 8, 0, 30.0, 1.4)
    by_name = {row.what: row.cost for row in rows}
    assert by_name[book.paper.name] == pytest.approx((8 + 1) * 1.2)
    assert by_name["ink"] == pytest.approx(15.0)
    assert by_name["sewing thread"] == pytest.approx(0.14)
    assert by_name["board"] == pytest.approx(4.0)
    # The spine cloth is 335 mm long on the roll.
    assert by_name["cloth"] == pytest.approx(20.0 * 0.335)
    total, unknown = add_costs(rows)
    assert total == pytest.approx(9 * 1.2 + 15.0 + 0.14 + 4.0 + 6.7)
    assert unknown == sum(cost is None for cost in by_name.values()) > 0


def test_hours_of_a_book_of_eight_gatherings() -> None:
    """From memory: 10 to 14 hours for a beginner, 5 to 7 practised, for 8 gatherings of 3 sheets.

    Hands only: drying comes besides.
    """
    work = Work(sides=48, sheets=24, folded_leaves=4, tipped_leaves=0, gatherings=8, pocket=True)
    assert 10 <= sum(count_minutes(work, Practice.BEGINNER).values()) / 60 <= 14
    assert 4.5 <= sum(count_minutes(work, Practice.PRACTISED).values()) / 60 <= 7


def test_pieces_of_work_against_logs() -> None:
    """A tip-in takes 15 minutes at most (a university library's guide).

    Block 90 minutes or more and case 60 or more for a small case-bound book (papercraftpanda.com).
    """
    assert TIP.beginner <= 15
    gatherings, sheets = 5, 20
    block = (
        sheets * FOLD.beginner
        + gatherings * (GATHER.beginner + PRICK.beginner + SEW.beginner)
        + GLUE.beginner
        + ENDPAPERS.beginner
    )
    assert block >= 90
    assert BOARDS.beginner + COVER.beginner + CASE_IN.beginner >= 60


@pytest.mark.parametrize(
    ("minutes", "words"), [(3, "5 minutes"), (42, "40 minutes"), (60, "1 hour"), (95, "1½ hours")]
)
def test_times_as_people_say_them(minutes: float, words: str) -> None:
    assert tell_time(minutes) == words


def test_a_book_without_a_pocket_has_no_work_on_it() -> None:
    work = Work(10, 5, 0, 0, 2, pocket=False)
    assert not any("pocket" in name for name in count_minutes(work, Practice.BEGINNER))
    assert prepare_case(make_book(), gather(2, 2)).pocket is None

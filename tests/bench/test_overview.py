"""The worksheet of the whole plan: every gathering in its row, what is known of the plan above."""

import pytest

from tests.bench.making import gather, lay_out, opener, tell, texts_of, wrap
from wayfold.base.geometry import Rect
from wayfold.bench.overview import describe_proof, draw_overview
from wayfold.bench.worksheet import PAPER
from wayfold.drawing.items import Placed
from wayfold.plan.model import EndRole, PlanResult, Status
from wayfold.typeset.engine import Typesetter

W, E = EndRole.WANTED, EndRole.ECHO


def test_each_gathering_has_its_row() -> None:
    plan = gather(
        2, 3, 2, interleaves=(wrap(2, 1, (10, W, 11), (18, E, None)),), ways=((9, 1, "o"),)
    )
    (sheet,) = draw_overview(lay_out(plan, tell(opener("o")), printed=(3,)))
    assert texts_of(sheet, "signature") == ["A", "B", "C"]
    assert texts_of(sheet, "collation") == ["Collation: A⁴ B⁶ C⁴"]
    assert texts_of(sheet, "lead")[0] == "3 gatherings, 7 sheets, 28 pages, 1 translucent sheet"
    assert texts_of(sheet, "gathering 1") == ["2 sheets, pages 1–8"]
    assert texts_of(sheet, "gathering 2") == [
        "3 sheets, pages 9–20",
        "Lisbon begins; translucent over page 11",
    ]
    assert texts_of(sheet, "gathering 3") == ["2 sheets, pages 21–28; printed"]
    centres = [i.drawing.label for i in sheet.items if isinstance(i, Placed)]
    # The two middle pages of 8, of 12 and of 8, counted on (geometry of folding).
    assert centres == [f"page {n}" for n in (4, 5, 14, 15, 24, 25)]


def test_what_is_known_of_the_plan_is_said() -> None:
    plan = gather(1)
    assert describe_proof(PlanResult(Status.OPTIMAL, plan, 9, 9)).startswith("proven")
    words = describe_proof(PlanResult(Status.FEASIBLE, plan, 30, 18))
    assert "at most 12 points" in words


@pytest.mark.parametrize("count", [1, 20, 21, 75])
def test_all_gatherings_are_there_with_room_for_their_words(count: int) -> None:
    sizes = [1 + at % 8 for at in range(count)]
    firsts = [1 + 4 * sum(sizes[:at]) for at in range(count)]
    leaves = tuple(
        wrap(at + 1, 0, (first - 1, W, first), (first + 4 * size - 1, E, None))
        for at, (first, size) in enumerate(zip(firsts, sizes, strict=True))
        if at % 3 == 0
    )
    plan = gather(*sizes, interleaves=leaves)
    sheets = draw_overview(lay_out(plan, tell()))
    assert len([t for s in sheets for t in texts_of(s, "signature")]) == count
    setter = Typesetter()
    for sheet in sheets:
        assert setter.page_pdf(sheet).findings == ()
        for item in sheet.items:
            if isinstance(item, Placed):
                assert item.clip is not None
                assert Rect(0.0, 0.0, PAPER.width, PAPER.height).contains(item.clip)

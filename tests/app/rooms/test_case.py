"""The room for case and bench: numbers change the case, sheets the cutting, ticks are remembered.

Formulas and worked examples are those of ``tests/case/test_measure.py``, with their sources there.
"""

import math
import re
from dataclasses import replace

import pytest

from wayfold.app.rooms.case import view_case_room
from wayfold.app.rooms.case_bench import TaskView, tick_step, view_bench
from wayfold.app.rooms.case_cutting import StockView, set_stocks, view_cutting
from wayfold.app.rooms.case_drawings import case_svg
from wayfold.app.rooms.case_measures import PocketItemView, set_measure, set_pocket, try_measure
from wayfold.app.rooms.case_shopping import view_shopping
from wayfold.app.rooms.case_ticks import Ticks
from wayfold.app.session import Session
from wayfold.base.errors import NotFoundError, UserError
from wayfold.base.progress import NoProgress

A_BOARD = StockView("board", 500.0, 700.0, "long", 3.0, False, "grey board")


def figures(session: Session) -> dict[str, tuple[float, ...]]:
    return {figure.name: figure.values for figure in view_case_room(session.results).figures}


def moves(session: Session, key: str) -> tuple[str, ...]:
    views = view_case_room(session.results).measures
    return next(measure.moves for measure in views if measure.key == key)


def find_task(session: Session, key: str) -> TaskView:
    return next(t for t in view_bench(session.results, Ticks(session.folder)) if t.key == key)


def test_the_board_is_the_page_less_and_more(session: Session) -> None:
    """A4, board X - 3.5 by Z + 6; card spine T + b (the factory's and the mender's rules)."""
    set_measure(session, "case.block_mm", 12.0)
    for board in (2.0, 2.5):
        set_measure(session, "case.board_mm", board)
        now = figures(session)
        assert (*now["board-width"], *now["board-height"]) == (206.5, 303.0)
        assert now["spine-width"] == (12.0 + board,)
        # Geometry: a joint of 8 pressed square loses two boards (test_what_a_pressed_joint_takes).
        assert now["square-fore"][0] == pytest.approx(206.5 + 8 - 2 * board - 210)
    set_measure(session, "case.spine", "board")
    assert figures(session)["spine-width"] == (17.0,)


def test_every_sum_gives_its_figure(session: Session) -> None:
    """Python reckons the sums as they are shown to the person."""
    set_measure(session, "case.block_mm", 12.0)
    exact = ("board-width", "board-height", "spine-width", "open-width", "mitre", "square-fore")
    checked = 0
    for figure in view_case_room(session.results).figures:
        if figure.name in exact:
            terms = figure.sum
            for sign, python in (("−", "-"), ("×", "*"), ("²", "**2"), ("√", "sqrt")):
                terms = terms.replace(sign, python)
            for term, value in zip(terms.split("; "), figure.values, strict=True):
                assert eval(term, {"sqrt": math.sqrt}) == pytest.approx(value, abs=0.06)
                checked += 1
    assert checked == 7


def test_what_a_number_moves(session: Session) -> None:
    assert set(moves(session, "case.square_mm")) >= {"board-height", "covering-height"}
    assert "board-width" not in moves(session, "case.square_mm")
    assert set(moves(session, "case.board_mm")) >= {"spine-width", "square-fore", "mitre"}
    assert set(moves(session, "case.turn_in_mm")) == {
        "turn-in",
        "covering-height",
        "side-width",
        "infill",
    }
    assert set(moves(session, "sewing.kettle_mm")) == {"holes"}
    assert "spine-width" in moves(session, "paper.caliper_um")
    set_measure(session, "case.block_mm", 12.0)
    # A measured block wins over every estimate, so no caliper moves the case any more.
    assert "spine-width" not in moves(session, "paper.caliper_um")


def test_a_number_that_cannot_be_is_refused_and_nothing_is_written(session: Session) -> None:
    before = session.folder.book_file.read_bytes()
    with pytest.raises(UserError) as refused:
        set_measure(session, "case.joint_mm", -1.0)
    assert refused.value.remedy == "Write a number that is more than 0."
    with pytest.raises(UserError, match="cannot stand here"):
        set_measure(session, "case.style", "leather")
    with pytest.raises(NotFoundError):
        set_measure(session, "book.title", "x")
    assert session.folder.book_file.read_bytes() == before


def test_a_number_in_inches_is_asked_about(session: Session) -> None:
    set_measure(session, "case.turn_in_mm", 0.625)
    found = [f for f in view_case_room(session.results).findings if f.where == "case.turn_in_mm"]
    assert [f.rule for f in found] == ["unit"]
    assert "inches" in found[0].message
    session.undo()
    assert not [f for f in view_case_room(session.results).findings if f.rule == "unit"]


def test_a_number_is_tried_before_it_is_kept(session: Session) -> None:
    set_measure(session, "case.block_mm", 12.0)
    before = session.folder.book_file.read_bytes()
    tried = view_case_room(try_measure(session.results, "case.board_mm", 2.5))
    assert {f.name: f.values for f in tried.figures}["spine-width"] == (14.5,)
    assert case_svg(session, "inside", "case.board_mm", 2.5) != case_svg(
        session, "inside", "case.board_mm"
    )
    # On the way to a number there may be one that cannot be.
    for odd in (0.0, -1.0, math.nan, math.inf):
        assert try_measure(session.results, "case.board_mm", odd) is session.results
    assert session.folder.book_file.read_bytes() == before
    assert figures(session)["spine-width"] == (14.0,)


def test_none_returns_to_where_a_book_starts(session: Session) -> None:
    set_measure(session, "case.board_mm", 3.0)
    set_measure(session, "case.board_mm", None)
    assert "board_mm" not in session.folder.book_file.read_text("utf-8")
    assert session.results.book.bench.casing.board == 2.0


def test_a_sheet_in_the_cupboard_is_cut_from(session: Session) -> None:
    cut = view_cutting(session.results.case, Ticks(session.folder))
    board = next(plan for plan in cut.plans if plan.material == "board")
    assert board.usual
    set_stocks(session, (A_BOARD,))
    cut = view_cutting(session.results.case, Ticks(session.folder))
    board = next(plan for plan in cut.plans if plan.material == "board")
    assert (board.stock, board.usual, board.cost) == ("grey board, 500 × 700 mm", False, 3.0)
    assert cut.stocks == (A_BOARD,)
    # Two boards of 206.5 x 303 on 500 x 700 mm: 1 - 2 * 206.5 * 303 / 350000.
    assert board.waste == pytest.approx(0.6425, abs=5e-4)
    with pytest.raises(UserError, match="no such material"):
        set_stocks(session, (replace(A_BOARD, material="slate"),))
    session.undo()
    assert session.results.book.bench.stocks == ()


def test_the_pocket_has_its_blank(session: Session) -> None:
    assert "pocket-blank" not in figures(session)
    set_pocket(session, (PocketItemView("map", 120.0, 200.0, 3.0),))
    # Face 120 + 4 by 200 - 15; a gusset of 3 / 2 + 1; flaps of 12 (docs/bench.md; tests/case).
    assert figures(session)["pocket-front"] == (124.0, 185.0)
    assert figures(session)["pocket-blank"] == (124 + 2 * 17, 185 + 17)
    assert any(t.key == "pocket" for t in view_bench(session.results, Ticks(session.folder)))


def test_a_tick_outlasts_the_session_and_the_cache(session: Session) -> None:
    tick_step(session, "boards", "grain", done=True)
    tick_step(session, "cutting", "board-1", done=True)
    tick_step(session, "shopping", "paper", done=True)
    again = Session.open(session.folder.root, NoProgress())
    steps = find_task(again, "boards").steps
    assert [bool(s.tick and s.tick.day) for s in steps] == [True, False, False, False]
    assert find_task(again, "boards").done == 1
    bought = view_shopping(again.folder, again.results, Ticks(again.folder)).buys
    assert [b.tick.item for b in bought if b.tick.holds] == ["paper"]
    assert session.folder.bench_file.parent == session.folder.root
    tick_step(again, "boards", "grain", done=False)
    assert find_task(session, "boards").done == 0
    with pytest.raises(NotFoundError):
        tick_step(session, "boards", "gild", done=True)
    again.close()


def test_a_changed_number_makes_old_what_was_done_by_it(session: Session) -> None:
    for of, item in (("boards", "boards"), ("boards", "grain"), ("cutting", "board-1")):
        tick_step(session, of, item, done=True)
    set_measure(session, "case.square_mm", 4.0)
    task = find_task(session, "boards")
    old = [s.tick for s in task.steps if s.tick and s.tick.then]
    assert [t.item for t in old] == ["boards"]
    assert "206.5 × 303.0 mm" in old[0].then
    assert (task.done, task.old) == (1, 1)
    assert find_task(session, "cutting").old == 1
    # Undone at the desk, the boards are the right size again; the tick itself was no decision.
    session.undo()
    assert (find_task(session, "boards").done, find_task(session, "boards").old) == (2, 0)


def test_other_holes_make_the_pricking_old(session: Session) -> None:
    tick_step(session, "pricking", "prick", done=True)
    set_measure(session, "sewing.kettle_mm", 15.0)
    (old,) = [s.tick for s in find_task(session, "pricking").steps if s.tick and s.tick.then]
    assert "Holes at 12.0" in old.then


def test_what_no_plan_asks_for_any_more_is_told(session: Session) -> None:
    set_pocket(session, (PocketItemView("map", 120.0, 200.0, 3.0),))
    tick_step(session, "cutting", "pocket-paper-1", done=True)
    set_pocket(session, ())
    left = view_cutting(session.results.case, Ticks(session.folder)).left
    assert [tick.item for tick in left] == ["pocket-paper-1"]
    tick_step(session, "cutting", "pocket-paper-1", done=False)
    assert view_cutting(session.results.case, Ticks(session.folder)).left == ()


def test_every_drawing_is_drawn(session: Session) -> None:
    names = {"inside", "outside"}
    names |= {n for t in view_bench(session.results, Ticks(session.folder)) for n in t.drawings}
    assert len(names) > 12
    for name in names:
        assert case_svg(session, name).startswith("<svg")
    assert case_svg(session, "inside", "case.joint_mm") != case_svg(session, "inside")
    with pytest.raises(NotFoundError):
        case_svg(session, "attic")


def test_a_photograph_on_the_cover_is_shown_as_it_will_lie(session: Session) -> None:
    set_measure(session, "case.photo", "H0001.jpg")
    svg = case_svg(session, "outside")
    (picture,) = set(re.findall(r"/assets/([^\"]+)\.jpg", svg))
    assert session.shown.asset_jpeg(picture).startswith(b"\xff\xd8")  # a JPEG (ITU-T T.81, B.1)
    set_measure(session, "case.photo", "nowhere.jpg")
    found = [f for f in view_case_room(session.results).findings if f.rule == "cover-photo"]
    assert [f.where for f in found] == ["case.photo"]
    assert session.state().undo == "the case"


def test_prices_make_the_sum(session: Session) -> None:
    set_measure(session, "costs.paper_sheet", 1.5)
    shopping = view_shopping(session.folder, session.results, Ticks(session.folder))
    paper = shopping.buys[0]
    sheets = sum(g.sheets for g in session.results.plan.gatherings)
    assert paper.cost == 1.5 * (sheets + -(-sheets // 10))
    assert shopping.total == paper.cost
    assert shopping.unpriced == len(shopping.buys) - 1
    assert not shopping.inked  # no print picture is made yet

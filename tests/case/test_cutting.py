"""Cutting plans checked with a geometry library: pieces, cuts and offcuts make up the sheet.

Shapely (GEOS) does the geometry. Dissections are made here by random guillotine cuts, so a plan
without waste is known to exist.
"""

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, box
from shapely.ops import unary_union

from benchmarks.cutting import invent_pieces, lay_shelves
from wayfold.base.geometry import Rect, Size
from wayfold.case.cutting import CutSheet, Piece, plan_cuts, plan_roll

SHEET = Size(700.0, 1000.0)
SIDES = st.floats(8.0, 400.0).map(lambda v: round(v, 1))
PIECES = st.lists(st.tuples(SIDES, SIDES, st.booleans()), min_size=1, max_size=12)


def shape(rect: Rect) -> object:
    return box(rect.x, rect.y, rect.right, rect.bottom)


def check(sheet: CutSheet, pieces: list[Piece]) -> None:
    """Nothing overlaps, all is covered, no piece lies against its grain."""
    whole = box(0, 0, sheet.size.width, sheet.size.height)
    parts = [shape(laid.box) for laid in sheet.laid] + [shape(o) for o in sheet.offcuts]
    assert unary_union(parts).symmetric_difference(whole).area == pytest.approx(0, abs=1e-3)
    assert sum(p.area for p in parts) == pytest.approx(whole.area, abs=1e-3)  # so none overlap
    for laid in sheet.laid:
        piece = pieces[laid.piece]
        wanted = piece.size.turned if laid.turned else piece.size
        assert (laid.box.width, laid.box.height) == pytest.approx((wanted.width, wanted.height))
        assert piece.any_way or not laid.turned


def follow_cuts(sheet: CutSheet) -> list[Rect]:
    """Cut as told: every cut goes right through a part that is there by then."""
    parts = [Rect(0.0, 0.0, sheet.size.width, sheet.size.height)]
    for cut in sheet.cuts:
        at = next(
            i
            for i, p in enumerate(parts)
            if p.contains(cut.region, 1e-4) and cut.region.contains(p, 1e-4)
        )
        whole = parts.pop(at)
        if cut.level:
            assert whole.y < cut.at < whole.bottom
            parts.append(Rect(whole.x, whole.y, whole.width, cut.at - whole.y))
            parts.append(Rect(whole.x, cut.at, whole.width, whole.bottom - cut.at))
        else:
            assert whole.x < cut.at < whole.right
            parts.append(Rect(whole.x, whole.y, cut.at - whole.x, whole.height))
            parts.append(Rect(cut.at, whole.y, whole.right - cut.at, whole.height))
    return parts


@settings(deadline=None, max_examples=30)
@given(PIECES)
def test_pieces_cuts_and_offcuts_make_up_the_sheet(sizes: list[tuple[float, float, bool]]) -> None:
    pieces = [Piece(str(i), Size(w, h), any_way) for i, (w, h, any_way) in enumerate(sizes)]
    plan = plan_cuts(pieces, SHEET)
    assert plan is not None
    for sheet in plan:
        check(sheet, pieces)
        lying = [*(laid.box for laid in sheet.laid), *sheet.offcuts]
        cut = follow_cuts(sheet)
        assert sorted((round(r.x, 3), round(r.y, 3)) for r in cut) == sorted(
            (round(r.x, 3), round(r.y, 3)) for r in lying
        )
    assert sorted(laid.piece for sheet in plan for laid in sheet.laid) == list(range(len(pieces)))


def test_never_more_sheets_than_first_fit_shelves() -> None:
    """Shelves: first-fit decreasing height (Coffman, Garey, Johnson and Tarjan, 1980)."""
    chance = random.Random(3)
    for _ in range(20):
        pieces = invent_pieces(chance, SHEET)
        plan = plan_cuts(pieces, SHEET)
        assert plan is not None
        assert len(plan) <= len(lay_shelves(pieces, SHEET))


@pytest.mark.parametrize("seed", range(8))
def test_a_sheet_cut_up_is_put_together_again(seed: int) -> None:
    """Five pieces of a sheet cut at random from edge to edge: one sheet, no waste."""
    chance = random.Random(seed)
    parts = [Rect(0.0, 0.0, SHEET.width, SHEET.height)]
    while len(parts) < 5:
        part = parts.pop(max(range(len(parts)), key=lambda i: parts[i].area))
        share = chance.uniform(0.25, 0.75)
        if chance.random() < 0.5:
            width = round(part.width * share)
            parts += [
                Rect(part.x, part.y, width, part.height),
                Rect(part.x + width, part.y, part.width - width, part.height),
            ]
        else:
            height = round(part.height * share)
            parts += [
                Rect(part.x, part.y, part.width, height),
                Rect(part.x, part.y + height, part.width, part.height - height),
            ]
    plan = plan_cuts([Piece(str(i), p.size) for i, p in enumerate(parts)], SHEET)
    assert plan is not None
    assert len(plan) == 1
    assert plan[0].waste == pytest.approx(0.0, abs=1e-9)


def test_two_boards_beside_each_other_share_a_cut() -> None:
    pieces = [Piece("board", Size(206.5, 303.0))] * 2
    plan = plan_cuts(pieces, Size(420.0, 320.0))
    assert plan is not None
    lines = [
        LineString([(c.region.x, c.at), (c.region.right, c.at)])
        if c.level
        else LineString([(c.at, c.region.y), (c.at, c.region.bottom)])
        for c in plan[0].cuts
    ]
    assert len(lines) == 3  # the head edge of both at once, then one board and the other


def test_a_piece_larger_than_the_sheet_has_no_plan() -> None:
    assert plan_cuts([Piece("cloth", Size(482.5, 337.0))], Size(483.0, 329.0)) is None
    # Turned it would lie on the sheet, but its grain must not be.
    assert plan_cuts([Piece("cloth", Size(320.0, 480.0))], Size(483.0, 329.0)) is None
    assert plan_cuts([Piece("cloth", Size(320.0, 480.0), True)], Size(483.0, 329.0)) is not None


def test_a_roll_is_cut_no_longer_than_needed() -> None:
    pieces = [Piece("wrap", Size(482.0, 335.0)), Piece("spine", Size(114.0, 335.0))]
    sheet = plan_roll(pieces, 1000.0, 5000.0)
    assert sheet is not None
    assert sheet.size == Size(1000.0, 335.0)
    assert plan_roll(pieces, 300.0, 5000.0) is None

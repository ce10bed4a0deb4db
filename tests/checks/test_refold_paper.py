"""The paper itself: pages out of folding alone, creep by worked examples, the description."""

import pytest

from tests.checks.imposer import ORDERS
from wayfold.base.errors import UserError
from wayfold.base.geometry import Point, Size
from wayfold.checks.refold.folding import Folding, Turning
from wayfold.checks.refold.paper import Side, read_book

TRIM, SHEET = Size(210, 297), Size(483, 329)


@pytest.mark.parametrize("sheets", ORDERS)
@pytest.mark.parametrize("turning", list(Turning))
def test_folding_gives_the_published_orders(sheets: int, turning: Turning) -> None:
    """Orders of one- to five-sheet gatherings and the published eight-sheet one (see imposer)."""
    faces = read_book(Folding(TRIM, SHEET, (sheets,), turning), SHEET)
    read = {(f.place.index, f.side, f.left): n for n, f in enumerate(faces, start=1)}
    upside = turning is Turning.LONG_EDGE
    for index, (outer, inner) in enumerate(ORDERS[sheets], start=1):
        assert (read[index, Side.FRONT, True], read[index, Side.FRONT, False]) == outer
        # Turned about the long edge, the back stands on its head and its halves change.
        assert (read[index, Side.BACK, not upside], read[index, Side.BACK, upside])[0] == inner[0]
        assert read[index, Side.BACK, upside] == inner[1]


def test_pages_alternate_recto_and_verso() -> None:
    faces = read_book(Folding(TRIM, SHEET, (3, 2)), SHEET)
    assert [f.recto for f in faces] == [True, False] * 10
    assert [f.place.gathering for f in faces] == [1] * 12 + [2] * 8


@pytest.mark.parametrize(
    ("caliper_um", "coefficient", "sheets", "total"),
    [
        # Hard folds, total (n - 1) t; round folds, total (pi / 2)(n - 1) t: worked examples of
        # the geometry of nested folds.
        (100, 1.0, 4, 0.30),
        (240, 1.0, 3, 0.48),
        (250, 1.0, 4, 0.75),
        (250, 1.0, 5, 1.00),
        (100, 1.5708, 4, 0.47),
        (240, 1.5708, 3, 0.75),
        (250, 1.5708, 4, 1.18),
    ],
)
def test_creep_of_the_innermost_sheet(
    caliper_um: float, coefficient: float, sheets: int, total: float
) -> None:
    folding = Folding(TRIM, SHEET, (sheets,), caliper_um=caliper_um, creep_coefficient=coefficient)
    faces = read_book(folding, SHEET)
    assert max(f.creep for f in faces) == pytest.approx(total, abs=0.006)
    assert faces[0].creep == 0 and faces[-1].creep == 0


def test_the_knife_takes_the_creep_from_the_inner_leaves() -> None:
    folding = Folding(TRIM, SHEET, (3,), caliper_um=240, creep_coefficient=1.0)
    faces = read_book(folding, SHEET)
    recto, verso = faces[4], faces[5]
    assert (recto.visible.x, recto.visible.right) == pytest.approx((0.48, 210))
    assert (verso.visible.x, verso.visible.right) == pytest.approx((0, 209.52))
    # The fold of the sheet, in the space of the page that stands out by 0.48 mm.
    assert recto.to_side.apply(Point(0.48, 0)).x == pytest.approx(241.5)
    uncut = read_book(
        Folding(TRIM, SHEET, (3,), caliper_um=240, creep_coefficient=1.0, trim_fore_edge=False),
        SHEET,
    )
    assert uncut[4].visible.width == pytest.approx(210)


def test_the_description_goes_to_json_and_back() -> None:
    folding = Folding(TRIM, SHEET, (3, 3, 2), Turning.LONG_EDGE, 2.5, 185, 1.4, False)
    assert Folding.from_json(folding.to_json()) == folding
    short = '{"trim_mm": [210, 297], "sheet_mm": [483, 329], "gatherings": [1]}'
    assert Folding.from_json(short) == Folding(TRIM, SHEET, (1,))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("{", "not JSON"),
        ("[]", "object"),
        ('{"trim_mm": [210, 297], "sheet_mm": [483, 329]}', "gatherings is missing"),
        ('{"trim": [1, 2]}', "unknown key 'trim'"),
        ('{"trim_mm": [210], "sheet_mm": [1, 2], "gatherings": [1]}', "trim_mm"),
        ('{"trim_mm": [210, 0], "sheet_mm": [1, 2], "gatherings": [1]}', "above 0"),
        ('{"trim_mm": [210, 297], "sheet_mm": [483, 329], "gatherings": [0]}', "at least one"),
        ('{"trim_mm": [210, 297], "sheet_mm": [483, 329], "gatherings": [1.5]}', "whole numbers"),
        (
            '{"trim_mm": [1, 2], "sheet_mm": [3, 4], "gatherings": [1], "turning": "left"}',
            "turning",
        ),
    ],
)
def test_a_wrong_description_is_refused(text: str, said: str) -> None:
    with pytest.raises(UserError, match=said) as caught:
        Folding.from_json(text)
    assert "trim_mm" in caught.value.remedy

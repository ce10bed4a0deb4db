"""Printed pieces of the cover are true to a tenth of a millimetre in the PDF.

Measured in the content streams with pikepdf; sheets are 329 x 483 mm (a trade size).
"""

import pytest

from tests.bench.making import gather
from tests.bench.pdf_lines import Line, read_lines
from tests.case.making import make_book
from wayfold.bench.case_sheets import draw_case_sheets
from wayfold.bench.worksheet import choose_hand
from wayfold.book.casing import CaseStyle
from wayfold.case.art import FRAME_IN
from wayfold.case.work import CaseWork, prepare_case
from wayfold.drawing.items import Drawing, Placed
from wayfold.typeset.engine import Typesetter

TRUE = 0.1


def draw(style: CaseStyle) -> tuple[CaseWork, tuple[Drawing, ...]]:
    work = prepare_case(make_book(style=style), gather(2, 2, 2, 2, 2, 2))
    return work, draw_case_sheets(work, choose_hand(work.book.style))


def has(lines: list[Line], x1: float, y1: float, x2: float, y2: float) -> bool:
    wanted = (x1, y1, x2, y2)
    return any(all(abs(a - b) < TRUE for a, b in zip(line, wanted, strict=True)) for line in lines)


def test_the_front_is_as_large_as_its_board_shows() -> None:
    work, sheets = draw(CaseStyle.QUARTER_CLOTH)
    first = work.printed.sheets[0]
    lines = read_lines(sheets[1], Typesetter())
    front = next(p for p in first.placed if p.piece.name == "front side").box
    # The frame stands FRAME_IN inside the board's edges; turn-ins of 16 mm lie outside of them.
    left, right = front.x + FRAME_IN, front.right - 16.0 - FRAME_IN
    head, foot = front.y + 16.0 + FRAME_IN, front.bottom - 16.0 - FRAME_IN
    assert foot - head == pytest.approx(303.0 - 2 * FRAME_IN)
    for y in (head, foot):
        assert has(lines, left, y, right, y)


@pytest.mark.parametrize("style", [CaseStyle.QUARTER_CLOTH, CaseStyle.THREE_PIECE])
def test_marks_stand_at_the_corners_and_off_the_piece(style: CaseStyle) -> None:
    work, sheets = draw(style)
    typesetter = Typesetter()
    for printed, drawing in zip(work.printed.sheets, sheets[1:], strict=True):
        assert drawing.size == printed.size
        lines = read_lines(drawing, typesetter)
        for placed in printed.placed:
            box = placed.box
            marks = [x for x in lines if abs(x[0] - x[2]) < 1e-3 and abs(x[0] - box.x) < TRUE]
            assert any(min(m[1], m[3]) > box.bottom for m in marks)
            for x1, y1, x2, y2 in lines:
                # No mark or line of another piece runs into this one.
                inside = box.x + 1 < min(x1, x2) < box.right - 1 and box.y + 1 < y1 < box.bottom - 1
                if inside:
                    assert max(x1, x2) < box.right
                    assert max(y1, y2) < box.bottom


def test_a_cover_too_large_is_drawn_small_and_said() -> None:
    work, sheets = draw(CaseStyle.PRINTED_CLOTH)
    assert len(sheets) == 1
    scaled = [i for i in sheets[0].items if isinstance(i, Placed)]
    assert scaled
    assert [piece.name for piece, _ in work.printed.refused] == ["cover"]

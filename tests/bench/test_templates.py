"""Templates are true to a tenth of a millimetre in the PDF: measured in its content streams."""

import pytest

from tests.bench.making import gather
from tests.bench.pdf_lines import Line, read_lines
from tests.case.making import make_book
from wayfold.bench.figures_case import mitre_leg
from wayfold.bench.templates import draw_templates
from wayfold.bench.worksheet import choose_hand
from wayfold.case.printing import find_printable
from wayfold.case.work import CaseWork, prepare_case
from wayfold.drawing.items import Drawing
from wayfold.typeset.engine import Typesetter

TRUE = 0.1


@pytest.fixture(scope="module")
def work() -> CaseWork:
    return prepare_case(make_book((148.0, 210.0, 3.0)), gather(2, 2, 2, 2))


@pytest.fixture(scope="module")
def templates(work: CaseWork) -> dict[str, Drawing]:
    drawn = draw_templates(work, choose_hand(work.book.style))
    return {drawing.label: drawing for drawing in drawn}


@pytest.fixture(scope="module")
def lines(templates: dict[str, Drawing]) -> dict[str, list[Line]]:
    typesetter = Typesetter()
    return {label: read_lines(drawing, typesetter) for label, drawing in templates.items()}


def level(lines: list[Line]) -> list[Line]:
    return [line for line in lines if abs(line[1] - line[3]) < 1e-3]


def upright(lines: list[Line]) -> list[Line]:
    return [line for line in lines if abs(line[0] - line[2]) < 1e-3]


def test_there_is_one_for_every_job(templates: dict[str, Drawing]) -> None:
    assert set(templates) == {"pricking strip", "mitre template", "pocket template"}


def test_each_carries_a_ruler_and_a_square_of_100_mm(lines: dict[str, list[Line]]) -> None:
    for drawn in lines.values():
        wide = [x for x in level(drawn) if abs(x[2] - x[0] - 100) < TRUE]
        high = [x for x in upright(drawn) if abs(abs(x[3] - x[1]) - 100) < TRUE]
        # The ruler, and two sides of the square each way.
        assert len(wide) >= 3
        assert len(high) >= 2
        ticks = sorted(x[0] for x in upright(drawn) if 1.5 < abs(x[3] - x[1]) < 4.1)
        ruler = [t for t in ticks if any(abs(t - w[0]) < 100.1 for w in wide)]
        assert len(ruler) >= 101


def test_the_holes_are_where_they_are_to_be(work: CaseWork, lines: dict[str, list[Line]]) -> None:
    drawn = lines["pricking strip"]
    head = min(line[1] for line in level(drawn) if abs(line[2] - line[0] - 46) < TRUE)
    tail = max(line[1] for line in level(drawn) if abs(line[2] - line[0] - 46) < TRUE)
    assert tail - head == pytest.approx(297.0, abs=TRUE)
    found = sorted(line[1] - head for line in level(drawn) if abs(line[2] - line[0] - 10) < TRUE)
    assert found == pytest.approx(work.stations.holes, abs=TRUE)


def test_the_mitre_is_cut_at_45_degrees_one_and_a_half_boards_from_the_corner(
    work: CaseWork, lines: dict[str, list[Line]]
) -> None:
    """1.5 board thicknesses (a college's jig: 3 mm for a board of 2)."""
    u, leg = work.case.casing.turn_in, mitre_leg(work.case)
    slants = [
        x
        for x in lines["mitre template"]
        if abs(abs(x[2] - x[0]) - leg) < TRUE and abs(abs(x[3] - x[1]) - leg) < TRUE
    ]
    assert slants
    (x1, y1, x2, y2) = slants[0]
    # The corner of the board lies a turn-in inside both edges of the cloth.
    left, top = min(x1, x2), min(y1, y2)
    corner = (left + u, top + u)
    distance = abs((corner[0] - left) + (corner[1] - top) - leg) / 2**0.5
    assert distance == pytest.approx(3.0, abs=TRUE)


def test_the_pocket_is_as_large_as_it_is_cut(work: CaseWork, lines: dict[str, list[Line]]) -> None:
    assert work.pocket is not None
    blank, drawn = work.pocket.blank, lines["pocket template"]
    assert any(abs(x[2] - x[0] - blank.width) < TRUE for x in level(drawn))
    folds = sorted({round(x[0], 2) for x in upright(drawn) if abs(x[3] - x[1]) > 150})
    left = folds[0]
    for fold in work.pocket.folds_x:
        assert any(abs(x - left - fold) < TRUE for x in folds)


def test_all_lies_on_what_the_printer_reaches(
    work: CaseWork, templates: dict[str, Drawing], lines: dict[str, list[Line]]
) -> None:
    for label, drawing in templates.items():
        room = find_printable(drawing.size, work.book.printer)
        for x1, y1, x2, y2 in lines[label]:
            assert room.x <= x1 <= x2 <= room.right
            assert room.y <= min(y1, y2) <= max(y1, y2) <= room.bottom

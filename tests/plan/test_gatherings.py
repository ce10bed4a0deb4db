"""Sheets in a gathering by the paper's thickness."""

from typing import Any

import pytest

from wayfold.base.findings import Severity
from wayfold.book.materials import Binding, Paper
from wayfold.plan.gatherings import (
    allow_sheets,
    closed_thickness,
    find_thick_gatherings,
)
from wayfold.plan.model import Gathering

# Indiana University Libraries, Book Repair Manual, "Making a casebound book": sheets in a
# gathering by kind of paper. The thicknesses to the kinds are common practice.
INDIANA = [(80, 5, 6), (100, 4, 5), (120, 3, 4), (150, 3, 4), (200, 2, 3), (240, 2, 3)]


def allow(caliper_um: float, **binding: Any) -> tuple[int, int, int]:
    sheets, _ = allow_sheets(Paper(caliper_um=caliper_um), Binding(**binding))
    assert sheets is not None
    return sheets.least, sheets.preferred, sheets.most


@pytest.mark.parametrize(("caliper_um", "fewest", "most"), INDIANA)
def test_preferred_sheets_agree_with_indiana(caliper_um: int, fewest: int, most: int) -> None:
    least, preferred, greatest = allow(caliper_um)
    assert fewest <= preferred <= most
    assert least <= fewest
    assert greatest >= most


@pytest.mark.parametrize("caliper_um", [70, 80, 100, 120, 150, 200, 240])
def test_preferred_gathering_is_as_thick_as_the_handbooks_like(caliper_um: int) -> None:
    _, preferred, _ = allow(caliper_um)
    assert 0.7 < closed_thickness(preferred, caliper_um) <= 1.2


def test_worked_thickness() -> None:
    assert closed_thickness(2, 240) == pytest.approx(0.96)
    assert closed_thickness(3, 240) == pytest.approx(1.44)


@pytest.mark.parametrize("caliper_um", range(40, 2000, 7))
def test_gatherings_by_caliper_keep_under_the_ceiling(caliper_um: int) -> None:
    # 0.065 in: Roberts & Etherington, "section", for bulky paper.
    least, preferred, most = allow(caliper_um)
    assert 1 <= least <= preferred <= most
    assert most == 1 or closed_thickness(most, caliper_um) <= 0.065 * 25.4 + 0.001


def test_paper_too_heavy_for_one_sheet_gets_one_and_a_warning() -> None:
    sheets, findings = allow_sheets(Paper(caliper_um=900), Binding())
    assert sheets is not None
    assert sheets.sizes == (1,)
    assert [f.severity for f in findings] == [Severity.WARN]
    assert "1.80 mm" in findings[0].message


def test_the_person_overrides() -> None:
    assert allow(240, sheets_min=4, sheets_max=6, sheets_preferred=5) == (4, 5, 6)
    assert allow(240, sheets_max=1) == (1, 1, 1)
    assert allow(240, sheets_min=5) == (5, 5, 5)
    assert allow(100, sheets_preferred=3) == (2, 3, 6)


def test_a_preference_out_of_range_is_said() -> None:
    sheets, findings = allow_sheets(Paper(caliper_um=240), Binding(sheets_preferred=9))
    assert sheets is not None
    assert sheets.preferred == sheets.most
    assert "9 sheets" in findings[0].message


@pytest.mark.parametrize(
    ("paper", "binding", "word"),
    [
        (Paper(), Binding(sheets_min=5, sheets_max=3), "at least 5"),
        (Paper(), Binding(sheets_min=0), "at least one"),
        (Paper(caliper_um=0.0), Binding(), "thickness"),
        (Paper(caliper_um=float("nan")), Binding(), "thickness"),
    ],
)
def test_what_cannot_be_is_said(paper: Paper, binding: Binding, word: str) -> None:
    sheets, findings = allow_sheets(paper, binding)
    assert sheets is None
    assert findings[-1].severity is Severity.BLOCK
    assert word in findings[-1].message
    assert findings[-1].remedy


def test_a_thick_gathering_is_named() -> None:
    gatherings = [Gathering(1, 3, 1), Gathering(2, 4, 13)]
    (finding,) = find_thick_gatherings(gatherings, Paper(caliper_um=240))
    assert finding.where == "gathering 2"
    assert "1.92 mm" in finding.message

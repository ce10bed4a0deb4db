"""Sheets printed by hand: fronts first, then the backs on the turned pile."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pikepdf
import pytest

from tests.checks import imposer
from tests.checks.test_refold_faults import told
from wayfold.base.errors import UserError
from wayfold.base.geometry import Size
from wayfold.base.progress import NoProgress
from wayfold.checks.refold.by_hand import print_by_hand
from wayfold.checks.refold.fold import refold
from wayfold.checks.refold.folding import DrawnIn, Folding, Turning
from wayfold.checks.refold.report import RefoldReport

HAND = Folding(Size(105, 148), Size(240, 170), (3, 2), Turning.MANUAL)


@pytest.fixture(scope="module")
def book() -> list[str]:
    return imposer.draw_book(HAND.pages, HAND.trim, HAND.bleed)


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory, book: list[str]) -> Path:
    folder = tmp_path_factory.mktemp("hand")
    imposer.write_reading(folder / "reading.pdf", book, HAND)
    imposer.write_sheets(folder / "sheets.pdf", imposer.impose(HAND), book, HAND)
    return folder


def take(source: Path, sides: list[int], target: Path) -> Path:
    with pikepdf.open(source) as whole, pikepdf.new() as part:
        for side in sides:
            part.pages.append(whole.pages[side])
        part.save(target)
    return target


def prove(sheets: Path, files: Path, folding: Folding) -> RefoldReport:
    return refold(sheets, folding, files / "reading.pdf", NoProgress(), workers=1)


# Common practice: a pile turned as one is fed in the same order, or from its other end.
@pytest.mark.parametrize("printer", list(DrawnIn))
@pytest.mark.parametrize("file", list(DrawnIn))
def test_backs_meet_their_fronts_in_the_order_that_was_set(
    files: Path, tmp_path: Path, printer: DrawnIn, file: DrawnIn
) -> None:
    fronts = take(files / "sheets.pdf", [0, 2, 4, 6, 8], tmp_path / "fronts.pdf")
    order = [1, 3, 5, 7, 9] if file is DrawnIn.SAME else [9, 7, 5, 3, 1]
    backs = take(files / "sheets.pdf", order, tmp_path / "backs.pdf")
    folding = replace(HAND, drawn_in=printer)
    printed = print_by_hand(fronts, backs, folding, tmp_path / "printed.pdf")
    report = prove(printed, files, folding)
    assert report.ok is (printer is file), told(report)


def test_a_pile_turned_about_its_long_edge_is_caught(files: Path, tmp_path: Path) -> None:
    turned = [replace(side, turned=bool(n % 2)) for n, side in enumerate(imposer.impose(HAND))]
    book = imposer.draw_book(HAND.pages, HAND.trim, HAND.bleed)
    sheets = imposer.write_sheets(tmp_path / "sheets.pdf", turned, book, HAND)
    assert not prove(sheets, files, HAND).ok


def test_a_lost_back_and_one_too_many(files: Path, tmp_path: Path) -> None:
    fronts = take(files / "sheets.pdf", [0, 2, 4, 6, 8], tmp_path / "fronts.pdf")
    backs = take(files / "sheets.pdf", [1, 3, 5, 7], tmp_path / "backs.pdf")
    printed = print_by_hand(fronts, backs, HAND, tmp_path / "printed.pdf")
    assert not prove(printed, files, HAND).ok
    with pytest.raises(UserError, match="5 backs for 4 fronts"):
        few = take(files / "sheets.pdf", [0, 2, 4, 6], tmp_path / "few.pdf")
        many = take(files / "sheets.pdf", [1, 3, 5, 7, 9], tmp_path / "many.pdf")
        print_by_hand(few, many, HAND, tmp_path / "printed.pdf")


def test_the_order_is_kept_as_json() -> None:
    known = replace(HAND, drawn_in=DrawnIn.REVERSED)
    assert Folding.from_json(known.to_json()) == known
    with pytest.raises(UserError, match="drawn_in"):
        Folding.from_json({**known.to_json(), "drawn_in": "shuffled"})

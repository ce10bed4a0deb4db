"""Right print files pass: several sizes, duplex edges, gatherings, trimmed and not."""

import random
from dataclasses import replace
from pathlib import Path

import pytest

from tests.checks import imposer
from wayfold.base.errors import UserError
from wayfold.base.geometry import Size
from wayfold.base.progress import NoProgress
from wayfold.checks.refold.fold import refold
from wayfold.checks.refold.folding import Folding, Turning

# Page and sheet sizes: ISO 216 (A series), ANSI sizes A and B, and the trade's A3+ (329 x 483 mm).
A4, A5, LETTER = Size(210, 297), Size(148, 210), Size(215.9, 279.4)
A3_PLUS, A4_ACROSS, TABLOID = Size(483, 329), Size(297, 210), Size(431.8, 279.4)

BOOKS = {
    "A4 on A3+": Folding(A4, A3_PLUS, (2, 1)),
    "A4 for the long edge": Folding(A4, A3_PLUS, (2,), Turning.LONG_EDGE),
    "A4 turned by hand": Folding(A4, A3_PLUS, (1,), Turning.MANUAL),
    "A4 untrimmed": Folding(A4, A3_PLUS, (3,), trim_fore_edge=False),
    "A5 on A4, no room for bleed": Folding(A5, A4_ACROSS, (4,), bleed=0.0, caliper_um=110),
    "A5 on A4, untrimmed, long edge": Folding(
        A5, A4_ACROSS, (2,), Turning.LONG_EDGE, bleed=0.0, trim_fore_edge=False
    ),
    "square": Folding(Size(200, 200), A3_PLUS, (2,)),
    "Letter on tabloid": Folding(LETTER, TABLOID, (2,), bleed=0.0),
    "landscape": Folding(Size(210, 148), A3_PLUS, (2,)),
    "narrow, on an upright sheet": Folding(Size(70, 160), Size(180, 200), (2,), Turning.LONG_EDGE),
    "five sheets": Folding(Size(90, 120), Size(210, 150), (5,)),
    "eight sheets": Folding(Size(90, 120), Size(210, 150), (8,), caliper_um=100),
}


@pytest.mark.parametrize("name", BOOKS)
def test_right_files_pass(name: str, tmp_path: Path) -> None:
    folding = BOOKS[name]
    book = imposer.draw_book(folding.pages, folding.trim, folding.bleed)
    reading = imposer.write_reading(tmp_path / "reading.pdf", book, folding)
    sides = imposer.impose(folding)
    if folding.sheet.width < folding.sheet.height:
        # The long edges of an upright sheet stand upright: about them nothing stands on its head.
        sides = [replace(s, turned=False) for s in sides]
    sheets = imposer.write_sheets(tmp_path / "sheets.pdf", sides, book, folding)
    report = refold(sheets, folding, reading, NoProgress(), workers=1)
    assert [f.message for f in report.findings] == []
    assert report.ok
    assert [p.found_as for p in report.pages] == list(range(1, folding.pages + 1))
    assert report.measured >= folding.pages - 2
    assert report.largest_offset <= 0.1


@pytest.mark.parametrize("turning", [Turning.SHORT_EDGE, Turning.LONG_EDGE])
def test_offsets_are_measured_to_a_twentieth_of_a_millimetre(
    turning: Turning, tmp_path: Path
) -> None:
    """Pages are laid off their place by known amounts; the report must give them back."""
    folding = Folding(Size(105, 148), Size(240, 170), (3,), turning)
    chance = random.Random(11)
    book = imposer.draw_book(folding.pages, folding.trim, folding.bleed)
    laid_off: dict[int | None, tuple[float, float]] = {}
    sides = []
    for side in imposer.impose(folding):
        for half in ("left", "right"):
            laid: imposer.Laid = getattr(side, half)
            off = chance.uniform(-0.9, 0.9), chance.uniform(-0.9, 0.9)
            laid_off[laid.page] = off
            side = imposer.change(side, half, dx=laid.dx + off[0], dy=off[1])
        sides.append(side)
    reading = imposer.write_reading(tmp_path / "reading.pdf", book, folding)
    sheets = imposer.write_sheets(tmp_path / "sheets.pdf", sides, book, folding)
    report = refold(sheets, folding, reading, NoProgress(), workers=1)
    measured = [p for p in report.pages if p.dx is not None and p.dy is not None]
    assert len(measured) == folding.pages - 1
    for page in measured:
        assert (page.dx, page.dy) == pytest.approx(laid_off[page.number], abs=0.05)


def test_two_processes_say_the_same_as_one(tmp_path: Path) -> None:
    folding = Folding(Size(90, 120), Size(210, 150), (4, 4))
    book = imposer.draw_book(folding.pages, folding.trim, folding.bleed)
    reading = imposer.write_reading(tmp_path / "reading.pdf", book, folding)
    sides = imposer.impose(folding)
    sides[0], sides[1] = sides[1], sides[0]
    sheets = imposer.write_sheets(tmp_path / "sheets.pdf", sides, book, folding)
    alone = refold(sheets, folding, reading, NoProgress(), workers=1)
    together = refold(sheets, folding, reading, NoProgress(), workers=2)
    assert alone.to_json() == together.to_json()
    assert [f.rule for f in alone.findings] == ["refold.front-and-back-exchanged"]


def test_pages_alike_raise_no_alarm(tmp_path: Path) -> None:
    """Blank pages and pages with the same picture are the right ones wherever they stand."""
    folding = Folding(Size(90, 120), Size(210, 150), (3,))
    pages = imposer.draw_book(folding.pages, folding.trim, folding.bleed)
    book = [pages[1], "", pages[1], "", *pages[4:8], pages[1], "", "", pages[1]]
    reading = imposer.write_reading(tmp_path / "reading.pdf", book, folding)
    sides = imposer.impose(folding)
    sheets = imposer.write_sheets(tmp_path / "sheets.pdf", sides, book, folding)
    assert refold(sheets, folding, reading, NoProgress(), workers=1).ok
    sides[3] = replace(sides[3], turned=True)  # pages 4 (blank) and 9 (alike with 1, 3, 12)
    sheets = imposer.write_sheets(tmp_path / "sheets.pdf", sides, book, folding)
    report = refold(sheets, folding, reading, NoProgress(), workers=1)
    assert [f.message for f in report.findings] == [
        "The back of gathering 1, sheet 2 is turned by 180°."
    ]


def test_a_tinted_page_is_too_plain_to_measure_and_says_so(tmp_path: Path) -> None:
    folding = Folding(Size(90, 120), Size(210, 150), (1,))
    book = imposer.draw_book(4, folding.trim, folding.bleed)
    book[1] = "0.8 0.7 0.6 rg -20 -20 800 800 re f"
    reading = imposer.write_reading(tmp_path / "reading.pdf", book, folding)
    sheets = imposer.write_sheets(tmp_path / "s.pdf", imposer.impose(folding), book, folding)
    report = refold(sheets, folding, reading, NoProgress(), workers=1)
    assert report.ok
    assert report.pages[1].offset is None
    assert report.pages[1].words == "the right page, too plain to measure"


def test_the_reports_json_says_what_the_report_says(tmp_path: Path) -> None:
    folding = Folding(Size(90, 120), Size(210, 150), (1,))
    book = imposer.draw_book(4, folding.trim, folding.bleed)
    reading = imposer.write_reading(tmp_path / "reading.pdf", book, folding)
    sheets = imposer.write_sheets(tmp_path / "s.pdf", imposer.impose(folding), book, folding)
    report = refold(sheets, folding, reading, NoProgress(), workers=1)
    data = report.to_json()
    assert data["schema"] == "wayfold.refold/1"
    assert data["ok"] is True and data["findings"] == []
    assert [p["found_as"] for p in data["pages"]] == [1, 2, 3, 4]
    assert Folding.from_json(data["folding"]) == folding


@pytest.mark.parametrize("which", ["missing", "not a PDF"])
def test_files_that_cannot_be_read(which: str, tmp_path: Path) -> None:
    folding = Folding(Size(90, 120), Size(210, 150), (1,))
    bad = tmp_path / "sheets.pdf"
    if which == "not a PDF":
        bad.write_text("nothing of the kind")
    with pytest.raises(UserError) as caught:
        refold(bad, folding, bad, NoProgress())
    assert "sheets.pdf" in caught.value.where and caught.value.remedy


def test_a_book_of_another_size_is_refused(tmp_path: Path) -> None:
    folding = Folding(Size(90, 120), Size(210, 150), (1,))
    book = imposer.draw_book(4, folding.trim, folding.bleed)
    reading = imposer.write_reading(tmp_path / "reading.pdf", book, folding)
    sheets = imposer.write_sheets(tmp_path / "s.pdf", imposer.impose(folding), book, folding)
    with pytest.raises(UserError, match=r"90\.0 x 120\.0 mm"):
        refold(sheets, replace(folding, trim=Size(100, 120)), reading, NoProgress())


def test_sheets_of_another_size_are_named(tmp_path: Path) -> None:
    folding = Folding(Size(90, 120), Size(210, 150), (1,))
    book = imposer.draw_book(4, folding.trim, folding.bleed)
    reading = imposer.write_reading(tmp_path / "reading.pdf", book, folding)
    sheets = imposer.write_sheets(tmp_path / "s.pdf", imposer.impose(folding), book, folding)
    other = replace(folding, sheet=Size(297, 210))
    report = refold(sheets, other, reading, NoProgress(), workers=1)
    assert [f.rule for f in report.findings] == ["refold.sheet-size"]
    assert not report.ok


def test_a_title_page_of_another_scale_is_still_known(tmp_path: Path) -> None:
    """Two short lines far apart cannot tell a scale by themselves; the pages round them can."""
    folding = Folding(A4, A3_PLUS, (1,))
    book = imposer.draw_book(4, A4, folding.bleed)
    book[0] = imposer.write_line("Harbour", 80, 270, 30) + imposer.write_line("salt", 95, 15, 9)
    reading = imposer.write_reading(tmp_path / "reading.pdf", book, folding)
    sides = [replace(side, scale=0.99) for side in imposer.impose(folding)]
    sheets = imposer.write_sheets(tmp_path / "s.pdf", sides, book, folding)
    report = refold(sheets, folding, reading, NoProgress(), workers=1)
    assert report.pages[0].found_as == 1
    assert [f.message for f in report.findings] == ["The scale is 99 %."]

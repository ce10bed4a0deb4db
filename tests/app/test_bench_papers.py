"""The papers for the bench are made with the print files, each only when it has changed."""

import json
from pathlib import Path

import pypdfium2
from click.testing import CliRunner
from pypdfium2.raw import FPDF_PAGEOBJ_IMAGE

from tests.trip.journey_world import shots, travel
from wayfold.app.cover import wants_route
from wayfold.app.make import make_book
from wayfold.base.progress import NoProgress
from wayfold.book.casing import BenchChoices, CaseStyle, Casing
from wayfold.book.state import Book
from wayfold.cli.main import wayfold

NAMES = ("case.pdf", "bench.pdf", "templates.pdf", "dummy.pdf")
MM_PER_PT = 25.4 / 72


def change(root: Path, name: str, old: str, new: str) -> None:
    path = root / name
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def sizes(path: Path) -> list[tuple[float, float]]:
    pdf = pypdfium2.PdfDocument(path)
    return [tuple(round(v * MM_PER_PT, 2) for v in page.get_size()) for page in pdf]  # type: ignore[misc]


def test_all_papers_are_there(book: Path) -> None:
    out = book / "out"
    assert all((out / name).stat().st_size > 1000 for name in NAMES)
    # Printed pieces and templates are as large as their sheets: 329 x 483 mm, A4, A3 (ISO 216).
    assert (329.0, 483.0) in sizes(out / "case.pdf")
    assert {(210.0, 297.0), (297.0, 420.0)} >= set(sizes(out / "templates.pdf"))
    assert set(sizes(out / "bench.pdf")) == {(210.0, 297.0)}
    assert set(sizes(out / "dummy.pdf")) == {(210.0, 148.0)}


def test_a_new_text_leaves_the_papers_without_it_alone(book: Path) -> None:
    stamps = {name: (book / "out" / name).stat().st_mtime_ns for name in NAMES}
    change(book, "texts/foreword.md", "west", "far west")
    make_book(book, NoProgress())
    after = {name: (book / "out" / name).stat().st_mtime_ns for name in NAMES}
    assert after["case.pdf"] == stamps["case.pdf"]
    assert after["templates.pdf"] == stamps["templates.pdf"]
    assert after["dummy.pdf"] != stamps["dummy.pdf"]


def test_a_measured_block_changes_the_case(book: Path) -> None:
    before = (book / "out" / "case.pdf").read_bytes()
    with (book / "book.toml").open("a", encoding="utf-8") as file:
        file.write("\n[case]\nblock_mm = 6.0\n")
    make_book(book, NoProgress())
    assert (book / "out" / "case.pdf").read_bytes() != before


def test_a_lost_paper_is_made_again(book: Path) -> None:
    (book / "out" / "bench.pdf").unlink()
    make_book(book, NoProgress())
    assert (book / "out" / "bench.pdf").exists()


def test_the_case_is_told(book: Path) -> None:
    told = CliRunner().invoke(wayfold, ["case", str(book)], standalone_mode=False)
    assert "Pieces" in told.output
    # A4 pages of 210 x 297 mm: boards 3.5 narrower and 2 x 3 higher.
    assert "2 × board: 206.5 × 303.0 mm" in told.output
    as_json = CliRunner().invoke(wayfold, ["case", str(book), "--json"], standalone_mode=False)
    report = json.loads(as_json.stdout)
    assert report["schema"] == "wayfold.case/1"
    assert report["board"] == {"width": 206.5, "height": 303.0, "thickness": 2.0}
    assert len(report["sewing"]["holes"]) == 8


def test_inches_are_questioned_before_anything_is_printed(book: Path) -> None:
    with (book / "book.toml").open("a", encoding="utf-8") as file:
        file.write("\n[case]\nturn_in_mm = 0.625\n")
    told = CliRunner().invoke(wayfold, ["case", str(book)], standalone_mode=False)
    assert "looks like inches" in told.output
    assert told.return_value == 1


def test_a_photograph_on_the_cover_is_printed_at_full_weight(book: Path) -> None:
    """300 pixels an inch, read back with PDFium: as the pages' own pictures."""
    with (book / "book.toml").open("a", encoding="utf-8") as file:
        file.write('\n[case]\nphoto = "IMG 00 é🏔.jpg"\n')
    report = make_book(book, NoProgress())
    assert not [f for f in report.findings if f.rule == "cover-photo"]
    pdf = pypdfium2.PdfDocument(book / "out" / "case.pdf")
    images = [o for page in pdf for o in page.get_objects() if o.type == FPDF_PAGEOBJ_IMAGE]
    assert images
    # 1200 pixels cannot give 300 an inch on some 150 mm; not one of them is thrown away, though.
    assert max(image.get_px_size()[0] for image in images) >= 1200


def test_a_cover_photograph_that_is_not_there_is_said(book: Path) -> None:
    with (book / "book.toml").open("a", encoding="utf-8") as file:
        file.write('\n[case]\nphoto = "nothing.jpg"\n')
    (found,) = [f for f in make_book(book, NoProgress()).findings if f.rule == "cover-photo"]
    assert "nothing.jpg" in found.message


def test_a_cover_bears_the_line_of_a_journey_of_three_places_or_more() -> None:
    """Two towns have no line; three do, unless a photograph or plain cloth takes its place."""
    three = travel(shots("Bilbao 2025-05-03T10:00 120", "Lisbon 2025-05-07T18:00 60",
                         "Barcelona 2025-05-12T10:00 120"))  # fmt: skip
    two = travel(shots("Bilbao 2025-05-03T10:00 120", "Lisbon 2025-05-07T18:00 60"))
    assert wants_route(Book("A"), three)
    assert not wants_route(Book("A"), two)
    for casing in (Casing(route=False), Casing(photo="a.jpg"), Casing(style=CaseStyle.FULL_CLOTH)):
        assert not wants_route(Book("A", bench=BenchChoices(casing=casing)), three)

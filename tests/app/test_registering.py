"""The registration sheet of a book, from the print to the corrected backs that still fold right."""

from __future__ import annotations

import json
from pathlib import Path

import pypdf
import pytest
from PIL import Image

from wayfold.app.make import make_book
from wayfold.app.refold import refold_folder
from wayfold.app.registering import keep_readings, make_registration_sheet, read_picture
from wayfold.base.errors import UserError
from wayfold.base.geometry import Point
from wayfold.base.progress import NoProgress
from wayfold.base.units import pt_from_mm
from wayfold.cli.main import run
from wayfold.project.files import BookFolder
from wayfold.project.store import load_book

READ = {"A": Point(0.4, -0.3), "B": Point(0.6, 0.5), "C": Point(-0.2, -0.4), "D": Point(0.1, 0.6)}


def test_the_sheet_has_two_sides_of_the_papers_size(book: Path) -> None:
    reader = pypdf.PdfReader(make_registration_sheet(book, NoProgress()))
    assert len(reader.pages) == 2
    for page in reader.pages:
        # A3+ as it lies in the printer: 483 x 329 mm.
        assert float(page.mediabox.width) == pytest.approx(pt_from_mm(483), abs=0.02)
        assert float(page.mediabox.height) == pytest.approx(pt_from_mm(329), abs=0.02)
    words = " ".join(reader.pages[0].extract_text().split())
    assert "100 %" in words and "mind your fingers" in words


def test_corrected_backs_fold_and_uncorrected_ones_are_named(book: Path) -> None:
    keep_readings(book, READ, across=423.8, along=288.7)
    make_book(book, NoProgress())
    report = refold_folder(book, NoProgress())
    assert report.ok, [f.message for f in report.findings]
    # Told of a printer that does nothing, the same file is wrong, and the proof says how.
    plan = book / "out" / "plan.json"
    told = json.loads(plan.read_text("utf-8"))
    told["folding"] |= {"front_lands": [1, 0, 0, 1, 0, 0], "back_lands": [1, 0, 0, 1, 0, 0]}
    plan.write_text(json.dumps(told), "utf-8")
    wrong = refold_folder(book, NoProgress())
    assert not wrong.ok
    assert any("mm too far" in f.message or "scale" in f.message for f in wrong.findings)


def test_readings_are_kept_beside_what_was_there(book: Path) -> None:
    folder = BookFolder(book)
    folder.book_file.write_text("# ours\n" + folder.book_file.read_text("utf-8"), "utf-8")
    keep_readings(book, {"B": Point(0.5, 0.0)}, across=423.2)
    keep_readings(book, {"C": Point(-0.5, 0.1)})
    read = load_book(folder).book.registration
    assert read is not None
    assert read.offsets == (Point(0, 0), Point(0.5, 0.0), Point(-0.5, 0.1), Point(0, 0))
    assert read.across == 423.2
    assert folder.book_file.read_text("utf-8").startswith("# ours\n")


@pytest.mark.parametrize(
    ("marks", "lengths", "said"),
    [
        ({"E": Point(0.1, 0.1)}, {}, "no mark 'E'"),
        ({"A": Point(30.0, 0.0)}, {}, "30 mm"),
        ({}, {"across": 16.65}, "far from"),  # inches
        ({}, {"along": 2890.0}, "far from"),
    ],
)
def test_readings_that_no_printer_gives_are_refused(
    book: Path, marks: dict[str, Point], lengths: dict[str, float], said: str
) -> None:
    before = BookFolder(book).book_file.read_bytes()
    with pytest.raises(UserError) as caught:
        keep_readings(book, marks, **lengths)
    assert said in caught.value.what
    assert caught.value.remedy
    assert BookFolder(book).book_file.read_bytes() == before


def test_a_picture_without_the_marks_is_refused_with_what_to_do(book: Path, tmp_path: Path) -> None:
    for name, image in (
        ("white.png", Image.new("L", (1600, 1090), 240)),
        ("small.png", Image.new("L", (400, 272), 240)),
    ):
        image.save(tmp_path / name)
        with pytest.raises(UserError) as caught:
            read_picture(book, tmp_path / name)
        assert caught.value.remedy
    (tmp_path / "words.png").write_text("no picture")
    with pytest.raises(UserError) as caught:
        read_picture(book, tmp_path / "words.png")
    assert "cannot be read" in caught.value.what


def test_the_command_takes_readings(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    words = ["register", str(book), "--mark", "a", "0.3", "-0.1", "--json"]
    assert run(words) == 0
    assert json.loads(capsys.readouterr().out)["offsets_mm"]["A"] == [0.3, -0.1]


def test_a_misread_mark_is_noticed(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A shift with a slant goes together; one mark a millimetre off does not (affine geometry)."""
    slanted = ["--mark", "A", "0.1", "0", "--mark", "B", "0.4", "0.2"]
    slanted += ["--mark", "C", "0.1", "0.3", "--mark", "D", "0.4", "0.5"]
    assert run(["register", str(book), *slanted]) == 0
    assert "at odds" not in capsys.readouterr().out
    assert run(["register", str(book), "--mark", "D", "1.4", "0.5"]) == 0
    assert "1.0 mm at odds" in capsys.readouterr().out

"""The whole path: what is made, what is made again, and what is left alone."""

import errno
import json
import os
import shutil
import subprocess
import sys
import tomllib
from datetime import datetime
from pathlib import Path

import pypdf
import pytest

from tests.app.conftest import paint
from tests.desk_book import PORTO
from wayfold.app import build
from wayfold.app.check import check_folder
from wayfold.app.made import is_current, read_made
from wayfold.app.make import make_book
from wayfold.app.refold import refold_folder
from wayfold.app.reports import describe_checks
from wayfold.base.errors import NotFoundError, UserError
from wayfold.base.memory import Memory
from wayfold.base.progress import NoProgress
from wayfold.base.units import pt_from_mm
from wayfold.book.edits import SetCaption, SetText
from wayfold.plan.paper import sheet_of
from wayfold.project.files import BookFolder
from wayfold.project.store import write_edit


def contents(folder: Path) -> dict[str, bytes]:
    return {p.name: p.read_bytes() for p in folder.iterdir() if p.is_file()}


def test_a_make_leaves_the_print_files(book: Path) -> None:
    out = contents(book / "out")
    papers = {"case.pdf", "bench.pdf", "templates.pdf", "dummy.pdf"}
    papers |= {"trial.pdf", "proof.pdf", "turning.pdf"}
    printed = {"reading.pdf", "sheets.pdf", "plan.pdf", "plan.json", "checks.json"}
    assert set(out) == printed | papers
    plan = json.loads(out["plan.json"])
    reading = pypdf.PdfReader(book / "out" / "reading.pdf")  # an independent reader
    assert len(reading.pages) == len(plan["pages"]) == 4 * sum(plan["folding"]["gatherings"])
    sheets = pypdf.PdfReader(book / "out" / "sheets.pdf")
    assert len(sheets.pages) == 2 * sum(plan["folding"]["gatherings"])
    drawn = pypdf.PdfReader(book / "out" / "plan.pdf")
    assert len(drawn.pages) == 1 + len(plan["folding"]["gatherings"])
    # ISO 216 A4 and its 3 mm bleed, read back from the boxes (ISO 32000-1, 14.11.2).
    page = reading.pages[0]
    for box, size in ((page.trimbox, (210, 297)), (page.mediabox, (216, 303))):
        assert float(box.width) == pytest.approx(pt_from_mm(size[0]), abs=0.01)
        assert float(box.height) == pytest.approx(pt_from_mm(size[1]), abs=0.01)


def test_no_camera_metadata_or_place_leaves_the_machine(book: Path) -> None:
    for name in ("reading.pdf", "sheets.pdf", "plan.pdf"):
        data = (book / "out" / name).read_bytes()
        assert b"Exif\x00\x00" not in data
        assert b"http://ns.adobe.com/xap/1.0/" not in data


def test_a_second_make_does_nothing(book: Path) -> None:
    before = {p: p.stat().st_mtime_ns for p in (book / "out").iterdir()}
    report = make_book(book, NoProgress())
    assert report.nothing_to_do
    assert {p: p.stat().st_mtime_ns for p in (book / "out").iterdir()} == before


@pytest.mark.parametrize("stage", ["run_stages", "make_pictures"])
@pytest.mark.parametrize("kind", ["text", "caption"])
def test_what_is_changed_elsewhere_during_a_make_is_for_the_next(
    book: Path, monkeypatch: pytest.MonkeyPatch, stage: str, kind: str
) -> None:
    photo = next(iter(tomllib.loads((book / "photos.toml").read_text("utf-8"))["photo"]))
    edit = SetText("foreword", "Other.") if kind == "text" else SetCaption(photo, "Other.")
    do = getattr(build, stage)

    def do_and_change(*given: object) -> object:
        done = do(*given)
        write_edit(BookFolder(book), edit)
        return done

    monkeypatch.setattr(build, stage, do_and_change)
    # One more, which the make itself notes in photos.toml.
    paint(book / "photographs" / "late.jpg", (900, 600), 77, datetime(2025, 5, 13), PORTO)
    assert not make_book(book, NoProgress()).nothing_to_do
    monkeypatch.undo()
    assert not make_book(book, NoProgress()).nothing_to_do
    assert make_book(book, NoProgress()).nothing_to_do


def test_finding_nothing_to_do_loads_no_library(book: Path) -> None:
    program = """
import sys
from pathlib import Path
from wayfold.app.make import make_book
from wayfold.base.progress import NoProgress
assert make_book(Path(sys.argv[1]), NoProgress()).nothing_to_do
print(*sys.modules)
"""
    command = [sys.executable, "-c", program, str(book)]
    run = subprocess.run(command, capture_output=True, text=True)
    assert run.returncode == 0, run.stderr
    loaded = set(run.stdout.split())
    assert "wayfold.app.made" in loaded
    assert not loaded & {"pydantic", "tomlkit", "numpy", "email", "wayfold.book.state"}


def test_a_picture_in_a_folder_that_the_book_names_is_something_to_do(book: Path) -> None:
    folder = BookFolder(book)
    before = read_made(folder)
    assert is_current(folder, before)
    (source, *_) = sorted((book / "photographs").iterdir())
    shutil.copy(source, book / "photographs" / "one more.jpg")
    assert not is_current(folder, before)


def test_a_link_out_of_the_book_is_told_though_nothing_changed(book: Path, tmp_path: Path) -> None:
    text = book / "texts" / "foreword.md"
    (tmp_path / "elsewhere.md").write_bytes(text.read_bytes())
    text.unlink()
    text.symlink_to(tmp_path / "elsewhere.md")
    with pytest.raises(UserError, match="leads out of the book"):
        make_book(book, NoProgress())


def test_a_caption_sets_one_page_and_changes_one_sheet(book: Path) -> None:
    folder = BookFolder(book)
    photo = next(iter(tomllib.loads(folder.photos_file.read_text("utf-8"))["photo"]))
    write_edit(folder, SetCaption(photo, "One."))
    memory = Memory()
    make_book(book, NoProgress(), memory)
    write_edit(folder, SetCaption(photo, "Two."))  # as long as before: nothing else moves
    report = make_book(book, NoProgress(), memory)
    assert len(report.pages) == 1
    assert report.pictures == 0
    plan = json.loads((folder.out / "plan.json").read_text("utf-8"))
    (page,) = report.pages
    gathering = next(g for g in plan["gatherings"] if g["first_page"] <= page <= g["last_page"])
    sheet = sheet_of(page - gathering["first_page"] + 1, gathering["sheets"])
    assert report.sheets == (f"gathering {gathering['number']}, sheet {sheet}",)


def test_the_cache_can_be_thrown_away_and_the_bytes_come_back(book: Path) -> None:
    # What was made after an edit, bit by bit, is what is made of nothing.
    folder = BookFolder(book)
    photo = next(iter(tomllib.loads(folder.photos_file.read_text("utf-8"))["photo"]))
    write_edit(folder, SetCaption(photo, "Words that are new, and more of them than before."))
    make_book(book, NoProgress())
    before = contents(book / "out")
    shutil.rmtree(book / ".wayfold")
    shutil.rmtree(book / "out")
    report = make_book(book, NoProgress())
    assert not report.nothing_to_do
    assert contents(book / "out") == before


def test_the_print_file_folds_into_the_book(book: Path) -> None:
    report = refold_folder(book, NoProgress())
    assert report.ok, [f.message for f in report.findings]
    assert report.largest_offset <= 0.1


def test_refold_asks_for_a_make_first(tmp_path: Path, book: Path) -> None:
    (book / "out" / "sheets.pdf").unlink()
    with pytest.raises(NotFoundError) as caught:
        refold_folder(book, NoProgress())
    assert "wayfold make" in caught.value.remedy


def test_refold_says_when_the_disk_has_no_room_to_work_in(
    book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), "/somewhere/refold-1/read-3.npy")

    monkeypatch.setattr("wayfold.app.refold.refold", refuse)
    with pytest.raises(UserError, match="The disk is full"):
        refold_folder(book, NoProgress())


def test_check_finds_the_same_as_make(book: Path) -> None:
    kept = json.loads((book / "out" / "checks.json").read_text("utf-8"))
    assert describe_checks(check_folder(book, NoProgress())) == kept


def test_the_photographs_are_never_touched(book: Path) -> None:
    before = {p: (p.read_bytes(), p.stat().st_mtime_ns) for p in (book / "photographs").iterdir()}
    (book / "book.toml").write_text(
        (book / "book.toml").read_text("utf-8").replace("Two Towns", "Three"), "utf-8"
    )
    make_book(book, NoProgress())
    after = {p: (p.read_bytes(), p.stat().st_mtime_ns) for p in (book / "photographs").iterdir()}
    assert after == before


def test_comments_in_the_files_survive_a_make(book: Path) -> None:
    path = book / "book.toml"
    path.write_text(path.read_text("utf-8") + "\n# for Mother\n", "utf-8")
    make_book(book, NoProgress())
    assert path.read_text("utf-8").endswith("\n# for Mother\n")

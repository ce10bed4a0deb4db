"""Books of every earlier form open, can be changed and undone; newer ones are refused unharmed."""

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from wayfold.base.errors import UserError
from wayfold.book.casing import Back, Practice
from wayfold.book.edits import SetCaption, SetTitle
from wayfold.book.state import Pick
from wayfold.book.trip_choices import Unit
from wayfold.project.bench_file import read_ticks
from wayfold.project.files import BookFolder
from wayfold.project.journal import Journal
from wayfold.project.ledger_file import read_ledger
from wayfold.project.materials_file import read_materials
from wayfold.project.plan_file import read_plan
from wayfold.project.store import load_book, write_edit
from wayfold.project.trip_file import read_trip_choices

FORMATS = Path(__file__).parents[1] / "formats"
FORMS = sorted(path.name for path in FORMATS.iterdir() if path.is_dir())
PHOTO = "3f2a9c1d0b7e"


def take(form: str, tmp_path: Path) -> BookFolder:
    shutil.copytree(FORMATS / form, tmp_path / form)
    return BookFolder(tmp_path / form)


@pytest.mark.parametrize("form", FORMS)
def test_a_book_of_each_form_opens_and_changes_and_comes_back(form: str, tmp_path: Path) -> None:
    folder = take(form, tmp_path)
    stored = load_book(folder)
    assert "Rivers" in stored.book.title
    assert stored.known[PHOTO].content == "3f2a9c1d0b7e4f60a1b2c3d4e5f60718"
    before = {path: path.read_bytes() for path in folder.list_decisions()}
    write_edit(folder, SetCaption(PHOTO, "Another."), SetTitle("", "One River", None))
    book = load_book(folder).book
    assert (book.title, book.choices[PHOTO].caption) == ("One River", "Another.")
    Journal(folder).undo()
    assert {path: path.read_bytes() for path in folder.list_decisions()} == before


def test_the_first_form_says_what_it_said(tmp_path: Path) -> None:
    folder = take("1-begun", tmp_path)
    book = load_book(folder).book
    assert (book.language, book.openers_on, book.trim.height) == ("en-GB", "any", 280.0)
    assert (book.paper.caliper_um, book.binding.creep_coefficient) == (240.0, 1.1)
    assert (book.style.name, book.style.gap, book.style.text_measure) == ("garden", 4.0, 120.0)
    assert [(c.place, c.text) for c in book.chapters] == [("Springs", "springs"), ("Mouth", None)]
    choice = book.choices[PHOTO]
    assert choice.crop is not None
    assert (choice.pick, choice.alone, choice.crop.height) == (Pick.HERO, True, 0.75)
    kept = read_plan(folder.plan_file)
    assert kept is not None
    assert (len(kept.plan.pages), kept.printed, kept.cost) == (8, (), 1200)
    assert dict(kept.plan.choices) == {"title": 0, "text:springs": 1}


def test_the_form_of_printed_books_says_what_it_said(tmp_path: Path) -> None:
    folder = take("1-printed", tmp_path)
    book = load_book(folder).book
    assert (book.style.name, book.style.gap) == ("mine", 5.0)
    assert (book.translucent.caliper_um, book.translucent.read_through) == (95.0, (4,))
    assert ("translucent", "vellum of the shop") in read_materials(folder)
    assert book.registration is not None
    assert (book.registration.across, book.reprinting.ignore_marks) == (300.1, True)
    assert (book.bench.casing.board, book.bench.hand) == (2.4, Practice.PRACTISED)
    assert [item.name for item in book.bench.pocket.items] == ["tickets"]
    assert [(pin.block, pin.centre) for pin in book.planning.pins] == [("text:springs", True)]
    assert book.arranging.ways == {"pictures:1": "row"}
    journey = read_trip_choices(folder)
    assert (journey.unit, journey.flags, journey.left_out) == (Unit.MILES, False, ("dentist",))
    assert [shown.photo for shown in journey.clocks_shown] == ["H0001.jpg"]
    kept = read_plan(folder.plan_file)
    assert kept is not None
    assert (kept.printed, len(kept.plan.interleaves)) == ((1,), 1)
    (sheet,) = read_ledger(folder.ledger_file).values()
    assert (sheet.ink.label, sheet.day) == ("gathering 1, sheet 1", "2026-03-02")
    assert [part.what for part in sheet.ink.back.pages[0].parts] == [
        f"caption {PHOTO}",
        "folio 2",
    ]


def test_a_journal_of_whole_files_goes_on(tmp_path: Path) -> None:
    folder = take("1-printed", tmp_path)
    text = folder.texts / "springs.md"
    Journal(folder).redo()
    assert text.read_text("utf-8") == "By hand.\n"
    Journal(folder).undo()
    Journal(folder).undo()
    assert text.read_text("utf-8") == "Where it *begins*.\n"


def test_a_journal_of_what_was_written_goes_on(tmp_path: Path) -> None:
    folder = take("1-desk", tmp_path)
    assert load_book(folder).book.title == "Three Rivers"
    Journal(folder).redo()
    assert load_book(folder).book.title == "Four Rivers"
    Journal(folder).undo()
    Journal(folder).undo()
    book = load_book(folder).book
    assert (book.title, book.bench.casing.back) == ("Two Rivers", Back.ROUND)
    hand = book.arranging.by_hand["pictures:1"]
    assert (hand.pictures[0].box.width, hand.texts[0].width) == (120.0, 60.0)
    assert book.arranging.exchanged == ((PHOTO, "77aa01c2d3e4"),)
    assert [tick.item for tick in read_ticks(folder.bench_file)] == ["board"]


READERS: dict[str, Callable[[BookFolder], object]] = {
    "book.toml": load_book,
    "photos.toml": load_book,
    "trip.toml": load_book,
    "materials.toml": load_book,
    "styles/mine/style.toml": load_book,
    "plan.lock.toml": lambda folder: read_plan(folder.plan_file),
    "printed.lock.toml": lambda folder: read_ledger(folder.ledger_file),
    "bench.lock.toml": lambda folder: read_ticks(folder.bench_file),
}


@pytest.mark.parametrize("name", READERS)
def test_a_newer_format_is_refused_and_stays_as_it_is(name: str, tmp_path: Path) -> None:
    folder = take("1-printed", tmp_path)
    shutil.copy(FORMATS / "1-desk" / "bench.lock.toml", folder.bench_file)
    path = folder.root / name
    newer = path.read_text("utf-8").replace("version = 1", "version = 2", 1)
    path.write_text(newer + "\n[not-yet-invented]\n", "utf-8")
    held = path.read_bytes()
    with pytest.raises(UserError, match="newer Wayfold") as told:
        READERS[name](folder)
    assert "Update Wayfold" in told.value.remedy
    assert path.read_bytes() == held

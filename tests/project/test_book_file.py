"""book.toml: read strictly, with advice that names file, line and key."""

from datetime import date
from pathlib import Path

import pytest

from wayfold.base.errors import ConflictError, NotFoundError, UserError
from wayfold.base.geometry import Size
from wayfold.book.materials import Duplex
from wayfold.book.state import Book, ChapterChoice
from wayfold.project.files import BookFolder
from wayfold.project.store import load_book, start_book


def write_book(root: Path, text: str) -> BookFolder:
    (root / "book.toml").write_text(text, encoding="utf-8")
    return BookFolder(root)


def refusal(root: Path, text: str) -> UserError:
    with pytest.raises(UserError) as caught:
        load_book(write_book(root, text))
    return caught.value


def test_a_new_book_opens_with_its_defaults(tmp_path: Path) -> None:
    folder = BookFolder(tmp_path / "mein Buch ü 🏔")
    places = (folder.root / "photographs", tmp_path / "elsewhere")
    start_book(folder, Book("Zwei Wochen", photographs=tuple(str(p) for p in places)))
    book = load_book(folder).book
    assert book.title == "Zwei Wochen"
    assert book.photographs == ("photographs", (tmp_path / "elsewhere").as_posix())
    # ISO 216: A4 is 210 x 297 mm.
    assert book.trim == Size(210, 297)


def test_a_second_book_is_not_started_over_the_first(tmp_path: Path) -> None:
    folder = BookFolder(tmp_path)
    start_book(folder, Book("One"))
    before = folder.book_file.read_bytes()
    with pytest.raises(ConflictError):
        start_book(folder, Book("Two"))
    assert folder.book_file.read_bytes() == before


def test_a_folder_without_a_book_says_how_to_start_one(tmp_path: Path) -> None:
    with pytest.raises(NotFoundError) as caught:
        load_book(BookFolder(tmp_path))
    assert "wayfold new" in caught.value.remedy


def test_everything_a_person_may_write_is_read(tmp_path: Path) -> None:
    (tmp_path / "texts").mkdir()
    (tmp_path / "texts" / "hills.md").write_text("We *walked*.", encoding="utf-8")
    folder = write_book(
        tmp_path,
        """
version = 1
[book]
title = "T"
language = "de"
[page]
width_mm = 148
height_mm = 210
bleed_mm = 0
[paper]
sheet_mm = [297, 210]
caliper_um = 110
grain = "short"
[translucent]
sheet_mm = [420, 297]
caliper_um = 75
[printer]
margin_left_mm = 4.2
duplex = "long-edge"
[binding]
trim_fore_edge = false
sheets_max = 5
[style]
accent = "#305060"
washes = "none"
wash_seed = 3
[[chapter]]
place = "Hills"
text = "hills"
interleaf = true
opening_photo = "fog.jpg"
""",
    )
    book = load_book(folder).book
    assert (book.trim, book.bleed, book.paper.sheet) == (Size(148, 210), 0, Size(297, 210))
    assert (book.printer.margin_left, book.printer.duplex) == (4.2, Duplex.LONG_EDGE)
    assert (book.binding.trim_fore_edge, book.binding.sheets_max) == (False, 5)
    assert book.style.accent.hex == "#305060"
    assert (book.style.washes, book.style.wash_seed) == ("none", 3)
    assert (book.translucent.sheet, book.translucent.caliper_um) == (Size(420, 297), 75)
    assert book.chapters == (
        ChapterChoice("Hills", text="hills", interleaf=True, opening_photo="fog.jpg"),
    )
    assert book.texts == {"hills": "We *walked*."}


@pytest.mark.parametrize(
    ("text", "where", "says", "advises"),
    [
        ('version = 1\n[book]\ntitle = "T', "book.toml, line 3", "no valid TOML", "key ="),
        ("version = 1\nbook]\n", "book.toml, line 2", "book]", "key ="),
        ('version = 1\n[book]\ntitel = "T"', "book.toml", "book.title", "title"),
        ('version = 1\n[book]\ntitle = "T"\nsubtitel = "S"', "line 4", "book.subtitel", "subtitle"),
        ('version = 1\n[book]\ntitle = ""', "line 3", "book.title", ""),
        (
            'version = 1\n[book]\ntitle = "T"\n[page]\nwidth_mm = "wide"',
            "line 5",
            "page.width_mm",
            "Correct",
        ),
        ('version = 1\n[book]\ntitle = "T"\n[page]\nbleed_mm = -1', "line 5", "bleed_mm", ""),
        (
            'version = 1\n[book]\ntitle = "T"\n[printer]\nduplex = "sideways"',
            "line 5",
            "printer.duplex",
            "short-edge",
        ),
        (
            'version = 1\n[book]\ntitle = "T"\n[[chapter]]\nplace = "A"\n'
            '[[chapter]]\nplace = "B"\ncolour = "#123456"',
            "line 8",
            "chapter[2].colour",
            "Known here",
        ),
        ('[book]\ntitle = "T"', "book.toml", "version", "version = 1"),
        ('version = 99\n[book]\ntitle = "T"', "book.toml", "newer Wayfold", "Update"),
        ('version = "x"\n[book]\ntitle = "T"', "line 1", "no version", "version = 1"),
        (
            'version = 1\n[book]\ntitle = "T"\n[[chapter]]\nplace = "A"\ntext = "gone"',
            "",
            "gone",
            "texts/gone.md",
        ),
    ],
)
def test_what_is_wrong_is_said_with_its_place(
    tmp_path: Path, text: str, where: str, says: str, advises: str
) -> None:
    error = refusal(tmp_path, text)
    assert where in error.where
    assert says in error.what
    assert advises in error.remedy
    assert (tmp_path / "book.toml").read_text(encoding="utf-8") == text  # nothing is lost


def test_a_file_in_another_encoding_is_named(tmp_path: Path) -> None:
    (tmp_path / "book.toml").write_bytes('version = 1\n[book]\ntitle = "Zürich"'.encode("latin-1"))
    with pytest.raises(UserError) as caught:
        load_book(BookFolder(tmp_path))
    assert "UTF-8" in caught.value.remedy


def test_a_book_written_down_reads_back_as_it_was(tmp_path: Path) -> None:
    written = Book(
        "Dünen & “Quotes”",
        subtitle="x",
        author="Nobody",
        finished=date(2026, 11, 29),
        language="fr",
        chapters=(
            ChapterChoice("Hills", "Up", text="hills"),
            ChapterChoice("Sea", accent="#112233"),
        ),
        texts={"hills": "One.\n\nTwo *three*."},
    )
    folder = BookFolder(tmp_path)
    start_book(folder, written)
    assert load_book(folder).book == written

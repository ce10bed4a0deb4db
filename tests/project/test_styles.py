"""Styles as folders: those that are shipped, one's own, single values, and what is refused."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from wayfold.base.errors import UserError
from wayfold.base.geometry import Rect
from wayfold.book import families
from wayfold.book.families import Arrange, Place, list_families
from wayfold.book.state import Book
from wayfold.book.style import Canon, Letters, Margins, Style, TitleAlign, TypeSize
from wayfold.project.files import BookFolder
from wayfold.project.store import load_book, start_book
from wayfold.project.style_files import list_styles, read_style

SIZES = ("body", "caption", "title", "subtitle", "small", "running_head", "day_line")
SHIPPED = {entry.style.name: entry.style for entry in list_styles()}


def write_book(root: Path, lines: str) -> BookFolder:
    (root / "book.toml").write_text(f'version = 1\n{lines}\n[book]\ntitle = "T"\n', "utf-8")
    return BookFolder(root)


def write_style(root: Path, name: str, text: str) -> None:
    folder = root / "styles" / name
    folder.mkdir(parents=True)
    (folder / "style.toml").write_text(text, "utf-8")


def refusal(folder: BookFolder) -> UserError:
    with pytest.raises(UserError) as caught:
        load_book(folder)
    return caught.value


def brightness(code: str) -> float:
    """Relative luminance by the formula of WCAG 2.2, written out here once more."""
    parts = [int(code[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_garden_is_what_books_start_with():
    assert SHIPPED["garden"] == Style() == Book("T").style
    assert len(SHIPPED) >= 3


@pytest.mark.parametrize("style", SHIPPED.values(), ids=SHIPPED)
def test_small_text_can_be_read_on_white(style):
    # WCAG 2.2, success criterion 1.4.3: 4.5 to 1.
    for colour in (style.ink, style.quiet_ink, style.accent):
        assert 1.05 / (brightness(colour.hex) + 0.05) >= 4.5


@pytest.mark.parametrize("name", ["shore", "hearth"])
def test_notes_on_maps_can_be_read(name):
    # The same criterion, for the dates beside places: quiet ink on the tint of land.
    style = SHIPPED[name]
    for land in (style.land, style.land_beyond):
        light, dark = brightness(land.hex) + 0.05, brightness(style.quiet_ink.hex) + 0.05
        assert light / dark >= 4.5


@pytest.mark.parametrize("style", SHIPPED.values(), ids=SHIPPED)
def test_sizes_are_those_that_books_are_set_in(style):
    # Text 9-12 pt, captions 7.5-9 pt (common practice, no single source); nothing below 6 pt
    # (Lexikon der Geoinformatik, Universität Rostock); lines 1.2 and more of the size (Bringhurst).
    assert 9.0 <= style.body.size_pt <= 12.0
    assert 7.5 <= style.caption.size_pt <= 9.0
    for size in (getattr(style, key) for key in SIZES):
        assert size.size_pt >= 6.0
        assert size.leading_pt >= 1.15 * size.size_pt


@pytest.mark.parametrize(("name", "base", "ratio"), [("shore", 10, 9 / 8), ("hearth", 10.5, 6 / 5)])
def test_sizes_are_steps_of_the_scale(name, base, ratio):
    # A scale of sizes: base times whole powers of the ratio, to a tenth of a point.
    for key in SIZES:
        size = getattr(SHIPPED[name], key).size_pt
        step = round(math.log(size / base, ratio))
        assert size == pytest.approx(base * ratio**step, abs=0.0501), key


def test_a_book_names_its_style_alone_or_in_a_table(tmp_path):
    for lines in ('style = "shore"', '[style]\nname = "shore"'):
        assert load_book(write_book(tmp_path, lines)).book.style == SHIPPED["shore"]
    assert load_book(write_book(tmp_path, "")).book.style == SHIPPED["garden"]


def test_single_values_are_written_over_a_style(tmp_path):
    folder = write_book(
        tmp_path,
        """
[style]
name = "hearth"
accent = "#305060"
gap_mm = 7
title_align = "left"
caption_letters = "roman"
text_margins_mm = 30
picture_margins_mm = { inner = 15, outer = 16, head = 17, foot = 18 }
[style.sizes]
title = [26.1, 32]
""",
    )
    style = load_book(folder).book.style
    assert (style.serif, style.accent.hex, style.gap) == ("Alegreya", "#305060", 7)
    assert (style.title_align, style.caption_letters) == (TitleAlign.LEFT, Letters.ROMAN)
    assert style.text_margins == Margins(30, 30, 30, 30)
    assert style.picture_margins == Margins(15, 16, 17, 18)
    assert style.title == TypeSize(26.1, 32)
    assert style.body == SHIPPED["hearth"].body


def test_a_style_in_the_book_folder_is_found_and_wins(tmp_path):
    write_style(tmp_path, "moor", 'version = 1\nabout = "Ours."\ncanon = "2:3:4:6"\n')
    write_style(tmp_path, "garden", 'version = 1\nabout = "Ours too."\ngap_mm = 9\n')
    moor = load_book(write_book(tmp_path, 'style = "moor"')).book.style
    assert moor.name == "moor"
    assert moor.text_margins is Canon.TWO_THREE_FOUR_SIX
    assert moor.serif == "EB Garamond"  # what is left out is as in garden
    folder = write_book(tmp_path, 'style = "garden"')
    assert load_book(folder).book.style.gap == 9
    told = {entry.style.name: entry for entry in list_styles(folder)}
    assert told["garden"].own and told["garden"].about == "Ours too."
    assert not told["shore"].own
    assert "moor" in told


WINDOW = """
[[family]]
name = "window"
arrange = "places"
worth = 1.1
[[family.place]]
left = 0.1
top = 0
width = 0.8
height = 0.7
fills = true
[[family]]
name = "small"
arrange = "alone"
size = 0.5
"""


def test_a_style_brings_layout_families_and_the_books_own_win(tmp_path):
    write_style(tmp_path, "moor", f'version = 1\nabout = "Ours."\n{WINDOW}')
    own = '[[layout.family]]\nname = "window"\narrange = "scattered"\npictures = [2, 3]\n'
    book = load_book(write_book(tmp_path, f'style = "moor"\n{own}')).book
    window, small = book.style.families
    assert window.places == (Place(Rect(0.1, 0.0, 0.8, 0.7), 1, True),)
    assert (window.arrange, window.least, window.worth) == (Arrange.PLACES, 1, 1.1)
    at_hand = {f.name: f for f in list_families(book.style.families, book.arranging.families)}
    assert at_hand["small"] == small and small.size == 0.5  # in place of the shipped one
    assert at_hand["window"].arrange is Arrange.SCATTERED
    assert len(at_hand) == len(families.SHIPPED) + 1


def test_an_unknown_style_is_refused_with_the_names_there_are(tmp_path):
    error = refusal(write_book(tmp_path, 'style = "hearht"'))
    assert error.where.startswith("book.toml")
    assert "hearht" in error.what
    assert "Did you mean hearth?" in error.remedy
    assert "garden" in error.remedy and "styles/hearht/style.toml" in error.remedy


@pytest.mark.parametrize("name", ["../garden", "/tmp", "", "a/b"])
def test_a_name_that_is_a_path_is_refused(tmp_path, name):
    assert "style" in refusal(write_book(tmp_path, f'style = "{name}"')).what
    with pytest.raises(UserError):
        read_style(name, BookFolder(tmp_path))


@pytest.mark.parametrize(
    ("text", "where", "says", "advises"),
    [
        ('about = "A"\nserif = "Spectral"', "styles/own/style.toml", "version", "version = 1"),
        ('version = 1\nserif = "Spectral"', "styles/own/style.toml", "about", "about"),
        ('version = 1\nabout = "A"\nserrif = "X"', "line 3", "serrif", "serif"),
        ('version = 1\nabout = "A"\ncanon = "fifths"', "line 3", "canon", "ninths"),
        ('version = 1\nabout = "A"\nink = "black"', "line 3", "ink", ""),
        (
            'version = 1\nabout = "A"\ncanon = "ninths"\ntext_margins_mm = 20',
            "styles/own",
            "not both",
            "",
        ),
        ('version = 1\nabout = "A"\n[scale]\nbase_pt = 10', "style.toml", "ratio", ""),
        (
            'version = 1\nabout = "A"\n[sizes]\nbody = [11, 15]',
            "styles/own/style.toml",
            "sizes.body: 11 pt is no size",
            "10.5 or 15",
        ),
        (
            'version = 1\nabout = "A"\n[[family]]\nname = "w"\narrange = "places"',
            "styles/own/style.toml",
            "place",
            "",
        ),
        (
            'version = 1\nabout = "A"\n[scale]\nbase_pt = 10\nratio = 1.25',
            "styles/own/style.toml",
            "is no size",
            "[scale]",
        ),
    ],
)
def test_what_is_wrong_in_a_style_is_told_with_its_place(tmp_path, text, where, says, advises):
    write_style(tmp_path, "own", text)
    error = refusal(write_book(tmp_path, 'style = "own"'))
    assert where in error.where
    assert says in error.what
    assert advises in error.remedy


def test_what_is_wrong_in_the_book_is_told_of_the_book(tmp_path):
    error = refusal(write_book(tmp_path, "[style]\ngap = 3"))
    assert error.where.startswith("book.toml")
    assert "gap_mm" in error.remedy
    error = refusal(write_book(tmp_path, "[style.sizes]\ncaption = [8, 11]"))
    assert error.where.startswith("book.toml")
    assert error.what.startswith("style.sizes.caption")
    assert "7.6 or 8.2" in error.remedy


def test_a_new_book_names_its_style(tmp_path):
    folder = BookFolder(tmp_path)
    start_book(folder, Book("T", style=SHIPPED["shore"]))
    assert 'style = "shore"' in folder.book_file.read_text("utf-8")
    assert load_book(folder).book.style == SHIPPED["shore"]

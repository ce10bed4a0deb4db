"""book.toml's [layout] table: how pictures may be laid, and families of the person's own."""

import re
from pathlib import Path

import pytest

from wayfold.base.errors import UserError
from wayfold.base.geometry import Rect
from wayfold.book.arranging import Arranging
from wayfold.book.edits import SetWays, apply_edit
from wayfold.book.families import SHIPPED, Arrange, Family, Place, list_families
from wayfold.book.state import Book
from wayfold.project.files import BookFolder
from wayfold.project.store import load_book, write_edit

HEAD = 'version = 1 # mine\n[book]\ntitle = "A"\n'


def load(root: Path, text: str) -> Arranging:
    (root / "book.toml").write_text(HEAD + text, encoding="utf-8")
    return load_book(BookFolder(root)).book.arranging


def test_what_a_file_leaves_out_is_as_it_starts(tmp_path: Path) -> None:
    assert load(tmp_path, "") == Arranging()


def test_all_of_it_is_read(tmp_path: Path) -> None:
    text = """
[layout]
face_from_trim_mm = 10
face_from_fold_mm = 15
most_crop = 0.1
reading_distance_mm = 400
[layout.ways]
"group:a1" = "group 2"
[[layout.family]]
name = "window"
arrange = "places"
worth = 1.2
pages = 2
[[layout.family.place]]
left = 0.25
top = 0
width = 0.5
height = 0.4
[[layout.family.place]]
left = 0
top = 0
width = 1
height = 1
page = 2
fills = true
[[layout.family]]
name = "rows"
arrange = "strip"
pictures = [3, 5]
shapes = [0.6, 1.6]
"""
    places = (Place(Rect(0.25, 0, 0.5, 0.4)), Place(Rect(0, 0, 1, 1), 2, True))
    assert load(tmp_path, text) == Arranging(
        10.0,
        15.0,
        0.1,
        {"group:a1": "group 2"},
        (
            Family("window", Arrange.PLACES, 2, 2, pages=2, worth=1.2, places=places),
            Family("rows", Arrange.STRIP, 3, 5, narrowest=0.6, widest=1.6),
        ),
        reading_distance=400.0,
    )


@pytest.mark.parametrize(
    ("table", "advice"),
    [
        ("most_crop = 2", "less than or equal to 0.6"),
        ('[[layout.family]]\nname = "a"\narrange = "spiral"', "alone"),
        ('[[layout.family]]\nname = "a"\narrange = "places"', "layout.family.place"),
        ('[[layout.family]]\nname = "a b"\narrange = "sliced"', "name"),
        ('[[layout.family]]\nname = "a"\narrange = "bled"\npictures = [1, 2]', "one picture"),
        ('[[layout.family]]\nname = "a"\narrange = "across"', "pages = 2"),
        ('[[layout.family]]\nname = "a"\narrange = "sliced"\npictures = [5, 2]', "smaller"),
        (
            '[[layout.family]]\nname = "a"\narrange = "places"\n[[layout.family.place]]\n'
            "left = 0.5\ntop = 0\nwidth = 0.6\nheight = 1",
            "picture area",
        ),
    ],
)
def test_slips_are_told_with_what_to_write(tmp_path: Path, table: str, advice: str) -> None:
    with pytest.raises(UserError) as told:
        load(tmp_path, f"[layout]\n{table}\n")
    assert advice in f"{told.value} {told.value.remedy}"


def test_a_family_of_a_shipped_name_takes_its_place() -> None:
    mine = Family("small", Arrange.ALONE, size=0.5, worth=1.3)
    families = list_families((mine,))
    assert len(families) == len(SHIPPED)
    assert next(f for f in families if f.name == "small") == mine


def test_chosen_ways_are_noted_and_taken_back_and_comments_stay(tmp_path: Path) -> None:
    load(tmp_path, "[layout] # mine too\nmost_crop = 0.1\n")
    folder = BookFolder(tmp_path)
    noted = SetWays((("group:a", "group 2"), ("single:b", "small")))
    write_edit(folder, noted)
    book = load_book(folder).book
    assert book.arranging.ways == {"group:a": "group 2", "single:b": "small"}
    assert (
        book.arranging == apply_edit(Book("A", arranging=Arranging(most_crop=0.1)), noted).arranging
    )
    write_edit(folder, SetWays((("group:a", None),)))
    assert load_book(folder).book.arranging.ways == {"single:b": "small"}
    text = (tmp_path / "book.toml").read_text(encoding="utf-8")
    assert "# mine\n" in text
    assert "# mine too" in text


def test_what_the_docs_show_can_be_written(tmp_path: Path) -> None:
    docs = Path(__file__).parents[2] / "docs" / "layout.md"
    shown = re.findall(r"```toml\n(.*?)```", docs.read_text("utf-8"), re.S)
    tables = [text for text in shown if "[photo." not in text]
    assert len(tables) == 6
    families = [load(tmp_path, text).families for text in tables]
    assert [[f.name for f in each] for each in families] == [
        [],
        [],
        [],
        [],
        ["small", "scattered"],
        ["door"],
    ]
    assert load(tmp_path, tables[0]) == Arranging()
    (hand,) = load(tmp_path, tables[2]).by_hand.values()
    assert [(one.page, one.box.width) for one in hand.pictures] == [(1, 120.0), (2, 216.0)]
    names = re.findall(
        r"`([a-z-]+)`", re.findall(r"\| `arrange` \|(.*)", docs.read_text("utf-8"))[0]
    )
    assert set(names) == set(Arrange)
    told = "".join(re.findall(r"^\| (`.*?`) \|", docs.read_text("utf-8"), re.M))
    assert {f.name for f in SHIPPED} <= set(re.findall(r"`([a-z-]+)`", told))

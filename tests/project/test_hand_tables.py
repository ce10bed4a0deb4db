"""What was placed by hand goes into book.toml, and nothing else of the file changes."""

import tomllib
from pathlib import Path

import pytest

from wayfold.base.errors import UserError
from wayfold.base.geometry import Rect
from wayfold.book.arranging import HandLaid, PlacedPicture
from wayfold.book.edits import ExchangePictures, PlaceByHand, SetTitle, apply_edit
from wayfold.project.files import BookFolder
from wayfold.project.hand_tables import place_blocks
from wayfold.project.store import load_book, write_edit

HEAD = 'version = 1 # mine\n[book]\ntitle = "A"\n'
ONE = HandLaid(
    "verso",
    (
        PlacedPicture("a1", 1, Rect(20.0, 24.5, 120.0, 80.0)),
        PlacedPicture("b2", 2, Rect(-3.0, -3.0, 216.0, 303.0), Rect(0.1, 0.0, 0.8, 1.0)),
    ),
)
FILES = {
    "nothing": "",
    "a layout": "\n[layout]\nseed = 3 # mine too\n",
    "ways": '\n[layout.ways]\n"group:a1" = "group 2" # mine too\n',
    "another by hand": (
        '\n[layout.by_hand."group:z"]\nbegins = "recto" # mine too\n'
        '[layout.by_hand."group:z".picture]\nz = { page = 1, box_mm = [1, 2, 3, 4] }\n'
    ),
    "this one": (
        '\n[layout.by_hand."group:a1"] # mine too\nbegins = "recto"\n'
        '[layout.by_hand."group:a1".picture]\n'
        "a1 = { page = 1, box_mm = [1, 2, 3, 4] } # and this\n"
        "c3 = { page = 1, box_mm = [1, 2, 3, 4] }\n"
    ),
}


@pytest.mark.parametrize("name", FILES)
def test_what_was_placed_is_read_as_it_was_written(name: str, tmp_path: Path) -> None:
    folder = BookFolder(tmp_path)
    folder.book_file.write_text(HEAD + FILES[name], encoding="utf-8")
    before = load_book(folder).book
    edit = PlaceByHand((("group:a1", ONE),))
    write_edit(folder, edit)
    assert load_book(folder).book == apply_edit(before, edit)
    text = folder.book_file.read_text(encoding="utf-8")
    assert "# mine\n" in text
    assert "# mine too" in FILES[name] or name == "nothing"
    assert ("# mine too" in text) == ("# mine too" in FILES[name])
    write_edit(folder, PlaceByHand((("group:a1", None),)))
    given_back = load_book(folder).book
    assert "group:a1" not in given_back.arranging.by_hand
    others = {k: v for k, v in before.arranging.by_hand.items() if k != "group:a1"}
    assert given_back.arranging.by_hand == others


def test_placing_again_changes_only_what_moved() -> None:
    text = place_blocks(HEAD, {"group:a1": ONE})
    noted = text.replace("80.0] }", "80.0] } # by the window") if "80.0] }" in text else text
    assert place_blocks(noted, {"group:a1": ONE}) == noted
    moved = HandLaid("verso", (ONE.pictures[0], PlacedPicture("b2", 1, Rect(1.0, 2.0, 30.0, 20.0))))
    again = place_blocks(noted, {"group:a1": moved})
    assert ("# by the window" in again) == ("# by the window" in noted)
    tables = tomllib.loads(again)["layout"]["by_hand"]["group:a1"]
    assert tables["picture"]["b2"] == {"page": 1, "box_mm": [1.0, 2.0, 30.0, 20.0]}


def test_the_order_of_what_lies_on_what_is_kept() -> None:
    turned = HandLaid("verso", tuple(reversed(ONE.pictures)))
    text = place_blocks(place_blocks(HEAD, {"group:a1": ONE}), {"group:a1": turned})
    assert list(tomllib.loads(text)["layout"]["by_hand"]["group:a1"]["picture"]) == ["b2", "a1"]


WRONG = {
    "a side": ('begins = "left"', "begins"),
    "no size": ("box_mm = [1, 2, 0, 4]", "box_mm"),
    "a crop beyond": ("crop = [0.5, 0, 0.6, 1]", "crop"),
    "a third page": ("page = 3", "page"),
}


@pytest.mark.parametrize("name", WRONG)
def test_what_cannot_be_is_told_with_its_key(name: str, tmp_path: Path) -> None:
    said, key = WRONG[name]
    fields = {"begins": 'begins = "recto"', "page": "page = 1", "box_mm": "box_mm = [1, 2, 3, 4]"}
    fields |= {"crop": ""} | {key: said}
    inline = ", ".join(f for f in (fields["page"], fields["box_mm"], fields["crop"]) if f)
    (tmp_path / "book.toml").write_text(
        f'{HEAD}[layout.by_hand."g"]\n{fields["begins"]}\npicture.a = {{ {inline} }}\n',
        encoding="utf-8",
    )
    with pytest.raises(UserError) as told:
        load_book(BookFolder(tmp_path))
    assert "by_hand" in str(told.value)


def test_titles_are_set_where_they_belong(tmp_path: Path) -> None:
    folder = BookFolder(tmp_path)
    folder.book_file.write_text(
        HEAD + '\n[[chapter]]\nplace = "Porto" # mine too\ntitle = "Old"\n', encoding="utf-8"
    )
    for edit in (
        SetTitle("Porto", "The Bridge", "Two days"),
        SetTitle("Lisbon", "Tiles", ""),
        SetTitle("", "Another", "By the sea"),
        SetTitle("Porto", None, None),
    ):
        before = load_book(folder).book
        write_edit(folder, edit)
        assert load_book(folder).book == apply_edit(before, edit)
    text = folder.book_file.read_text(encoding="utf-8")
    assert "# mine\n" in text
    assert "# mine too" in text


def test_pairs_that_changed_places_are_kept_in_their_order(tmp_path: Path) -> None:
    folder = BookFolder(tmp_path)
    folder.book_file.write_text(HEAD + "\n[layout]\nseed = 3 # mine too\n", encoding="utf-8")
    expected = load_book(folder).book
    for one, other in (("a", "b"), ("b", "c"), ("c", "b"), ("c", "d")):
        edit = ExchangePictures(one, other)
        expected = apply_edit(expected, edit)
        write_edit(folder, edit)
        assert load_book(folder).book == expected
    assert expected.arranging.exchanged == (("a", "b"), ("c", "d"))
    assert "# mine too" in folder.book_file.read_text(encoding="utf-8")

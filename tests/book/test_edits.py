"""Edits change what they name and nothing else, and leave the book before them alone."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wayfold.base.geometry import Rect
from wayfold.book.edits import (
    HoldBlocks,
    SetCaption,
    SetChapterLeaf,
    SetCrop,
    SetInterleaf,
    SetPicks,
    SetText,
    apply_edit,
)
from wayfold.book.planning import PinChoice, Planning
from wayfold.book.state import Book, ChapterChoice, PhotoChoice, Pick

CROP = Rect(0.1, 0.1, 0.5, 0.5)
BOOK = Book(
    "A Title",
    choices={"a": PhotoChoice(pick=Pick.TAKE, caption="Old", crop=CROP, alone=True)},
    texts={"foreword": "Before."},
)


@pytest.mark.parametrize(
    ("edit", "expected"),
    [
        (SetCaption("a", "New"), PhotoChoice(Pick.TAKE, "New", CROP, True)),
        (SetCaption("a", None), PhotoChoice(Pick.TAKE, None, CROP, True)),
        (SetCaption("a", ""), PhotoChoice(Pick.TAKE, "", CROP, True)),
        (SetPicks((("a", Pick.HERO),)), PhotoChoice(Pick.HERO, "Old", CROP, True)),
        (SetInterleaf("a", True), PhotoChoice(Pick.TAKE, "Old", CROP, True, True)),
        (SetInterleaf("a", False), PhotoChoice(Pick.TAKE, "Old", CROP, True)),
        (SetCrop("a", None), PhotoChoice(Pick.TAKE, "Old", None, True)),
        (SetCrop("a", Rect(0, 0, 1, 1)), PhotoChoice(Pick.TAKE, "Old", Rect(0, 0, 1, 1), True)),
    ],
)
def test_an_edit_changes_one_thing_of_one_picture(edit, expected):
    after = apply_edit(BOOK, edit)
    assert after == replace(BOOK, choices={"a": expected})


@pytest.mark.parametrize(
    "edit", [SetCaption("b", "First"), SetPicks((("b", Pick.LEAVE),)), SetCrop("b", CROP)]
)
def test_a_picture_nobody_spoke_of_gets_its_choice(edit):
    after = apply_edit(BOOK, edit)
    assert set(after.choices) == {"a", "b"}
    assert after.choice("a") == BOOK.choice("a")
    assert after.choice("b") != PhotoChoice()


def test_an_undecided_picture_is_open():
    assert BOOK.choice("nobody") == PhotoChoice(Pick.OPEN, None, None, False)


def test_texts():
    after = apply_edit(BOOK, SetText("closing", "After."))
    assert after.texts == {"foreword": "Before.", "closing": "After."}
    assert apply_edit(after, SetText("closing", "Anew.")).texts["closing"] == "Anew."


photos = st.sampled_from(["a", "b", "c"])
edits = st.one_of(
    st.builds(SetCaption, photos, st.none() | st.text(max_size=5)),
    st.lists(st.tuples(photos, st.sampled_from(Pick)), max_size=3).map(tuple).map(SetPicks),
    st.builds(SetCrop, photos, st.none() | st.just(CROP)),
    st.builds(SetText, st.sampled_from(["foreword", "closing"]), st.text(max_size=5)),
)


@given(st.lists(edits, max_size=12))
def test_the_last_word_counts_and_the_first_book_stays(sequence):
    book = BOOK
    for edit in sequence:
        before = replace(book, choices=dict(book.choices), texts=dict(book.texts))
        after = apply_edit(book, edit)
        assert book == before
        assert apply_edit(after, edit) == after
        book = after
    for photo, pick in dict(
        p for e in sequence if isinstance(e, SetPicks) for p in e.picks
    ).items():
        assert book.choice(photo).pick is pick
    others = [e for e in sequence if not isinstance(e, SetPicks)]
    last = {(type(e), e.key if isinstance(e, SetText) else e.photo): e for e in others}
    for edit in last.values():
        match edit:
            case SetCaption(photo, caption):
                assert book.choice(photo).caption == caption
            case SetCrop(photo, crop):
                assert book.choice(photo).crop == crop
            case SetText(key, text):
                assert book.texts[key] == text
    assert replace(book, choices={}, texts={}) == replace(BOOK, choices={}, texts={})


def test_holding_blocks_leaves_what_is_held_of_others() -> None:
    pins = (PinChoice("a", page=3), PinChoice("b", page=5), PinChoice("b", way=1))
    book = replace(BOOK, planning=Planning(pins=pins))
    held = apply_edit(book, HoldBlocks((PinChoice("a", centre=True), PinChoice("c", stays=True))))
    assert held.planning.pins == (
        PinChoice("b", page=5),
        PinChoice("b", way=1),
        PinChoice("a", centre=True),
        PinChoice("c", stays=True),
    )


def test_an_empty_pin_lets_its_block_go() -> None:
    book = replace(BOOK, planning=Planning(pins=(PinChoice("a", page=3), PinChoice("b", page=5))))
    freed = apply_edit(book, HoldBlocks((PinChoice("a"), PinChoice("nobody"))))
    assert freed.planning.pins == (PinChoice("b", page=5),)


def test_a_chapter_opens_behind_a_leaf_and_without_one() -> None:
    book = replace(BOOK, chapters=(ChapterChoice("Lisbon", title="By the river"),))
    asked = apply_edit(
        apply_edit(book, SetChapterLeaf("Lisbon", True)), SetChapterLeaf("Porto", True)
    )
    assert asked.chapters == (
        ChapterChoice("Lisbon", title="By the river", interleaf=True),
        ChapterChoice("Porto", interleaf=True),
    )
    assert apply_edit(asked, SetChapterLeaf("Lisbon", False)).chapters[0] == book.chapters[0]

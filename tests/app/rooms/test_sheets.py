"""How the sheets stand at the desk: before the print files are made, and after."""

from __future__ import annotations

import pytest

from wayfold.app.make import make_book
from wayfold.app.rooms.sheets import (
    mark,
    pass_over,
    start_making,
    take_back,
    view_sheets,
)
from wayfold.app.rooms.sheets_sides import find_sides, side_svg, small_jpeg
from wayfold.app.session import Session
from wayfold.base.errors import ConflictError, NotFoundError
from wayfold.base.progress import NoProgress
from wayfold.book.edits import SetCaption
from wayfold.drawing.pictures import list_pictures, picture_key


def place_of_caption(session: Session) -> tuple[str, str]:
    """A photograph that stands in the book, and the sheet that it is on."""
    for name, inked in find_sides(session).by_name.items():
        for _, side in inked.ink.sides:
            for page in side.pages:
                for part in page.parts:
                    kind, _, photo = part.what.partition(" ")
                    if kind == "picture" and photo in session.results.photos:
                        return photo, name
    raise AssertionError("no sheet bears a photograph")


def test_what_must_be_printed_again_is_told_before_and_after_the_make(session: Session) -> None:
    """The same sheet for the same reason: before from the open book, after from its print files."""
    assert view_sheets(session).freshness == "never"
    make_book(session.folder.root, NoProgress())
    photo, name = place_of_caption(session)
    view = mark(session, ["all"], printed=True)
    assert {card.state for card in view.sheets} == {"printed"}
    assert all(card.day for card in view.sheets)
    session.edit(SetCaption(photo, "The wall by the river."))
    foreseen = view_sheets(session)
    assert (foreseen.freshness, foreseen.proven) == ("outdated", False)
    again = {card.name: card.reasons for card in foreseen.sheets if card.state == "print again"}
    assert list(again) == [name]
    assert any("caption" in reason for reason in again[name])
    with pytest.raises(ConflictError, match="not those of the book"):
        mark(session, ["again"], printed=True)
    make_book(session.folder.root, NoProgress())
    proven = view_sheets(session)
    assert proven.proven
    assert {c.name: c.reasons for c in proven.sheets if c.state == "print again"} == again
    session.undo()
    assert not [c for c in view_sheets(session).sheets if c.state == "print again"]


def test_marks_are_no_step_of_undo_and_taken_back_by_themselves(session: Session) -> None:
    make_book(session.folder.root, NoProgress())
    session.edit(SetCaption(place_of_caption(session)[0], "One."))
    make_book(session.folder.root, NoProgress())
    mark(session, ["1.1"], printed=True)
    ledger = session.folder.ledger_file.read_bytes()
    freed = mark(session, ["1"], printed=False)
    assert not [c for c in freed.sheets if c.state == "printed"]
    back = take_back(session)
    assert [c.name for c in back.sheets if c.state == "printed"] == ["1.1"]
    assert session.folder.ledger_file.read_bytes() == ledger
    # Marking changes plan.lock.toml too; the last step that can be undone is still the caption.
    assert session.state().undo == "a caption"
    session.undo()
    assert session.state().undo is None
    assert session.folder.ledger_file.read_bytes() == ledger
    with pytest.raises(ConflictError):
        take_back(session)


def test_nothing_was_marked_so_nothing_is_taken_back(session: Session) -> None:
    make_book(session.folder.root, NoProgress())
    with pytest.raises(NotFoundError, match="nothing to take back"):
        take_back(session)


def test_a_shift_is_passed_over_where_the_person_says_so(session: Session) -> None:
    make_book(session.folder.root, NoProgress())
    mark(session, ["all"], printed=True)
    session.settle({"paper": {"caliper_um": 225.0}})
    moved = [c for c in view_sheets(session).sheets if c.state == "print again"]
    assert any("mm elsewhere" in reason for card in moved for reason in card.reasons)
    view = pass_over(session, 0.2, marks=True)
    assert not [c for c in view.sheets if c.state == "print again"]
    assert [c.name for c in view.sheets if c.ignored] == [c.name for c in moved]
    assert session.state().undo == "settings"


def test_the_print_files_are_made_once_at_a_time(session: Session) -> None:
    first = start_making(session)
    assert start_making(session).number == first.number
    session.work.stop(first.number)


def test_a_side_is_drawn_with_its_pages_and_its_pictures_small(session: Session) -> None:
    photo, name = place_of_caption(session)
    sides = find_sides(session)
    drawn = [sides.draw(name, side) for side in ("front", "back")]
    pictures = [p for drawing in drawn for p in list_pictures(drawing)]
    assert photo in {p.asset for p in pictures}
    svg = "".join(side_svg(session, name, side) for side in ("front", "back"))
    for picture in pictures:
        assert f"{picture_key(picture)}.jpg" in svg
    key = next(picture_key(p) for p in pictures if p.asset == photo)
    assert small_jpeg(session, key).startswith(b"\xff\xd8")
    with pytest.raises(NotFoundError):
        small_jpeg(session, "nothing")
    with pytest.raises(NotFoundError):
        sides.find_key("9.9", "front")

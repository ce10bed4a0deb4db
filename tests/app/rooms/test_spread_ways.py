"""Other ways for a spread at the desk: shown, taken, given back; leaves asked for."""

import re

import pytest

from wayfold.app.rooms.spread import show_spread
from wayfold.app.rooms.spread_exchange import exchange_places, list_others
from wayfold.app.rooms.spread_leaves import ask_for_leaf
from wayfold.app.rooms.spread_placing import Wish, place_pictures
from wayfold.app.rooms.spread_ways import WaysView, cut_part, show_ways, take_ways
from wayfold.app.session import Session
from wayfold.base.errors import NotFoundError, UserError
from wayfold.base.geometry import Rect
from wayfold.layout.model import PictureFrame, TextFrame
from wayfold.project.photos_file import change_tables
from wayfold.story.model import BlockKind

PART = re.compile(r"/api/spread/part/([^/]+)/[0-9a-f]+/([\d._]+)\.jpg")


def texts_of(session: Session, page: int) -> list[TextFrame]:
    """Give the texts of a page but captions."""
    frames = session.results.layout.pages[page - 1].frames
    return [f for f in frames if isinstance(f, TextFrame) and not f.key.startswith("caption")]


def other_photo(session: Session, photo: str) -> str:
    """Give a photograph of a group that another is not in."""
    groups = (b for b in session.results.story.blocks if b.kind is BlockKind.GROUP)
    return next(p for b in groups for p in b.photos if p != photo)


def find_ways(session: Session) -> tuple[int, WaysView]:
    """Give a page whose pictures could lie in several ways, with them."""
    for page in range(2, len(session.results.drawings), 2):
        ways = show_ways(session.shown, page)
        if len(ways.ways) >= 2:
            return page, ways
    raise AssertionError("no spread of the book could lie otherwise")


def test_ways_are_drawn_and_one_is_taken_and_given_back(session: Session) -> None:
    page, ways = find_ways(session)
    drawings = {way.pages for way in (ways.now, *ways.ways)}
    assert len(drawings) == len(ways.ways) + 1
    parts = [PART.findall(svg) for way in ways.ways for _, svg in way.pages]
    assert any(parts)
    photo, sides = next(found[0] for found in parts if found)
    left, top, width, height = map(float, sides.split("_"))
    jpeg = cut_part(session, photo, Rect(left, top, width, height)).read_bytes()
    assert jpeg.startswith(b"\xff\xd8")
    before = session.results.drawings
    taken = ways.ways[1]
    take_ways(session, taken.choice)
    after = show_ways(session.shown, page)
    assert after.now.choice == taken.choice
    assert after.now.pages == taken.pages
    assert [b.chosen for b in show_spread(session.shown, page).blocks if b.way] == [True] * len(
        taken.choice
    )
    take_ways(session, [(block, None) for block, _ in taken.choice])
    assert session.results.drawings == before


def test_a_way_taken_gives_up_what_was_placed_in_one_step(session: Session) -> None:
    page, ways = find_ways(session)
    block = ways.now.choice[0][0]
    frame = next(
        f for f in show_spread(session.shown, page).frames if f.picture and f.block == block
    )
    assert frame.picture
    box = frame.picture.whole.moved(4, 4)
    place_pictures(session, block, [Wish(frame.picture.photo, frame.page, box)])
    placed = session.results.drawings
    assert show_ways(session.shown, page).now.name.startswith("by-hand")
    take_ways(session, ways.ways[0].choice)
    assert block not in session.results.book.arranging.by_hand
    session.undo()
    assert session.results.drawings == placed


def test_ways_that_there_are_not_are_refused(session: Session) -> None:
    _, ways = find_ways(session)
    block = ways.now.choice[0][0]
    with pytest.raises(NotFoundError, match="cannot lie in a way called"):
        take_ways(session, [(block, "upside down")])
    with pytest.raises(NotFoundError, match="one way only"):
        take_ways(session, [("title", "group")])
    assert show_ways(session.shown, 1).ways == ()
    with pytest.raises(NotFoundError, match="not in the book"):
        cut_part(session, "nobody", Rect(0, 0, 1, 1))
    with pytest.raises(NotFoundError, match="no such part"):
        cut_part(session, next(iter(session.results.photos)), Rect(0.9, 0, 1, 1))


def test_a_leaf_is_asked_for_and_taken_away(session: Session) -> None:
    wishes = [
        wish
        for page in range(2, len(session.results.drawings), 2)
        for wish in show_spread(session.shown, page).interleaf.wishes
    ]
    place = next(w.chapter for w in wishes if w.chapter)
    ask_for_leaf(session, None, place, True)
    opening = next(
        (page, wish)
        for page in range(2, len(session.results.drawings) + 1, 2)
        for wish in show_spread(session.shown, page).interleaf.wishes
        if wish.chapter == place
    )
    page, wish = opening
    assert wish.wanted
    assert wish.lies
    leaves = show_spread(session.shown, page).interleaf
    assert leaves.lying is not None
    assert "<svg" in session.shown.veiled_svg(leaves.lying)
    ask_for_leaf(session, None, place, False)
    assert not any(c.interleaf for c in session.results.book.chapters)
    with pytest.raises(NotFoundError, match="No page of the book"):
        ask_for_leaf(session, "nobody", None, True)


def test_a_picture_with_a_text_of_its_own_is_placed_too_and_has_no_leaf(
    session: Session,
) -> None:
    photo = next(b.photos[0] for b in session.results.story.blocks if b.kind is BlockKind.GROUP)
    (session.folder.texts / "hotel.md").write_text("We slept well.\n", encoding="utf-8")
    file = session.folder.photos_file
    said = change_tables(file.read_text(encoding="utf-8"), {photo: {"text": "hotel"}})
    file.write_text(said, encoding="utf-8")
    session.look_again()
    frame, wish = next(
        (frame, wish)
        for page in range(2, len(session.results.drawings), 2)
        for frame in show_spread(session.shown, page).frames
        for wish in show_spread(session.shown, page).interleaf.wishes
        if frame.picture and frame.picture.photo == wish.photo == photo
    )
    assert not wish.possible
    with pytest.raises(UserError) as told:
        ask_for_leaf(session, photo, None, True)
    assert told.value.what == wish.why_not
    assert frame.movable
    assert frame.block
    texts = texts_of(session, frame.page)
    place_pictures(session, frame.block, [Wish(photo, frame.page, Rect(60, 150, 90, 60))])
    laid = session.results.layout.pages[frame.page - 1]
    (picture,) = (f for f in laid.frames if isinstance(f, PictureFrame))
    assert picture.box == Rect(60, 150, 90, 60)
    # Its text stays where it stood; its caption goes with it.
    # It stays with its text: pictures that stand with none are no exchange for it.
    assert list_others(session.shown, photo) == ()
    with pytest.raises(UserError, match="stays with it"):
        exchange_places(session, photo, other_photo(session, photo))
    assert texts_of(session, frame.page) == texts

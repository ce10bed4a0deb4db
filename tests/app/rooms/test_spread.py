"""What the room Spread shows of two facing pages, against the layout they came from."""

import pytest

from wayfold.app.rooms.spread import show_spread
from wayfold.app.session import Session
from wayfold.base.errors import NotFoundError
from wayfold.base.geometry import Rect
from wayfold.base.units import mm_from_px
from wayfold.drawing.items import Picture


def test_every_picture_of_every_page_is_shown_where_it_is_drawn(session: Session) -> None:
    drawings = session.results.drawings
    for page in range(1, len(drawings) + 1):
        spread = show_spread(session.shown, page)
        shown = {
            (f.page, f.picture.photo): (f.picture, f.box)
            for f in spread.frames
            if f.picture is not None
        }
        photos = session.results.photos
        for number in (p.number for p in spread.pages):
            drawn = [i for i in drawings[number - 1].items if isinstance(i, Picture)]
            for item in (i for i in drawn if i.asset in photos):
                picture, box = shown.pop((number, item.asset))
                assert picture.crop == item.crop
                across = Rect(spread.trim.width, 0, 0, 0) if picture.across and number % 2 else None
                assert picture.whole == (item.box.moved(across.x, 0) if across else item.box)
                assert item.box.contains(box)
        assert not shown


def test_sizes_are_reckoned_from_pixels(session: Session) -> None:
    pictures = [
        frame.picture
        for page in range(2, len(session.results.drawings), 2)
        for frame in show_spread(session.shown, page).frames
        if frame.picture
    ]
    assert len(pictures) > 10
    for picture in pictures:
        assert picture.name.endswith(".jpg")
        across = mm_from_px(picture.crop.width * picture.width_px, picture.ppi)
        down = mm_from_px(picture.crop.height * picture.height_px, picture.ppi)
        # At so many pixels an inch the part shown is as large as the frame, in one direction.
        assert min(abs(across - picture.whole.width), abs(down - picture.whole.height)) < 1e-6
        shape = picture.whole.width / picture.whole.height
        assert picture.largest.width / picture.largest.height == pytest.approx(shape)


def test_ids_are_one_of_a_kind_and_stay(session: Session) -> None:
    for page in range(2, len(session.results.drawings), 2):
        ids = [frame.id for frame in show_spread(session.shown, page).frames]
        assert len(ids) == len(set(ids))
        assert ids == [frame.id for frame in show_spread(session.shown, page).frames]


def test_what_a_person_wrote_is_shown_as_they_wrote_it(session: Session) -> None:
    frames = [
        frame
        for page in range(2, len(session.results.drawings), 2)
        for frame in show_spread(session.shown, page).frames
    ]
    words = {(w.what, w.key): w for frame in frames for w in frame.words}
    assert words["text", "foreword"].source == "We went *west*.\n"
    assert words["text", "foreword"].own
    assert words["title", ""].source == "Four Days by the Atlantic"
    titled = {chapter.place for chapter in session.results.story.chapters}
    assert titled <= {key for what, key in words if what == "title"}


def test_lines_lie_on_the_page(session: Session) -> None:
    spread = show_spread(session.shown, 6)
    page = Rect(0, 0, spread.trim.width, spread.trim.height)
    assert [p.side for p in spread.pages] == ["verso", "recto"]
    left, right = spread.pages
    for laid in spread.pages:
        assert page.contains(laid.picture_area)
        assert all(laid.picture_area.contains(column) for column in laid.columns)
    # Margins are mirrored about the fold.
    assert left.picture_area.x == pytest.approx(spread.trim.width - right.picture_area.right)


def test_the_first_page_stands_alone_and_there_is_none_beyond_the_last(session: Session) -> None:
    assert [p.number for p in show_spread(session.shown, 1).pages] == [1]
    with pytest.raises(NotFoundError, match="no page 999"):
        show_spread(session.shown, 999)

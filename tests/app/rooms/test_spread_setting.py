"""Texts and captions placed at the desk, set by themselves, given back; all of it undone."""

import pytest

from tests.app.rooms.test_spread_placing import find_group, is_same, pictures
from wayfold.app.rooms.spread import show_spread
from wayfold.app.rooms.spread_exchange import exchange_places
from wayfold.app.rooms.spread_placing import Wish, place_pictures, release_block
from wayfold.app.rooms.spread_setting import place_text, release_text, set_caption_apart
from wayfold.app.rooms.spread_views import FrameView
from wayfold.app.rooms.spread_writing import write_caption
from wayfold.app.session import Session
from wayfold.base.errors import NotFoundError, UserError
from wayfold.base.progress import NoProgress
from wayfold.layout.judge import shown_box


def find_text(session: Session, key: str) -> FrameView:
    """Give the one text of that key, on whatever page it stands."""
    return next(
        frame
        for number in range(1, len(session.results.layout.pages) + 1)
        for frame in show_spread(session.shown, number).frames
        if frame.id.partition("@")[0] == key
    )


def test_a_title_and_a_foreword_are_placed_and_found_again(session: Session) -> None:
    foreword = find_text(session, "foreword")
    place_text(session, foreword.id, foreword.page, (40.0, 61.5), 88.0)
    opener = find_text(session, "opener:0")
    pages = {p.number: p for p in session.results.layout.pages}
    place_text(session, opener.id, opener.page, (30.0, 150.25), 120.0)
    for key, box in (("foreword", (40.0, 61.5, 88.0)), ("opener:0", (30.0, 150.25, 120.0))):
        placed = find_text(session, key)
        assert (placed.box.x, placed.box.y, placed.box.width) == box
        assert placed.by_hand
    # Nothing else moved, and what was placed is on the disk.
    changed = [p.number for p in session.results.layout.pages if p != pages[p.number]]
    assert changed == [opener.page]
    again = Session.open(session.folder.root, NoProgress())
    assert again.results.drawings == session.results.drawings
    again.close()
    release_text(session, find_text(session, "opener:0").id)
    assert find_text(session, "opener:0") == opener
    session.undo()
    session.undo()
    assert find_text(session, "opener:0") == opener
    with pytest.raises(NotFoundError, match="not placed by hand"):
        release_text(session, opener.id)


def test_a_caption_goes_to_another_side_and_its_pictures_stay(session: Session) -> None:
    block, page = find_group(session)
    before = pictures(show_spread(session.shown, page), block)
    one, other = list(before)[:2]
    for photo, words in ((one, "The mole at noon"), (other, "The inn by the river")):
        write_caption(session, photo, words, was=find_caption(session, photo))
    before = pictures(show_spread(session.shown, page), block)
    together = find_text(session, f"captions:{block}")
    assert together.movable
    set_caption_apart(session, one)
    apart = find_text(session, f"caption:{one}")
    assert apart.block == block
    # It found white: nothing of its page lies under it.
    laid = session.results.layout.pages[apart.page - 1]
    lies_on = [f for f in laid.frames if shown_box(f).overlap(apart.box)]
    assert [getattr(f, "key", "picture") for f in lies_on] == [f"caption:{one}"]
    assert [w.source for w in apart.words] == ["The mole at noon"]
    assert find_text(session, f"captions:{block}").words[0].key == other
    # To the left of its picture, over the edge of the page: obeyed, and told.
    place_text(session, apart.id, apart.page, (-10.0, 40.0), 50.0)
    spread = show_spread(session.shown, apart.page)
    told = {f.rule: f for f in spread.findings if f.frame == apart.id}
    assert "text-near-edge" in told
    after = pictures(show_spread(session.shown, page), block)
    assert all(is_same(after[p][1].whole, v.whole) for p, (_, v) in before.items())
    # The place of a caption is the place's: the picture that comes there takes it.
    exchange_places(session, one, other)
    assert find_text(session, f"caption:{other}").box.x == -10.0
    # Moving a picture leaves the caption where it was put.
    photo, (frame, view) = next(iter(pictures(show_spread(session.shown, page), block).items()))
    place_pictures(session, block, [Wish(photo, frame.page, view.whole.moved(1, 1))])
    assert find_text(session, f"caption:{other}").box.x == -10.0
    release_block(session, block)
    assert not find_text(session, f"captions:{block}").by_hand


def find_caption(session: Session, photo: str) -> str:
    return session.results.book.choice(photo).caption or session.results.photos[photo].caption or ""


def test_what_cannot_be_is_refused_with_the_reason(session: Session) -> None:
    title = find_text(session, "title")
    with pytest.raises(UserError, match="too narrow"):
        place_text(session, title.id, title.page, (30.0, 30.0), 5.0)
    with pytest.raises(UserError, match="outside its page"):
        place_text(session, title.id, title.page, (900.0, 30.0), 50.0)
    with pytest.raises(UserError, match="too far from page"):
        place_text(session, title.id, title.page + 7, (30.0, 30.0), 50.0)
    with pytest.raises(NotFoundError, match="does not stand there"):
        place_text(session, "title@9999", 1, (30.0, 30.0), 50.0)
    contents = find_text(session, "contents")
    assert not contents.movable
    with pytest.raises(UserError, match="finds its place by itself"):
        place_text(session, contents.id, contents.page, (30.0, 30.0), 50.0)
    block, page = find_group(session)
    photo = next(iter(pictures(show_spread(session.shown, page), block)))
    write_caption(session, photo, "", was=find_caption(session, photo))
    with pytest.raises(UserError, match="no caption yet"):
        set_caption_apart(session, photo)

"""Pictures placed, cropped and exchanged at the desk; what a person wrote; all of it undone."""

import math
from pathlib import Path

import pytest

from wayfold.app.rooms.spread import show_spread
from wayfold.app.rooms.spread_exchange import exchange_places, list_others
from wayfold.app.rooms.spread_placing import Wish, crop_picture, place_pictures, release_block
from wayfold.app.rooms.spread_views import FrameView, PictureView, SpreadView
from wayfold.app.rooms.spread_writing import write_caption, write_text, write_title
from wayfold.app.session import Session
from wayfold.base.errors import ConflictError, NotFoundError, UserError
from wayfold.base.geometry import Rect
from wayfold.base.progress import NoProgress
from wayfold.base.units import mm_from_pt
from wayfold.layout.fixed import FIXED
from wayfold.story.model import BlockKind

GROUP = BlockKind.GROUP


def find_group(session: Session, least: int = 2) -> tuple[str, int]:
    """Give a block of several pictures that lies on one spread, and its first page."""
    for block in session.results.story.blocks:
        pages = [p.number for p in session.results.plan.pages if p.block == block.id]
        if block.kind not in FIXED and len(block.photos) >= least and pages:
            return block.id, pages[0]
    raise AssertionError("the book has no group of pictures")


def pictures(spread: SpreadView, block: str) -> dict[str, tuple[FrameView, PictureView]]:
    return {
        f.picture.photo: (f, f.picture) for f in spread.frames if f.picture and f.block == block
    }


def is_same(one: Rect, other: Rect) -> bool:
    """Whether two boxes are the same to what the file keeps, a thousandth of a mm."""
    return one.contains(other, 0.001) and other.contains(one, 0.001)


def test_one_picture_is_moved_and_no_other_thing(session: Session) -> None:
    block, page = find_group(session)
    before = show_spread(session.shown, page)
    (photo, (frame, picture)), *others = pictures(before, block).items()
    box = Rect(picture.whole.x + 3, picture.whole.y - 4, picture.whole.width, picture.whole.height)
    place_pictures(session, block, [Wish(photo, frame.page, box)])
    after = show_spread(session.shown, page)
    moved = pictures(after, block)
    assert is_same(moved[photo][1].whole, box)
    for other, (_, was) in others:
        assert is_same(moved[other][1].whole, was.whole)
    assert [b.by_hand for b in after.blocks if b.id == block] == [True]
    # And as placed it is on the disk: a new session lays it so.
    again = Session.open(session.folder.root, NoProgress())
    assert again.results.drawings == session.results.drawings
    session.undo()
    assert show_spread(session.shown, page).frames == before.frames


def test_given_back_it_lies_as_before(session: Session) -> None:
    block, page = find_group(session)
    before = session.results.drawings
    photo, (frame, picture) = next(iter(pictures(show_spread(session.shown, page), block).items()))
    place_pictures(session, block, [Wish(photo, frame.page, picture.whole.moved(5, 5))])
    assert session.results.drawings != before
    release_block(session, block)
    assert session.results.drawings == before
    with pytest.raises(NotFoundError, match="not placed by hand"):
        release_block(session, block)


def test_what_looks_wrong_is_told_and_stays(session: Session) -> None:
    block, page = find_group(session)
    (one, (frame, picture)), (other, (_, under)), *_ = pictures(
        show_spread(session.shown, page), block
    ).items()
    over = under.whole.moved(10, 10)
    place_pictures(session, block, [Wish(one, frame.page, over)])
    spread = show_spread(session.shown, page)
    assert is_same(pictures(spread, block)[one][1].whole, over)
    told = {f.rule: f for f in spread.findings}
    assert "overlapping-pictures" in told
    assert told["overlapping-pictures"].frame in {f"picture:{p}@{frame.page}" for p in (one, other)}
    large = Rect(0, 0, 200, 200 / picture.whole.size.aspect)
    place_pictures(session, block, [Wish(one, frame.page, large)])
    assert "resolution" in {f.rule for f in show_spread(session.shown, page).findings}


@pytest.mark.parametrize(
    ("box", "crop", "words"),
    [
        (Rect(20, 20, 2, 40), None, "too small"),
        (Rect(900, 20, 40, 40), None, "outside its page"),
        (Rect(-38, 20, 40, 40), None, "outside its page"),
        (Rect(20, 20, 40, 40), Rect(0.5, 0, 0.6, 1), "within the picture"),
        (Rect(20, 20, 40, 40), Rect(0.5, 0, 0.001, 1), "nearly nothing"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_changed(
    session: Session, box: Rect, crop: Rect | None, words: str
) -> None:
    block, page = find_group(session)
    spread = show_spread(session.shown, page)
    photo, (frame, _) = next(iter(pictures(spread, block).items()))
    before = session.folder.book_file.read_bytes()
    with pytest.raises(UserError, match=words):
        place_pictures(session, block, [Wish(photo, frame.page, box, crop)])
    assert session.folder.book_file.read_bytes() == before


def test_pictures_of_other_pages_are_refused_with_the_reason(session: Session) -> None:
    block, page = find_group(session)
    with pytest.raises(NotFoundError, match="does not belong"):
        place_pictures(session, block, [Wish("nobody", page, Rect(20, 20, 40, 40))])
    photo = next(iter(pictures(show_spread(session.shown, page), block)))
    with pytest.raises(UserError, match="not on page 1"):
        place_pictures(session, block, [Wish(photo, 1, Rect(20, 20, 40, 40))])
    with pytest.raises(NotFoundError, match="no more"):
        place_pictures(session, "group:gone", [Wish(photo, page, Rect(20, 20, 40, 40))])


def test_a_crop_in_place_moves_nothing(session: Session) -> None:
    block, page = find_group(session)
    before = pictures(show_spread(session.shown, page), block)
    photo, (frame, picture) = next(iter(before.items()))
    part = Rect(picture.crop.x, picture.crop.y, picture.crop.width / 2, picture.crop.height / 2)
    place_pictures(session, block, [Wish(photo, frame.page, picture.whole, part)])
    after = pictures(show_spread(session.shown, page), block)
    assert after[photo][1].crop.contains(part, 0.002)
    assert after[photo][1].crop_kept
    assert after[photo][1].ppi == pytest.approx(picture.ppi / 2, rel=0.01)
    assert all(is_same(after[p][0].box, f.box) for p, (f, _) in before.items())
    crop_picture(session, photo, None)
    whole = pictures(show_spread(session.shown, page), block)[photo][1]
    assert not whole.crop_kept


def test_a_crop_is_kept_whatever_lays_the_picture(session: Session) -> None:
    block, page = find_group(session)
    photo = next(iter(pictures(show_spread(session.shown, page), block)))
    part = Rect(0.1, 0.1, 0.8, 0.8)
    crop_picture(session, photo, part)
    assert session.results.book.choice(photo).crop == part
    session.undo()
    assert session.results.book.choice(photo).crop is None


def test_two_pictures_change_places(session: Session) -> None:
    block, page = find_group(session)
    before = pictures(show_spread(session.shown, page), block)
    one, other = list(before)[:2]
    exchange_places(session, one, other)
    after = pictures(show_spread(session.shown, page), block)
    for photo, place in ((one, other), (other, one)):
        box, frame = after[photo][1].whole, before[place][1].whole
        assert frame.contains(box, 0.01)
        # As large as the frame allows, in its middle.
        assert max(box.width / frame.width, box.height / frame.height) == pytest.approx(1, abs=1e-3)
        assert box.center.x == pytest.approx(frame.center.x, abs=0.01)
    with pytest.raises(UserError, match="itself"):
        exchange_places(session, one, one)


def test_pictures_of_different_pages_change_places(session: Session) -> None:
    groups = [b for b in session.results.story.blocks if len(b.photos) > 1 and b.kind is GROUP]
    near, far = groups[:2]
    page = session.results.plan.first_page_of(near.id)
    before = pictures(show_spread(session.shown, page), near.id)
    one, other = near.photos[0], far.photos[1]
    drawings = session.results.drawings
    offered = {o.photo: o.page for o in list_others(session.shown, one)}
    assert one not in offered
    assert offered[other] in {p.number for p in session.results.plan.pages if p.block == far.id}
    assert list(offered.values()) == sorted(offered.values())
    exchange_places(session, one, other)
    story = session.results.story
    assert story.block(near.id).photos == (other, *near.photos[1:])
    assert story.block(far.id).photos == (far.photos[0], one, *far.photos[2:])
    after = pictures(show_spread(session.shown, page), near.id)
    for photo in set(near.photos[1:]) & set(before):
        assert is_same(after[photo][1].whole, before[photo][1].whole)
    assert before[one][1].whole.contains(after[other][1].whole, 0.01)
    session.undo()
    assert session.results.drawings == drawings


def test_texts_are_written_where_they_stand(session: Session) -> None:
    write_text(session, "foreword", "We went *south*.\n", was="We went *west*.\n")
    assert session.results.book.texts["foreword"] == "We went *south*.\n"
    with pytest.raises(ConflictError, match="written anew elsewhere"):
        write_text(session, "foreword", "We stayed.\n", was="We went *west*.\n")
    assert session.results.book.texts["foreword"] == "We went *south*.\n"
    with pytest.raises(NotFoundError, match="no text"):
        write_text(session, "../elsewhere", "x", was="")


def test_captions_and_titles_are_written_where_they_stand(session: Session) -> None:
    block, page = find_group(session)
    photo = next(iter(pictures(show_spread(session.shown, page), block)))
    write_caption(session, photo, "By the river", was="")
    spread = show_spread(session.shown, page)
    words = [w for f in spread.frames for w in f.words if w.key == photo]
    assert {w.source for w in words} == {"By the river"}
    assert any(f.kind == "caption" for f in spread.frames for w in f.words if w.key == photo)
    with pytest.raises(ConflictError):
        write_caption(session, photo, "By the sea", was="")
    place = session.results.story.chapters[0].place
    title = session.results.story.chapters[0].title
    subtitle = session.results.story.chapters[0].subtitle
    write_title(session, place, ("Tiles", "Two days"), was=(title, subtitle))
    assert session.results.story.chapters[0].title == "Tiles"
    write_title(session, "", ("Five Days", ""), was=(session.results.book.title, ""))
    assert session.results.book.title == "Five Days"
    with pytest.raises(NotFoundError, match="no chapter of Atlantis"):
        write_title(session, "Atlantis", ("x", None), was=("", None))


def test_a_text_that_runs_off_its_page_says_by_how_much(session: Session) -> None:
    block, page = find_group(session, 1)
    spread = show_spread(session.shown, page)
    photo = next(iter(pictures(spread, block)))
    write_caption(session, photo, " ".join(["harbour"] * 900), was="")
    told = [
        (frame, words.overset)
        for number in range(2, len(session.results.drawings) + 1, 2)
        for frame in show_spread(session.shown, number).frames
        for words in frame.words
        if words.key == photo and frame.kind == "caption"
    ]
    ((frame, overset),) = told
    assert overset is not None
    # As many lines as lie beyond 5 mm from the trim, at the caption's leading.
    style = session.results.book.style.caption
    beyond = frame.box.bottom - (session.results.book.trim.height - 5.0)
    assert overset.lines == math.ceil(beyond / mm_from_pt(style.leading_pt))
    assert 0 < overset.words < 900
    rules = {f.rule for f in show_spread(session.shown, frame.page).findings if f.frame == frame.id}
    assert "layout.off-the-page" in rules
    write_caption(session, photo, "Short.", was=" ".join(["harbour"] * 900))
    after = show_spread(session.shown, page)
    assert all(w.overset is None for f in after.frames for w in f.words)


def test_hand_edits_of_what_was_placed_are_obeyed(session: Session) -> None:
    block, page = find_group(session)
    photo, (frame, picture) = next(iter(pictures(show_spread(session.shown, page), block).items()))
    place_pictures(session, block, [Wish(photo, frame.page, picture.whole.moved(5, 5))])
    file: Path = session.folder.book_file
    text = file.read_text(encoding="utf-8")
    left = f"{round(picture.whole.x + 5, 3)}"
    assert left in text
    file.write_text(text.replace(left, "31.0", 1), encoding="utf-8")
    session.look_again()
    assert pictures(show_spread(session.shown, page), block)[photo][1].whole.x == 31.0

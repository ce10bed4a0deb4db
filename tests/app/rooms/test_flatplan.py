"""The flatplan room: what it shows is the plan, what it tries writes nothing, what it makes can be
undone. Which page lies beside which is geometry of folding (any dummy shows it); the rest are our
own rules (docs/planning.md)."""

import threading
import time
from datetime import timedelta
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from tests import desk_book
from tests.desk_book import CAMERA_LATE, START, copy_book, open_book, paint
from wayfold.app.ledger import mark_sheets
from wayfold.app.made import read_made
from wayfold.app.make import make_book
from wayfold.app.rooms.flatplan import view_flatplan
from wayfold.app.rooms.flatplan_judged import find_page, judge_flatplan
from wayfold.app.rooms.flatplan_pages import PAGE_PX, find_small_pages
from wayfold.app.rooms.flatplan_trials import Begun, Trials, find_trials
from wayfold.app.rooms.flatplan_tried import Tried
from wayfold.app.rooms.flatplan_why import explain_page
from wayfold.app.rooms.flatplan_wishes import Asked
from wayfold.app.session import Session
from wayfold.base.errors import ConflictError, NotFoundError
from wayfold.base.progress import NoProgress
from wayfold.book.edits import SetCaption
from wayfold.book.state import Pick
from wayfold.plan import planner
from wayfold.plan.search import Search
from wayfold.project.files import BookFolder

LARGE = (6000, 4000)
"""Pixels enough for two pages of A4: 420 mm at 300 ppi are 4961."""


@pytest.fixture
def large(atlantic: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Session:
    """The journey with one picture more that can cross two pages, on its second day."""
    root = copy_book(atlantic, tmp_path / "large")
    monkeypatch.setattr(desk_book, "SIZES", (LARGE,) * 3)
    taken = START + timedelta(days=1, hours=2) - CAMERA_LATE
    paint(root / "photographs" / "camera" / "H9000.jpg", 90, taken, None)
    return open_book(root).session


def ask(session: Session, asked: Asked) -> Tried:
    """Try a wish out, and wait until it is planned."""
    return wait_planned(session, find_trials(session).ask(session, asked))


def go(session: Session, number: int, way: int) -> Tried:
    """Try a trial by one of its ways, and wait until that is planned."""
    return wait_planned(session, find_trials(session).go(session, number, way))


def wait_planned(session: Session, begun: Begun) -> Tried:
    deadline = time.monotonic() + 60
    while time.monotonic() < deadline:
        work = next(w for w in session.work.works if w.number == begun.work)
        assert work.state in ("waiting", "going on", "done"), work
        if work.state == "done":
            return find_trials(session).view(session, begun.number)
        time.sleep(0.01)
    raise AssertionError("it was never planned")


def list_files(session: Session) -> dict[str, bytes]:
    folder = session.folder
    return {path.name: path.read_bytes() for path in folder.list_decisions()}


def find_photo(session: Session, name: str) -> str:
    return next(p.id for p in session.results.catalogue.photos if Path(p.path).stem == name)


def first_block(session: Session, kind: str) -> str:
    return next(b.id for b in session.results.story.blocks if b.kind.value == kind)


def test_the_view_is_the_plan(session: Session) -> None:
    view, plan = view_flatplan(session), session.results.plan
    assert [(p.number, p.block, p.part) for p in view.pages] == [
        (p.number, p.block, p.part) for p in plan.pages
    ]
    assert [g.sheets for g in view.gatherings] == [g.sheets for g in plan.gatherings]
    first = {p.block: p.number for p in reversed(view.pages) if p.block is not None}
    assert {b.id: b.first_page for b in view.blocks} == first
    assert all(b.name for b in view.blocks)
    assert sum(len(b.photos) for b in view.blocks) == 32


def test_a_small_page_shows_what_the_page_shows(session: Session) -> None:
    view, pages = view_flatplan(session), find_small_pages(session)
    book = session.results.book
    key = next(p.picture for p in view.pages if (p.block or "").startswith("group"))
    picture = Image.open(BytesIO(pages.get(key)))
    assert picture.height == PAGE_PX
    assert picture.width / picture.height == pytest.approx(
        book.trim.width / book.trim.height, abs=0.004
    )
    # Paper is white at the corner, and the painted pictures are not.
    pixels = np.asarray(picture.convert("HSV"))
    assert pixels[2, 2, 2] > 250
    assert pixels[..., 1].max() > 120
    again = time.perf_counter()
    assert pages.get(key) == pages.get(key)
    assert time.perf_counter() - again < 1.0
    with pytest.raises(NotFoundError):
        pages.get("0" * 32)


def test_the_plan_is_judged_as_the_command_judges_it(session: Session) -> None:
    judged = judge_flatplan(session)
    assert judged.cost == session.results.planned.result.cost
    choices = [choice for offer in judged.offers for choice in offer.choices]
    assert sorted(choices) == ["balanced", "even gatherings", "every hero centred"]
    assert [offer.taken for offer in judged.offers].count(True) == 1
    plan = session.results.plan
    assert all(1 <= wish.page <= len(plan.pages) for wish in judged.unmet)
    assert find_page("gathering 2", plan) == plan.gatherings[1].first_page
    assert find_page("block opener:1", plan) == plan.first_page_of("opener:1")
    assert find_page("pages 4-5", plan) == 4
    assert find_page("plan", plan) is None


def test_a_trial_writes_nothing_and_tells_what_would_move(session: Session) -> None:
    files = list_files(session)
    block = first_block(session, "group")
    page = session.results.plan.first_page_of(block)
    tried = ask(session, Asked("move", block, page + 1))
    assert list_files(session) == files
    assert tried.possible
    assert tried.changes
    moved = [p for p in tried.after if p.block == block]
    assert moved[0].number == page + 1
    numbers = [p.number for p in tried.after]
    assert numbers == list(range(numbers[0], numbers[-1] + 1))
    assert {p.moved for p in tried.after} & {"moves", "comes"}
    by_name = {(p.block, p.number): p for p in tried.before}
    for after in tried.after:
        if after.moved == "moves" and after.other is not None:
            assert by_name[after.block, after.other].other == after.number


def test_a_move_is_made_as_it_was_tried_and_undone(session: Session) -> None:
    plan, trials = session.results.plan, find_trials(session)
    block = first_block(session, "group")
    page = plan.first_page_of(block) + 1
    tried = ask(session, Asked("move", block, page))
    trials.make(session, tried.number)
    assert session.results.plan.first_page_of(block) == page
    for after in tried.after:
        assert session.results.plan.pages[after.number - 1].block == after.block
    (held,) = (b.held for b in view_flatplan(session).blocks if b.id == block)
    assert held is not None
    assert held.page == page
    session.undo()
    assert session.results.plan == plan


def test_a_change_that_comes_between_takes_no_wish_away(session: Session) -> None:
    trials, results = find_trials(session), session.results
    group = first_block(session, "group")
    moving = ask(session, Asked("move", group, results.plan.first_page_of(group) + 1))
    tried = ask(session, Asked("hold", first_block(session, "opener")))
    photo = next(b.photos[0] for b in results.story.blocks if b.photos)
    session.edit(SetCaption(photo, "Written in between"))
    trials.make(session, tried.number)
    assert len(session.results.book.planning.pins) == 1
    assert session.results.book.choices[photo].caption == "Written in between"
    # What moves pages is seen before it is made.
    with pytest.raises(ConflictError, match="changed since"):
        trials.make(session, moving.number)


def test_what_moves_nothing_stands_still(session: Session) -> None:
    trials, plan = find_trials(session), session.results.plan
    block = first_block(session, "opener")
    tried = ask(session, Asked("hold", block))
    assert (tried.still, tried.met, tried.before, tried.after) == (True, True, (), ())
    trials.make(session, tried.number)
    assert session.results.plan == plan
    tried = ask(session, Asked("let go", block))
    trials.make(session, tried.number)
    assert session.results.book.planning.pins == ()


def test_a_page_that_cannot_be_gets_ways_out_that_can(session: Session) -> None:
    trials = find_trials(session)
    opener = first_block(session, "opener")
    page = session.results.plan.first_page_of(opener)
    tried = ask(session, Asked("move", opener, page + 1))
    assert not tried.possible
    assert "right one" in tried.findings[0].message
    assert tried.ways
    for at, way in enumerate(tried.ways):
        assert way.name == "page"
        again = go(session, tried.number, at)
        assert again.possible
        assert next(p.number for p in again.after if p.block == opener) == way.page
    with pytest.raises(ConflictError):
        trials.make(session, tried.number)
    with pytest.raises(NotFoundError):
        go(session, tried.number, 99)


def test_a_picture_dragged_far_may_leave_its_moment_and_stand_there(session: Session) -> None:
    trials, plan, story = find_trials(session), session.results.plan, session.results.story
    groups = [b for b in story.blocks if b.kind.value == "group"]
    mine, theirs = groups[0], groups[-1]
    page = plan.first_page_of(theirs.id)
    tried = ask(session, Asked("move", mine.id, page))
    # Far back in the story: its order forbids it, and the first way out brings it there at once.
    assert not tried.possible
    assert "what comes before it does not fill the pages" in tried.findings[0].message
    assert (tried.ways[0].name, tried.ways[0].page) == ("exchange", page)
    again = go(session, tried.number, 0)
    assert again.possible
    assert again.met
    assert not again.still
    assert any(f"comes to page {page}" in change for change in again.changes)
    trials.make(session, again.number)
    count = min(len(mine.photos), len(theirs.photos))
    moved = session.results.story
    assert moved.block(theirs.id).photos[:count] == mine.photos[:count]
    assert set(moved.block(mine.id).photos[:count]) <= set(theirs.photos)
    # No page was held for it, and nothing else lies elsewhere.
    assert session.results.book.planning.pins == ()
    assert [p.block for p in session.results.plan.pages] == [p.block for p in plan.pages]
    session.undo()
    assert session.results.story == story


def test_planning_is_stopped_where_one_leaves_it(
    session: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    trials, block = find_trials(session), first_block(session, "group")
    asked = Asked("move", block, session.results.plan.first_page_of(block) + 1)
    reached, left = threading.Event(), threading.Event()

    def look_on(self: Search) -> None:
        reached.set()
        assert left.wait(60)
        return find(self)

    find = Search.find_cheapest
    monkeypatch.setattr(Search, "find_cheapest", look_on)
    monkeypatch.setattr(planner, "STEPS", 10**9)
    begun = trials.ask(session, asked)
    assert reached.wait(60)
    with pytest.raises(ConflictError, match="still being tried"):
        trials.view(session, begun.number)
    trials.leave(session, begun.number)
    left.set()
    while True:
        work = next(w for w in session.work.works if w.number == begun.work)
        if work.state not in ("waiting", "going on"):
            break
        time.sleep(0.01)
    assert work.state == "stopped"
    # The next one is planned as if there had been none.
    monkeypatch.undo()
    assert ask(session, asked).number > begun.number


def test_a_pin_in_the_way_is_named_and_can_be_let_go(session: Session) -> None:
    trials, plan = find_trials(session), session.results.plan
    groups = [b.id for b in session.results.story.blocks if b.kind.value == "group"]
    held, mover = groups[1:3]
    trials.make(session, ask(session, Asked("hold", held)).number)
    tried = ask(session, Asked("move", mover, plan.first_page_of(held)))
    assert not tried.possible
    (at,) = (i for i, way in enumerate(tried.ways) if way.name == "let go")
    assert tried.ways[at].block == "group IMG_0004 + 3"
    again = go(session, tried.number, at)
    assert again.possible
    assert next(p.number for p in again.after if p.block == mover) == plan.first_page_of(held)


def test_a_hero_lands_at_a_centre_and_back(large: Session) -> None:
    plan, trials = large.results.plan, find_trials(large)
    photo = find_photo(large, "H9000")
    tried = ask(large, Asked("hero", photo))
    assert tried.possible
    if not tried.met:
        assert tried.ways[0].name == "centre"
        tried = go(large, tried.number, 0)
    assert tried.met
    assert "at the centre" in " ".join(tried.lies)
    trials.make(large, tried.number)
    results = large.results
    first = results.plan.first_page_of(f"hero:{photo}")
    assert first in {g.centre[0] for g in results.plan.gatherings}
    assert results.book.choice(photo).pick is Pick.HERO
    large.undo()
    assert large.results.plan == plan
    assert large.results.book.choice(photo).pick is not Pick.HERO
    large.close()


def test_a_hero_of_too_few_pixels_is_said_to_be_none(session: Session) -> None:
    tried = ask(session, Asked("hero", find_photo(session, "IMG_0006")))
    assert (tried.possible, tried.met) == (True, False)
    assert any("pixels an inch" in finding.message for finding in tried.findings)
    upright = ask(session, Asked("hero", find_photo(session, "IMG_0004")))
    assert (upright.met, upright.block) == (True, "single IMG_0004")


def test_an_interleaf_comes_out_again_at_the_mirrored_place(session: Session) -> None:
    trials = find_trials(session)
    photo = find_photo(session, "IMG_0008")
    tried = ask(session, Asked("leaf", photo))
    leaf = tried.leaf
    assert leaf is not None
    assert leaf.after_page is not None
    trials.make(session, tried.number)
    plan = session.results.plan
    assert plan.pages[leaf.over - 1].block == f"single:{photo}"
    gathering = plan.gathering_of(leaf.over)
    here = leaf.over - 1 if leaf.over % 2 else leaf.over
    # Folded paper: the gaps before and after a sheet lie equally far from the two ends.
    assert here + leaf.after_page == gathering.first_page - 1 + gathering.last_page
    view = view_flatplan(session)
    assert any(p.interleaf for b in view.blocks for p in b.photos if p.id == photo)
    assert {end.after_page for end in view.leaves[0].ends} == {here, leaf.after_page}
    trials.make(session, ask(session, Asked("no leaf", photo)).number)
    assert session.results.plan.interleaves == ()


def test_a_chapter_opens_behind_an_interleaf(session: Session) -> None:
    trials = find_trials(session)
    tried = ask(session, Asked("chapter leaf", "Porto"))
    assert tried.leaf is not None
    trials.make(session, tried.number)
    (opener,) = (b for b in view_flatplan(session).blocks if b.place == "Porto")
    assert opener.leaf
    assert opener.first_page == tried.leaf.over


def test_a_book_that_changed_meanwhile_is_not_changed_blindly(session: Session) -> None:
    trials = find_trials(session)
    block = first_block(session, "group")
    tried = ask(session, Asked("move", block, session.results.plan.first_page_of(block) + 1))
    trials.make(session, ask(session, Asked("hold", first_block(session, "opener"))).number)
    with pytest.raises(ConflictError, match="changed"):
        trials.make(session, tried.number)


def test_why_a_block_lies_where_it_lies(session: Session) -> None:
    plan = session.results.plan
    why = explain_page(session, plan.first_page_of("opener:1"))
    assert why.block == "opener:1"
    assert any("must begin on a recto" in reason for reason in why.reasons)
    group = explain_page(session, plan.first_page_of(first_block(session, "group")))
    assert [other.way for other in group.otherwise] == [1]
    with pytest.raises(NotFoundError):
        explain_page(session, len(plan.pages) + 1)


@pytest.mark.parametrize(
    "asked",
    [
        Asked("hero", "nobody"),
        Asked("move", "nobody", 3),
        Asked("chapter leaf", "Atlantis"),
        Asked("plan", "the cheapest"),
    ],
)
def test_what_the_book_has_not_is_not_found(session: Session, asked: Asked) -> None:
    with pytest.raises(NotFoundError):
        find_trials(session).ask(session, asked)


def test_a_trial_is_drawn_and_tells_what_to_print_again(atlantic: Path, tmp_path: Path) -> None:
    root = copy_book(atlantic, tmp_path / "printed")
    make_book(root, NoProgress())
    mark_sheets(root, ["1", "2", "3"], printed=True)
    assert read_made(BookFolder(root)).sheets
    session = open_book(root).session
    view = view_flatplan(session)
    assert [len(g.printed) for g in view.gatherings] == [g.sheets for g in view.gatherings]
    trials = find_trials(session)
    photo = find_photo(session, "IMG_0008")
    tried = wait_drawn(session, trials, ask(session, Asked("leaf", photo)))
    assert tried.gatherings_again
    assert tried.sheets_again is not None
    named = {int(s.label.split()[1].rstrip(",")) for s in tried.sheets_again}
    assert set(tried.gatherings_again) & named
    assert all(sheet.reasons for sheet in tried.sheets_again)
    pages = find_small_pages(session)
    drawn = {p.number: p.picture for p in tried.after}
    assert all(key is not None and pages.get(key) for key in drawn.values())
    session.close()


def wait_drawn(session: Session, trials: Trials, tried: Tried) -> Tried:
    deadline = time.monotonic() + 120
    while not tried.drawn:
        assert time.monotonic() < deadline
        work = next(w for w in session.work.works if w.number == tried.work)
        assert work.state in ("waiting", "going on", "done"), work
        time.sleep(0.05)
        tried = trials.view(session, tried.number)
    return tried

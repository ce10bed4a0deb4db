"""The open book: edits, hands, undo and restarts in any order, and nothing half."""

import contextlib
import gc
import re
import shutil
import threading
import time
import weakref
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from tests.desk_book import copy_book
from wayfold.app.session import Session
from wayfold.app.shown import Shown
from wayfold.base.errors import NotFoundError, UserError
from wayfold.base.progress import NoProgress
from wayfold.book.edits import Edit, SetCaption, SetPicks, SetText
from wayfold.book.state import Pick
from wayfold.drawing.items import Picture
from wayfold.drawing.pictures import list_pictures, picture_key
from wayfold.project.journal import Journal


@pytest.fixture
def session(atlantic: Path, tmp_path: Path) -> Iterator[Session]:
    session = Session.open(copy_book(atlantic, tmp_path / "book"), NoProgress())
    yield session
    session.close()


def look(root: Path) -> dict[str, str]:
    """The person's files; the plan is Wayfold's own."""
    files = [root / "book.toml", root / "photos.toml", *(root / "texts").glob("*.md")]
    return {f.relative_to(root).as_posix(): f.read_text("utf-8") for f in files if f.is_file()}


def wait_for(call: Callable[[], bool]) -> None:
    deadline = time.monotonic() + 60.0
    while not call():
        assert time.monotonic() < deadline, "it was not seen within a minute"
        time.sleep(0.05)


FORMATS = Path(__file__).parents[1] / "formats"
without = shutil.ignore_patterns
UNPRINTABLE = SetText("foreword", "A table:\n\n<table><tr><td>no</td></tr></table>\n")


def refuse(session: Session, *edits: Edit) -> None:
    with pytest.raises(UserError):
        session.edit(*edits)


def test_a_book_that_was_shut_is_let_go_of_without_being_looked_for(
    atlantic: Path, tmp_path: Path
) -> None:
    gc.collect()
    gc.disable()  # only what hangs on to itself would be left then
    try:
        session = Session.open(copy_book(atlantic, tmp_path / "book"), NoProgress())
        session.watch()
        session.edit(SetText("foreword", "One.\n"))
        session.shown.page_svg(1)
        held = [weakref.ref(one) for one in (session, session.shown, session.memory)]
        session.close()
        del session
        assert [one() for one in held] == [None, None, None]
    finally:
        gc.enable()


def test_what_no_book_can_be_made_of_is_taken_back(session: Session) -> None:
    session.edit(SetText("foreword", "One.\n"))
    session.undo()
    before, shown, state = look(session.folder.root), session.shown, session.state()
    photo = session.results.catalogue.photos[0].id
    refuse(session, SetCaption(photo, "kept by nobody"), UNPRINTABLE)
    assert look(session.folder.root) == before
    assert session.shown is shown
    after = session.state()
    assert (after.undo, after.redo, after.trouble) == (state.undo, state.redo, None)
    assert state.redo is not None
    session.redo()
    assert session.results.book.texts["foreword"] == "One.\n"


def test_several_edits_are_one_change(session: Session) -> None:
    before = look(session.folder.root)
    first, second = (photo.id for photo in session.results.catalogue.photos[:2])
    session.edit(SetCaption(first, "one"), SetCaption(second, "two"), SetText("closing", "Home.\n"))
    session.undo()
    assert look(session.folder.root) == before


def test_edits_of_several_threads_come_one_after_another(session: Session) -> None:
    photos = [photo.id for photo in session.results.catalogue.photos[:6]]
    threads = [
        threading.Thread(target=session.edit, args=(SetCaption(photo, f"of {photo}"),))
        for photo in photos
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    for photo in photos:
        assert session.results.book.choice(photo).caption == f"of {photo}"
    for _ in photos:
        session.undo()
    assert not any(session.results.book.choice(photo).caption for photo in photos)


def test_a_hand_is_seen_and_a_broken_file_heals(session: Session) -> None:
    heard: list[str] = []
    file = session.folder.book_file
    with session.listen(lambda event: heard.append(event.kind)):
        session.watch()
        sound = file.read_text("utf-8")
        file.write_text(sound.replace("Four Days", "Five Days"), "utf-8")
        wait_for(lambda: session.results.book.title == "Five Days by the Atlantic")
        shown = session.shown
        file.write_text(sound + "\n[book\n", "utf-8")
        wait_for(lambda: session.trouble is not None)
        assert session.shown is shown
        refuse(session, SetText("closing", "Not while the file is broken.\n"))
        assert not (session.folder.texts / "closing.md").exists()
        file.write_text(sound, "utf-8")
        wait_for(lambda: session.trouble is None)
    assert session.results.book.title == "Four Days by the Atlantic"
    assert {"changed", "trouble"} <= set(heard)


def test_undo_heals_a_broken_file(session: Session) -> None:
    file = session.folder.book_file
    sound = file.read_text("utf-8")
    file.write_text("no table", "utf-8")
    with pytest.raises(UserError):
        session.look_again()
    session.undo()
    assert session.trouble is None
    assert file.read_text("utf-8") == sound


def test_a_photograph_put_into_the_folder_is_seen(session: Session) -> None:
    session.watch()
    photo = Path(session.results.catalogue.photos[0].path)
    count = len(session.results.catalogue.photos)
    target = photo.with_name("moved.jpg")
    shutil.move(photo, target)
    wait_for(lambda: any(p.path == target.as_posix() for p in session.results.catalogue.photos))
    assert len(session.results.catalogue.photos) == count


def test_two_windows_on_one_folder_stay_in_step(session: Session) -> None:
    other = Session.open(session.folder.root, NoProgress())
    session.watch()
    other.edit(SetText("closing", "From the other one.\n"))
    wait_for(lambda: session.results.book.texts.get("closing") == "From the other one.\n")
    session.undo()
    assert "closing" not in other.look_again().results.book.texts
    other.close()


def test_whoever_holds_the_book_sees_it_as_it_is(session: Session) -> None:
    (session.folder.texts / "closing.md").write_text("By hand.\n", "utf-8")
    with session.hold() as results:
        assert results.book.texts["closing"] == "By hand.\n"


class Desk(RuleBasedStateMachine):
    """A book under edits, hands, undo, redo and restarts, against a list of what it was."""

    root: Path
    source: Path
    number = 0

    @initialize()
    def open(self) -> None:
        Desk.number += 1
        self.root = copy_book(self.source, self.source.parent / f"copy {Desk.number}")
        self.session = Session.open(self.root, NoProgress())
        self.states, self.at = [look(self.root)], 0
        self.photos = [photo.id for photo in self.session.results.catalogue.photos]

    def note(self) -> None:
        now = look(self.root)
        if now != self.states[self.at]:
            self.states = [*self.states[: self.at + 1], now]
            self.at += 1

    @rule(photo=st.integers(0, 4), words=st.sampled_from(("", "quay", "a dog", "rain")))
    def write_caption(self, photo: int, words: str) -> None:
        self.session.edit(SetCaption(self.photos[photo], words or None))
        self.note()

    @rule(words=st.sampled_from(("West.\n", "Home.\n\nAt last.\n", "")), both=st.booleans())
    def write_texts(self, words: str, both: bool) -> None:
        more = (SetText("closing", words),) if both else ()
        self.session.edit(SetText("foreword", words), *more)
        self.note()

    @rule()
    def write_what_cannot_be_printed(self) -> None:
        refuse(self.session, UNPRINTABLE)

    @rule(name=st.sampled_from(("foreword", "aside")), words=st.sampled_from(("a\n", "b\n")))
    def write_by_hand(self, name: str, words: str) -> None:
        (self.root / "texts" / f"{name}.md").write_text(words, "utf-8")
        self.session.look_again()
        Journal(self.session.folder).catch_up()
        self.note()

    @rule()
    def break_by_hand_and_mend(self) -> None:
        file = self.session.folder.photos_file
        sound = file.read_text("utf-8")
        file.write_text(sound + "\n[photo", "utf-8")
        with pytest.raises(UserError):
            self.session.look_again()
        refuse(self.session, SetText("foreword", "while it is broken\n"))
        file.write_text(sound, "utf-8")
        self.session.look_again()
        assert self.session.trouble is None

    @rule()
    def restart(self) -> None:
        self.session.close()
        self.session = Session.open(self.root, NoProgress())

    @precondition(lambda self: self.at > 0)
    @rule()
    def undo(self) -> None:
        self.session.undo()
        self.at -= 1

    @precondition(lambda self: self.at == 0)
    @rule()
    def undo_nothing(self) -> None:
        with pytest.raises(NotFoundError):
            self.session.undo()

    @precondition(lambda self: self.at < len(self.states) - 1)
    @rule()
    def redo(self) -> None:
        self.session.redo()
        self.at += 1

    @invariant()
    def the_files_are_what_they_are_to_be(self) -> None:
        assert look(self.root) == self.states[self.at]

    @invariant()
    def the_book_is_what_the_files_say(self) -> None:
        texts = {k[6:-3]: v for k, v in look(self.root).items() if k.startswith("texts/")}
        assert self.session.results.book.texts == texts
        assert (self.session.state().undo is not None) == (self.at > 0)

    def teardown(self) -> None:
        if not hasattr(self, "session"):
            return
        again = Session.open(self.root, NoProgress())
        assert again.shown.revision == self.session.shown.revision
        for session in (self.session, again):
            session.close()
        shutil.rmtree(self.root)


def test_any_order_of_changes(atlantic: Path) -> None:
    """Hypothesis, stateful: docs.hypothesis.works, "Stateful tests"."""
    Desk.source = atlantic
    case = Desk.TestCase
    case.settings = settings(max_examples=6, stateful_step_count=10, deadline=None)
    case("runTest").runTest()


def test_pictures_of_pages_shown_just_before_can_still_be_fetched(session: Session) -> None:
    before = session.shown
    photo = next(p.asset for p in list_pictures_of(before) if p.asset in before.results.photos)
    old = {picture_key(p) for p in list_pictures_of(before) if p.asset == photo}
    session.edit(SetPicks(((photo, Pick.LEAVE),)))
    gone = next(key for key in old if not session.shown.has_asset(key))
    assert session.asset_jpeg(gone)[:2] == b"\xff\xd8"
    with pytest.raises(NotFoundError):
        session.asset_jpeg("nobody")


def list_pictures_of(shown: Shown) -> list[Picture]:
    return [p for drawing in shown.results.drawings for p in list_pictures(drawing)]


@pytest.mark.parametrize("form", ["1-begun", "1-printed", "1-desk"])
def test_a_book_of_an_earlier_form_is_opened_and_shown(
    atlantic: Path, tmp_path: Path, form: str
) -> None:
    """The book's own photographs, with all that the sample says besides (tests/formats)."""
    root = copy_book(atlantic, tmp_path / "book")
    shutil.copytree(FORMATS / form, root, dirs_exist_ok=True, ignore=without("photos.toml", ".*"))
    # The journey it told of, and the blocks it held, were of other pictures.
    (root / "trip.toml").unlink(missing_ok=True)
    about = root / "book.toml"
    said = about.read_text("utf-8")
    about.write_text(re.sub(r"(?m)^\[\[plan\.pin\]\]\n(.+\n)+", "", said), "utf-8")
    with contextlib.closing(Session.open(root, NoProgress())) as opened:
        assert "Rivers" in opened.results.book.title
        assert len(opened.results.catalogue.photos) == 32
        assert opened.shown.page_svg(3).startswith("<svg")
        opened.edit(SetText("foreword", "Later words.\n"))
        opened.undo()
        assert opened.results.book.texts["foreword"] == "We went *west*.\n"

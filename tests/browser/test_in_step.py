"""What holds in every room: two windows in step, and everything undone all the way back."""

import pytest
from playwright.sync_api import expect

from tests.browser.rooms import RealDesk
from wayfold.book.edits import SetCaption, SetDayNote, SetPicks, SetText
from wayfold.book.state import Pick

pytestmark = pytest.mark.browser


def read_decisions(desk: RealDesk) -> dict[str, bytes]:
    """All that the person decided; the plan is Wayfold's answer to it."""
    folder = desk.session.folder
    files = [path for path in folder.list_decisions() if path != folder.plan_file]
    return {path.relative_to(desk.root).as_posix(): path.read_bytes() for path in files}


def test_all_is_undone_back_to_the_first_state_byte_for_byte(real_desk: RealDesk) -> None:
    page, session = real_desk.page, real_desk.session
    before = read_decisions(real_desk)
    photos = session.results.catalogue.photos
    day = next(m.local for m in session.results.trip.moments if m.local).date()
    session.edit(SetPicks(((photos[0].id, Pick.HERO), (photos[1].id, Pick.LEAVE))))
    session.edit(SetCaption(photos[2].id, "The first morning"))
    session.edit(SetText("foreword", "Other words."))
    session.edit(SetText("closing", "A text that was not there."))
    session.edit(SetDayNote(day, "Rain until noon."))
    session.settle({"book": {"subtitle": "On foot and by train"}})
    assert read_decisions(real_desk) != before
    undo = page.get_by_role("button", name="Undo")
    for left in range(6, 0, -1):
        expect(undo).to_be_enabled()
        assert len(session.changes()) >= left
        page.keyboard.press("Control+z")
        real_desk.wait_until_saved()
    expect(undo).to_be_disabled()
    assert read_decisions(real_desk) == before


def test_two_windows_keep_in_step(real_desk: RealDesk) -> None:
    first = real_desk.page
    second = first.context.new_page()
    second.goto(f"{real_desk.address}#/read")
    undo = second.get_by_role("button", name="Undo")
    expect(undo).to_be_disabled()
    real_desk.session.settle({"book": {"title": "Four Wet Days"}})
    for window in (first, second):
        expect(window.get_by_role("heading", level=1)).to_have_text("Four Wet Days")
    second.keyboard.press("Control+z")
    expect(first.get_by_role("heading", level=1)).to_have_text("Four Days by the Atlantic")
    expect(first.get_by_role("button", name="Do again")).to_be_enabled()
    for window in (first, second):
        window.evaluate("location.hash = '#/case/bench'")
    boxes = [w.get_by_role("main").get_by_role("checkbox").first for w in (first, second)]
    for box in boxes:
        expect(box).not_to_be_checked()
    boxes[0].press("Space")
    expect(boxes[1]).to_be_checked()
    second.close()

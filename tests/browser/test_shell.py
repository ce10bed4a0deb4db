"""What stands around the rooms: their names, saving, undo and redo, theme."""

import pytest
from playwright.sync_api import expect

from tests.browser.axe import find_barriers
from tests.browser.rooms import RealDesk
from wayfold.book.edits import SetText

pytestmark = pytest.mark.browser
ROOMS = ("Journey", "Pictures", "Flatplan", "Spread", "Sheets", "Case and bench", "Read")


def test_every_room_is_entered_by_its_name(real_desk: RealDesk) -> None:
    for room in ROOMS:
        real_desk.enter(room)
        rooms = real_desk.page.get_by_role("navigation", name="Rooms")
        link = rooms.get_by_role("link", name=room, exact=True)
        expect(link).to_have_attribute("aria-current", "page")
        real_desk.shoot(f"room-{room.split()[0].lower()}")


def test_the_theme_that_was_chosen_is_kept(real_desk: RealDesk) -> None:
    page = real_desk.page
    page.get_by_role("button", name="Dark", exact=True).click()
    page.reload()
    page.get_by_role("button", name="Light", exact=True).wait_for()
    assert page.evaluate("document.documentElement.dataset.theme") == "dark"


def test_a_change_is_undone_and_done_again_by_keys(real_desk: RealDesk) -> None:
    page = real_desk.page
    undo = page.get_by_role("button", name="Undo")
    expect(undo).to_be_disabled()
    real_desk.session.edit(SetText("foreword", "Other words."))
    expect(undo).to_be_enabled()
    page.keyboard.press("Control+z")
    expect(page.get_by_role("button", name="Do again")).to_be_enabled()
    text = real_desk.root / "texts" / "foreword.md"
    assert text.read_text("utf-8") == "We went *west*.\n"
    page.keyboard.press("Control+Shift+Z")
    expect(undo).to_be_enabled()
    real_desk.wait_until_saved()
    assert text.read_text("utf-8") == "Other words."


def test_no_room_shuts_anyone_out(real_desk: RealDesk) -> None:
    for room in ROOMS:
        real_desk.enter(room)
        real_desk.wait_until_quiet()
        assert find_barriers(real_desk.page) == [], room


def test_at_twice_the_size_nothing_is_out_of_reach(real_desk: RealDesk) -> None:
    # A window of 1280 by 900 at 200 %: WCAG 2.2, 1.4.4; and 1.4.10: no scrolling two ways.
    page = real_desk.page
    page.set_viewport_size({"width": 640, "height": 450})
    for room in ROOMS:
        real_desk.enter(room)
        real_desk.wait_until_quiet()
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), room
        real_desk.shoot(f"twice-{room.split()[0].lower()}")


def test_a_finding_leads_to_its_place(real_desk: RealDesk) -> None:
    page = real_desk.page
    real_desk.session.edit(SetText("foreword", "She said \"no\" - and 'yes'. "))
    page.get_by_role("button", name="finding").click()
    found = page.get_by_role("region", name="Findings").get_by_role("link")
    expect(found.first).to_be_visible()
    real_desk.shoot("findings")
    assert find_barriers(page) == []
    of_page = found.filter(has_text="page").first
    address = of_page.get_attribute("href") or ""
    of_page.click()
    assert page.url.endswith(address)
    page.keyboard.press("Escape")
    expect(page.get_by_role("button", name="finding")).to_be_focused()


def test_what_is_safe_is_shown_then_mended_then_undone(real_desk: RealDesk) -> None:
    page = real_desk.page
    words = "We walked 12km on *Monday*, and 7km more at 18°C.\n"
    real_desk.session.edit(SetText("foreword", words))
    text = real_desk.root / "texts" / "foreword.md"
    page.get_by_role("button", name="finding").click()
    listed = page.get_by_role("region", name="Findings")
    listed.get_by_role("button", name="Mend what is safe").press("Enter")
    expect(listed.get_by_role("deletion").first).to_have_text("12km")
    expect(listed.get_by_role("insertion").first).to_have_text("12 km")
    assert text.read_text("utf-8") == words
    assert find_barriers(page) == []
    real_desk.shoot("mends")
    listed.get_by_role("button", name="Mend these 3").press("Enter")
    told = listed.get_by_role("status")
    expect(told).to_contain_text("3 passages are mended")
    expect(told).to_be_focused()
    assert text.read_text("utf-8") == "We walked 12 km on *Monday*, and 7 km more at 18 °C.\n"
    real_desk.shoot("mended")
    page.keyboard.press("Control+z")
    expect(listed.get_by_role("button", name="Mend what is safe")).to_be_visible()
    real_desk.wait_until_saved()
    assert text.read_text("utf-8") == words

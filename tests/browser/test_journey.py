"""The room Journey: a wrong clock mended from start to finish, and words on days."""

import re
from datetime import date, datetime, timedelta

import pytest
from playwright.sync_api import Locator, expect

from tests.app.rooms.test_journey_room_files import CALENDAR, record_track
from tests.browser.axe import find_barriers
from tests.browser.rooms import RealDesk
from tests.desk_book import CAMERA_LATE, START
from wayfold.app.rooms.journey import view_journey
from wayfold.book.edits import SetDayNote, SetText

pytestmark = pytest.mark.browser
CAMERA = "Halden H7 70421985"


def find_camera_times(desk: RealDesk) -> list[datetime]:
    """The local times of the camera's pictures, as the book now has them."""
    photos = desk.session.results.photos
    return [
        picture.at
        for day in view_journey(desk.session).days
        for picture in day.pictures
        if "/camera/" in photos[picture.photo].path and picture.at
    ]


def open_clocks(desk: RealDesk) -> Locator:
    """Go to the clocks, and choose the camera's; gives what moves its row."""
    page = desk.page
    desk.enter("Journey")
    page.get_by_role("link", name=re.compile("^Clocks")).click()
    page.get_by_role("button", name=re.compile("Halden H7.*not known")).click()
    return page.get_by_role("slider", name="Move the pictures of the Halden H7")


def test_a_wrong_clock_is_mended_by_moving_its_row_and_undone(real_desk: RealDesk) -> None:
    page = real_desk.page
    before = find_camera_times(real_desk)
    # The camera's first picture was taken 75 minutes after START, and says otherwise.
    assert before[0] == START + timedelta(minutes=75) - CAMERA_LATE
    row = open_clocks(real_desk)
    said = page.get_by_role("region", name="Two cameras along one time").get_by_role("status")
    expect(said).to_contain_text("Not moved.")
    real_desk.shoot("journey-clocks")

    # By the pointer roughly, by the keys to the second.
    box = row.bounding_box()
    assert box
    x, y = box["x"] + box["width"] / 2, box["y"] - 40
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 120, y, steps=6)
    page.mouse.up()
    expect(said).to_contain_text("later")
    moved = int(row.get_attribute("aria-valuenow") or 0)
    assert 600 < moved < 7_200
    row.focus()
    wanted = int(CAMERA_LATE.total_seconds())
    minutes, seconds = divmod(abs(wanted - moved), 60)
    way = "ArrowRight" if wanted > moved else "ArrowLeft"
    for _ in range(minutes):
        page.keyboard.press(f"Shift+{way}")
    for _ in range(seconds):
        page.keyboard.press(way)
    expect(said).to_contain_text("The Halden H7 runs 1\u00a0h\u00a04\u00a0min late.")
    real_desk.shoot("journey-clock-moved")

    page.get_by_role("button", name="Keep this").click()
    expect(said).to_contain_text("Kept: +01:00, 1h4m slow")
    real_desk.wait_until_saved()
    after = find_camera_times(real_desk)
    assert [a - b for a, b in zip(after, before, strict=True)] == [CAMERA_LATE] * len(before)
    assert f'"{CAMERA}" = "+01:00, 1h4m slow"' in (real_desk.root / "trip.toml").read_text("utf-8")

    # The days have it: the pictures' times are what shows on them.
    page.get_by_role("button", name="See the days").click()
    expect(page.get_by_role("img", name="10:45", exact=True).first).to_be_visible()
    real_desk.shoot("journey-days")
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_role("img", name="09:41", exact=True).first).to_be_visible()
    assert find_camera_times(real_desk) == before


def test_two_pictures_of_one_moment_are_laid_above_each_other(real_desk: RealDesk) -> None:
    page = real_desk.page
    row = open_clocks(real_desk)
    steady = page.get_by_role("group", name=re.compile("which stay"))
    moved = page.get_by_role("group", name=re.compile("which are moved"))
    together = page.get_by_role("button", name="They show one moment")
    expect(together).to_be_disabled()
    # H0003 was taken 75 minutes after IMG_0002, and its clock says 11 minutes after.
    steady.get_by_role("button", name=re.compile("IMG_0002")).click()
    moved.get_by_role("button", name=re.compile("H0003")).click()
    expect(page.get_by_role("figure").locator("img")).to_have_count(2)
    real_desk.shoot("journey-clock-pair")
    together.click()
    expect(row).to_have_attribute("aria-valuenow", str(-11 * 60))
    page.get_by_role("button", name="Put it back").click()
    expect(row).to_have_attribute("aria-valuenow", "0")


@pytest.mark.expects_faults
def test_a_picture_of_a_clock_is_pointed_at_and_taken_back(real_desk: RealDesk) -> None:
    page = real_desk.page
    open_clocks(real_desk)
    moved = page.get_by_role("group", name=re.compile("which are moved"))
    moved.get_by_role("button", name=re.compile("H0003")).click()
    page.get_by_role("button", name="This picture shows a clock").click()
    page.get_by_label("The clock in the picture shows").fill("2025-05-12T13:15:09")
    page.get_by_label(re.compile("^Zone")).fill("Europe/Nowhere")
    page.get_by_role("button", name="It is right").click()
    expect(page.get_by_role("alert")).to_contain_text("Europe/Nowhere")
    page.get_by_role("button", name="All right").click()
    page.get_by_label(re.compile("^Zone")).fill("Europe/Lisbon")
    page.get_by_role("button", name="It is right").click()
    expect(page.get_by_text("H0003.jpg shows a clock at 13:15:09, Monday 12 May")).to_be_visible()
    expect(page.get_by_role("cell", name=re.compile("a picture of a clock"))).to_be_visible()
    page.get_by_role("button", name="take back").click()
    expect(page.get_by_text("shows a clock at")).to_have_count(0)


def test_a_day_gets_a_line_and_a_text(real_desk: RealDesk) -> None:
    page = real_desk.page
    real_desk.enter("Journey")
    note = page.get_by_label("A line for the itinerary, Tuesday 13 May")
    note.fill("Rain until noon.")
    note.press("Enter")
    real_desk.wait_until_saved()
    page.get_by_role("button", name="Write about this day").nth(1).click()
    page.get_by_label("What you write about Tuesday 13 May").fill("We *waited* for the tram.")
    page.get_by_role("button", name="Keep").click()
    expect(page.get_by_role("button", name="We *waited* for the tram.")).to_be_visible()
    real_desk.wait_until_saved()
    text = real_desk.root / "texts" / "2025-05-13.md"
    assert text.read_text("utf-8") == "We *waited* for the tram.\n"
    assert 'note = "Rain until noon."' in (real_desk.root / "trip.toml").read_text("utf-8")
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_role("button", name="We *waited* for the tram.")).to_have_count(0)
    # From day to day by the arrow keys.
    page.get_by_role("button", name="Monday 12 May").focus()
    page.keyboard.press("ArrowDown")
    expect(page.get_by_role("button", name="Tuesday 13 May", pressed=True)).to_be_focused()


def test_the_clocks_shut_nobody_out(real_desk: RealDesk) -> None:
    open_clocks(real_desk)
    real_desk.page.wait_for_load_state("networkidle")
    real_desk.shoot("journey-clocks")
    assert find_barriers(real_desk.page) == []


@pytest.mark.expects_faults
def test_words_that_could_not_be_kept_stand_until_they_are(real_desk: RealDesk) -> None:
    page = real_desk.page
    real_desk.enter("Journey")
    line = page.get_by_label("A line for the itinerary, Monday 12 May")
    page.route("**/api/journey/note", lambda route: route.abort())
    line.fill("Rain.")
    line.press("Enter")
    expect(page.get_by_text("The desk does not answer.")).to_be_visible()
    expect(page.get_by_text("Not saved yet")).to_be_visible()
    expect(line).to_have_value("Rain.")
    page.unroute("**/api/journey/note")
    line.press("Enter")  # the same words, unchanged
    real_desk.wait_until_saved()
    assert 'note = "Rain."' in (real_desk.root / "trip.toml").read_text("utf-8")
    page.get_by_role("button", name="All right").click()
    # A line that was written elsewhere meanwhile is shown under mine.
    line.fill("Rain until noon.")
    real_desk.session.edit(SetDayNote(date(2025, 5, 12), "Sun."))
    line.press("Enter")
    expect(page.get_by_text("Written elsewhere meanwhile: Sun.")).to_be_visible()
    expect(line).to_have_value("Rain until noon.")
    real_desk.shoot("journey-line-written-elsewhere")
    page.get_by_role("button", name="All right").click()
    line.fill("Rain until noon, then sun.")
    line.press("Enter")
    expect(page.get_by_text("Written elsewhere meanwhile")).to_have_count(0)
    real_desk.wait_until_saved()
    text = (real_desk.root / "trip.toml").read_text("utf-8")
    assert 'note = "Rain until noon, then sun."' in text
    # A text is shown beside mine.
    page.get_by_role("button", name="Write about this day").first.click()
    mine = page.get_by_label("What you write about Monday 12 May")
    mine.fill("Mine.")
    real_desk.session.edit(SetText("2025-05-12", "Another's.\n"))
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.get_by_text("Written elsewhere meanwhile: Another's.")).to_be_visible()
    expect(mine).to_have_value("Mine.")
    page.get_by_role("button", name="All right").click()
    mine.fill("Mine, and another's.")
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.get_by_role("button", name="Mine, and another's.")).to_be_visible()


@pytest.mark.expects_faults
def test_a_stop_is_named_and_its_way_said(real_desk: RealDesk) -> None:
    page = real_desk.page
    real_desk.enter("Journey")
    page.get_by_role("link", name="Stops and ways").click()
    name = page.get_by_label("Name of Porto in the book")
    name.fill("Oporto")
    name.press("Enter")
    expect(page.get_by_text("The journey knows it as Porto.")).to_be_visible()
    page.get_by_role("button", name="Say otherwise how you went from Lisbon to Oporto").click()
    form = page.get_by_role("form", name="The way from Lisbon to Oporto")
    form.get_by_label("How").select_option("train")
    form.get_by_label("From Lisbon, by its clocks").fill("2025-05-13T20:09")
    form.get_by_label("At Oporto, by its clocks").fill("2025-05-13T19:20")
    form.get_by_role("button", name="Keep").click()
    expect(page.get_by_role("alert")).to_contain_text("before it departs")
    page.get_by_role("button", name="All right").click()
    form.get_by_label("At Oporto, by its clocks").fill("2025-05-13T23:20")
    form.get_by_role("button", name="Keep").click()
    expect(page.get_by_text("20:09–23:20")).to_be_visible()
    real_desk.shoot("journey-stops")
    # What is pointed at in the list is ringed on the map.
    page.get_by_role("article", name="Oporto").hover()
    expect(page.locator("figure .stay.pointed")).to_have_accessible_name("Oporto")
    written = (real_desk.root / "trip.toml").read_text("utf-8")
    assert 'mode = "train"' in written
    assert "distance_km" not in written, "only what was changed is said"


def test_files_are_chosen_and_dropped_refused_and_taken_away(real_desk: RealDesk) -> None:
    page = real_desk.page
    real_desk.enter("Journey")
    page.get_by_role("link", name="Tracks and calendars").click()
    page.get_by_label("Choose files").last.set_input_files(
        [
            {"name": "walk.gpx", "mimeType": "", "buffer": record_track()},
            {"name": "notes.txt", "mimeType": "text/plain", "buffer": b"Bread, figs."},
        ]
    )
    expect(page.get_by_text("walk.gpx is in the book now.")).to_be_visible()
    expect(page.get_by_role("alert")).to_contain_text("neither a track nor a calendar")
    # Dropped anywhere in the room.
    page.evaluate(
        """text => {
            const data = new DataTransfer();
            data.items.add(new File([text], 'bookings.ics', {type: 'text/calendar'}));
            const init = {bubbles: true, cancelable: true, dataTransfer: data};
            document.body.dispatchEvent(new DragEvent('drop', init));
        }""",
        CALENDAR.decode(),
    )
    expect(page.get_by_text("bookings.ics is in the book now.")).to_be_visible()
    real_desk.shoot("journey-files")
    page.get_by_role("button", name="Take bookings.ics away").click()
    expect(page.get_by_role("button", name="Put bookings.ics back")).to_be_visible()
    assert not (real_desk.root / "calendars" / "bookings.ics").exists()


@pytest.mark.parametrize("part", ["stops", "files"])
def test_no_part_shuts_anyone_out(real_desk: RealDesk, part: str) -> None:
    page = real_desk.page
    page.goto(f"{real_desk.address}#/journey/{part}")
    page.reload()
    page.get_by_role("navigation", name="Parts of the journey").wait_for()
    page.wait_for_load_state("networkidle")
    if part == "stops":
        page.get_by_role("button", name=re.compile("^Say otherwise how")).click()
    real_desk.shoot(f"journey-{part}")
    assert find_barriers(page) == []

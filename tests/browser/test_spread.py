"""The room Spread: looking at two pages as they will print, and rearranging them."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.axe import find_barriers
from tests.browser.rooms import RealDesk
from tests.browser.spread_room import find_page, open_spread, pictures_of, wait_until
from wayfold.base.geometry import Rect
from wayfold.book.edits import SetCaption, SetText
from wayfold.layout.model import PageLayout, TextFrame

pytestmark = pytest.mark.browser


def test_the_pages_are_told_in_words(real_desk: RealDesk) -> None:
    number = find_page(real_desk, 2)
    spread = open_spread(real_desk, number)
    frame = pictures_of(real_desk.session.results.layout.pages[number - 1])[0]
    photo = real_desk.session.results.photos[frame.photo]
    size = f"{frame.box.width:.0f} by {frame.box.height:.0f} mm"
    # Pixels over inches, the inch being 25.4 mm.
    ppi = round(photo.size.width_px * frame.crop.width / (frame.box.width / 25.4))
    name = f"Picture {Path(photo.path).name}, {size}, {ppi} pixels an inch"
    picture = real_desk.page.get_by_role("button", name=name, exact=True)
    picture.focus()
    side = real_desk.page.get_by_role("complementary")
    expect(side.get_by_role("heading", name=Path(photo.path).name)).to_be_visible()
    expect(spread.number("Width")).to_have_value(f"{round(frame.box.width, 1):g}")
    expect(spread.number("From the head")).to_have_value(f"{round(frame.box.y, 1):g}")
    real_desk.page.keyboard.press("Escape")
    expect(picture).to_have_attribute("aria-pressed", "false")


def test_pages_are_turned_and_gone_to(real_desk: RealDesk) -> None:
    open_spread(real_desk, 1)
    page = real_desk.page
    expect(page.get_by_role("button", name="Back", exact=True)).to_be_disabled()
    page.get_by_role("button", name="Next", exact=True).click()
    page.locator("[data-spread-pages='2 3']").wait_for()
    page.keyboard.press("PageDown")
    page.locator("[data-spread-pages='4 5']").wait_for()
    assert page.evaluate("location.hash") == "#/spread/page-4"
    last = len(real_desk.session.results.drawings)
    field = page.get_by_role("textbox", name="Page")
    field.fill(str(last))
    field.press("Enter")
    page.locator(f"[data-spread-pages~='{last}']").wait_for()
    expect(page.get_by_role("button", name="Next", exact=True)).to_be_disabled()
    field.fill("9000")
    field.press("Enter")
    expect(field).to_have_value(str(last))


def test_a_chosen_picture_shuts_no_one_out(real_desk: RealDesk) -> None:
    spread = open_spread(real_desk, find_page(real_desk, 2))
    for what in ("trim", "fold", "safe", "grid", "sizes", "faces"):
        real_desk.page.get_by_role("button", name=what, exact=True).click()
    spread.pictures.first.focus()
    real_desk.shoot("spread-shown")
    assert find_barriers(real_desk.page) == []
    spread.side("Crop inside the frame").click()
    real_desk.shoot("spread-crop")
    assert find_barriers(real_desk.page) == []


def test_a_page_is_rearranged_and_everything_undone(real_desk: RealDesk) -> None:
    number = find_page(real_desk, 2)
    spread = open_spread(real_desk, number)
    page, side = real_desk.page, real_desk.page.get_by_role("complementary")
    first, second = pictures_of(real_desk.session.results.layout.pages[number - 1])[:2]
    start = first.box
    picture = spread.find(first.photo)
    picture.click()

    # Its side comes within a hair of the other picture's side, and is drawn onto it.
    spread.drag(page.locator("[data-handle='1 1']"), (-20, 0), free=True)
    spread.wait_until_drawn()
    smaller = spread.box(number, first.photo)
    assert smaller.width == pytest.approx(start.width - 20, abs=0.5)
    assert smaller.width / smaller.height == pytest.approx(start.width / start.height, rel=1e-3)
    expect(side.get_by_text("Laid by your own hand.")).to_be_visible()
    to_the_right = second.box.right - smaller.right
    spread.drag(picture, (to_the_right + 0.8, 0))
    spread.wait_until_drawn()
    moved = spread.box(number, first.photo)
    assert moved.right == pytest.approx(second.box.right, abs=0.02)

    # By keys, a mm at a time, sent together; and by a number.
    picture.focus()
    for key in ("ArrowLeft", "ArrowLeft", "Shift+ArrowLeft"):
        page.keyboard.press(key)
    page.wait_for_timeout(600)
    spread.wait_until_drawn()
    assert spread.box(number, first.photo).x == pytest.approx(moved.x - 7, abs=0.02)
    spread.number("From the head").fill("31,5")
    spread.number("From the head").press("Enter")
    spread.wait_until_drawn()
    placed = spread.box(number, first.photo)
    assert placed.y == pytest.approx(31.5, abs=0.02)
    real_desk.shoot("spread-rearranged")

    # Escape, in the middle of a move, leaves everything as it was.
    before = picture.bounding_box()
    assert before
    page.mouse.move(before["x"] + 50, before["y"] + 50)
    page.mouse.down()
    page.mouse.move(before["x"] + 120, before["y"] + 90, steps=4)
    page.keyboard.press("Escape")
    page.mouse.up()
    assert picture.bounding_box() == before

    # Moved over its neighbour it is told of at once, beside the place.
    spread.drag(picture, (0, second.box.y - placed.y), free=True)
    spread.wait_until_drawn()
    expect(side.get_by_text(re.compile(" hides .+ mm of "))).to_be_visible()

    undo = page.get_by_role("button", name="Undo")
    for _ in range(5):
        undo.click()
        real_desk.wait_until_saved()
    expect(undo).to_be_disabled()
    assert spread.box(number, first.photo) == start
    expect(side.get_by_text("Laid by Wayfold.")).to_be_visible()


def test_a_caption_is_put_to_another_side_and_finds_its_place_again(real_desk: RealDesk) -> None:
    number = find_page(real_desk, 2)
    session, page = real_desk.session, real_desk.page
    one, other = pictures_of(session.results.layout.pages[number - 1])[:2]
    for photo, words in ((one.photo, "The mole."), (other.photo, "The inn.")):
        session.edit(SetCaption(photo, words))
    spread = open_spread(real_desk, number)
    side = page.get_by_role("complementary")

    def place(key: str) -> Rect | None:
        pages = session.results.layout.pages
        frames = [f for p in pages for f in p.frames if isinstance(f, TextFrame) and f.key == key]
        return frames[0].box if frames else None

    # Both stand together; the one is set by itself under its own picture.
    page.get_by_role("button", name="Caption: The", exact=False).first.focus()
    spread.side("Set “The mole.” by itself").click()
    caption = page.get_by_role("button", name="Caption: The mole.")
    expect(side.get_by_text("It stands where you put it.")).to_be_visible()
    expect(caption).to_be_focused()
    start = place(f"caption:{one.photo}")
    assert start

    # By keys, by the pointer, and by a number; its words go with it.
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Shift+ArrowDown")
    expect(spread.number("From the left")).to_have_value(f"{start.x + 1:.1f}".removesuffix(".0"))
    wait_until(lambda: place(f"caption:{one.photo}") != start)
    spread.wait_until_drawn()
    moved = place(f"caption:{one.photo}")
    assert moved
    assert (moved.x, moved.y) == pytest.approx((start.x + 1, start.y + 5), abs=0.02)
    spread.drag(caption, (11, -8), free=True)
    spread.wait_until_drawn()
    dragged = place(f"caption:{one.photo}")
    assert dragged
    assert (dragged.x, dragged.y) == pytest.approx((moved.x + 11, moved.y - 8), abs=0.6)
    real_desk.shoot("spread-caption-placed")
    spread.number("Width").fill("20")
    spread.number("Width").press("Enter")
    spread.wait_until_drawn()
    narrow = place(f"caption:{one.photo}")
    assert narrow
    assert narrow.width == 20
    assert find_barriers(page) == []
    spread.side("Let it find its own place again").click()
    wait_until(lambda: place(f"caption:{one.photo}") is None)
    expect(page.get_by_role("button", name="Caption: The mole.")).to_be_visible()


def test_pictures_change_places(real_desk: RealDesk) -> None:
    number = find_page(real_desk, 2)
    spread = open_spread(real_desk, number)
    page = real_desk.page

    def order() -> list[str]:
        frames = pictures_of(real_desk.session.results.layout.pages[number - 1])
        return [frame.photo for frame in sorted(frames, key=lambda f: (f.box.y, f.box.x))]

    before = order()
    frames = pictures_of(real_desk.session.results.layout.pages[number - 1])
    first, second = (next(f for f in frames if f.photo == photo) for photo in before[:2])
    changed = [second.photo, first.photo, *before[2:]]
    spread.find(first.photo).click()
    down = second.box.y + second.box.height / 2 - first.box.bottom
    spread.drag(page.locator(".slip", has_text="change places"), (0, down))
    wait_until(lambda: order() == changed)
    real_desk.wait_until_saved()
    page.keyboard.press("Control+z")
    wait_until(lambda: order() == before)

    # The same by keys.
    spread.find(first.photo).focus()
    spread.side("Change places with …").press("Enter")
    other = Path(real_desk.session.results.photos[second.photo].path).name
    spread.side(other).press("Enter")
    wait_until(lambda: order() == changed)
    real_desk.wait_until_saved()


def test_a_picture_changes_places_with_one_of_another_page(real_desk: RealDesk) -> None:
    number = find_page(real_desk, 2)
    spread = open_spread(real_desk, number)
    session, page = real_desk.session, real_desk.page

    def list_photos(number: int) -> list[str]:
        return [frame.photo for frame in pictures_of(session.results.layout.pages[number - 1])]

    one = list_photos(number)[0]
    spread.find(one).focus()
    spread.side("Change places with …").click()
    row = page.get_by_role("region", name="Pictures to change places with")
    focused = row.locator("button:focus")
    expect(focused).to_have_count(1)
    page.keyboard.press("Home")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("End")
    expect(row.get_by_role("button").last).to_be_focused()
    real_desk.wait_until_quiet()
    real_desk.shoot("spread-others")
    assert find_barriers(page) == []
    name = row.get_by_role("button").last.get_attribute("aria-label")
    assert name
    far = int(name.rpartition(" ")[2])
    assert far not in (number, number + 1)
    page.keyboard.press("Enter")
    wait_until(lambda: one in list_photos(far))
    assert one not in list_photos(number)
    other = Path(name.rpartition(", page")[0]).name
    come = page.get_by_role("button", name=re.compile(f"^Picture {re.escape(other)}, "))
    expect(come).to_be_focused()
    real_desk.wait_until_saved()
    page.keyboard.press("Control+z")
    wait_until(lambda: one in list_photos(number))


def test_pages_are_laid_in_another_way(real_desk: RealDesk) -> None:
    number = find_page(real_desk, 2)
    spread = open_spread(real_desk, number)
    page = real_desk.page

    def lie() -> PageLayout:
        return real_desk.session.results.layout.pages[number - 1]

    before = lie()
    spread.side("Try another way").click()
    expect(page.get_by_role("radio", name="as it lies now")).to_be_focused()
    page.keyboard.press("Escape")
    spread.side("Try another way").click()
    expect(page.get_by_role("radio", name="as it lies now")).to_be_focused()
    page.keyboard.press("ArrowRight")
    expect(page.get_by_role("radio").nth(1)).to_be_checked()
    real_desk.shoot("spread-ways")
    assert find_barriers(page) == []
    page.keyboard.press("Enter")
    wait_until(lambda: lie() != before)
    real_desk.wait_until_saved()
    spread.side("Try another way").click()
    page.get_by_role("button", name="Leave it to the layout").click()
    wait_until(lambda: lie() == before)


def test_a_leaf_is_asked_for_laid_down_and_lifted(real_desk: RealDesk) -> None:
    number = find_page(real_desk, 1)
    spread = open_spread(real_desk, number)
    page = real_desk.page
    photo = pictures_of(real_desk.session.results.layout.pages[number - 1])[0].photo
    spread.find(photo).focus()
    spread.side("Lay an interleaf here").click()
    wait_until(lambda: real_desk.session.results.book.choice(photo).interleaf)
    real_desk.wait_until_saved()
    side = page.get_by_role("complementary")
    expect(side.get_by_text("Lay an interleaf here")).to_have_count(0)
    where = [
        p.number
        for p in real_desk.session.results.layout.pages
        if photo in (f.photo for f in pictures_of(p))
    ]
    field = page.get_by_role("textbox", name="Page")
    field.fill(str(where[0]))
    field.press("Enter")
    spread.find(photo).focus()
    expect(spread.side("Take the interleaf away")).to_be_visible()
    page.get_by_role("button", name=re.compile("Lay the leaf down|Turn the leaf over")).click()
    expect(page.locator("[data-veiled].ready")).to_have_count(1)
    real_desk.shoot("spread-leaf")
    assert find_barriers(page) == []
    lift = page.get_by_role("button", name="Lift the leaf")
    for _ in range(2):
        if lift.is_visible():
            break
        page.get_by_role("button", name="Turn the leaf over").click()
    lift.click()
    expect(page.locator("[data-veiled].ready")).to_have_count(0)


def test_a_text_is_written_where_it_stands(real_desk: RealDesk) -> None:
    results = real_desk.session.results
    number = next(p.number for p in results.layout.pages if p.family == "foreword")
    open_spread(real_desk, number)
    page = real_desk.page
    page.get_by_role("button", name="Text: We went west.").click()
    slip = page.get_by_role("group", name="Write here").get_by_role("textbox")
    expect(slip).to_be_focused()
    expect(slip).to_have_value("We went *west*.\n")
    slip.fill("Not this.")
    page.keyboard.press("Escape")
    text = real_desk.root / "texts" / "foreword.md"
    assert text.read_text("utf-8") == "We went *west*.\n"

    page.keyboard.press("Enter")
    slip.fill("We went **slowly**.")
    real_desk.shoot("spread-writing")
    page.keyboard.press("Control+Enter")
    expect(page.get_by_role("button", name="Text: We went slowly.")).to_be_focused()
    real_desk.wait_until_saved()
    assert text.read_text("utf-8").strip() == "We went **slowly**."


@pytest.mark.expects_faults
def test_a_text_changed_elsewhere_is_lost_by_no_one(real_desk: RealDesk) -> None:
    layout = real_desk.session.results.layout
    open_spread(real_desk, next(p.number for p in layout.pages if p.family == "foreword"))
    page = real_desk.page
    page.get_by_role("button", name="Text: We went west.").click()
    page.get_by_role("group", name="Write here").get_by_role("textbox").fill("Mine.")
    real_desk.session.edit(SetText("foreword", "Theirs."))
    page.keyboard.press("Control+Enter")
    alert = page.get_by_role("alert")
    expect(alert).to_contain_text("Mine.")
    expect(alert).to_contain_text("Theirs.")
    real_desk.shoot("spread-two-versions")
    text = real_desk.root / "texts" / "foreword.md"
    assert text.read_text("utf-8").strip() == "Theirs."
    alert.get_by_role("button", name="Keep mine").click()
    expect(page.get_by_role("button", name="Text: Mine.")).to_be_visible()
    real_desk.wait_until_saved()
    assert text.read_text("utf-8").strip() == "Mine."


def test_a_caption_too_long_for_its_page_is_told_and_mended(real_desk: RealDesk) -> None:
    number = find_page(real_desk, 2)
    spread = open_spread(real_desk, number)
    page = real_desk.page
    first = pictures_of(real_desk.session.results.layout.pages[number - 1])[0]
    spread.find(first.photo).focus()
    spread.side("Write its caption").click()
    slip = page.get_by_role("group", name="Write here").get_by_role("textbox")
    slip.fill("harbour " * 900)
    page.keyboard.press("Control+Enter")
    told = page.locator("[data-spread-pages]").get_by_text(re.compile(r"^\d+ words too many$"))
    expect(told).to_be_visible()
    real_desk.shoot("spread-too-long")
    page.get_by_role("button", name=re.compile("^Caption: harbour")).click()
    side = page.get_by_role("complementary")
    expect(side.get_by_text(re.compile(r"It runs over by \d+ lines\. Shorten it"))).to_be_visible()
    slip.fill("The harbour.")
    page.get_by_role("textbox", name="Page").focus()
    expect(told).to_have_count(0)
    expect(page.get_by_role("button", name="Caption: The harbour.")).to_be_visible()

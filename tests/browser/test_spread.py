"""The room Spread: looking at two pages as they will print, and rearranging them."""

import re
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Locator, expect

from tests.browser.axe import find_barriers
from tests.browser.rooms import RealDesk
from wayfold.base.geometry import Rect
from wayfold.book.edits import SetText
from wayfold.layout.model import PageLayout, PictureFrame

pytestmark = pytest.mark.browser


@dataclass(slots=True)
class OpenSpread:
    """The room with some pages open."""

    desk: RealDesk

    @property
    def pieces(self) -> Locator:
        return self.desk.page.locator("[data-piece]")

    @property
    def pictures(self) -> Locator:
        return self.desk.page.get_by_role("button", name=re.compile(r"^Picture .+ pixels an inch$"))

    def find(self, photo: str) -> Locator:
        """The picture, as it is to be taken hold of on the pages."""
        name = Path(self.desk.session.results.photos[photo].path).name
        return self.desk.page.get_by_role(
            "button", name=re.compile(f"^Picture {re.escape(name)}, ")
        )

    def side(self, name: str) -> Locator:
        return self.desk.page.get_by_role("complementary").get_by_role(
            "button", name=name, exact=True
        )

    def number(self, name: str) -> Locator:
        return self.desk.page.get_by_role("textbox", name=f"{name}, in mm")

    def drag(self, from_: Locator, by: tuple[float, float], free: bool = False) -> None:
        """Drag something by mm."""
        page, scale = self.desk.page, self.px_per_mm
        box = from_.bounding_box()
        assert box
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        page.mouse.move(x, y)
        page.mouse.down()
        if free:
            page.keyboard.down("Alt")
        for part in (0.2, 0.5, 0.8, 1.0):
            page.mouse.move(x + part * by[0] * scale, y + part * by[1] * scale)
        page.wait_for_timeout(50)
        page.mouse.up()
        if free:
            page.keyboard.up("Alt")

    @property
    def px_per_mm(self) -> float:
        book = self.desk.page.locator("[data-spread-pages]").bounding_box()
        assert book
        return book["width"] / (2 * self.desk.session.results.book.trim.width)

    def wait_until_drawn(self) -> None:
        """Until what was in the hand lies on the pages and they are drawn anew."""
        self.desk.page.locator(".held").wait_for(state="detached", timeout=60_000)
        self.desk.wait_until_saved()

    def box(self, page: int, photo: str) -> Rect:
        """Where a picture lies, as the book has it, mm on its page."""
        frames = pictures_of(self.desk.session.results.layout.pages[page - 1])
        return next(frame.box for frame in frames if frame.photo == photo)


def pictures_of(page: PageLayout) -> list[PictureFrame]:
    return [frame for frame in page.frames if isinstance(frame, PictureFrame)]


def wait_until(holds: Callable[[], bool]) -> None:
    """Wait for what the server does meanwhile in a thread of its own."""
    deadline = time.monotonic() + 60
    while not holds():
        assert time.monotonic() < deadline, "it did not come about"
        time.sleep(0.05)


def find_page(desk: RealDesk, pictures: int) -> int:
    """The first page that has at least so many pictures, none of them over its edge."""
    trim = desk.session.results.book.trim
    for page in desk.session.results.layout.pages:
        found = pictures_of(page)
        inside = all(f.box.x >= 0 and f.box.right <= trim.width for f in found)
        if len(found) >= pictures and inside:
            return page.number
    raise AssertionError(f"no page of the test's book has {pictures} pictures")


def open_spread(desk: RealDesk, page: int) -> OpenSpread:
    desk.enter("Spread", f"page-{page}")
    desk.page.locator(f"[data-spread-pages~='{page}']").wait_for()
    desk.page.locator(f"[data-page='{page}'].ready").wait_for()
    desk.page.wait_for_load_state("networkidle")
    return OpenSpread(desk)


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


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_a_chosen_picture_shuts_no_one_out(real_desk: RealDesk, theme: str) -> None:
    real_desk.page.evaluate("theme => localStorage.setItem('wayfold-theme', theme)", theme)
    real_desk.page.reload()
    spread = open_spread(real_desk, find_page(real_desk, 2))
    for what in ("trim", "fold", "safe", "grid", "sizes", "faces"):
        real_desk.page.get_by_role("button", name=what, exact=True).click()
    spread.pictures.first.focus()
    real_desk.shoot(f"spread-shown-{theme}")
    assert find_barriers(real_desk.page) == []
    spread.side("Crop inside the frame").click()
    real_desk.shoot(f"spread-crop-{theme}")
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

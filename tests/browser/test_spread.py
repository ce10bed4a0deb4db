"""The room Spread: looking at two pages as they will print, and rearranging them."""

import re
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Locator, expect

from tests.browser.axe import find_barriers
from tests.browser.rooms import RealDesk
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

    def side(self, name: str) -> Locator:
        return self.desk.page.get_by_role("complementary").get_by_role("button", name=name)

    def number(self, name: str) -> Locator:
        return self.desk.page.get_by_role("textbox", name=f"{name}, in mm")

    def wait(self) -> None:
        self.desk.wait_until_saved()
        self.desk.page.wait_for_load_state("networkidle")


def pictures_of(page: PageLayout) -> list[PictureFrame]:
    return [frame for frame in page.frames if isinstance(frame, PictureFrame)]


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

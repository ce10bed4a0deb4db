"""The room Spread in a browser, as a person works in it."""

import re
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Locator

from tests.browser.rooms import RealDesk
from wayfold.base.geometry import Rect
from wayfold.layout.model import PageLayout, PictureFrame


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

"""A real server and a real browser. Set WAYFOLD_SCREENSHOTS to a folder to keep pictures."""

import os
import shutil
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import cast

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect, sync_playwright

from tests.browser.rooms import RealDesk
from tests.browser.themes import DARK, wear_theme
from tests.desk.fake_book import FakeSession, FakeShown, put_on_shelf
from tests.desk_book import copy_book, open_book
from wayfold.app.shelf import Shelf
from wayfold.desk.server import DeskServer

FLAGS = (
    *("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
)
SIZE = {"width": 1440, "height": 900}
# An edit lays out the whole book; on two cores with much else to do that can take long.
expect.set_options(timeout=30_000)


@dataclass(slots=True)
class OpenDesk:
    """A desk that is being served, and the page of the browser that was let in."""

    page: Page
    shown: FakeShown
    session: FakeSession
    address: str
    opening_address: str
    shoot: Callable[[str], None]

    def spread(self) -> int:
        return int(self.page.locator("[data-spread]").get_attribute("data-spread") or -1)

    def wait_for_spread(self, index: int) -> None:
        self.page.locator(f"[data-spread='{index}']").wait_for(timeout=10_000)

    def wait_for_pages(self, *numbers: int) -> None:
        """Until these pages are drawn, and their pictures too."""
        for number in numbers:
            self.page.locator(f".spread:not(.away) [data-page='{number}'].ready").wait_for()
        self.page.evaluate(
            """() => Promise.all([...document.querySelectorAll('.drawing')]
                .flatMap((host) => [...(host.shadowRoot?.querySelectorAll('image') ?? [])])
                .map((image) => image.decode?.()))"""
        )


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    program = shutil.which("chromium") or shutil.which("chromium-browser")
    assert program, "no chromium on this machine: see tools/ensure_browser.py"
    with sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=program, args=list(FLAGS))
        yield running
        running.close()


@pytest.fixture(scope="session")
def windows(browser: Browser) -> Iterator[BrowserContext]:
    """Where windows are opened: one place for all tests, so that the desk's program is kept."""
    context = browser.new_context(viewport=SIZE, device_scale_factor=1)  # type: ignore[arg-type]
    yield context
    context.close()


@contextmanager
def serve_desk(shelf: Shelf) -> Iterator[str]:
    """Serve ``shelf`` while the block lasts, then close it; gives the opening address."""
    server = DeskServer(shelf, None)
    serving = threading.Thread(target=server.run, daemon=True, name="desk")
    serving.start()
    try:
        yield server.opening_address
    finally:
        server.end()
        serving.join(timeout=20)
        shelf.close()


@pytest.fixture
def session() -> FakeShown:
    return FakeShown()


@pytest.fixture
def desk(
    windows: BrowserContext, session: FakeShown, request: pytest.FixtureRequest
) -> Iterator[OpenDesk]:
    shelf = put_on_shelf(session)
    with (
        serve_desk(shelf) as opening,
        let_in(windows, f"{opening}#/read", request, has_findings=False) as (page, _, shoot),
    ):
        # The book is there, or the notice that stands in its place.
        page.locator("[data-spread], [role=alert]").first.wait_for()
        fake = cast(FakeSession, shelf.session)
        yield OpenDesk(page, session, fake, opening.split("?")[0], opening, shoot)


@pytest.fixture
def real_desk(
    windows: BrowserContext, atlantic: Path, tmp_path: Path, request: pytest.FixtureRequest
) -> Iterator[RealDesk]:
    """A copy of that book at the desk, the browser let in."""
    shelf = open_book(copy_book(atlantic, tmp_path / "atlantic"))
    with (
        serve_desk(shelf) as opening,
        let_in(windows, opening, request) as (page, faults, shoot),
    ):
        page.get_by_role("heading", level=1).wait_for()
        yield RealDesk(page, shelf.session, opening.split("?")[0], shoot, faults)


@contextmanager
def let_in(
    windows: BrowserContext,
    opening: str,
    request: pytest.FixtureRequest,
    *,
    has_findings: bool = True,
) -> Iterator[tuple[Page, list[str], Callable[[str], None]]]:
    """Open the desk in a window; afterwards its console must have been silent.

    What the window kept, and every other that was opened meanwhile, is gone then.

    Without ``has_findings`` nobody judges the book: it is a fake, whose pages are all there is.
    """
    page = windows.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.on(
        "console", lambda message: faults.append(message.text) if message.type == "error" else None
    )
    folder = os.environ.get("WAYFOLD_SCREENSHOTS")

    def shoot(name: str) -> None:
        if folder:
            Path(folder).mkdir(parents=True, exist_ok=True)
            page.wait_for_timeout(400)
            page.screenshot(path=Path(folder) / f"{name}.png")
            with wear_theme(page, DARK):
                page.screenshot(path=Path(folder) / f"{name}-dark.png")

    if not has_findings:
        page.route("**/api/findings", lambda route: route.fulfill(json=[]))
    page.goto(opening)
    try:
        yield page, faults, shoot
    finally:
        page.evaluate("localStorage.clear()")
        for window in windows.pages:
            window.close()
        windows.clear_cookies()
    if request.node.get_closest_marker("expects_faults") is None:
        assert faults == [], "the page reported errors"

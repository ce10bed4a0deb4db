"""A real book at the desk, in one of its rooms, in a real browser."""

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from playwright.sync_api import Page, expect

from wayfold.app.session import Session


@dataclass(slots=True)
class RealDesk:
    """The open book, its folder, and the browser's page. ``faults`` are what the console said."""

    page: Page
    session: Session
    address: str
    shoot: Callable[[str], None]
    faults: list[str] = field(default_factory=list)

    @property
    def root(self) -> Path:
        return self.session.folder.root

    def enter(self, room: str, place: str = "") -> None:
        """Go to a room by its name in the row of rooms, then to a place in it."""
        link = self.page.get_by_role("navigation", name="Rooms").get_by_role(
            "link", name=room, exact=True
        )
        link.click()
        if place:
            address = f"{link.get_attribute('href')}/{place}"
            self.page.evaluate("address => { location.hash = address }", address)

    def wait_until_quiet(self) -> None:
        """Until nothing on the screen has changed for a while: pictures and figures are there."""
        self.page.evaluate(
            """() => new Promise((done) => {
                const wait = () => setTimeout(done, 400);
                let waiting = wait();
                new MutationObserver(() => {
                    clearTimeout(waiting);
                    waiting = wait();
                }).observe(document.body, { subtree: true, childList: true, attributes: true });
                setTimeout(done, 10_000);
            })"""
        )

    def wait_until_saved(self) -> None:
        # A busy machine takes a while to lay the book out anew.
        expect(self.page.get_by_text("Saved", exact=True)).to_be_visible(timeout=30_000)

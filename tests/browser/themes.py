"""The desk's two themes, put on the screen as it is."""

from collections.abc import Iterator
from contextlib import contextmanager

from playwright.sync_api import Page

LIGHT, DARK = "light", "dark"
WEAR = "theme => { document.documentElement.dataset.theme = theme }"


@contextmanager
def wear_theme(page: Page, theme: str) -> Iterator[None]:
    """Show the screen in a theme while the block lasts."""
    worn = page.evaluate("document.documentElement.dataset.theme") or LIGHT
    page.evaluate(WEAR, theme)
    yield
    page.evaluate(WEAR, worn)

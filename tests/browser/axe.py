"""Look over the screen with axe-core, a general-purpose checker of WCAG rules."""

from pathlib import Path
from typing import Any

from playwright.sync_api import Page

from tests.browser.themes import DARK, LIGHT, wear_theme

SOURCE = Path(__file__).parents[2] / "desk-ui" / "node_modules" / "axe-core" / "axe.min.js"
ALL: dict[str, object] = {"resultTypes": ["violations"]}
OF_COLOURS = ALL | {"runOnly": ["color-contrast", "link-in-text-block"]}
"""The rules that can be kept in one theme and broken in the other."""


def find_barriers(page: Page) -> list[str]:
    """Give what axe calls serious or critical on the screen as it is: rule, and where.

    The screen is looked over in both themes.
    """
    # Evaluated through the browser's own door: the desk's pages let in no script from elsewhere.
    page.evaluate(SOURCE.read_text("utf-8"))
    found: list[str] = []
    for theme, rules in ((LIGHT, ALL), (DARK, OF_COLOURS)):
        with wear_theme(page, theme):
            told: dict[str, Any] = page.evaluate("rules => axe.run(document, rules)", rules)
        found += [
            f"{theme}: {fault['id']}: {node['html'][:160]} ({fault['help']})"
            for fault in told["violations"]
            if fault["impact"] in ("serious", "critical")
            for node in fault["nodes"]
        ]
    return found

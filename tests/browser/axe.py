"""Look over the screen with axe-core, a general-purpose checker of WCAG rules."""

from pathlib import Path
from typing import Any

from playwright.sync_api import Page

SOURCE = Path(__file__).parents[2] / "desk-ui" / "node_modules" / "axe-core" / "axe.min.js"


def find_barriers(page: Page) -> list[str]:
    """Give what axe calls serious or critical on the screen as it is: rule, and where."""
    # Evaluated through the browser's own door: the desk's pages let in no script from elsewhere.
    page.evaluate(SOURCE.read_text("utf-8"))
    found: dict[str, Any] = page.evaluate("() => axe.run(document)")
    return [
        f"{fault['id']}: {node['html'][:160]} ({fault['help']})"
        for fault in found["violations"]
        if fault["impact"] in ("serious", "critical")
        for node in fault["nodes"]
    ]

"""Build hook: fills the package with its fonts, flags, places and the desk's front end.

Nothing of it is committed. Each step is skipped when its inputs are unchanged, so an editable
install is quick; a plain ``python hatch_build.py`` does the same steps without installing.
"""

import sys
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

ROOT = Path(__file__).resolve().parent


def fill_package(root: Path) -> None:
    """Make everything under ``src/wayfold`` that comes from other packages or is built."""
    if str(root) not in sys.path:
        sys.path.insert(0, str(root))
    from building.assets import copy_flags, copy_fonts, copy_places
    from building.desk import build_desk
    from building.node import install_modules

    package = root / "src" / "wayfold"
    desk_ui = root / "desk-ui"
    modules = install_modules(desk_ui)
    copy_fonts(modules, package / "typeset" / "fonts")
    copy_flags(modules, package / "maps" / "flags")
    copy_places(package / "trip" / "gazetteer")
    build_desk(desk_ui, package / "desk" / "static")


class WayfoldBuildHook(BuildHookInterface[Any]):
    """Fills the package before hatchling gathers the files of a wheel."""

    PLUGIN_NAME = "custom"

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:  # noqa: ARG002
        """Run by hatchling before each build; an sdist carries sources only."""
        if self.target_name != "sdist":
            fill_package(Path(self.root))


if __name__ == "__main__":
    fill_package(ROOT)

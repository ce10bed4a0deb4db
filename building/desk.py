"""Build the desk's front end into the package."""

import shutil
from pathlib import Path

from building.node import run_npm
from building.stamp import hash_inputs, is_fresh, write_stamp

_TOP_FILES = ("index.html", "package.json", "package-lock.json", "vite.config.ts", "tsconfig.json")

# What Vite puts into the bundle, and the name its licence has in the package.
_BUNDLED = {
    "svelte": "LICENSE.md",
    "clsx": "license",
    "tinykeys": "LICENSE",
    "esm-env": "LICENSE",
    "@expo-google-fonts/eb-garamond": "LICENSE_FONT",
    "@expo-google-fonts/source-sans-3": "LICENSE_FONT",
}


def build_desk(desk_ui: Path, target: Path) -> None:
    """Build ``desk-ui`` with Vite into ``target``, unless the sources are those of last time."""
    folders = (desk_ui / "src", desk_ui / "public")
    sources = [path for folder in folders for path in folder.rglob("*") if path.is_file()]
    sources += [path for name in _TOP_FILES if (path := desk_ui / name).is_file()]
    names = [path.relative_to(desk_ui).as_posix() for path in sorted(sources)]
    digest = hash_inputs([*sources, Path(__file__)], *names)
    if is_fresh(target, digest):
        return
    shutil.rmtree(target, ignore_errors=True)
    run_npm(desk_ui, "run", "--silent", "build", "--", "--logLevel", "warn", "--emptyOutDir")
    for package, licence in _BUNDLED.items():
        name = f"LICENSE-{package.split('/')[-1]}.txt"
        shutil.copyfile(desk_ui / "node_modules" / package / licence, target / name)
    write_stamp(target, digest)

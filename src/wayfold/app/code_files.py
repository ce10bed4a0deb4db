"""The files of the package itself, code and data: what the keys of kept results are made of.

They are listed and read once a run.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import wayfold
from wayfold.base.hashing import hash_bytes

PACKAGE = Path(wayfold.__file__).parent


@cache
def list_files() -> tuple[str, ...]:
    """Give the files below the package, compiled ones left out, in order of their names."""
    return tuple(sorted(_walk(PACKAGE.as_posix(), "")))


def read_file(name: str) -> bytes:
    """Give what a file holds, by its name below the package."""
    with open(f"{PACKAGE}/{name}", "rb") as file:  # noqa: PTH123 a path object for each takes longer
        return file.read()


@cache
def hash_file(name: str) -> str:
    """Give the identity of a file by its name below the package."""
    return hash_bytes(read_file(name))


def _walk(folder: str, below: str) -> Iterator[str]:
    with os.scandir(folder) as found:
        for entry in found:
            if entry.name == "__pycache__":
                continue
            if entry.is_dir():
                yield from _walk(entry.path, f"{below}{entry.name}/")
            elif entry.is_file() and not entry.name.endswith(".pyc"):
                yield below + entry.name

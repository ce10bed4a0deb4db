"""The identity of the code that a function can reach: its module, and all that those import.

Found by following the imports, so that no list has to be kept, and none can be forgotten: a change
of a module gives other keys to what it has a part in, and to nothing else.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import Any

import wayfold
from wayfold.base.hashing import hash_bytes, hash_values

PACKAGE = Path(wayfold.__file__).parent
NAME = PACKAGE.name
_IMPORT = re.compile(
    rf"^[ \t]*(?:from[ \t]+({NAME}[\w.]*)[ \t]+import[ \t]+(\([^)]*\)|[^\n]*)"
    rf"|import[ \t]+({NAME}[^\n]*))",
    re.MULTILINE,
)


@cache
def function_key(do: Callable[..., Any]) -> str:
    """Give the identity of the code, and of the data beside it, that ``do`` can reach."""
    files = sorted(list_reached(do.__module__))
    return hash_values([[name, _hash_file(name)] for name in files])


@cache
def list_reached(module: str) -> frozenset[str]:
    """Give the files, below the package, of a module, of all it imports, and their data."""
    reached: set[str] = set()
    waiting = [module]
    while waiting:
        name = waiting.pop()
        path = _find_file(name)
        if path is None or path in reached:
            continue
        reached.add(path)
        waiting += _list_imports_of(path)
        waiting += [name.rpartition(".")[0]] if "." in name else []
    folders = {Path(path).parent for path in reached}
    return frozenset(reached).union(*map(_list_data, folders))


def list_imports(text: str) -> Iterator[str]:
    """Give the names of ours that a module's text imports, wherever in it."""
    for origin, names, plain in _IMPORT.findall(text):
        if plain:
            yield from (part.split()[0] for part in plain.split("#")[0].split(","))
            continue
        yield origin
        # What is imported from a package may be a module of it.
        told = re.sub(r"#[^\n]*", "", names).strip("() \t\n")
        yield from (f"{origin}.{part.split()[0]}" for part in told.split(",") if part.strip())


@cache
def _hash_file(name: str) -> str:
    return hash_bytes((PACKAGE / name).read_bytes())


@cache
def _list_imports_of(name: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(list_imports((PACKAGE / name).read_text("utf-8"))))


@cache
def _find_file(module: str) -> str | None:
    """Give the file of a module of ours; None for a name that is none, as of a function."""
    place = "/".join(module.split(".")[1:])
    for name in (f"{place}.py", f"{place}/__init__.py".lstrip("/")):
        if name in _list_modules():
            return name
    return None


@cache
def _list_modules() -> frozenset[str]:
    return frozenset(path.relative_to(PACKAGE).as_posix() for path in PACKAGE.rglob("*.py"))


@cache
def _list_data(folder: Path) -> frozenset[str]:
    """Give what lies beside a package's modules and is no module: type, tables, styles."""
    if folder == Path():
        return frozenset()
    found = (PACKAGE / folder).rglob("*")
    ours = (p for p in found if p.is_file() and p.suffix not in {".py", ".pyc"})
    return frozenset(p.relative_to(PACKAGE).as_posix() for p in ours)

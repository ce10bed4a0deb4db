"""The identity of the code that a function can reach: its module, and all that those import.

Found by following the imports, so that no list has to be kept, and none can be forgotten: a change
of a module gives other keys to what it has a part in, and to nothing else.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import cache
from typing import Any

from wayfold.app.code_files import PACKAGE, hash_file, list_files, read_file
from wayfold.base.hashing import hash_values

NAME = PACKAGE.name
# Each begins with plain letters, which are found many times sooner than one of two words; what is
# found in a comment besides is reached in vain, no more.
_FROM = re.compile(rf"from[ \t]+({NAME}[\w.]*)[ \t]+import[ \t]+(\([^)]*\)|[^\n]*)")
_IMPORT = re.compile(rf"import[ \t]+({NAME}[^\n]*)")


@cache
def function_key(do: Callable[..., Any]) -> str:
    """Give the identity of the code, and of the data beside it, that ``do`` can reach."""
    files = sorted(list_reached(do.__module__))
    return hash_values([[name, hash_file(name)] for name in files])


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
    folders = {path.rpartition("/")[0] for path in reached}
    return frozenset(reached).union(*map(_list_data, folders))


def list_imports(text: str) -> Iterator[str]:
    """Give the names of ours that a module's text imports, wherever in it."""
    for plain in _IMPORT.findall(text):
        yield from (part.split()[0] for part in plain.split("#")[0].split(","))
    for origin, names in _FROM.findall(text):
        yield origin
        # What is imported from a package may be a module of it.
        told = re.sub(r"#[^\n]*", "", names).strip("() \t\n")
        yield from (f"{origin}.{part.split()[0]}" for part in told.split(",") if part.strip())


@cache
def _list_imports_of(name: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(list_imports(read_file(name).decode())))


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
    return frozenset(name for name in list_files() if name.endswith(".py"))


@cache
def _list_data(folder: str) -> frozenset[str]:
    """Give what lies beside a package's modules and is no module: type, tables, styles."""
    below = f"{folder}/"
    return frozenset(
        name
        for name in list_files()
        if folder and name.startswith(below) and not name.endswith(".py")
    )

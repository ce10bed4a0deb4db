"""Reading TOML strictly, with advice: errors name the file, the line, the key and the mend."""

from __future__ import annotations

import copy
import difflib
import re
import tomllib
from functools import lru_cache
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from wayfold.base.errors import UserError

Model = TypeVar("Model", bound=BaseModel)

LARGEST = 2**63 - 1
MOST_SHOWN = 120
"""Signs of what was found; more is no help in finding it."""


def read_toml(path: Path, name: str, version: int) -> dict[str, Any]:
    """Read a TOML file of format ``version``.

    Raises UserError for text that is no TOML (with its line), for a missing or foreign version.
    ``name`` is how the message calls the file.
    """
    return parse_toml(path.read_bytes(), name, version)


def parse_toml(content: bytes, name: str, version: int) -> dict[str, Any]:
    """Read the content of a TOML file, as ``read_toml`` does."""
    try:
        text = content.decode().replace("\r\n", "\n").replace("\r", "\n")
    except UnicodeDecodeError as error:
        raise UserError(
            f"The file is not UTF-8 text (byte {error.start}).",
            where=name,
            remedy="Save it as UTF-8 in your editor.",
        ) from error
    try:
        data = copy.deepcopy(_parse(text))
    except tomllib.TOMLDecodeError as error:
        raise _explain_syntax(str(error), text, name) from error
    except (ValueError, RecursionError) as error:
        raise UserError(
            "A number in the file is too long, or its brackets are nested too deep, to be read.",
            where=name,
            remedy="Take out what nobody wrote there by hand; an earlier copy of the file will do.",
        ) from error
    found = data.get("version")
    if found is None:
        raise UserError(
            "The file does not say which version of the format it is.",
            where=name,
            remedy=f"Write as its first line: version = {version}",
        )
    if type(found) is not int or found < 1:
        raise UserError(
            f"version = {_show(found)} is no version.",
            where=_place(name, text, ("version",)),
            remedy=f"Write: version = {version}",
        )
    if found > version:
        raise UserError(
            f"This book was made by a newer Wayfold (format {_show(found)}; "
            f"this one knows {version}).",
            where=name,
            remedy="Update Wayfold, then open the book again. Nothing was changed.",
        )
    return data


@lru_cache(maxsize=16)
def _parse(text: str) -> dict[str, Any]:
    """Read TOML; the files of a book are read at every edit, and few of them have changed."""
    data = tomllib.loads(text)
    _refuse_long(data)
    return data


def _refuse_long(value: object) -> None:
    """Raise ValueError for a whole number of more than 64 bits (TOML 1.0, Integer)."""
    if isinstance(value, dict):
        for inner in value.values():
            _refuse_long(inner)
    elif isinstance(value, list):
        for inner in value:
            _refuse_long(inner)
    elif isinstance(value, int) and not -LARGEST - 1 <= value <= LARGEST:
        raise ValueError("this number is too long")


def check_shape(data: dict[str, Any], model: type[Model], path: Path, name: str) -> Model:
    """Give ``data`` as ``model``. Raises UserError naming line, key and what to write instead."""
    try:
        return model.model_validate(data)
    except ValidationError as error:
        text = path.read_text(encoding="utf-8")
        first = error.errors()[0]
        keys = tuple(first["loc"])
        more = error.error_count() - 1
        tail = f" ({more} more like this in the file.)" if more else ""
        raise UserError(
            f"{_dotted(keys)}: {_in_words(first)}{tail}".removeprefix(": "),
            where=_place(name, text, keys),
            remedy=_advise(first, model, keys),
        ) from error


def _explain_syntax(message: str, text: str, name: str) -> UserError:
    at = re.search(r"at line (\d+), column (\d+)", message)
    lines = text.split("\n")
    line = int(at[1]) if at else len(lines)
    written = lines[line - 1].strip() if line <= len(lines) else ""
    what = message.split(" (at")[0]
    if len(written) > MOST_SHOWN:
        written = f"{written[: MOST_SHOWN - 1]}…"
    shown = f" The line reads: {written}" if written else ""
    return UserError(
        f"This is no valid TOML: {what}.{shown}",
        where=f"{name}, line {line}",
        remedy='Write values as key = "text", key = 12.5, key = true or key = ["a", "b"].',
    )


def _dotted(keys: tuple[int | str, ...]) -> str:
    parts = (f"[{k + 1}]" if isinstance(k, int) else f".{k}" for k in keys)
    return "".join(parts).lstrip(".")


def _in_words(error: Any) -> str:
    match error["type"]:
        case "extra_forbidden":
            return "this key is not known."
        case "missing":
            return "this key is missing."
        case "value_error":  # raised by a rule of the file's own, in words
            return f"{error['ctx']['error']}."
        case _:
            return f"{error['msg']}; found {_show(error['input'])}."


def _show(value: object) -> str:
    """Give what was found, so that a line can hold it."""
    shown = repr(value)
    return shown if len(shown) <= MOST_SHOWN else f"{shown[: MOST_SHOWN - 1]}…"


def _advise(error: Any, model: type[BaseModel], keys: tuple[int | str, ...]) -> str:
    if error["type"] == "extra_forbidden":
        known = _fields_at(model, keys[:-1])
        near = difflib.get_close_matches(str(keys[-1]), known, n=1)
        if near:
            return f"Did you mean {near[0]}?"
        return f"Known here: {', '.join(sorted(known))}."
    if error["type"] == "missing":
        return f"Add a line {keys[-1]} = …"
    expected = error.get("ctx", {}).get("expected")
    return f"Write one of: {expected}." if expected else "Correct the value."


def _fields_at(model: type[BaseModel], keys: tuple[int | str, ...]) -> list[str]:
    """The keys that a table of the file may have, found by walking the model's fields."""
    current: Any = model
    for key in keys:
        if isinstance(key, int):
            continue
        field = getattr(current, "model_fields", {}).get(key)
        if field is None:
            by_alias = [f for f in getattr(current, "model_fields", {}).values() if f.alias == key]
            field = by_alias[0] if by_alias else None
        current = _model_in(field.annotation) if field is not None else current
    return [f.alias or n for n, f in getattr(current, "model_fields", {}).items()]


def _model_in(annotation: Any) -> Any:
    for part in (annotation, *getattr(annotation, "__args__", ())):
        if isinstance(part, type) and issubclass(part, BaseModel):
            return part
    return annotation


def _place(name: str, text: str, keys: tuple[int | str, ...]) -> str:
    """The file and, as well as can be told from the text, the line of a key."""
    line = _find_line(text, keys)
    return f"{name}, line {line}" if line else name


def _find_line(text: str, keys: tuple[int | str, ...]) -> int | None:
    """Look for a key under its table's header; the header's line where the key is not written."""
    names = [str(k) for k in keys if not isinstance(k, int)]
    if not names:  # a rule of the file as a whole
        return None
    wanted = next((k for k in keys if isinstance(k, int)), 0)
    parent, full = ".".join(names[:-1]), ".".join(names)
    table, index, header_line = "", 0, None
    seen: dict[str, int] = {}
    for number, line in enumerate(text.split("\n"), start=1):
        header = re.match(r"\s*\[{1,2}\s*([^\]]+?)\s*\]{1,2}", line)
        key = re.match(r"\s*\"?([\w-]+)\"?\s*=", line)
        if header:
            table = header[1].replace('"', "")
            index = seen.get(table, 0)
            seen[table] = index + 1
        if index != wanted and table:
            continue
        if (header and table == full) or (key and table == parent and key[1] == names[-1]):
            return number
        if header and table == parent:
            header_line = number
    return header_line

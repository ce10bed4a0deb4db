"""The way back from ``hashing.plain``: values read again from JSON, as the types they had."""

from __future__ import annotations

import dataclasses
import enum
import types
import typing
from functools import cache
from typing import Any, TypeVar

T = TypeVar("T")


def revive(value: Any, kind: type[T]) -> T:
    """Give the value of type ``kind`` that ``hashing.plain`` made ``value`` of.

    Knows frozen dataclasses, their unions, enumerations, tuples, numbers and strings. Raises
    ValueError for what is not such a value, TypeError for a type that there is no way back to.
    """
    result: T = _revive(value, kind)
    return result


def _revive(value: Any, kind: Any) -> Any:
    if kind in (str, int, bool, float):
        return _revive_simple(value, kind)
    if kind is type(None):
        return None
    origin, parts = typing.get_origin(kind), typing.get_args(kind)
    if origin is tuple:
        return _revive_tuple(value, parts)
    if origin in (types.UnionType, typing.Union):
        return _revive(value, _choose(value, parts))
    if isinstance(kind, type) and issubclass(kind, enum.Enum):
        return kind(value)
    if isinstance(kind, type) and dataclasses.is_dataclass(kind):
        return _revive_fields(value, kind)
    raise TypeError(f"there is no way back to {kind}")


def _revive_simple(value: Any, kind: type) -> Any:
    if kind is float and type(value) is int:
        return float(value)
    if type(value) is not kind:
        raise ValueError(f"{value!r} is not of type {kind.__name__}")
    return value


def _revive_tuple(value: Any, parts: tuple[Any, ...]) -> tuple[Any, ...]:
    if not isinstance(value, list):
        raise ValueError(f"{value!r} is no list")
    if len(parts) == 2 and parts[1] is ...:
        return tuple(_revive(v, parts[0]) for v in value)
    return tuple(_revive(v, part) for v, part in zip(value, parts, strict=True))


def _revive_fields(value: Any, kind: type) -> Any:
    if not isinstance(value, list) or value[:1] != [kind.__name__]:
        raise ValueError(f"this is no {kind.__name__}")
    hints = _list_hints(kind)
    return kind(*(_revive(v, hint) for v, hint in zip(value[1:], hints, strict=True)))


@cache
def _list_hints(kind: Any) -> tuple[Any, ...]:
    hints = typing.get_type_hints(kind)
    return tuple(hints[field.name] for field in dataclasses.fields(kind))


def _choose(value: Any, parts: tuple[Any, ...]) -> Any:
    """Give the part of a union that ``value`` is of: dataclasses by name, others by kind."""
    if value is None and type(None) in parts:
        return type(None)
    left = [part for part in parts if part is not type(None)]
    if len(left) == 1:
        return left[0]
    name = value[0] if isinstance(value, list) and value else None
    for part in left:
        if isinstance(part, type) and dataclasses.is_dataclass(part) and part.__name__ == name:
            return part
    raise ValueError(f"{name!r} is none of {left}")

"""The way back from ``hashing.plain``: values read again from JSON, as the types they had."""

from __future__ import annotations

import dataclasses
import enum
import types
import typing
from collections.abc import Callable
from functools import cache
from typing import Any, TypeVar

T = TypeVar("T")


def revive(value: Any, kind: type[T]) -> T:
    """Give the value of type ``kind`` that ``hashing.plain`` made ``value`` of.

    Knows frozen dataclasses, their unions, enumerations, tuples, numbers and strings. Raises
    ValueError for what is not such a value, TypeError for a type that there is no way back to.
    """
    asked: Any = kind
    result: T = _find_reader(asked)(value)
    return result


_Reader = Callable[[Any], Any]


@cache
def _find_reader(kind: Any) -> _Reader:
    """Give what reads values of one type: found once, for a book has a hundred thousand."""
    if kind in (str, int, bool):
        return _read_just(kind)
    if kind is float:
        return _read_float
    if kind is type(None):
        return _read_none
    origin, parts = typing.get_origin(kind), typing.get_args(kind)
    if origin is tuple:
        return _read_all(parts[0]) if parts[1:] == (...,) else _read_each(parts)
    if origin in (types.UnionType, typing.Union):
        return _read_one_of(parts)
    if isinstance(kind, type) and issubclass(kind, enum.Enum):
        return kind
    if isinstance(kind, type) and dataclasses.is_dataclass(kind):
        return _read_fields(kind)
    raise TypeError(f"there is no way back to {kind}")


def _read_just(kind: type) -> _Reader:
    def read(value: Any) -> Any:
        if type(value) is not kind:
            raise ValueError(f"{value!r} is not of type {kind.__name__}")
        return value

    return read


def _read_float(value: Any) -> float:
    if type(value) is float:
        return value
    if type(value) is int:
        try:
            return float(value)
        except OverflowError as error:
            raise ValueError("this number is too large") from error
    raise ValueError(f"{value!r} is no number")


def _read_none(value: Any) -> None:
    if value is not None:
        raise ValueError(f"{value!r} is not nothing")


def _read_all(part: Any) -> _Reader:
    read = _find_reader(part)
    return lambda value: tuple([read(v) for v in _list_parts(value)])


def _read_each(parts: tuple[Any, ...]) -> _Reader:
    readers = [_find_reader(part) for part in parts]
    return lambda value: tuple(
        [read(v) for read, v in zip(readers, _list_parts(value), strict=True)]
    )


def _list_parts(value: Any) -> list[Any]:
    if type(value) is not list:
        raise ValueError(f"{value!r} is no list")
    return value


def _read_fields(kind: type) -> _Reader:
    name = kind.__name__

    def read(value: Any) -> Any:
        if type(value) is not list or value[:1] != [name]:
            raise ValueError(f"this is no {name}")
        # Found when first needed: a drawing may hold a drawing.
        readers = zip(_list_readers(kind), value[1:], strict=True)
        return kind(*[read(v) for read, v in readers])

    return read


@cache
def _list_readers(kind: Any) -> tuple[_Reader, ...]:
    hints = typing.get_type_hints(kind)
    return tuple(_find_reader(hints[field.name]) for field in dataclasses.fields(kind))


def _read_one_of(parts: tuple[Any, ...]) -> _Reader:
    """Read what is of one of some types: dataclasses are told by name, or only one is not None."""
    left: list[Any] = [part for part in parts if part is not type(None)]
    optional = len(left) < len(parts)
    only = _find_reader(left[0]) if len(left) == 1 else None
    named = {
        part.__name__: _find_reader(part)
        for part in left
        if isinstance(part, type) and dataclasses.is_dataclass(part)
    }

    def read(value: Any) -> Any:
        if value is None and optional:
            return None
        if only:
            return only(value)
        name = value[0] if type(value) is list and value else None
        if type(name) is not str or name not in named:
            raise ValueError(f"{name!r} is none of {left}")
        return named[name](value)

    return read

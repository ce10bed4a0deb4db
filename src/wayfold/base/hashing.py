"""Identity by content: the same bytes or the same values always give the same short name."""

from __future__ import annotations

import dataclasses
import enum
import hashlib
import json
import operator
from collections.abc import Callable, Iterable, Mapping
from datetime import date, datetime
from types import MethodType
from typing import Any, Protocol, SupportsBytes, runtime_checkable

DIGEST_BYTES = 16

_Reader = Callable[[object], tuple[object, ...]]
_READERS: dict[type, _Reader | None] = {}


@runtime_checkable
class Keyed(Protocol):
    """Something that is no plain value, as what measures text, but has an identity of its own."""

    @property
    def key(self) -> str:
        """Its identity: that of all that its answers hang on, code included."""


def hash_bytes(data: bytes) -> str:
    """Give the identity of ``data`` as 32 hexadecimal digits (BLAKE2b, RFC 7693)."""
    return hashlib.blake2b(data, digest_size=DIGEST_BYTES).hexdigest()


def hash_chunks(chunks: Iterable[bytes]) -> str:
    """Give the identity of a long stream, the same as of its chunks joined."""
    digest = hashlib.blake2b(digest_size=DIGEST_BYTES)
    for chunk in chunks:
        digest.update(chunk)
    return digest.hexdigest()


def hash_values(*values: object) -> str:
    """Give the identity of plain values: dataclasses, tuples, mappings, numbers, strings, dates.

    Of what is ``Keyed``, and of its methods, the key counts.
    Two equal values give the same identity in every run and on every machine. Raises TypeError
    for anything whose order or form is not fixed (sets, functions, open files).
    """
    text = json.dumps(plain(values), ensure_ascii=False, separators=(",", ":"))
    return hash_bytes(text.encode())


def plain(value: object) -> Any:
    """Give ``value`` in JSON's own types; of a dataclass the name and the fields."""
    # A book's drawings come to a hundred thousand values, so the common kinds go first.
    kind = type(value)
    if kind is str or kind is int or kind is bool or value is None:
        return value
    if kind is float:
        return _plain_float(value)  # type: ignore[arg-type]
    if kind is tuple or kind is list:
        return [plain(v) for v in value]  # type: ignore[attr-defined]
    read_fields = _find_fields(kind)
    if read_fields is not None:
        return [kind.__name__, *[plain(v) for v in read_fields(value)]]
    return _plain_other(value)


def _plain_float(value: float) -> int | float:
    # 1.0 equals 1, so it must be spelt alike; JSON spells other floats shortest and exact.
    return int(value) if value.is_integer() else value


def _find_fields(kind: type) -> _Reader | None:
    """Give what reads the fields of a dataclass, or None for any other type."""
    if kind not in _READERS:
        _READERS[kind] = _make_reader(kind)
    return _READERS[kind]


def _make_reader(kind: type) -> _Reader | None:
    if not dataclasses.is_dataclass(kind) or issubclass(kind, enum.Enum):
        return None
    names = [field.name for field in dataclasses.fields(kind)]
    if len(names) < 2:  # attrgetter gives no tuple then
        return lambda value: tuple(getattr(value, name) for name in names)
    return operator.attrgetter(*names)


def _plain_other(value: object) -> Any:
    if isinstance(value, enum.Enum):
        return plain(value.value)
    if isinstance(value, bool | int | str):
        return value
    if isinstance(value, float):
        return _plain_float(value)
    if isinstance(value, tuple | list):
        return [plain(v) for v in value]
    if isinstance(value, Mapping):
        return {"map": sorted([str(k), plain(v)] for k, v in value.items())}
    if isinstance(value, date | datetime):
        return value.isoformat()
    if isinstance(value, SupportsBytes):
        return hash_bytes(bytes(value))
    if isinstance(value, MethodType):
        return [value.__name__, plain(value.__self__)]
    if isinstance(value, Keyed):
        return [type(value).__name__, value.key]
    raise TypeError(f"{type(value).__name__} has no fixed identity")

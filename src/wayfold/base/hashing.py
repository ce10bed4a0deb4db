"""Identity by content: the same bytes or the same values always give the same short name."""

from __future__ import annotations

import dataclasses
import enum
import hashlib
import json
from collections.abc import Iterable, Mapping
from datetime import date, datetime
from typing import Any

DIGEST_BYTES = 16


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

    Two equal values give the same identity in every run and on every machine. Raises TypeError
    for anything whose order or form is not fixed (sets, functions, open files).
    """
    text = json.dumps(plain(values), ensure_ascii=False, separators=(",", ":"))
    return hash_bytes(text.encode())


def plain(value: object) -> Any:
    """Give ``value`` in JSON's own types; of a dataclass the name and the fields."""
    if isinstance(value, enum.Enum):
        return plain(value.value)
    if value is None or isinstance(value, bool | int | str):
        return value
    if isinstance(value, float):
        # 1.0 equals 1, so it must be spelt alike; JSON spells other floats shortest and exact.
        return int(value) if value.is_integer() else value
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        fields = dataclasses.fields(value)
        return [type(value).__name__, *(plain(getattr(value, f.name)) for f in fields)]
    if isinstance(value, tuple | list):
        return [plain(v) for v in value]
    if isinstance(value, Mapping):
        return {"map": sorted([str(k), plain(v)] for k, v in value.items())}
    if isinstance(value, date | datetime):
        return value.isoformat()
    if isinstance(value, bytes):
        return hash_bytes(value)
    raise TypeError(f"{type(value).__name__} has no fixed identity")

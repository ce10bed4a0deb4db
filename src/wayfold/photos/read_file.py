"""Reading one file, in a worker process: its bytes' identity, and what it tells of itself."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path, PurePath

from wayfold.base.hashing import hash_chunks
from wayfold.photos.facts import Facts
from wayfold.photos.heic_file import read_heic
from wayfold.photos.kinds import HEAD_BYTES, Kind, describe_stranger, kind_of_content
from wayfold.photos.raster_file import read_raster
from wayfold.photos.raw_file import read_raw
from wayfold.photos.refusals import (
    Refusal,
    RefusedError,
    refuse_changed,
    refuse_empty,
    refuse_file,
    refuse_memory,
    refuse_stranger,
)
from wayfold.photos.scan import FoundFile

_CHUNK_BYTES = 1 << 20


def hash_file(found: FoundFile) -> str | Refusal:
    """Give the identity of a file's bytes, or why it has none."""
    if found.size == 0:
        return refuse_empty()
    try:
        content = hash_chunks(_read_chunks(found.path))
        return content if _is_unchanged(found) else refuse_changed()
    except OSError as error:
        return refuse_file(error)


def read_file(found: FoundFile) -> Facts | Refusal:
    """Give all that a file tells, or why it is refused. Nothing is ever written to it."""
    try:
        facts = _read_facts(found.path)
        return facts if _is_unchanged(found) else refuse_changed()
    except RefusedError as error:
        return error.refusal
    except MemoryError:
        return refuse_memory()
    except OSError as error:
        return refuse_file(error)


def _read_facts(path: str) -> Facts:
    with open(path, "rb") as file:  # noqa: PTH123
        head = file.read(HEAD_BYTES)
    kind = kind_of_content(PurePath(path).name, head)
    if kind is None:
        raise RefusedError(refuse_stranger(describe_stranger(head)))
    if kind is Kind.HEIC:
        return read_heic(path)
    if kind is Kind.RAW:
        return read_raw(path)
    return read_raster(path, kind)


def _read_chunks(path: str) -> Iterator[bytes]:
    with open(path, "rb") as file:  # noqa: PTH123
        while chunk := file.read(_CHUNK_BYTES):
            yield chunk


def _is_unchanged(found: FoundFile) -> bool:
    status = Path(found.path).stat()
    return (status.st_size, status.st_mtime_ns) == (found.size, found.mtime_ns)

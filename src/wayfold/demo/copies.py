"""Writes the journey's pictures into the book's folder, as three cameras would have left them."""

from __future__ import annotations

import json
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

import PIL

from wayfold.base.errors import UserError
from wayfold.base.hashing import hash_bytes, hash_values
from wayfold.base.progress import Progress
from wayfold.demo.metadata import camera_time
from wayfold.demo.model import Gathered, Journey, Shot
from wayfold.demo.picture import make_copy

PHOTOGRAPHS = "photographs"
"""The folder in the book's folder that the pictures lie in."""

WRITERS = 2
_VERSION = 1
_RECORD = PurePosixPath(".wayfold/demo-copies.json")
_TEXT_NAME = f"{PHOTOGRAPHS}/Packing list.txt"
_TEXT = "Three cameras, four chargers, one corkscrew. Tickets in the blue envelope.\n"
_DUPLICATE_OF = "tower-in-a-ring"
_DUPLICATE_NAME = f"{PHOTOGRAPHS}/to print/tower (copy).jpg"
_TRUNCATED_FROM = "bands"
_TRUNCATED_NAME = f"{PHOTOGRAPHS}/to print/half a picture.jpg"
_TRUNCATED_SHARE = 0.6


@dataclass(frozen=True, slots=True)
class Copies:
    """What was written: shot key -> path in the book's folder (posix), and what was left alone.

    ``oddities`` are the files put there to be found: a text, a duplicate, a truncated picture.
    ``kept`` names files that someone has changed since; they stay as they are.
    """

    paths: dict[str, str]
    oddities: tuple[str, ...]
    kept: tuple[str, ...] = ()


def write_copies(target: Path, gathered: Gathered, progress: Progress) -> Copies:
    """Write a copy of every gathered picture below ``target``/photographs.

    A copy that is there already is not written again; one that somebody changed is left as it is.
    Copies from an earlier run that belong to no picture any more are taken away, if unchanged.
    Raises UserError where a source cannot be read or ``target`` not be written to.
    """
    names = name_copies(gathered.journey)
    keys = _make_keys(gathered, names)
    record = _read_record(target / _RECORD)
    kept: list[str] = []
    try:
        _remove_stale(target, record, set(names.values()))
        shots = [s for c in gathered.journey.chapters for s in c.shots]
        due = [s for s in shots if not _is_done(target, names[s.key], keys[s.key], record)]
        with (
            progress.task("Writing the cameras' files", len(shots)) as task,
            ThreadPoolExecutor(WRITERS) as pool,
        ):
            task.advance(len(shots) - len(due))
            copies = pool.map(lambda s: _copy_shot(gathered, s), due)
            for shot, data in zip(due, copies, strict=True):
                _write_unless_changed(target, names[shot.key], data, keys[shot.key], record, kept)
                task.advance()
        oddities = _write_oddities(target, names, record, kept)
    except OSError as error:
        raise UserError(
            f"The demo's photographs cannot be written: {error.strerror or error}.",
            where=str(error.filename or target),
            remedy="Make room or choose another folder; what is written so far stays.",
        ) from error
    finally:
        _write_record(target / _RECORD, record)
    return Copies(names, oddities, tuple(kept))


def name_copies(journey: Journey) -> dict[str, str]:
    """Give shot key -> path below the book's folder (posix), named as each camera names files."""
    names: dict[str, str] = {}
    frames = {body.key: body.first_number for body in journey.bodies}
    for shot in sorted((s for c in journey.chapters for s in c.shots), key=lambda s: s.taken):
        body = journey.body(shot.body)
        # Not every frame is kept: the numbers go on in uneven steps.
        frames[body.key] += 1 + int(hash_values(shot.key)[:4], 16) % 9
        name = shot.name or camera_time(shot, body).strftime(body.naming).format(
            number=frames[body.key]
        )
        if not shot.name and shot.file_format != "JPEG":
            name = str(PurePosixPath(name).with_suffix(f".{shot.file_format[:4].lower()}"))
        names[shot.key] = f"{PHOTOGRAPHS}/{body.folder}/{name}"
    return names


def _copy_shot(gathered: Gathered, shot: Shot) -> bytes:
    return make_copy(gathered.files[shot.key], shot, gathered.journey.body(shot.body))


def _make_keys(gathered: Gathered, names: dict[str, str]) -> dict[str, str]:
    keys = {}
    for shot in (s for c in gathered.journey.chapters for s in c.shots):
        body = gathered.journey.body(shot.body)
        try:
            source = hash_bytes(gathered.files[shot.key].read_bytes())
        except OSError as error:
            raise UserError(
                f"A fetched picture has gone: {error.strerror}.",
                where=str(gathered.files[shot.key]),
                remedy="Start the demo again; it will fetch the picture anew.",
            ) from error
        keys[shot.key] = hash_values(_VERSION, PIL.__version__, shot, body, source, names[shot.key])
    return keys


def _is_done(target: Path, name: str, key: str, record: dict[str, list[str]]) -> bool:
    known = record.get(name)
    path = target / name
    return known is not None and known[0] == key and path.is_file() and _hash(path) == known[1]


def _write_unless_changed(
    target: Path, name: str, data: bytes, key: str, record: dict[str, list[str]], kept: list[str]
) -> None:
    path = target / name
    content = hash_bytes(data)
    if path.is_file():
        present = _hash(path)
        known = record.get(name)
        if present != content and (known is None or known[1] != present):
            kept.append(name)
            return
    if not path.is_file() or _hash(path) != content:
        path.parent.mkdir(parents=True, exist_ok=True)
        part = path.with_name(f".{path.name}.part")
        part.write_bytes(data)
        part.replace(path)
    record[name] = [key, content]


def _write_oddities(
    target: Path, names: dict[str, str], record: dict[str, list[str]], kept: list[str]
) -> tuple[str, ...]:
    anyone = next(iter(names.values()))
    whole = (target / names.get(_DUPLICATE_OF, anyone)).read_bytes()
    half = (target / names.get(_TRUNCATED_FROM, anyone)).read_bytes()
    half = half[: int(len(half) * _TRUNCATED_SHARE)]
    files = {_TEXT_NAME: _TEXT.encode(), _DUPLICATE_NAME: whole, _TRUNCATED_NAME: half}
    for name, data in files.items():
        _write_unless_changed(target, name, data, "oddity", record, kept)
    return tuple(files)


def _remove_stale(target: Path, record: dict[str, list[str]], names: set[str]) -> None:
    oddities = {_TEXT_NAME, _DUPLICATE_NAME, _TRUNCATED_NAME}
    for name in sorted(set(record) - names - oddities):
        path = target / name
        _, content = record.pop(name)
        if path.is_file() and _hash(path) == content:
            path.unlink()


def _hash(path: Path) -> str:
    return hash_bytes(path.read_bytes())


def _read_record(path: Path) -> dict[str, list[str]]:
    try:
        record = json.loads(path.read_text("utf-8"))
    except (OSError, ValueError):
        return {}
    if not isinstance(record, dict):
        return {}
    return {
        name: entry
        for name, entry in record.items()
        if isinstance(entry, list) and len(entry) == 2 and name.startswith(f"{PHOTOGRAPHS}/")
    }


def _write_record(path: Path, record: dict[str, list[str]]) -> None:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(json.dumps(record, ensure_ascii=False, indent=1), "utf-8")
    except OSError:
        # Without the record the next run only has to compare bytes; the copies are what counts.
        return

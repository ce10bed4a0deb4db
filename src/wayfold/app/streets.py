"""Streets for city maps: from the extracts in the book's folder, each read once for each map."""

from __future__ import annotations

import contextlib
import shutil
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from wayfold.app.identity import code_key, list_key
from wayfold.base.errors import UserError
from wayfold.base.findings import Finding, Severity
from wayfold.base.hashing import hash_chunks, hash_values
from wayfold.base.progress import Progress
from wayfold.disk.refusals import explain_os_errors
from wayfold.maps.extract import read_extract
from wayfold.maps.kept_streets import pack_plan, unpack_plan
from wayfold.maps.projection import Extent
from wayfold.maps.streets import StreetPlan
from wayfold.photos.crew import Crew, Lost
from wayfold.project.cache import DiskCache
from wayfold.project.files import BookFolder

IN_MEMORY_BYTES = 64_000_000
"""Larger extracts have the places of their nodes noted in a scratch file, not in memory."""
_SCRATCH = {".osm": 0.3}
_SCRATCH_PACKED = 2.0
"""Bytes of scratch file for each byte of the extract: 16 for a node, which takes 8 or more packed
and 60 or more as plain XML."""
_CHUNK = 1 << 20


def read_streets(folder: BookFolder, extent: Extent, progress: Progress) -> StreetPlan:
    """Give the streets of a map's part of the world, from the extract that holds most of them.

    Without any extract the plan is empty, with a finding that says where to put one. One that
    cannot be read is a finding as long as another can; raises UserError where none can, or where
    the disk has no room for the scratch file.
    """
    best = StreetPlan(findings=(_say_none(),))
    findings: list[Finding] = []
    failure: UserError | None = None
    extracts = folder.list_extracts()
    for path in extracts:
        try:
            plan = _read_kept(folder, path, extent, progress)
        except UserError as error:
            failure = error
            findings.append(_say_unread(folder.name_of(path), error))
            continue
        if plan.is_empty:
            findings += plan.findings
        elif best.is_empty or len(plan.streets) > len(best.streets):
            best = plan
    if not best.is_empty:
        unread = [f for f in findings if f.rule == "map-streets-unread"]
        return replace(best, findings=(*best.findings, *unread))
    if failure is not None and len(findings) == 1:
        raise failure
    return replace(best, findings=tuple(findings)) if extracts else best


def _read_kept(folder: BookFolder, path: Path, extent: Extent, progress: Progress) -> StreetPlan:
    cache = DiskCache(folder.cache, "streets")
    frame = [round(v, 6) for v in (extent.west, extent.south, extent.east, extent.north)]
    name = folder.name_of(path)
    key = hash_values("streets", _identify(path, cache), name, frame, code_key("maps"))
    kept = cache.get(key)
    if kept is not None:
        # A cache that was meddled with costs time and nothing else.
        with contextlib.suppress(ValueError, KeyError):
            return unpack_plan(kept)
    with _open_scratch(folder, path) as index:
        plan = _read_apart(_Wanted(str(path), extent, index, name), progress)
    cache.put(key, pack_plan(plan))
    return plan


@dataclass(frozen=True, slots=True)
class _Wanted:
    """What is to be read of which extract; see ``read_extract``."""

    path: str
    extent: Extent
    index: str
    name: str


def _read_apart(wanted: _Wanted, progress: Progress) -> StreetPlan:
    """Read an extract in a process of its own, which a damaged one may bring down."""
    with progress.task("Reading streets", 1) as task, Crew(1) as crew:
        (outcome,) = crew.run(_read_wanted, [wanted])
        task.advance()
    if isinstance(outcome.result, Lost):
        raise UserError(
            "The street data is damaged: what reads it broke down over it.",
            where=wanted.name,
            remedy="Fetch it once more, or take it out of the folder streets.",
        )
    if isinstance(outcome.result, UserError):
        raise outcome.result
    return outcome.result


def _read_wanted(wanted: _Wanted) -> StreetPlan | UserError:
    try:
        return read_extract(wanted.path, wanted.extent, index=wanted.index, name=wanted.name)
    except UserError as error:
        return error


def _identify(path: Path, cache: DiskCache) -> str:
    """Give the identity of a file's content; a file that looks untouched is not read again."""
    key = hash_values("content", list_key([path]))
    known = cache.get(key)
    if known is None:
        with explain_os_errors(path), path.open("rb") as file:
            known = hash_chunks(iter(lambda: file.read(_CHUNK), b"")).encode()
        cache.put(key, known)
    return known.decode()


@contextlib.contextmanager
def _open_scratch(folder: BookFolder, path: Path) -> Iterator[str]:
    """Give the name of a scratch file for an extract's nodes, "" where it is small enough.

    The library writes through a memory map, and running out of disk would end the whole process:
    so there must be room before it starts.
    """
    size = path.stat().st_size
    if size <= IN_MEMORY_BYTES:
        yield ""
        return
    wanted = size * _SCRATCH.get(path.suffix.lower(), _SCRATCH_PACKED)
    folder.cache.mkdir(parents=True, exist_ok=True)
    free = shutil.disk_usage(folder.cache).free
    if free < 1.1 * wanted:
        raise UserError(
            f"Reading this street data takes {wanted / 1e9:.1f} GB of disk for a while, and only "
            f"{free / 1e9:.1f} GB are free.",
            where=folder.name_of(path),
            remedy="Make room, or add a smaller extract that holds the town and little more.",
        )
    with tempfile.TemporaryDirectory(
        # Windows removes no file that is open, and the reader lets go of its own when it likes.
        prefix="streets-",
        dir=folder.cache,
        ignore_cleanup_errors=True,
    ) as scratch:
        yield str(Path(scratch) / "nodes")


def _say_none() -> Finding:
    return Finding(
        "map-streets",
        Severity.WARN,
        "streets",
        "There is no street data, so a city map has no streets.",
        "Put an OpenStreetMap extract of the town (.osm.pbf) into the book's folder “streets”.",
    )


def _say_unread(name: str, error: UserError) -> Finding:
    return Finding("map-streets-unread", Severity.WARN, name, error.what, error.remedy)

"""Files that take their places together: written beside them first, named in a note, then renamed.

Until the note is on the disk nothing has changed; from then on whatever was broken off can be
finished, for every file still waiting lies beside its place. One that is to go has a mark there.
"""

from __future__ import annotations

import contextlib
import os
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path, PurePosixPath

from wayfold.disk.placing import stage_file, sweep_parts, sweep_scratch, sync_folder
from wayfold.disk.refusals import explain_os_errors
from wayfold.disk.replacing import replace_file
from wayfold.project.files import BookFolder

NEXT, GONE = ".next", ".gone"
"""How the names end of files that wait, and of marks for those that are to go."""

Staged = Mapping[str, str]
"""File name within the book's folder -> name, in the same folder, of what waits for its place."""


def stage_all(folder: BookFolder, wanted: Mapping[str, bytes | None]) -> Staged:
    """Write all of ``wanted`` (None for a file that is to go) beside their places, for good.

    Raises UserError where the disk refuses; then nothing is left.
    """
    staged: dict[str, str] = {}
    try:
        for name, data in wanted.items():
            path = folder.root / name
            with explain_os_errors(path, sum(len(d or b"") for d in wanted.values())):
                part = stage_file(path, data or b"", GONE if data is None else NEXT)
            staged[name] = part.name
        with explain_os_errors(folder.root):
            _sync(folder, staged)
    except BaseException:
        drop_all(folder, staged)
        raise
    return staged


def place_all(folder: BookFolder, staged: Staged) -> None:
    """Let everything that waits take its place. Raises UserError where the disk refuses."""
    with explain_os_errors(folder.root):
        marks = []
        for name, part in staged.items():
            path = folder.root / name
            if part.endswith(GONE):
                path.unlink(missing_ok=True)
                marks.append(path.with_name(part))
            else:
                replace_file(path.with_name(part), path)
        _sync(folder, staged)
        for mark in marks:
            mark.unlink(missing_ok=True)


def drop_all(folder: BookFolder, staged: Staged) -> None:
    """Take away what waits; what cannot be taken away is swept later."""
    for name, part in staged.items():
        with contextlib.suppress(OSError):
            (folder.root / name).with_name(part).unlink(missing_ok=True)


def finish(folder: BookFolder, staged: Staged, is_wanted: Callable[[str], bool]) -> None:
    """Finish what was broken off after its note, and sweep what was before it.

    A file of which ``is_wanted`` says no was changed by hand meanwhile, and stays so.
    """
    waiting = {
        name: part
        for name, part in staged.items()
        if _is_own(name, part) and (folder.root / name).with_name(part).is_file()
    }
    place_all(folder, {name: part for name, part in waiting.items() if is_wanted(name)})
    for path in list_waiting(folder):
        path.unlink(missing_ok=True)


def list_waiting(folder: BookFolder) -> list[Path]:
    """Give what waits for its place, or was left waiting."""
    places = (*_list_places(folder), folder.private)
    return [p for place in places for end in (NEXT, GONE) for p in place.glob(f".*{end}")]


def sweep(folder: BookFolder) -> None:
    """Take away what programs left that ended in the middle of writing a file."""
    history = folder.private / "history"
    handed_in = (folder.root / "tracks", folder.calendars)
    caches = [Path(top) for top, _, _ in os.walk(folder.cache)]
    notes = (folder.private, history, history / "contents")
    sweep_parts((*_list_places(folder), *handed_in, *notes, folder.out, *caches))
    sweep_scratch((*folder.cache.glob("streets-*"), *folder.private.glob("handed-in-*")))


def _list_places(folder: BookFolder) -> Iterable[Path]:
    """Give the folders that decisions lie in."""
    return (folder.root, folder.texts, *folder.styles.glob("*/"))


def _is_own(name: str, part: str) -> bool:
    """Whether a note names a file within the book's folder, and what waits for its place there."""
    path = PurePosixPath(name)
    inside = not path.is_absolute() and ".." not in path.parts and "\\" not in name + part
    waits = part.startswith(f".{path.name}.") and part.endswith((NEXT, GONE))
    return inside and path.name != "" and waits and "/" not in part


def _sync(folder: BookFolder, staged: Staged) -> None:
    for parent in {(folder.root / name).parent for name in staged}:
        sync_folder(parent)

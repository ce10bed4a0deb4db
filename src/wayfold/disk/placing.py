"""How files take their places: written to the disk beside them first, then renamed."""

from __future__ import annotations

import contextlib
import os
import shutil
import tempfile
import time
from collections.abc import Iterable
from pathlib import Path

from wayfold.disk.refusals import explain_os_errors
from wayfold.disk.replacing import replace_file

PART = ".part"
"""How files end that are not yet whole."""
UNDER_WAY_S = 3600.0
"""Nothing is so long in being written to one file."""


def write_whole(path: Path, data: bytes, *, lasting: bool = True) -> None:
    """Replace ``path`` by ``data`` wholly or not at all, and make the folder for it if needed.

    Once this returns the new file outlasts a power cut; where it need not be ``lasting``, either
    the old or the new one does. Raises UserError when the disk is full or the place cannot be
    written to.
    """
    with explain_os_errors(path, len(data)):
        _place(stage_file(path, data), path)
        if lasting:
            sync_folder(path.parent)


def write_passing(path: Path, data: bytes) -> None:
    """Replace ``path`` by ``data`` as ``write_whole`` does, without waiting for the disk.

    After a power cut it may be torn: for what tells so by itself, or is taken away soon.
    """
    with explain_os_errors(path, len(data)):
        _place(stage_file(path, data, synced=False), path)


def _place(temporary: Path, path: Path) -> None:
    try:
        replace_file(temporary, path)
    except BaseException:
        temporary.unlink(missing_ok=True)
        raise


def stage_file(path: Path, data: bytes, ending: str = PART, *, synced: bool = True) -> Path:
    """Write ``data`` beside ``path``, to take its name later; give where.

    If ``synced``, it is on the disk itself then. The folder is made if needed. Where that fails
    nothing is left.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(prefix=f".{path.name}.", suffix=ending, dir=path.parent)
    temporary = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            if synced:
                file.flush()
                os.fsync(file.fileno())
        # mkstemp makes the file private; a book's files are as open as the person's others.
        temporary.chmod(0o666 & ~_umask())
    except BaseException:
        with contextlib.suppress(OSError):
            temporary.unlink(missing_ok=True)
        raise
    return temporary


def sweep_parts(folders: Iterable[Path]) -> None:
    """Take away what programs that ended in the middle of a file left in ``folders``.

    A file that was begun within the hour may still be under way, and stays.
    """
    for folder in folders:
        with contextlib.suppress(OSError):
            for name in os.listdir(folder):  # noqa: PTH208 a path object for each takes longer
                if not (name.startswith(".") and name.endswith(PART)):
                    continue
                with contextlib.suppress(OSError):
                    if _is_given_up(folder / name):
                        (folder / name).unlink()


def sweep_scratch(folders: Iterable[Path]) -> None:
    """Take away folders for the while of some work whose program ended in the middle of it."""
    for folder in folders:
        with contextlib.suppress(OSError):
            if _is_given_up(folder):
                shutil.rmtree(folder, ignore_errors=True)


def _is_given_up(path: Path) -> bool:
    return path.stat().st_mtime < time.time() - UNDER_WAY_S


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def sync_folder(folder: Path) -> None:
    """See to it that the names in a folder outlast a power cut."""
    if os.name != "posix":
        return  # other systems do not open folders
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)

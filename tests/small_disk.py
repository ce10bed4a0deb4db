"""Disks of a few megabytes, and folders that cannot be written to, made for a test by mounting.

Who may not mount (only the system's own user may) has these tests skipped, which says so.
"""

import os
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest


@contextmanager
def mount_small(at: Path, megabytes: int) -> Iterator[Path]:
    """A disk in memory of so many MB at ``at``, empty."""
    at.mkdir(parents=True, exist_ok=True)
    _mount("-t", "tmpfs", "-o", f"size={megabytes}m", "small", os.fspath(at))
    try:
        yield at
    finally:
        subprocess.run(["umount", "--lazy", os.fspath(at)], check=True)


@contextmanager
def mount_read_only(folder: Path) -> Iterator[Path]:
    """The folder as it is, but nothing in it can be changed while the block lasts."""
    _mount("--bind", os.fspath(folder), os.fspath(folder))
    try:
        _mount("-o", "remount,bind,ro", os.fspath(folder))
        yield folder
    finally:
        subprocess.run(["umount", "--lazy", os.fspath(folder)], check=True)


def _mount(*arguments: str) -> None:
    if shutil.which("mount") is None:
        pytest.skip("no disks can be mounted on this system")
    done = subprocess.run(["mount", *arguments], capture_output=True, text=True, check=False)
    if done.returncode:
        pytest.skip(f"disks cannot be mounted here: {done.stderr.strip()}")


def fill(disk: Path, left: int = 0) -> Path:
    """Fill a disk until ``left`` bytes are free; give the file to remove again."""
    filler = disk / "filler"
    with filler.open("wb", buffering=0) as file:
        while True:
            free = shutil.disk_usage(disk).free - left
            if free <= 0:
                break
            try:
                file.write(b"x" * min(free, 1 << 20))
            except OSError:
                break
    return filler

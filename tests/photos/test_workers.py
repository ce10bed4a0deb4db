"""Worker processes: what they see, and that none outlives the program that started it."""

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from wayfold.photos.crew import SHIFT, Crew
from wayfold.photos.workers import open_pool

SCRIPT = """
import os, signal, sys
from wayfold.photos.workers import open_pool
if __name__ == "__main__":
    pool = open_pool(1)
    print(pool.submit(os.getpid).result(), pool.submit(os.getppid).result(), flush=True)
    os.kill(os.getpid(), signal.SIGKILL)
"""


def test_workers_see_the_surroundings_of_now(monkeypatch: pytest.MonkeyPatch) -> None:
    for value in ("one", "two", None):
        if value is None:
            monkeypatch.delenv("WAYFOLD_SEEN")
        else:
            monkeypatch.setenv("WAYFOLD_SEEN", value)
        with open_pool(1) as pool:
            assert pool.submit(os.getenv, "WAYFOLD_SEEN").result() == value
            assert pool.submit(os.getenv, "VIPS_CONCURRENCY").result() == "1"


def test_fresh_processes_take_over_and_no_work_is_lost() -> None:
    with Crew(1) as crew:
        done = [o.result for o in crew.run(tell_process, range(2 * SHIFT + 5), portion=1)]
    assert sorted(number for number, _ in done) == list(range(2 * SHIFT + 5))
    shifts = [sum(pid == one for _, pid in done) for one in dict.fromkeys(p for _, p in done)]
    assert shifts == [SHIFT, SHIFT, 5]


def tell_process(number: int) -> tuple[int, int]:
    return number, os.getpid()


def test_none_outlives_a_program_that_is_killed(tmp_path: Path) -> None:
    script = tmp_path / "killed.py"
    script.write_text(SCRIPT)
    done = subprocess.run([sys.executable, script], capture_output=True, text=True, timeout=120)
    assert done.returncode < 0, done.stderr
    left = {int(pid) for pid in done.stdout.split()}
    deadline = time.monotonic() + 60
    while left := {pid for pid in left if is_running(pid)}:
        assert time.monotonic() < deadline, "processes are left behind"
        time.sleep(0.05)


def is_running(pid: int) -> bool:
    try:
        state = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0]
    except OSError:
        return False
    return state != "Z"  # ended, and nobody has asked how

"""A short slice of ``python -m proving.kills``: a real book, killed at a few points."""

import subprocess
import sys

SLICE = ("--points", "8", "--seed", "7", "--jobs", "many files", "undo", "track", "lie printed")


def test_killed_at_a_few_points_the_book_is_before_or_after() -> None:
    # In a program of its own: it forks, which one with threads must not.
    done = subprocess.run(
        [sys.executable, "-m", "proving.kills", *SLICE], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert "0 faults" in done.stdout

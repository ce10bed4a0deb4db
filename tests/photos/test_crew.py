"""Worker processes that come to no good."""

import subprocess
import sys

SCRIPT = """
from wayfold.photos.crew import Crew
if __name__ == "__main__":
    with Crew(2) as crew:
        print(list(crew.run(abs, [1, -2])))
"""


def test_workers_that_cannot_start_end_the_work() -> None:
    # A spawned process loads the main module again from its file, and a script that is read from
    # standard input has none (docs.python.org/3/library/multiprocessing.html).
    done = subprocess.run(
        [sys.executable, "-"], input=SCRIPT, text=True, capture_output=True, timeout=120
    )
    assert done.returncode != 0
    assert "BrokenProcessPool" in done.stderr

"""Loaded before all else where workers come from: libraries read this once, as they are loaded.

Reading and writing JPEG goes on one thread whatever is allowed. Ten derivatives of 24 megapixels
on two cores: two processes of one thread 1.9 s (start included), one process of two threads 2.4 s,
of one thread 3.0 s.
"""

import os


def keep_to_one_thread() -> None:
    """Ask the libraries that this process loads from now on for one thread each."""
    os.environ["VIPS_CONCURRENCY"] = "1"
    os.environ.setdefault("OMP_NUM_THREADS", "1")


keep_to_one_thread()

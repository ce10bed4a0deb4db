"""Doing something in a process of its own, which may be killed."""

from __future__ import annotations

import contextlib
import os
import signal
import time
import traceback
from collections.abc import Callable

LONGEST_S = 900.0
"""For what hangs: on a machine that is busy with others much takes long."""


def run(
    do: Callable[[], object], *, may_die: bool = False, kill_after_s: float = LONGEST_S
) -> None:
    """Do something in a process of its own, with all that it starts; kill it after a while.

    Unless it ``may_die``, RuntimeError is raised where it does not end well.
    """
    ready, go = os.pipe()
    child = os.fork()
    if child == 0:
        code = 1
        try:
            os.setpgid(0, 0)
            os.close(ready)
            os.write(go, b".")
            do()
            code = 0
        except BaseException:
            traceback.print_exc()
        finally:
            os._exit(code)
    os.close(go)
    os.read(ready, 1)
    os.close(ready)
    until = time.monotonic() + kill_after_s
    while True:
        ended, status = os.waitpid(child, os.WNOHANG)
        if ended:
            break
        if time.monotonic() >= until:
            os.killpg(child, signal.SIGKILL)
            _, status = os.waitpid(child, 0)
            break
        time.sleep(min(0.0005, max(0.0, until - time.monotonic())))
    # What it started ends with it.
    with contextlib.suppress(ProcessLookupError):
        os.killpg(child, signal.SIGKILL)
    if status and not may_die:
        raise RuntimeError(f"it ended with {status}")

"""One process that takes cases through a door, and what its parent says to it."""

from __future__ import annotations

import contextlib
import logging
import os
import resource
import signal
import sys
import tempfile
import traceback
import warnings
from collections.abc import Iterator
from multiprocessing.connection import Connection
from pathlib import Path
from types import ModuleType

from proving.fuzz.door import LARGE_MB, Door, End, Entrance, Verdict, judge, make_case
from proving.fuzz.watch import Watch

MOST_ADDRESSES = 6 << 30
"""Bytes of address space: libraries claim far more than they touch, so this is but a last stop."""


def work(door: Door, seed: int, room: str, orders: Connection) -> None:
    """Take the numbers that come as orders through the door, and send a verdict of each.

    The first answer is None, or why the door could not be made ready. An order is a list of
    numbers, each begun anew where its series begins; None ends the work. After a verdict that
    this process has grown too large it ends by itself.
    """
    _forget_the_way_here()
    with contextlib.suppress(EOFError, BrokenPipeError), quietly(Path(room)):
        watch = Watch(Path(room))
        try:
            entrance = door.prepare(Path(room))
        except Exception:
            orders.send(traceback.format_exc())
            return
        orders.send(None)
        while (numbers := orders.recv()) is not None:
            for at, number in enumerate(numbers):
                verdict = _try(door, entrance, seed, number, watch, first=at == 0)
                orders.send(verdict)
                if verdict.end is End.LARGE or verdict.peak_mb > LARGE_MB:
                    return


def _try(
    door: Door, entrance: Entrance, seed: int, number: int, watch: Watch, *, first: bool
) -> Verdict:
    if first or number % door.series == 0:
        entrance.begin()
    # Whoever never comes back ends by this signal; its parent knows it by that.
    signal.setitimer(signal.ITIMER_PROF, door.hangs_s)
    return judge(door, entrance, number, make_case(door, entrance, seed, number), watch)


def _forget_the_way_here() -> None:
    """Keep the processes that the product opens from loading the program of this run, all doors."""
    sys.modules["__main__"] = ModuleType("__main__")


@contextlib.contextmanager
def quietly(room: Path) -> Iterator[None]:
    """Keep libraries from writing to the screen or leaving files, and one process from all room."""
    sys.dont_write_bytecode = True
    os.nice(5)
    os.environ["VIPS_CONCURRENCY"] = "1"
    resource.setrlimit(resource.RLIMIT_AS, (MOST_ADDRESSES, MOST_ADDRESSES))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    scratch = room / "tmp"
    scratch.mkdir(parents=True, exist_ok=True)
    os.environ["TMPDIR"] = tempfile.tempdir = str(scratch)
    os.chdir(scratch)
    warnings.simplefilter("ignore")
    logging.disable(logging.CRITICAL)
    # What libraries written in C say of broken files goes to the screen past Python.
    sys.stdout.flush()
    sink = os.open(os.devnull, os.O_WRONLY)
    os.dup2(sink, 1)
    os.dup2(sink, 2)
    yield

"""A door: where something from outside comes in, and the rule that holds at all of them.

Whatever comes, the door answers with a result or with a ``UserError`` that says what to do: within
a time, within a memory, and without a trace outside the room it is tried in.
"""

from __future__ import annotations

import resource
import time
import traceback
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from random import Random

from proving.fuzz.watch import Watch
from wayfold.base.errors import UserError

LARGE_MB = 1000
SLOW_S, HANGS_S = 2.0, 60.0
"""Seconds of the processor, all threads together."""
PATIENCE_S = 300.0
"""Seconds of the wall's clock, for what waits and works nothing: machines are busy with others."""
SHOWN = 400
STAGE = "stage"
"""A file in the room: a door that goes by stages writes there which it has come to."""
APART = "apart"
"""The stage of what the product itself does in processes kept for it, whose death it survives."""


class End(StrEnum):
    """How a try ended."""

    TAKEN = "taken"
    REFUSED = "refused"
    MUTE = "refused without a word on what to do"
    FAILED = "failed"
    SLOW = "slow"
    LARGE = "large"
    OUTSIDE = "wrote outside"
    HANGS = "hangs"
    DIED = "the process died"
    SURVIVED = "a process kept for it died"

    @property
    def holds(self) -> bool:
        """Whether the rule held."""
        return self in (End.TAKEN, End.REFUSED, End.SURVIVED)


class HarmError(Exception):
    """A door did harm that no error tells of: it says which."""


@dataclass(frozen=True, slots=True)
class Entrance:
    """A door made ready in a process.

    ``make`` gives a case by chance; ``enter`` takes one through the door and raises what the door
    raises, or HarmError; ``begin`` puts all back to where every series of cases begins.
    """

    make: Callable[[Random], bytes]
    enter: Callable[[bytes], None]
    begin: Callable[[], None] = lambda: None


@dataclass(frozen=True, slots=True)
class Door:
    """A door by its name. ``prepare`` makes it ready in an empty folder.

    ``series`` cases go in one after another without a new beginning; 1: each is by itself. With
    no answer for ``patience_s``, or after ``hangs_s``, a case hangs.
    """

    name: str
    about: str
    prepare: Callable[[Path], Entrance]
    series: int = 1
    slow_s: float = SLOW_S
    hangs_s: float = HANGS_S
    patience_s: float = PATIENCE_S


@dataclass(frozen=True, slots=True)
class Verdict:
    """How one try ended; ``what`` says it, the same for the same fault."""

    number: int
    end: End
    what: str = ""
    told: str = ""
    cpu_s: float = 0.0
    peak_mb: int = 0


def make_case(door: Door, entrance: Entrance, seed: int, number: int) -> bytes:
    """Give the case of a number: always the same for the same seed."""
    return entrance.make(Random(f"{seed} {door.name} {number}"))


def judge(door: Door, entrance: Entrance, number: int, case: bytes, watch: Watch) -> Verdict:
    """Take a case through a door and say how it ended."""
    before_mb, began = _peak_mb(), time.process_time()
    end, what, told = _enter(entrance, case, watch)
    cpu_s, peak_mb = time.process_time() - began, _peak_mb()
    if end.holds and watch.caught:
        end, what = End.OUTSIDE, watch.caught[0]
    elif end.holds and peak_mb > LARGE_MB >= before_mb:
        end, what = End.LARGE, f"more than {LARGE_MB} MB"
    elif end.holds and cpu_s > door.slow_s:
        end, what = End.SLOW, f"more than {door.slow_s:g} s"
    return Verdict(number, end, what, told, cpu_s, peak_mb)


def _enter(entrance: Entrance, case: bytes, watch: Watch) -> tuple[End, str, str]:
    try:
        with watch.watching():
            entrance.enter(case)
    except UserError as error:
        told = str(error)[:SHOWN]
        if error.what.strip() and error.remedy.strip():
            return End.REFUSED, "", told
        return End.MUTE, error.what[:60] or "nothing at all", told
    except HarmError as error:
        return End.FAILED, f"harm: {str(error)[:120]}", str(error)
    except Exception as error:
        return End.FAILED, _sign(error), "".join(traceback.format_exception(error))[-6000:]
    return End.TAKEN, "", ""


def _sign(error: BaseException) -> str:
    """Give what tells a fault from others: its kind, and the last of our own lines it came by."""
    frames = traceback.extract_tb(error.__traceback__)
    ours = [f for f in frames if "/wayfold/" in f.filename] or list(frames)
    at = f"{ours[-1].filename.rpartition('/wayfold/')[2]}:{ours[-1].lineno}" if ours else "?"
    return f"{type(error).__name__} at {at}"


def _peak_mb() -> int:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024

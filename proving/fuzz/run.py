"""A run at a door: processes that are watched, replaced when they fall, and counted up."""

from __future__ import annotations

import contextlib
import multiprocessing
import signal
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from multiprocessing.connection import Connection, wait
from pathlib import Path

from proving.fuzz.door import APART, LARGE_MB, STAGE, Door, End, Verdict
from proving.fuzz.worker import work
from proving.rooms import open_room

PORTION = 100
START_S = 900.0
KEPT_A_FAULT = 3


@dataclass(slots=True)
class Tally:
    """What came of a run; of each fault the first few cases are kept."""

    ends: Counter[End] = field(default_factory=Counter)
    faults: dict[tuple[End, str], list[Verdict]] = field(default_factory=dict)
    counts: Counter[tuple[End, str]] = field(default_factory=Counter)
    cpu_s: float = 0.0
    slowest_s: float = 0.0
    slowest: int = 0
    peak_mb: int = 0
    largest: int = 0
    broken_off: bool = False
    """By the person; what was tried until then counts."""

    def add(self, verdict: Verdict) -> bool:
        """Count a verdict; whether it is of a fault not seen before."""
        self.ends[verdict.end] += 1
        self.cpu_s += verdict.cpu_s
        if verdict.peak_mb > self.peak_mb:
            self.peak_mb, self.largest = verdict.peak_mb, verdict.number
        if verdict.cpu_s > self.slowest_s:
            self.slowest_s, self.slowest = verdict.cpu_s, verdict.number
        if verdict.end.holds:
            return False
        key = (verdict.end, verdict.what)
        self.counts[key] += 1
        kept = self.faults.setdefault(key, [])
        if len(kept) < KEPT_A_FAULT:
            kept.append(verdict)
        return len(kept) == 1

    @property
    def runs(self) -> int:
        """How many cases were tried."""
        return sum(self.ends.values())


class _Hand:
    """A process and the numbers it is busy with."""

    def __init__(self, door: Door, seed: int, room: Path) -> None:
        context = multiprocessing.get_context("spawn")
        self._room = tempfile.TemporaryDirectory(dir=room, ignore_cleanup_errors=True)
        self.pipe, theirs = context.Pipe()
        order = (door, seed, self._room.name, theirs)
        self._process = context.Process(target=work, args=order)
        self._process.start()
        theirs.close()
        self.door = door
        self.numbers: list[int] = []
        self.ready = False
        self.grew = False
        self.heard = time.monotonic()

    def order(self, numbers: list[int]) -> None:
        self.numbers, self.heard = list(numbers), time.monotonic()
        self.pipe.send(numbers)

    def is_silent(self) -> bool:
        return time.monotonic() - self.heard > (self.door.patience_s if self.ready else START_S)

    def read_stage(self) -> str:
        path = Path(self._room.name) / STAGE
        return path.read_text(encoding="utf-8") if path.is_file() else ""

    def end(self) -> int | None:
        with contextlib.suppress(OSError):
            self.pipe.close()
        self._process.kill()
        self._process.join()
        self._room.cleanup()
        return self._process.exitcode


def run(
    door: Door,
    numbers: range,
    seed: int,
    workers: int,
    tell: Callable[[Tally, Verdict], None],
    until: float = float("inf"),
) -> Tally:
    """Try the cases of ``numbers``; ``tell`` hears of faults not seen before.

    Ends early at ``until`` (of time.monotonic), or when the person breaks it off; what is under
    way then is not counted.
    """
    tally = Tally()
    waiting = _cut(numbers, max(PORTION // door.series, 1) * door.series)
    with open_room("fuzz") as room:
        hands = [_Hand(door, seed, room) for _ in range(workers)]
        left: list[list[int]] = []
        try:
            while hands and time.monotonic() < until:
                _listen(hands, tally, tell)
                for hand in list(hands):
                    if hand.pipe.closed or hand.is_silent():
                        hands.remove(hand)
                        lost = _give_up(hand, tally, tell)
                        if lost:
                            left.append(lost)
                        hands.append(_Hand(door, seed, room))
                    elif hand.ready and not hand.numbers:
                        portion = left.pop() if left else next(waiting, None)
                        if portion is None:
                            hands.remove(hand)
                            hand.end()
                        else:
                            hand.order(portion)
        except KeyboardInterrupt:
            tally.broken_off = True
        finally:
            for hand in hands:
                hand.end()
    return tally


def _listen(hands: list[_Hand], tally: Tally, tell: Callable[[Tally, Verdict], None]) -> None:
    by_pipe = {hand.pipe: hand for hand in hands}
    for pipe in wait(list(by_pipe), timeout=1.0):
        assert isinstance(pipe, Connection)
        hand = by_pipe[pipe]
        try:
            verdict = pipe.recv()
        except (EOFError, OSError):
            pipe.close()
            continue
        hand.heard = time.monotonic()
        if verdict is None or isinstance(verdict, str):
            if verdict:
                raise RuntimeError(verdict)
            hand.ready = True
            continue
        hand.numbers.remove(verdict.number)
        hand.grew = verdict.peak_mb > LARGE_MB
        if tally.add(verdict):
            tell(tally, verdict)


def _give_up(hand: _Hand, tally: Tally, tell: Callable[[Tally, Verdict], None]) -> list[int]:
    """End a process that died or hangs; give the numbers that it did not come to."""
    closed = hand.pipe.closed
    stage = hand.read_stage()
    code = hand.end()
    if not hand.ready:
        raise RuntimeError(f"the process did not get ready (it ended with {code})")
    if not hand.numbers or hand.grew:
        return hand.numbers
    number, *rest = hand.numbers
    end, what = End.HANGS, f"no answer for {hand.door.patience_s:g} s"
    if closed and code == -signal.SIGPROF:
        what = f"no end after {hand.door.hangs_s:g} s of the processor"
    elif closed:
        end, what = End.DIED, f"it ended with {code}"
    if stage:
        end = End.SURVIVED if end is End.DIED and stage == APART else end
        what += f" ({stage})"
    verdict = Verdict(number, end, what)
    if tally.add(verdict):
        tell(tally, verdict)
    return rest


def _cut(numbers: range, portion: int) -> Iterator[list[int]]:
    for first in range(numbers.start, numbers.stop, portion):
        yield list(range(first, min(first + portion, numbers.stop)))

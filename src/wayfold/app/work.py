"""Long work on an open book: one piece after another, watched, and stopped where one wants."""

from __future__ import annotations

import contextlib
import itertools
import threading
import traceback
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from typing import Literal

from wayfold.base.errors import CancelledError, UserError
from wayfold.base.progress import Progress, Task
from wayfold.disk.refusals import explain_refusal

WorkState = Literal["waiting", "going on", "done", "stopped", "failed"]
KEPT = 20
"""Pieces of work that are remembered after they ended."""


@dataclass(frozen=True, slots=True)
class Work:
    """One piece of work: ``step`` says what is being done, ``done`` of ``total`` how far it is."""

    number: int
    name: str
    state: WorkState = "waiting"
    step: str = ""
    done: int = 0
    total: int = 0
    error: UserError | None = None


class Bench:
    """Does pieces of work, the first one first. Safe to use from several threads."""

    def __init__(self, tell: Callable[[], None]) -> None:
        """``tell`` is called whenever any work goes on; it must return at once."""
        self._tell = tell
        self._works: dict[int, Work] = {}
        self._stopped: set[int] = set()
        self._numbers = itertools.count(1)
        self._lock = threading.Lock()
        self._hands = ThreadPoolExecutor(1, thread_name_prefix="work")
        self._beside = ThreadPoolExecutor(1, thread_name_prefix="beside")

    @property
    def works(self) -> tuple[Work, ...]:
        """All work that is waiting or going on, and the last that ended, the oldest first."""
        with self._lock:
            return tuple(self._works.values())

    def start(self, name: str, do: Callable[[Progress], object], *, beside: bool = False) -> Work:
        """Put a piece of work at the end of the row; ``name`` says it as the person would.

        What someone waits for is done ``beside`` the row, in one of its own.
        """
        with self._lock:
            work = Work(next(self._numbers), name)
            self._works[work.number] = work
            ended = [n for n, w in self._works.items() if w.state not in ("waiting", "going on")]
            for number in ended[:-KEPT]:
                del self._works[number]
        hands = self._beside if beside else self._hands
        hands.submit(self._do, work.number, do)
        self._tell()
        return work

    def stop(self, number: int) -> None:
        """Ask a piece of work to stop; it does at its next step. Nothing where it has ended."""
        with self._lock:
            if number in self._works:
                self._stopped.add(number)

    def close(self) -> None:
        """Stop everything and take nothing more."""
        with self._lock:
            self._stopped.update(self._works)
        for hands in (self._hands, self._beside):
            hands.shutdown(wait=False, cancel_futures=True)

    def _do(self, number: int, do: Callable[[Progress], object]) -> None:
        self._change(number, state="going on")
        try:
            self._check(number)
            do(_Watched(self, number))
        except CancelledError:
            self._change(number, state="stopped")
        except UserError as error:
            self._change(number, state="failed", error=error)
        except OSError as error:
            refused = explain_refusal(error, str(error.filename or ""))
            if refused is None:
                self._tell_fault(number, error)
            else:
                self._change(number, state="failed", error=refused)
        except Exception as error:
            self._tell_fault(number, error)
        else:
            self._change(number, state="done")

    def _tell_fault(self, number: int, error: Exception) -> None:
        # A bug: it shows its traceback here, and the person hears that there was one.
        traceback.print_exc()
        told = UserError(f"Something went wrong in Wayfold itself: {error!r}")
        self._change(number, state="failed", error=told)

    def _check(self, number: int) -> None:
        if number in self._stopped:
            raise CancelledError

    def _change(self, number: int, **fields: object) -> None:
        with self._lock:
            self._works[number] = replace(self._works[number], **fields)  # type: ignore[arg-type]
        self._tell()


class _Watched:
    """A progress that is told to those who watch."""

    def __init__(self, bench: Bench, number: int) -> None:
        self._bench = bench
        self._number = number

    @contextlib.contextmanager
    def task(self, label: str, total: int) -> Iterator[Task]:
        self._bench._change(self._number, step=label, done=0, total=total)
        yield _WatchedTask(self._bench, self._number)


class _WatchedTask:
    def __init__(self, bench: Bench, number: int) -> None:
        self._bench = bench
        self._number = number
        self._done = 0

    def advance(self, steps: int = 1) -> None:
        self._bench._check(self._number)
        self._done += steps
        self._bench._change(self._number, done=self._done)

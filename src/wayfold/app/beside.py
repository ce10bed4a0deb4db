"""A second process that writes one print file while this one writes another."""

from __future__ import annotations

import threading
from collections.abc import Callable
from concurrent.futures import Future, ProcessPoolExecutor
from types import TracebackType
from typing import ParamSpec, TypeVar

from wayfold.photos.workers import open_pool
from wayfold.typeset.album import open_album

P = ParamSpec("P")
R = TypeVar("R")

WORTH_TWO_PROCESSES = 40
"""Pages from which starting a process takes less time than it saves."""


class Beside:
    """A context manager; without a process, work is done here and now."""

    def __init__(self) -> None:
        self._pool: ProcessPoolExecutor | None = None
        self._starting = threading.Thread()

    def __enter__(self) -> Beside:
        return self

    def start(self, *, worth: bool) -> None:
        """Start the process where that is ``worth`` it, so that it is ready when there is work.

        It takes a while to come up, which nobody waits for here.
        """
        if worth and self._pool is None:
            self._pool = open_pool(1, _load, has_pictures=False)
            # A pool starts its process for the first piece of work, and waits until it is there.
            self._starting = threading.Thread(target=self._pool.submit, args=(int,))
            self._starting.start()

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        if self._pool is not None:
            self._starting.join()
            self._pool.shutdown(wait=True, cancel_futures=True)

    def begin(self, work: Callable[P, R], *args: P.args, **kwargs: P.kwargs) -> Future[R]:
        """Begin ``work``, a module's function; what it raises comes from the future's result."""
        if self._pool is not None:
            return self._pool.submit(work, *args, **kwargs)
        done: Future[R] = Future()
        done.set_result(work(*args, **kwargs))
        return done


def _load() -> None:
    # Loads the PDF library too, which takes as long as all else here.
    open_album({})[0].close()

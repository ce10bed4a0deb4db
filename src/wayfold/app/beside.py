"""A second process that writes one print file while this one writes another."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future, ProcessPoolExecutor
from types import TracebackType
from typing import ParamSpec, TypeVar

from wayfold.photos.workers import open_pool
from wayfold.typeset.album import open_album

P = ParamSpec("P")
R = TypeVar("R")


class Beside:
    """A context manager; without a process, work is done here and now."""

    def __init__(self) -> None:
        self._pool: ProcessPoolExecutor | None = None

    def __enter__(self) -> Beside:
        return self

    def start(self, *, worth: bool) -> None:
        """Start the process where that is ``worth`` it, so that it is ready when there is work."""
        if worth and self._pool is None:
            self._pool = open_pool(1, _load)
            self._pool.submit(int)  # a pool starts its process for the first piece of work

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        if self._pool is not None:
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

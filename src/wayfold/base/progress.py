"""How long work tells how far it is, and hears that it should stop."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from typing import Protocol


class Task(Protocol):
    """One piece of long work under way."""

    def advance(self, steps: int = 1) -> None:
        """Count ``steps`` more as done. Raises CancelledError once the person stops it."""


class Progress(Protocol):
    """Where long work reports. Only the parent process calls it."""

    def task(self, label: str, total: int) -> AbstractContextManager[Task]:
        """Open a piece of work of ``total`` steps, named as the person would name it."""


class _SilentTask:
    def advance(self, steps: int = 1) -> None:
        """Say nothing."""


class NoProgress:
    """A progress that nobody watches."""

    @contextmanager
    def task(self, label: str, total: int) -> Iterator[Task]:  # noqa: ARG002
        """Give a task that reports nowhere."""
        yield _SilentTask()

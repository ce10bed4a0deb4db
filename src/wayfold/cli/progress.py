"""Progress bars for the terminal."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from wayfold.base.progress import Task

if TYPE_CHECKING:
    from rich.progress import Progress as Bars
    from rich.progress import TaskID


class TerminalProgress:
    """Shows one bar for each piece of long work, on standard error."""

    @contextmanager
    def task(self, label: str, total: int) -> Iterator[Task]:
        """Show a bar while the work lasts; where no terminal watches, one line when it ends."""
        if total == 0:
            yield _Steps()
            return
        if not sys.stderr.isatty():
            yield _Steps()
            print(f"{label}: {total}", file=sys.stderr)
            return
        with _open_bars() as bars:
            yield _Bar(bars, bars.add_task(label, total=total))


def _open_bars() -> Bars:
    # A make with nothing to do shows no bar, and should not wait for them to load.
    from rich.console import Console
    from rich.progress import (
        BarColumn,
        MofNCompleteColumn,
        Progress,
        TextColumn,
        TimeRemainingColumn,
    )

    columns = (
        TextColumn("{task.description:<24}"),
        BarColumn(bar_width=32),
        MofNCompleteColumn(),
        TimeRemainingColumn(),
    )
    return Progress(*columns, console=Console(stderr=True))


class _Steps:
    def advance(self, steps: int = 1) -> None:
        """Count silently."""


class _Bar:
    def __init__(self, bars: Bars, task: TaskID) -> None:
        self._bars = bars
        self._task = task

    def advance(self, steps: int = 1) -> None:
        """Move the bar."""
        self._bars.advance(self._task, steps)

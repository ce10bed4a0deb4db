"""What an open book tells those who watch it: that it changed, or how far long work is."""

from __future__ import annotations

import contextlib
import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Literal

EventKind = Literal["changed", "work", "trouble", "ticked"]


@dataclass(frozen=True, slots=True)
class Event:
    """Something happened; whoever wants to know what looks at the book, or at its work.

    "changed": the book is another, or what can be undone; "work": long work went on or ended;
    "trouble": the files cannot be read as a book, or can be again; "ticked": something was ticked
    off at the bench, or is not done after all.
    """

    kind: EventKind


class Listeners:
    """Those who want to hear of events. Safe to use from several threads."""

    def __init__(self) -> None:
        self._calls: list[Callable[[Event], None]] = []
        self._lock = threading.Lock()

    @contextlib.contextmanager
    def listen(self, call: Callable[[Event], None]) -> Iterator[None]:
        """Have ``call`` called for every event while the block lasts; it must return at once."""
        with self._lock:
            self._calls.append(call)
        try:
            yield
        finally:
            with self._lock:
                self._calls.remove(call)

    def tell(self, kind: EventKind) -> None:
        """Tell all listeners."""
        with self._lock:
            calls = tuple(self._calls)
        for call in calls:
            call(Event(kind))

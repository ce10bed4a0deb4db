"""What is ticked off of the work: remembered in the book's folder, with what it was done by."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from wayfold.base.errors import NotFoundError
from wayfold.project.bench_file import Tick, read_ticks, write_ticks
from wayfold.project.files import BookFolder
from wayfold.project.lock import hold_lock

Said = Mapping[tuple[str, str], str]
"""What is said now of everything that can be ticked, by its list or task and its own key."""


@dataclass(frozen=True, slots=True)
class TickView:
    """A box to tick: ``day`` is when it was ticked, "" where it is not (ISO 8601).

    ``then`` is what was said when it was ticked, where something else is said now; else "".
    """

    of: str
    item: str
    day: str = ""
    then: str = ""

    @property
    def holds(self) -> bool:
        """Whether it is done, and by what is said now."""
        return bool(self.day) and not self.then


class Ticks:
    """All that is ticked in a book."""

    def __init__(self, folder: BookFolder) -> None:
        """Read what is ticked. Raises UserError where the file cannot be read."""
        self._ticks = {(tick.of, tick.item): tick for tick in read_ticks(folder.bench_file)}

    def show(self, of: str, item: str, said: str) -> TickView:
        """Give the box of something of which this is ``said`` now."""
        tick = self._ticks.get((of, item))
        if tick is None:
            return TickView(of, item)
        return TickView(of, item, tick.day, tick.said if tick.said != said else "")

    def list_left(self, of: str, items: Iterable[str]) -> tuple[TickView, ...]:
        """Give what was ticked of a list or task and is no longer among its ``items``."""
        known = set(items)
        return tuple(
            TickView(tick.of, tick.item, tick.day, tick.said)
            for tick in self._ticks.values()
            if tick.of == of and tick.item not in known
        )


def set_tick(folder: BookFolder, said: Said, of: str, item: str, *, done: bool) -> None:
    """Tick something off today, by what is ``said`` of it now, or say that it is not done.

    Raises NotFoundError for what is not there to be ticked.
    """
    folder.require()
    with hold_lock(folder.private / "ticks.lock"):
        ticks = {(tick.of, tick.item): tick for tick in read_ticks(folder.bench_file)}
        before = ticks.pop((of, item), None)
        if done:
            if (of, item) not in said:
                raise NotFoundError("There is no such step any more.", remedy="Look again.")
            ticks[of, item] = Tick(of, item, said[of, item], date.today().isoformat())
        if done or before is not None:
            write_ticks(folder.bench_file, ticks.values())

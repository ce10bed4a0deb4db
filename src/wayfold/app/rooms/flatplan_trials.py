"""The trials of an open book: kept until they are made or left, and drawn while one looks."""

from __future__ import annotations

import itertools
import threading
from collections import OrderedDict
from dataclasses import dataclass
from weakref import WeakKeyDictionary

from wayfold.app.ledger_ahead import foresee_ledger
from wayfold.app.rooms.flatplan_pages import find_small_pages
from wayfold.app.rooms.flatplan_rows import view_rows
from wayfold.app.rooms.flatplan_trial import Trial, draw_trial, try_out
from wayfold.app.rooms.flatplan_tried import SheetAgain, Tried, view_trial
from wayfold.app.rooms.flatplan_ways import Way, list_ways, take_way
from wayfold.app.rooms.flatplan_wishes import Asked, Wanted, read_asked
from wayfold.app.session import Session
from wayfold.app.shown import Shown
from wayfold.app.stages import Results
from wayfold.base.errors import ConflictError, NotFoundError
from wayfold.base.progress import Progress

KEPT = 6
"""Trials that can still be gone back to."""


@dataclass(slots=True)
class _Kept:
    trial: Trial
    ways: tuple[Way, ...]
    work: int | None = None
    drawn: Shown | None = None
    again: tuple[SheetAgain, ...] | None = None


class Trials:
    """Tries wishes out. Safe to use from several threads."""

    def __init__(self) -> None:
        self._numbers = itertools.count(1)
        self._kept: OrderedDict[int, _Kept] = OrderedDict()
        self._lock = threading.Lock()

    def ask(self, session: Session, asked: Asked) -> Tried:
        """Try a wish out. Raises NotFoundError for what the book has not."""
        return self._try(session, read_asked(session.results, asked))

    def go(self, session: Session, number: int, way: int) -> Tried:
        """Try a trial anew by one of its ways, counted from 0.

        Raises UserError where nothing that is held fast would bring it about.
        """
        kept = self._find(number)
        if not 0 <= way < len(kept.ways):
            raise NotFoundError(
                "There is no such way.", remedy="Choose one of those that are shown."
            )
        _require_same(session.results, kept.trial)
        return self._try(session, take_way(kept.trial, kept.ways[way]))

    def view(self, session: Session, number: int) -> Tried:
        """Give a trial as it is by now: drawn, or not yet."""
        kept, pages = self._find(number), find_small_pages(session)
        after = pages.list_keys(kept.drawn) if kept.drawn is not None else None
        before = pages.list_keys(kept.trial.before)
        return view_trial(number, kept.trial, kept.ways, before, after, kept.work, kept.again)

    def make(self, session: Session, number: int) -> None:
        """Make the change that was tried. Raises ConflictError where the book is another by now."""
        trial = self._find(number).trial
        if trial.plan is None or not trial.wanted.edits:
            raise ConflictError(
                "This cannot be.", remedy="Choose one of the ways out, or leave it."
            )
        with session.hold() as now:
            _require_same(now, trial)
            session.edit(*trial.wanted.edits)

    def _try(self, session: Session, wanted: Wanted) -> Tried:
        trial = try_out(session, wanted)
        kept = _Kept(trial, list_ways(trial))
        with self._lock:
            number = next(self._numbers)
            for earlier in self._kept.values():
                if earlier.work is not None:
                    session.work.stop(earlier.work)
            self._kept[number] = kept
            while len(self._kept) > KEPT:
                self._kept.popitem(last=False)
        keys = find_small_pages(session).list_keys(trial.before)
        if any(view_rows(trial, keys, None)):
            work = session.work.start(
                "Drawing the pages as they would be",
                lambda progress: _draw(session, kept, progress),
            )
            kept.work = work.number
        return self.view(session, number)

    def _find(self, number: int) -> _Kept:
        with self._lock:
            kept = self._kept.get(number)
        if kept is None:
            raise NotFoundError("This trial was left long ago.", remedy="Try it again.")
        return kept


def _draw(session: Session, kept: _Kept, progress: Progress) -> None:
    drawn = draw_trial(session, kept.trial, progress)
    again = foresee_ledger(session.folder, drawn.results).again
    kept.again = tuple(SheetAgain(sheet.label, sheet.reasons) for sheet in again)
    kept.drawn = drawn


def _require_same(now: Results, trial: Trial) -> None:
    then = trial.before.results
    if (now.book, now.plan, now.story) != (then.book, then.plan, then.story):
        raise ConflictError(
            "The book has changed since this was tried.", remedy="Leave it, and try it again."
        )


_TRIALS: WeakKeyDictionary[Session, Trials] = WeakKeyDictionary()


def find_trials(session: Session) -> Trials:
    """Give the trials of the open book, the same ones for all who ask."""
    return _TRIALS.setdefault(session, Trials())

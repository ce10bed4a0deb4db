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
from wayfold.base.progress import NoProgress, Progress

KEPT = 6
"""Trials that can still be gone back to."""


@dataclass(frozen=True, slots=True)
class Begun:
    """A trial that is being planned, by the work of that number."""

    number: int
    work: int


@dataclass(slots=True)
class _Kept:
    asked: Asked | None = None
    """What it was asked for; None for one of another's ways out."""
    planning: int = 0
    trial: Trial | None = None
    ways: tuple[Way, ...] = ()
    work: int | None = None
    drawn: Shown | None = None
    again: tuple[SheetAgain, ...] | None = None


class Trials:
    """Tries wishes out. Safe to use from several threads."""

    def __init__(self) -> None:
        self._numbers = itertools.count(1)
        self._kept: OrderedDict[int, _Kept] = OrderedDict()
        self._lock = threading.Lock()

    def ask(self, session: Session, asked: Asked) -> Begun:
        """Begin to try a wish out. Raises NotFoundError for what the book has not."""
        return self._begin(session, read_asked(session.results, asked), asked)

    def go(self, session: Session, number: int, way: int) -> Begun:
        """Begin to try a trial anew by one of its ways, counted from 0.

        Raises UserError where nothing that is held fast would bring it about.
        """
        kept, trial = self._find_planned(number)
        if not 0 <= way < len(kept.ways):
            raise NotFoundError(
                "There is no such way.", remedy="Choose one of those that are shown."
            )
        _require_same(session.results, trial)
        return self._begin(session, take_way(trial, kept.ways[way]))

    def view(self, session: Session, number: int) -> Tried:
        """Give a trial as it is by now: drawn, or not yet.

        Raises ConflictError where it is not planned yet.
        """
        (kept, trial), pages = self._find_planned(number), find_small_pages(session)
        after = pages.list_keys(kept.drawn) if kept.drawn is not None else None
        before = pages.list_keys(trial.before)
        return view_trial(number, trial, kept.ways, before, after, kept.work, kept.again)

    def make(self, session: Session, number: int) -> None:
        """Make the change that was tried.

        Where the book is another by now, what moves nothing is tried anew and made. Raises
        ConflictError for what moves something, which the person has to see first.
        """
        kept, trial = self._find_planned(number)
        if trial.plan is None or not trial.wanted.edits:
            raise ConflictError(
                "This cannot be.", remedy="Choose one of the ways out, or leave it."
            )
        with session.hold() as now:
            if not _is_same(now, trial):
                trial = _repeat(session, kept.asked, trial)
            session.edit(*trial.wanted.edits)

    def leave(self, session: Session, number: int) -> None:
        """Go on no longer with a trial that is being planned or drawn."""
        kept = self._find(number)
        session.work.stop(kept.planning)
        if kept.work is not None:
            session.work.stop(kept.work)

    def _begin(self, session: Session, wanted: Wanted, asked: Asked | None = None) -> Begun:
        kept = _Kept(asked)
        with self._lock:
            number = next(self._numbers)
            earlier = tuple(self._kept)
        for before in earlier:
            self.leave(session, before)
        with self._lock:
            self._kept[number] = kept
            while len(self._kept) > KEPT:
                self._kept.popitem(last=False)
        work = session.work.start(
            "Planning the book as it would be",
            lambda progress: _plan(session, kept, wanted, progress),
            beside=True,
        )
        kept.planning = work.number
        return Begun(number, work.number)

    def _find_planned(self, number: int) -> tuple[_Kept, Trial]:
        kept = self._find(number)
        if kept.trial is None:
            raise ConflictError(
                "This is still being tried.", remedy="Wait a moment, or try it again."
            )
        return kept, kept.trial

    def _find(self, number: int) -> _Kept:
        with self._lock:
            kept = self._kept.get(number)
        if kept is None:
            raise NotFoundError("This trial was left long ago.", remedy="Try it again.")
        return kept


def _plan(session: Session, kept: _Kept, wanted: Wanted, progress: Progress) -> None:
    trial = try_out(session, wanted, progress)
    kept.ways = list_ways(trial, progress)
    if _moves_something(session, trial):
        work = session.work.start(
            "Drawing the pages as they would be",
            lambda progress: _draw(session, kept, trial, progress),
        )
        kept.work = work.number
    kept.trial = trial


def _draw(session: Session, kept: _Kept, trial: Trial, progress: Progress) -> None:
    drawn = draw_trial(session, trial, progress)
    again = foresee_ledger(session.folder, drawn.results).again
    kept.again = tuple(SheetAgain(sheet.label, sheet.reasons) for sheet in again)
    kept.drawn = drawn


def _moves_something(session: Session, trial: Trial) -> bool:
    keys = find_small_pages(session).list_keys(trial.before)
    return any(view_rows(trial, keys, None))


def _repeat(session: Session, asked: Asked | None, before: Trial) -> Trial:
    """Try anew, in the book as it is now, what moved nothing when it was tried."""
    if asked is not None and not _moves_something(session, before):
        trial = try_out(session, read_asked(session.results, asked), NoProgress())
        lies = _list_pages(trial) == _list_pages(before)
        if lies and trial.is_met and trial.wanted.edits and not _moves_something(session, trial):
            return trial
    raise _explain_other()


def _list_pages(trial: Trial) -> list[int]:
    """Give the pages on which what it is about lay when it was tried."""
    pages = trial.before.results.plan.pages
    return [page.number for page in pages if page.block == trial.wanted.block]


def _is_same(now: Results, trial: Trial) -> bool:
    then = trial.before.results
    return (now.book, now.plan, now.story) == (then.book, then.plan, then.story)


def _require_same(now: Results, trial: Trial) -> None:
    if not _is_same(now, trial):
        raise _explain_other()


def _explain_other() -> ConflictError:
    return ConflictError(
        "The book has changed since this was tried.", remedy="Leave it, and try it again."
    )


_TRIALS: WeakKeyDictionary[Session, Trials] = WeakKeyDictionary()


def find_trials(session: Session) -> Trials:
    """Give the trials of the open book, the same ones for all who ask."""
    return _TRIALS.setdefault(session, Trials())

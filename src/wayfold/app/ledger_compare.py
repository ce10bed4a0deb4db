"""How each sheet stands: compared with what lies printed, in words."""

from __future__ import annotations

import enum
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from wayfold.app.ledger_words import tell_change, tell_ignored
from wayfold.book.reprinting import Reprinting
from wayfold.press.ledger import MARKS, PLACE, Change, SheetInk, estimate_ink_ml, list_changes
from wayfold.press.model import SideName
from wayfold.project.ledger_file import PrintedSheet
from wayfold.typeset.look import name_viewer

PAPER, TRANSLUCENT = "sheets.pdf", "interleaves.pdf"
Looks = tuple[str, str]
"""The identities of what front and back of a sheet show."""
_SIDES = (SideName.FRONT, SideName.BACK)


class SheetState(enum.StrEnum):
    """How a sheet stands."""

    UNPRINTED = "not printed"
    PRINTED = "printed"
    CHANGED = "print again"


@dataclass(frozen=True, slots=True)
class SheetView:
    """A sheet of the book: ``at`` (from 0) in its ``file``, and how it stands.

    ``reasons`` say what has changed since it was printed; ``ignored`` what the person passes over.
    ``day`` is when it was marked as printed (ISO 8601), None where it was not.
    """

    label: str
    file: str
    at: int
    state: SheetState
    reasons: tuple[str, ...] = ()
    ignored: tuple[str, ...] = ()
    day: str | None = None


@dataclass(frozen=True, slots=True)
class Saved:
    """What need not be printed again: paper, and about how much ink (ml)."""

    sheets: int
    ink_ml: float


@dataclass(frozen=True, slots=True)
class LedgerView:
    """All sheets in the order of printing.

    ``outgrown`` lie printed, and the book has them no more.
    """

    sheets: tuple[SheetView, ...]
    saved: Saved
    outgrown: tuple[str, ...] = ()

    @property
    def again(self) -> tuple[SheetView, ...]:
        """The sheets to be printed again."""
        return tuple(sheet for sheet in self.sheets if sheet.state is SheetState.CHANGED)


@dataclass(frozen=True, slots=True)
class Inks:
    """The ink of the book's sheets, in the order of printing; ``code`` made the files of them."""

    papers: Sequence[SheetInk]
    leaves: Sequence[SheetInk]
    code: str

    @property
    def by_label(self) -> dict[str, SheetInk]:
        """All sheets, those of paper first."""
        return {ink.label: ink for ink in (*self.papers, *self.leaves)}


def compare_sheets(
    known: Mapping[str, PrintedSheet],
    inks: Inks,
    reprinting: Reprinting,
    photos: Mapping[str, str],
    look: Callable[[Sequence[str]], Mapping[str, Looks]],
) -> LedgerView:
    """Compare the sheets as they are with the ``known`` ones, that lie printed.

    ``photos`` are file names by id. ``look`` gives what sheets show, by their labels, for those
    that may look different; where it gives nothing the ink alone decides.
    """
    now = inks.by_label
    changes = {n: list_changes(s.ink, now[n]) for n, s in known.items() if n in now}
    doubtful = [n for n, found in changes.items() if found or known[n].code != inks.code]
    looks = look(doubtful)
    views = []
    for number, label in enumerate(now):
        paper = number < len(inks.papers)
        place = (PAPER, number) if paper else (TRANSLUCENT, number - len(inks.papers))
        if label not in known:
            views.append(SheetView(label, *place, SheetState.UNPRINTED))
            continue
        real = _keep_visible(changes[label], known[label], looks.get(label))
        passed = [c for c in real if _is_ignored(c, reprinting)]
        counted = [c for c in real if c not in passed]
        state = SheetState.CHANGED if counted else SheetState.PRINTED
        told = dict.fromkeys(tell_change(c, photos, paper=paper) for c in counted)
        ignored = dict.fromkeys(tell_ignored(c, reprinting, paper=paper) for c in passed)
        day = known[label].day
        views.append(SheetView(label, *place, state, tuple(told), tuple(ignored), day))
    stay = [now[v.label] for v in views if v.state is SheetState.PRINTED]
    saved = Saved(len(stay), sum(map(estimate_ink_ml, stay)))
    return LedgerView(tuple(views), saved, tuple(label for label in known if label not in now))


def _keep_visible(
    changes: Sequence[Change], printed: PrintedSheet, looks: Looks | None
) -> list[Change]:
    """Leave out what does not show, and add what shows although the ink is said to be the same."""
    if looks is None or printed.viewer != name_viewer():
        return list(changes)
    visible: list[Change] = []
    for side, was, now in zip(_SIDES, printed.looks, looks, strict=True):
        if was != now:
            visible += [c for c in changes if c.side is side] or [Change(side, None, "setting")]
    return visible


def _is_ignored(change: Change, reprinting: Reprinting) -> bool:
    if change.what == PLACE:
        return change.moved <= reprinting.ignore_shift
    return change.what == MARKS and reprinting.ignore_marks

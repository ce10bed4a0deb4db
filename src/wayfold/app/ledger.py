"""The ledger of printed sheets: what lies printed, and what an edit has outgrown."""

from __future__ import annotations

import enum
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from wayfold.app.identity import list_key
from wayfold.app.ledger_words import name_photos, tell_change, tell_ignored
from wayfold.app.made import Made, output_files, read_made
from wayfold.app.planning import keep_printed
from wayfold.base.errors import NotFoundError, UserError
from wayfold.base.revive import revive
from wayfold.book.reprinting import Reprinting
from wayfold.book.state import Book
from wayfold.press.extract import extract_sheets
from wayfold.press.ledger import MARKS, PLACE, Change, SheetInk, estimate_ink_ml, list_changes
from wayfold.press.model import SideName
from wayfold.project.files import BookFolder
from wayfold.project.ledger_file import PrintedSheet, read_ledger, write_ledger
from wayfold.project.store import load_book
from wayfold.typeset.look import look_at_pages, name_viewer

PAPER, TRANSLUCENT = "sheets.pdf", "interleaves.pdf"
REPRINTS = {PAPER: "reprint.pdf", TRANSLUCENT: "reprint-interleaves.pdf"}
"""The files that hold nothing but the sheets to be printed again, by the files they come from."""
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
    """

    label: str
    file: str
    at: int
    state: SheetState
    reasons: tuple[str, ...] = ()
    ignored: tuple[str, ...] = ()


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


def view_ledger(root: Path) -> LedgerView:
    """Compare the print files of the book in ``root`` with what lies printed.

    The files of sheets to be printed again are written anew. Raises UserError where the book has
    not been made since its files were lost.
    """
    folder = BookFolder(root.resolve())
    book = load_book(folder).book
    view = _compare(folder, book, _require_made(folder))
    _write_reprints(folder, view)
    return view


def compare_with_printed(folder: BookFolder, book: Book, made: Made) -> tuple[str, ...]:
    """Tell which printed sheets have to be printed again after a make, each with its reasons.

    The files of those sheets are written anew.
    """
    if not folder.ledger_file.is_file():
        return ()
    view = _compare(folder, book, made)
    _write_reprints(folder, view)
    return tuple(f"{sheet.label}: {', '.join(sheet.reasons)}" for sheet in view.again)


def mark_sheets(root: Path, names: Sequence[str], *, printed: bool) -> LedgerView:
    """Note that sheets lie printed as the print files have them, or free them to change again.

    ``names`` are those of gatherings ("2"), sheets ("2.1", counted from the outside), translucent
    sheets ("i3"), "all", or "again": those that were to be printed again. Raises UserError where
    nothing is made yet, NotFoundError for a sheet that the book has not.
    """
    folder = BookFolder(root.resolve())
    book = load_book(folder).book
    made = _require_made(folder)
    known = dict(read_ledger(folder.ledger_file))
    now = _read_inks(made)
    chosen = _choose(names, [*now, *known], _compare(folder, book, made).again)
    if printed:
        looks = _look_at(folder, made, chosen)
        day = date.today().isoformat()
        for label in chosen:
            if label in now:
                known[label] = PrintedSheet(now[label], looks[label], name_viewer(), made.code, day)
    else:
        known = {label: sheet for label, sheet in known.items() if label not in chosen}
    freed = frozenset() if printed else frozenset(_list_gatherings(chosen))
    # The plan first: should the ledger not be written, it has kept too much, not too little.
    keep_printed(folder, frozenset(_list_gatherings(known)), freed)
    order = [label for label in now if label in known] + [n for n in known if n not in now]
    write_ledger(folder.ledger_file, [known[label] for label in order])
    view = _compare(folder, book, made)
    _write_reprints(folder, view)
    return view


def _require_made(folder: BookFolder) -> Made:
    folder.require()
    made = read_made(folder)
    if not made.sheets or made.outputs != list_key(output_files(folder)):
        raise UserError(
            "The print files are not there, or not as Wayfold made them.",
            where=str(folder.out),
            remedy=f"Make them first: wayfold make {folder.root}",
        )
    return made


def _read_inks(made: Made) -> dict[str, SheetInk]:
    inks = (revive(sheet, SheetInk) for sheet in (*made.sheets, *made.leaves))
    return {ink.label: ink for ink in inks}


def _compare(folder: BookFolder, book: Book, made: Made) -> LedgerView:
    known, now = read_ledger(folder.ledger_file), _read_inks(made)
    changes = {
        label: list_changes(sheet.ink, now[label]) for label, sheet in known.items() if label in now
    }
    doubtful = [n for n, found in changes.items() if found or known[n].code != made.code]
    looks = _look_at(folder, made, doubtful)
    names = name_photos(folder)
    views = []
    for number, (label, ink) in enumerate(now.items()):
        paper = number < len(made.sheets)
        place = (PAPER, number) if paper else (TRANSLUCENT, number - len(made.sheets))
        if label not in known:
            views.append(SheetView(label, *place, SheetState.UNPRINTED))
            continue
        real = _keep_visible(changes[label], known[label], looks.get(label))
        passed = [c for c in real if _is_ignored(c, book.reprinting)]
        counted = [c for c in real if c not in passed]
        state = SheetState.CHANGED if counted else SheetState.PRINTED
        told = dict.fromkeys(tell_change(c, names, paper=paper) for c in counted)
        ignored = dict.fromkeys(tell_ignored(c, book.reprinting, paper=paper) for c in passed)
        views.append(SheetView(ink.label, *place, state, tuple(told), tuple(ignored)))
    stay = [now[v.label] for v in views if v.state is SheetState.PRINTED]
    saved = Saved(len(stay), sum(map(estimate_ink_ml, stay)))
    return LedgerView(tuple(views), saved, tuple(label for label in known if label not in now))


def _keep_visible(
    changes: Sequence[Change], printed: PrintedSheet, looks: tuple[str, str] | None
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


def _look_at(
    folder: BookFolder, made: Made, labels: Sequence[str]
) -> Mapping[str, tuple[str, str]]:
    """Give what the two sides of each of these sheets show in the print files."""
    looks: dict[str, tuple[str, str]] = {}
    for name, sheets in ((PAPER, made.sheets), (TRANSLUCENT, made.leaves)):
        wanted = set(labels)
        inks = [revive(sheet, SheetInk).label for sheet in sheets] if wanted else []
        at = [i for i, label in enumerate(inks) if label in wanted]
        seen = list(look_at_pages(folder.out / name, _list_sides(at))) if at else []
        looks |= {inks[i]: (seen[2 * n], seen[2 * n + 1]) for n, i in enumerate(at)}
    return looks


def _list_sides(sheets: Sequence[int]) -> Iterator[int]:
    for sheet in sheets:
        yield from (2 * sheet, 2 * sheet + 1)


def _write_reprints(folder: BookFolder, view: LedgerView) -> None:
    for source, target in REPRINTS.items():
        sides = list(_list_sides([s.at for s in view.again if s.file == source]))
        if sides:
            extract_sheets(folder.out / source, sides, folder.out / target)
        else:
            (folder.out / target).unlink(missing_ok=True)


def _choose(names: Sequence[str], labels: Sequence[str], again: Sequence[SheetView]) -> list[str]:
    chosen: list[str] = []
    for name in names:
        if name == "all":
            found = list(labels)
        elif name == "again":
            found = [sheet.label for sheet in again]
        else:
            found = [label for label in labels if _is_named(label, name)]
            if not found:
                raise NotFoundError(
                    f"The book has no sheet {name!r}.",
                    remedy="Write the number of a gathering (2), of a sheet in it (2.1), of a "
                    "translucent sheet (i3), or: all.",
                )
        chosen += found
    return list(dict.fromkeys(chosen))


def _is_named(label: str, name: str) -> bool:
    if name.startswith("i"):
        return label == f"interleaf sheet {name[1:]}"
    gathering, _, sheet = name.partition(".")
    if sheet:
        return label == f"gathering {gathering}, sheet {sheet}"
    return label.startswith(f"gathering {gathering}, ")


def _list_gatherings(labels: Iterable[str]) -> Iterator[int]:
    for label in labels:
        if label.startswith("gathering "):
            yield int(label.removeprefix("gathering ").split(",")[0])

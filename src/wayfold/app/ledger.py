"""The ledger of printed sheets: what lies printed, and what an edit has outgrown."""

from __future__ import annotations

import json
import threading
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from functools import partial
from pathlib import Path

from wayfold.app.identity import list_key
from wayfold.app.kept_files import write_unless_there
from wayfold.app.ledger_compare import (
    PAPER,
    TRANSLUCENT,
    Inks,
    LedgerView,
    Looks,
    SheetView,
    compare_sheets,
)
from wayfold.app.ledger_words import name_photos
from wayfold.app.made import Made, output_files, read_made
from wayfold.app.planning import Marking, keep_printed
from wayfold.base.errors import NotFoundError, UserError
from wayfold.base.hashing import hash_values
from wayfold.base.mends import Mend
from wayfold.base.revive import revive
from wayfold.book.state import Book
from wayfold.press.extract import extract_sheets
from wayfold.press.ledger import SheetInk
from wayfold.project.cache import DiskCache
from wayfold.project.files import BookFolder
from wayfold.project.ledger_file import PrintedSheet, dump_ledger, read_ledger
from wayfold.project.store import load_book
from wayfold.typeset.look import look_at_pages, name_viewer

REPRINTS = {PAPER: "reprint.pdf", TRANSLUCENT: "reprint-interleaves.pdf"}
"""The files that hold nothing but the sheets to be printed again, by the files they come from."""
_WRITING = threading.Lock()


def view_ledger(root: Path) -> LedgerView:
    """Compare the print files of the book in ``root`` with what lies printed.

    The files of sheets to be printed again are written anew. Raises UserError where the book has
    not been made since its files were lost.
    """
    folder = BookFolder(root.resolve())
    book = load_book(folder).book
    made = _require_made(folder)
    view = _compare(folder, book, made)
    _write_reprints(folder, made, view)
    return view


def compare_with_printed(folder: BookFolder, book: Book, made: Made) -> tuple[str, ...]:
    """Tell which printed sheets have to be printed again after a make, each with its reasons.

    The files of those sheets are written anew.
    """
    if not folder.ledger_file.is_file():
        return ()
    view = _compare(folder, book, made)
    _write_reprints(folder, made, view)
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
    now = _read_inks(made).by_label
    labels = [*now, *read_ledger(folder.ledger_file)]
    chosen = _choose(names, labels, _compare(folder, book, made).again)
    marks = _take_down(folder, made, [n for n in chosen if n in now]) if printed else {}
    freed = frozenset() if printed else frozenset(_list_gatherings(chosen))

    def mark() -> Marking:
        before = read_ledger(folder.ledger_file)
        stay = {n: sheet for n, sheet in before.items() if printed or n not in chosen}
        known = {**stay, **marks}
        if known == before:
            return Marking()  # what is marked twice is still taken back to before the first
        return _tell_marking(folder, now, before, known, freed)

    keep_printed(folder, mark)
    view = _compare(folder, book, made)
    _write_reprints(folder, made, view)
    return view


def _take_down(folder: BookFolder, made: Made, labels: Sequence[str]) -> Mapping[str, PrintedSheet]:
    """Give sheets as the print files have them today."""
    now, looks = _read_inks(made).by_label, _look_at(folder, made, labels)
    about = name_viewer(), made.code, date.today().isoformat()
    return {label: PrintedSheet(now[label], looks[label], *about) for label in labels}


def take_back_marks(root: Path) -> LedgerView:
    """Put the ledger back as it was before the last marking; twice is as never.

    Raises NotFoundError where nothing was marked yet, UserError where nothing is made.
    """
    folder = BookFolder(root.resolve())
    made = _require_made(folder)
    now, last = _read_inks(made).by_label, _find_last(folder)

    def mark() -> Marking:
        if not last.is_file():
            raise NotFoundError("No sheet has been marked yet, so there is nothing to take back.")
        before = read_ledger(folder.ledger_file)
        freed = frozenset(_list_gatherings(before))
        return _tell_marking(folder, now, before, read_ledger(last), freed)

    keep_printed(folder, mark)
    return view_ledger(root)


def _find_last(folder: BookFolder) -> Path:
    """Where the ledger lies as it was before the last marking."""
    return folder.private / "printed-before.lock.toml"


def _tell_marking(
    folder: BookFolder,
    now: Iterable[str],
    before: Mapping[str, PrintedSheet],
    known: Mapping[str, PrintedSheet],
    freed: frozenset[int],
) -> Marking:
    """Give how to keep what is ``known`` to lie printed, and what did ``before``."""
    order = [label for label in now if label in known]
    order += [label for label in known if label not in order]
    ledgers = {
        _find_last(folder): dump_ledger(before.values()),
        folder.ledger_file: dump_ledger(known[label] for label in order),
    }
    return Marking(frozenset(_list_gatherings(known)), freed, ledgers)


def is_made(folder: BookFolder, made: Made) -> bool:
    """Tell whether the print files lie there as ``made`` left them, whatever changed since."""
    return bool(made.sheets) and made.outputs == list_key(output_files(folder))


def _require_made(folder: BookFolder) -> Made:
    folder.require()
    made = read_made(folder)
    if not is_made(folder, made):
        raise UserError(
            "The print files are not there, or not as Wayfold made them.",
            where=str(folder.out),
            remedy=f"Make them first: {Mend.MAKE}.",
        )
    return made


def _read_inks(made: Made) -> Inks:
    papers, leaves = (
        tuple(revive(sheet, SheetInk) for sheet in sheets) for sheets in (made.sheets, made.leaves)
    )
    return Inks(papers, leaves, made.code)


def _compare(folder: BookFolder, book: Book, made: Made) -> LedgerView:
    return compare_sheets(
        read_ledger(folder.ledger_file),
        _read_inks(made),
        book.reprinting,
        name_photos(folder),
        partial(_look_at, folder, made),
    )


def _look_at(folder: BookFolder, made: Made, labels: Sequence[str]) -> Mapping[str, Looks]:
    """Give what the two sides of each of these sheets show in the print files.

    What a file showed once it shows until it is made anew, so that is looked at once.
    """
    cache = DiskCache(folder.cache, "looks", ".json")
    wanted = set(labels)
    looks: dict[str, Looks] = {}
    for name, sheets in ((PAPER, made.sheets), (TRANSLUCENT, made.leaves)):
        inks = [revive(sheet, SheetInk).label for sheet in sheets] if wanted else []
        at = [i for i, label in enumerate(inks) if label in wanted]
        keys = {i: hash_values(made.outputs, name, i, name_viewer()) for i in at}
        kept = {i: cache.get(keys[i]) for i in at}
        missing = [i for i in at if kept[i] is None]
        seen = list(look_at_pages(folder.out / name, _list_sides(missing))) if missing else []
        for n, i in enumerate(missing):
            kept[i] = found = json.dumps([seen[2 * n], seen[2 * n + 1]]).encode()
            cache.put(keys[i], found)
        for i in at:
            front, back = json.loads(kept[i] or b"[]")
            looks[inks[i]] = (front, back)
    return looks


def _list_sides(sheets: Sequence[int]) -> Iterator[int]:
    for sheet in sheets:
        yield from (2 * sheet, 2 * sheet + 1)


def _write_reprints(folder: BookFolder, made: Made, view: LedgerView) -> None:
    # Two windows may ask at once, and each would write the same file.
    with _WRITING:
        for source, target in REPRINTS.items():
            path = folder.out / target
            sides = list(_list_sides([s.at for s in view.again if s.file == source]))
            if sides:
                write = partial(extract_sheets, folder.out / source, sides, path)
                write_unless_there(folder, path, [made.outputs, sides], write)
            else:
                path.unlink(missing_ok=True)


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

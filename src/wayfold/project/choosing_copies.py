"""Choosing between two versions of a file: what is not chosen stays in history."""

from __future__ import annotations

from pathlib import Path

from wayfold.base.errors import NotFoundError
from wayfold.project.copies import OtherVersion, find_copies
from wayfold.project.files import BookFolder
from wayfold.project.journal import Journal
from wayfold.project.journal_notes import Entry, Kind


def take_copy(folder: BookFolder, handle: str) -> Entry | None:
    """Put the other version in the place of ours, as one change that can be undone; give it.

    Raises NotFoundError where it is gone, or one of the two has changed since it was shown.
    """
    journal = Journal(folder)
    copy = require_copy(folder, handle)
    lies, what = copy.path.relative_to(folder.root), f"the other version of {copy.of.name}"
    beside: dict[Path, bytes | None] = {}
    if copy.of in (folder.ledger_file, folder.bench_file):
        beside = {copy.of: copy.content}
        if copy.ours is not None:
            # History knows decisions and other versions only: ours becomes one, and goes after.
            both = f"both versions of {copy.of.name}"
            with journal.change(both, Kind.NOTED, beside) as draft:
                require_copy(folder, handle)
                draft.write(draft.root / lies, copy.ours)
            return _remove(folder, copy, what)
    with journal.change(what, beside=beside) as draft:
        require_copy(folder, handle)
        if not beside:
            draft.write(draft.root / copy.of.relative_to(folder.root), copy.content)
        (draft.root / lies).unlink()
    return journal.own


def put_copy_away(folder: BookFolder, handle: str) -> Entry | None:
    """Stay with ours, and take the other version out of the folder; give the change.

    Raises NotFoundError as ``take_copy`` does.
    """
    copy = require_copy(folder, handle)
    return _remove(folder, copy, f"our own version of {copy.of.name}")


def _remove(folder: BookFolder, copy: OtherVersion, what: str) -> Entry | None:
    journal = Journal(folder)
    with journal.change(what) as draft:
        (draft.root / copy.path.relative_to(folder.root)).unlink()
    return journal.own


def require_copy(folder: BookFolder, handle: str) -> OtherVersion:
    """Give the other version that ``handle`` names. Raises NotFoundError."""
    for copy in find_copies(folder):
        if copy.handle == handle:
            return copy
    raise NotFoundError(
        "This version is not there any more, or one of the two has changed since it was shown.",
        remedy="Look at both again, then choose.",
    )

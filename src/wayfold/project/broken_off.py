"""A change that was broken off after its note is finished before a book is read."""

from __future__ import annotations

from wayfold.disk.refusals import explain_os_errors
from wayfold.project.files import BookFolder
from wayfold.project.journal_placing import list_waiting


def finish_broken_off(folder: BookFolder) -> None:
    """Finish a change that was broken off, if one was; else nothing is locked and nothing read."""
    with explain_os_errors(folder.root):
        waiting = list_waiting(folder)
    if waiting:
        # Hardly ever; the journal is not loaded for a look.
        from wayfold.project.journal import Journal

        Journal(folder).finish()

"""``make``: from a book's folder to its print files, doing only what has changed."""

from __future__ import annotations

from pathlib import Path

from wayfold.app.made import MakeReport, is_current, list_outputs, read_made
from wayfold.base.memory import Memory
from wayfold.base.progress import Progress
from wayfold.project.broken_off import finish_broken_off
from wayfold.project.files import BookFolder
from wayfold.project.inside import require_inside


def make_book(root: Path, progress: Progress, memory: Memory | None = None) -> MakeReport:
    """Make all print files of the book in ``root`` that are not up to date.

    What is in ``memory``, that of an open book, is not worked out again.
    Raises UserError where the person has to mend something first; files made earlier then stay
    as they were.
    """
    folder = BookFolder(root.resolve())
    folder.require()
    require_inside(folder)
    finish_broken_off(folder)
    before = read_made(folder)
    if is_current(folder, before):
        return MakeReport(True, before.pages, (), 0, (), list_outputs(folder), ())
    # Loading all that builds a book takes longer than finding out that nothing has changed; the
    # second process loads meanwhile.
    from wayfold.app.beside import WORTH_TWO_PROCESSES, Beside

    with Beside() as beside:
        beside.start(worth=before.pages >= WORTH_TWO_PROCESSES)
        from wayfold.app.build import build_book

        return build_book(folder, before, beside, progress, memory)

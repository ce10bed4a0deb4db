"""Watching a book's folder for what other programs change in it: an editor, the command line."""

from __future__ import annotations

import threading
import time
import traceback
from collections.abc import Callable

from wayfold.app.picture_files import FileList, list_files
from wayfold.project.copies import find_copies
from wayfold.project.files import BookFolder

PAUSE_S = 0.5
SHARE = 20
"""Looking may take one part in so many of the time: a slow disk is looked at less often."""
LET_GO_S = 5.0
"""So long a book that is put away waits for a look that is under way."""
SETTLED_S = 0.1
"""Files that stay as they are so long have been written to the end."""


class Watcher:
    """Calls ``look`` every half second, in a thread of its own, until it is stopped."""

    def __init__(self, look: Callable[[], None]) -> None:
        """Begin at once."""
        self._look = look
        self._stopped = threading.Event()
        self._thread = threading.Thread(target=self._run, name="watching", daemon=True)
        self._thread.start()

    def stop(self) -> None:
        """Look no more."""
        self._stopped.set()
        if self._thread is not threading.current_thread():
            self._thread.join(LET_GO_S)

    def _run(self) -> None:
        pause = PAUSE_S
        while not self._stopped.wait(pause):
            began = time.monotonic()
            try:
                self._look()
            except Exception:
                # A bug: it shows its traceback, and what is looked at next may be well again.
                traceback.print_exc()
            pause = max(PAUSE_S, SHARE * (time.monotonic() - began))


def list_watched(folder: BookFolder) -> FileList:
    """Give all files that a book is made from but the photographs, with their sizes and times."""
    fonts = folder.fonts.rglob("*") if folder.fonts.is_dir() else ()
    return list_files(
        [
            *{*folder.list_decisions(), *(copy.path for copy in find_copies(folder))},
            *folder.list_tracks(),
            *folder.list_calendars(),
            *folder.list_extracts(),
            *fonts,
        ]
    )


def is_settled(folder: BookFolder, before: FileList) -> bool:
    """Whether the files are others than ``before`` and nobody is writing them just now."""
    now = list_watched(folder)
    time.sleep(SETTLED_S)
    return now != before and list_watched(folder) == now

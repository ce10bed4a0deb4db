"""An open book: its pages as they are now, what changes them, and who watches."""

from __future__ import annotations

import contextlib
import threading
from collections import deque
from collections.abc import Callable, Iterator, Mapping
from contextlib import AbstractContextManager
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from wayfold.app.copies import choose_version
from wayfold.app.events import Event, Listeners
from wayfold.app.fonts import open_typesetter
from wayfold.app.kept_answers import KeptAnswers
from wayfold.app.picture_files import PictureFiles
from wayfold.app.shown import Shown
from wayfold.app.stages import Results, run_stages
from wayfold.app.views import BookState
from wayfold.app.watching import Watcher, is_settled, list_watched
from wayfold.app.work import Bench
from wayfold.base.errors import UserError
from wayfold.base.memory import Memory
from wayfold.base.progress import NoProgress, Progress
from wayfold.book.edits import Edit
from wayfold.disk.refusals import explain_os_errors
from wayfold.project.copies import find_copies
from wayfold.project.files import BookFolder
from wayfold.project.inside import require_inside
from wayfold.project.journal import Journal
from wayfold.project.journal_notes import Entry
from wayfold.project.store import write_edit, write_settings

STATES_KEPT = 4
"""Earlier states whose pictures can still be fetched."""


@dataclass(frozen=True, slots=True)
class _Now:
    """How a book stands: its pages, what of the journal goes with them, what is wrong."""

    shown: Shown
    undo: str | None
    redo: str | None
    changes: int
    copies: int
    trouble: UserError | None = None


class Session:
    """A book that is open. Safe to use from several threads.

    Every change is on the disk, and can be undone, before the call that made it returns. A change
    that no book can be made of is taken back and its error raised.
    """

    def __init__(
        self,
        folder: BookFolder,
        shown: Shown,
        memory: Memory,
        pictures: PictureFiles,
        kept: KeptAnswers,
    ) -> None:
        """Hold the book in ``folder``; use ``open``."""
        self.folder = folder
        self._listeners = Listeners()
        self.work = Bench(partial(self._listeners.tell, "work"))
        # One value, so that whoever asks never has the journal ahead of the pages.
        self._now = _stand(folder, shown)
        self._earlier: deque[Shown] = deque(maxlen=STATES_KEPT)
        self._memory, self._pictures, self._kept = memory, pictures, kept
        self._files = list_watched(folder)
        self._watcher: Watcher | None = None
        self._changing = threading.RLock()

    @staticmethod
    def open(root: Path, progress: Progress) -> Session:
        """Open the book in ``root``. Raises UserError for what the person has to mend first."""
        folder = BookFolder(root.resolve())
        kept = KeptAnswers(folder)
        memory, pictures = Memory(kept), PictureFiles()
        # What was changed by hand meanwhile is kept, even where no book can be made of it. Where
        # nothing can be written the book can still be looked at.
        with contextlib.suppress(UserError):
            folder.require()
            require_inside(folder)
            Journal(folder).catch_up()
        shown = _derive(folder, progress, memory, pictures)
        kept.keep(memory)
        return Session(folder, shown, memory, pictures, kept)

    @property
    def memory(self) -> Memory:
        """What was worked out of this book before; trials of it may use and fill it."""
        return self._memory

    @property
    def shown(self) -> Shown:
        """The pages as they are now; what is got stays as it is when the book changes."""
        return self._now.shown

    @property
    def trouble(self) -> UserError | None:
        """What is wrong with files that were changed by hand; the pages are those of before."""
        return self._now.trouble

    @property
    def results(self) -> Results:
        """What every stage gave, for the pages as they are now."""
        return self.shown.results

    def asset_jpeg(self, asset_id: str) -> bytes:
        """Give the screen picture for a picture key: of the pages now, or as they were just before.

        A window may still be fetching the pictures of pages that have changed meanwhile. Raises
        NotFoundError.
        """
        states = (self.shown, *self._earlier)
        shown = next((one for one in states if one.has_asset(asset_id)), states[0])
        return shown.asset_jpeg(asset_id)

    def listen(self, call: Callable[[Event], None]) -> AbstractContextManager[None]:
        """Have ``call`` called for every event while the block lasts; it must return at once."""
        return self._listeners.listen(call)

    def edit(self, *edits: Edit) -> Shown:
        """Make a change of one or more edits, and give the pages after it."""
        return self._change(lambda: write_edit(self.folder, *edits))

    def settle(self, tables: Mapping[str, Mapping[str, object]]) -> Shown:
        """Set keys in tables of book.toml as ``write_settings`` does; give the pages after it."""
        # Where no folder holds photographs any more, naming one that does is what mends it.
        heals = "photographs" in tables.get("book", {})
        return self._change(lambda: write_settings(self.folder, tables), heals=heals)

    def undo(self) -> Shown:
        """Take back the last change. Raises NotFoundError where there is none."""
        return self._change(lambda: Journal(self.folder).undo(), heals=True)

    def redo(self) -> Shown:
        """Do again what was undone last. Raises NotFoundError where there is none."""
        return self._change(lambda: Journal(self.folder).redo(), heals=True)

    def choose_version(self, handle: str, *, take: bool) -> Shown:
        """Take another version of a file in place of ours, or put it away; give the pages after it.

        Raises NotFoundError where it is gone, or one of the two has changed since it was shown.
        """
        # The other version may be the one of which a book can be made.
        return self._change(lambda: choose_version(self.folder, handle, take=take), heals=True)

    def state(self) -> BookState:
        """How the book stands."""
        now = self._now
        return BookState(
            folder=self.folder.root.name,
            title=now.shown.results.book.title,
            revision=now.shown.revision,
            undo=now.undo,
            redo=now.redo,
            trouble=now.trouble,
            works=self.work.works,
            changes=now.changes,
            copies=now.copies,
        )

    def changes(self) -> tuple[Entry, ...]:
        """All changes, the oldest first."""
        with self._changing:
            journal = Journal(self.folder)
            # Where nothing can be written, what was noted before can still be looked at.
            with contextlib.suppress(UserError):
                journal.catch_up()
            return journal.entries

    def look_again(self, progress: Progress | None = None) -> Shown:
        """Read the book's files anew, after something else than an edit changed them."""
        with self._changing:
            self._pictures.look_again()
            return self._derive_again(progress, note=True)

    @contextlib.contextmanager
    def hold(self) -> Iterator[Results]:
        """Hold off all other changes while the block lasts; gives the book with all until now.

        For a change that hangs on how the book stands: nobody can come between. Raises UserError
        where the files were changed by hand so that they cannot be read.
        """
        with self._changing:
            if self.trouble is not None or list_watched(self.folder) != self._files:
                self._derive_again(note=True)
            yield self.results

    def tell_ticked(self) -> None:
        """Tell those who watch that what is ticked off at the bench is other than it was."""
        self._listeners.tell("ticked")

    def watch(self) -> None:
        """Take up from now on what other programs change in the book's folder."""
        self._watcher = self._watcher or Watcher(self._see_changes)

    def close(self) -> None:
        """Stop all work, and let go of what was worked out; the last pages stay."""
        if self._watcher is not None:
            self._watcher.stop()
            self._watcher = None
        self.work.close()
        self._kept.keep(self._memory)
        self._memory.forget()

    def _see_changes(self) -> None:
        """Derive the book again if its files are others than those it was last derived from."""
        pictures = self._pictures.look_again()
        if not pictures and list_watched(self.folder) == self._files:
            return
        with self._changing, contextlib.suppress(UserError):  # it is told as trouble
            if pictures or is_settled(self.folder, self._files):
                # Where the disk refuses that, what follows tells it.
                with contextlib.suppress(UserError):
                    Journal(self.folder).catch_up()
                self._derive_again()

    def _change(self, write: Callable[[], Entry | None], *, heals: bool = False) -> Shown:
        """Let ``write`` change the files and derive; what no book can be made of is taken back.

        While the files cannot be read only what ``heals`` may change them.
        """
        with self._changing:
            if self.trouble is not None and not heals:
                self._derive_again()
            sound = self.trouble is None
            mine = write()
            try:
                return self._derive_again(tell=not sound)
            except BaseException:
                if sound and mine is not None:
                    Journal(self.folder).withdraw(mine)
                    self._now = _stand(self.folder, self.shown)
                raise

    def _derive_again(
        self, progress: Progress | None = None, *, tell: bool = True, note: bool = False
    ) -> Shown:
        """Derive the pages; where that went well ``note`` takes up what was changed by hand."""
        with self._changing:
            self._files = list_watched(self.folder)
            before = self.shown
            try:
                shown = _derive(self.folder, progress or NoProgress(), self._memory, self._pictures)
            except UserError as error:
                if tell:
                    self._now = _stand(self.folder, before, error)
                    self._listeners.tell("trouble")
                raise
            if note:
                Journal(self.folder).catch_up()
            self._now = _stand(self.folder, shown)
            self._earlier.appendleft(before)
        self._listeners.tell("changed")
        return shown


def _stand(folder: BookFolder, shown: Shown, trouble: UserError | None = None) -> _Now:
    journal = Journal(folder)
    undo, redo = journal.next_turns()
    done, again = (turn.what if turn else None for turn in (undo, redo))
    return _Now(shown, done, again, journal.count, len(find_copies(folder)), trouble)


def _derive(
    folder: BookFolder, progress: Progress, memory: Memory, pictures: PictureFiles
) -> Shown:
    with explain_os_errors(folder.root):
        typesetter = open_typesetter(folder, memory)
        results = run_stages(folder, typesetter, progress, memory, pictures)
    return Shown(folder, results, typesetter, memory)

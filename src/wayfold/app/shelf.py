"""The shelf: the book that is open, if one is, and the books that were."""

from __future__ import annotations

import json
import re
import threading
import tomllib
import unicodedata
from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager, ExitStack
from dataclasses import dataclass
from pathlib import Path

from wayfold.app.copies import CopyView, choose_version, list_copies
from wayfold.app.events import Event, Listeners
from wayfold.app.new import begin_book
from wayfold.app.places import Place, Places
from wayfold.app.session import Session
from wayfold.app.work import Bench, Work
from wayfold.base.errors import NotFoundError, UserError
from wayfold.base.progress import Progress
from wayfold.disk.placing import write_whole
from wayfold.photos.scan import scan_folders
from wayfold.project.copies import find_copies
from wayfold.project.files import BookFolder

REMEMBERED = 12


@dataclass(frozen=True, slots=True)
class ShelvedBook:
    """A book that was open once, in a folder that is still there."""

    place: Place
    title: str


class Shelf:
    """Holds the open book. Safe to use from several threads."""

    def __init__(self, places: Places | None = None, memory: Path | None = None) -> None:
        """``memory`` is the file that remembers which books were open; None remembers nothing."""
        self.places = places or Places()
        self._memory = memory
        self._session: Session | None = None
        self._shut: BookFolder | None = None
        """The book that could not be opened last, while none is open."""
        self._held = ExitStack()
        self._lock = threading.Lock()
        self._listeners = Listeners()
        self.work = Bench(lambda: self._listeners.tell("work"))
        """Work that ends with a book being open."""

    @property
    def session(self) -> Session:
        """The open book. Raises NotFoundError where none is."""
        if self._session is None:
            raise NotFoundError("No book is open.", remedy="Open one, or start one.")
        return self._session

    @property
    def is_empty(self) -> bool:
        """Whether no book is open."""
        return self._session is None

    def listen(self, call: Callable[[Event], None]) -> AbstractContextManager[None]:
        """Have ``call`` called for every event, of whatever book, while the block lasts."""
        return self._listeners.listen(call)

    def open(self, root: Path, progress: Progress) -> Session:
        """Open the book in ``root`` in place of the one that was. Raises UserError."""
        with self._lock:
            try:
                session = Session.open(root, progress)
            except UserError:
                if self._session is None:
                    self._shut = BookFolder(root.resolve())
                raise
            self._put_away()
            self._held.enter_context(session.listen(lambda e: self._listeners.tell(e.kind)))
            session.watch()
            self._session = session
            self._remember(session.folder.root)
        self._listeners.tell("changed")
        return session

    def begin_opening(self, root: Path) -> Work:
        """Open the book in ``root`` as work that is watched. Raises UserError if none is there."""
        folder = BookFolder(root.resolve())
        folder.require()
        self._shut = None
        return self.work.start(folder.root.name, lambda progress: self.open(root, progress))

    def start(
        self, title: str, photographs: Sequence[str], parent: str, style: str | None = None
    ) -> Work:
        """Start a book and open it as work. Folders are given by their handles.

        The book gets a folder of its own in ``parent``, named after its title. Raises UserError.
        """
        name = name_folder(title)
        if not name:
            raise UserError("The book has no title.", remedy="Give it one; it can be changed.")
        if not photographs:
            raise UserError("No folder of photographs is chosen.", remedy="Choose at least one.")
        root = self.places.find(parent) / name
        folders = [self.places.find(one) for one in photographs]
        if not scan_folders(folders).pictures:
            raise UserError(
                "There are no photographs in these folders, nor in those within them.",
                remedy="Choose the folders that the pictures lie in.",
            )
        begin_book(root, title.strip(), folders, style)
        return self.begin_opening(root)

    def close(self) -> None:
        """Put the open book away."""
        with self._lock:
            self._put_away()
        self._listeners.tell("changed")

    def count_copies(self) -> int:
        """Count the files that lie in two versions in the book that is open, or cannot be."""
        if self._shut is not None:
            return len(find_copies(self._shut))
        return 0 if self._session is None else self._session.state().copies

    def list_copies(self) -> tuple[CopyView, ...]:
        """Give those files, both versions compared. Raises NotFoundError where no book is told."""
        return list_copies(self._shut or self.session.folder)

    def choose_version(self, handle: str, *, take: bool) -> None:
        """Take the other version of a file, or put it away.

        A book that could not be opened is opened anew. Raises NotFoundError where the version is
        gone, or one of the two has changed since it was shown.
        """
        folder = self._shut
        if folder is None:
            self.session.choose_version(handle, take=take)
            return
        choose_version(folder, handle, take=take)
        self.begin_opening(folder.root)

    def list_books(self) -> tuple[ShelvedBook, ...]:
        """Give the books that were open, the latest first; those gone meanwhile are left out."""
        found = []
        for root in self._read_memory():
            folder = BookFolder(Path(root))
            if folder.book_file.is_file():
                place = Place(self.places.name(folder.root), folder.root.name, 0, True)
                found.append(ShelvedBook(place, _read_title(folder)))
        return tuple(found)

    def _put_away(self) -> None:
        self._shut = None
        self._held.close()
        if self._session is not None:
            self._session.close()
            self._session = None

    def _remember(self, root: Path) -> None:
        if self._memory is None:
            return
        roots = [str(root), *(one for one in self._read_memory() if one != str(root))]
        text = json.dumps({"books": roots[:REMEMBERED]}, ensure_ascii=False, indent=1)
        try:
            write_whole(self._memory, text.encode())
        except (UserError, OSError):
            return  # a shelf that forgets is no reason not to open a book

    def _read_memory(self) -> list[str]:
        if self._memory is None:
            return []
        try:
            books = json.loads(self._memory.read_text("utf-8"))["books"]
            return [root for root in books if isinstance(root, str)]
        except (OSError, ValueError, KeyError, TypeError):
            return []


def name_folder(title: str) -> str:
    """Give a folder's name for a title, without what some system refuses; may be empty.

    Refused are the signs and names of Microsoft's "Naming Files, Paths, and Namespaces".
    """
    plain = unicodedata.normalize("NFC", title)
    plain = re.sub(r'[<>:"/\\|?*\x00-\x1f\x7f]', " ", plain)
    plain = " ".join(plain.split())[:80].strip(" .")
    device = re.fullmatch(r"(?i)(con|prn|aux|nul|com\d|lpt\d)(\..*)?", plain)
    return f"{plain} book" if device else plain


def _read_title(folder: BookFolder) -> str:

    try:
        about = tomllib.loads(folder.book_file.read_text("utf-8")).get("book", {})
    except (OSError, ValueError):
        return folder.root.name
    title = about.get("title") if isinstance(about, dict) else None
    return title if isinstance(title, str) and title else folder.root.name

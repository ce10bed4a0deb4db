"""The shelf: the one book that is open, or none yet."""

from __future__ import annotations

import threading
from pathlib import Path

from wayfold.app.session import Session
from wayfold.base.errors import NotFoundError
from wayfold.base.progress import Progress


class Shelf:
    """Holds the open book. Safe to use from several threads."""

    def __init__(self) -> None:
        self._session: Session | None = None
        self._lock = threading.Lock()

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

    def open(self, root: Path, progress: Progress) -> Session:
        """Open the book in ``root`` in place of the one that was."""
        with self._lock:
            session = Session.open(root, progress)
            if self._session is not None:
                self._session.close()
            self._session = session
            return session

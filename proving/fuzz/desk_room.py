"""A desk with a small book on it, and the rule that holds for all of its answers."""

from __future__ import annotations

import json
import re
import shutil
from datetime import timedelta
from pathlib import Path
from typing import Any

from starlette.testclient import TestClient

from proving.fuzz.door import HarmError
from tests.desk_book import LISBON, PORTO, START, paint
from wayfold.app.new import begin_book
from wayfold.app.places import Places
from wayfold.app.shelf import Shelf
from wayfold.base.errors import UserError
from wayfold.base.progress import NoProgress
from wayfold.desk.door import Door as DeskDoor
from wayfold.desk.server import create_desk
from wayfold.project.files import BookFolder
from wayfold.project.journal_notes import open_notes
from wayfold.project.store import load_book

PORT = 8732
OURS = f"http://127.0.0.1:{PORT}"
PICTURES = 10
LEFT_OUT = {
    "/api/events",  # goes on for ever
    "/api/sheets/make",  # minutes of work beside the requests; `wayfold make` has its own tests
    "/api/sheets/proof/pages",
    "/api/start/works-here",  # tries the machine itself: its ports, its disk
    "/api/start/close",
    "/api/start/open/{handle}",
    "/api/start/new",
}
REFUSED, BROKEN = 400, 500
Request = tuple[str, str, bytes]


class DeskRoom:
    """A desk with a small book on it, put back as it was as often as is asked."""

    def __init__(self, room: Path) -> None:
        """Write the book in ``room``, with a cache that is warm."""
        self.whole, self.root = room / "whole", room / "home" / "book"
        self._room = room
        self.client: TestClient | None = None
        self.shelf = Shelf(Places(room / "home"))
        # There, for the cache knows files by their places.
        _write_book(self.root)
        self.keep()
        self.begin()
        self.document: dict[str, Any] = self._app.openapi()

    def keep(self) -> None:
        """Take the book's folder, as it is now, for how it is in the beginning."""
        self.shelf.close()
        shutil.rmtree(self.whole, ignore_errors=True)
        shutil.copytree(self.root, self.whole)

    def begin(self) -> None:
        """Open the book anew, as it was in the beginning."""
        self.put_back()
        self.open()

    def put_back(self) -> None:
        """Close the book, and put its folder back as it was in the beginning."""
        if self.client is not None:
            self.shelf.close()
        shutil.rmtree(self.root.parent, ignore_errors=True)
        shutil.copytree(self.whole, self.root)
        open_notes.cache_clear()  # it is another folder of the same name

    def open(self) -> None:
        """Open the book as it lies there. Raises UserError."""
        self.shelf.open(self.root, NoProgress())
        if self.client is None:
            door = DeskDoor(PORT)
            self._app = create_desk(self.shelf, door)
            self.client = TestClient(
                self._app, base_url=OURS, follow_redirects=False, headers={"Origin": OURS}
            )
            # Once entered it keeps one loop for all requests; it lives as long as its process.
            self.client.__enter__()
            self.client.get(door.opening_address)
        self._decided = self._look()

    def _look(self) -> dict[Path, tuple[int, int]]:
        """Mark how the files of decisions stand."""
        stats = ((path, path.stat()) for path in BookFolder(self.root).list_decisions())
        return {path: (stat.st_mtime_ns, stat.st_ino) for path, stat in stats}

    def ask(self, request: Request, media: str = "application/json") -> None:
        """Send a request, and hold the answer to the rule; what is refused raises UserError."""
        method, address, body = request
        assert self.client is not None
        answer = self.client.request(
            method, address, content=body, headers={"Content-Type": media} if body else {}
        )
        text = answer.text if "json" in answer.headers.get("content-type", "") else ""
        if str(self._room) in text:
            raise HarmError(f"{method} {_bare(address)} tells a path of the disk")
        if answer.status_code >= BROKEN:
            raise HarmError(f"{method} {_bare(address)} gives {answer.status_code}")
        decided = self._look()
        if decided != self._decided:
            load_book(BookFolder(self.root))  # it is always a book, and reads as one
            self._decided = decided
        if answer.status_code >= REFUSED:
            self._require_words(answer.status_code, text, method)

    def _require_words(self, status: int, text: str, method: str) -> None:
        if method == "HEAD" or (status in (404, 405) and not text):
            raise UserError("no such address", remedy="none")
        told = json.loads(text) if text else {}
        if not isinstance(told, dict) or not str(told.get("what", "")).strip():
            raise HarmError(f"a refusal ({status}) says nothing: {text[:60]}")
        raise UserError(told["what"], remedy=told.get("remedy") or "(asked wrongly by a program)")


def _write_book(root: Path) -> None:
    for number in range(PICTURES):
        taken = START + timedelta(days=number // 3, minutes=75 * number)
        place = None if number % 3 == 2 else LISBON if number < PICTURES // 2 else PORTO
        paint(root / "photographs" / f"IMG_{number:04}.jpg", number, taken, place)
    begin_book(root, "Four Days", [root / "photographs"])
    (root / "texts" / "foreword.md").write_text("We went *west*.\n", encoding="utf-8")
    shelf = Shelf()
    shelf.open(root, NoProgress())
    shelf.close()


def _bare(address: str) -> str:
    """Give an address without what was asked of it in particular, to tell faults apart by."""
    path = address.partition("?")[0]
    return re.sub(r"/[^/]*[^a-z/][^/]*", "/…", path)[:80]

"""Soft proofs at the desk: a page as the screen has it, as the paper will, and what is lost."""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Literal
from weakref import WeakKeyDictionary

from wayfold.app.proof import FOLDER, PROOF_PPI, ProvenPage, prove_book
from wayfold.app.session import Session
from wayfold.app.work import Work
from wayfold.base.errors import NotFoundError, UserError
from wayfold.base.hashing import hash_bytes
from wayfold.base.progress import NoProgress, Progress
from wayfold.base.units import px_from_mm
from wayfold.checks.soft_proof import PrinterProfile
from wayfold.checks.view_page import count_pages, view_page
from wayfold.disk.placing import write_whole

PROVING = "Proving the pages"
Look = Literal["screen", "paper", "lost"]
READING = "reading.pdf"


@dataclass(frozen=True, slots=True)
class ProfileView:
    """A printer's profile: what it calls itself, and the colours it takes (RGB or CMYK)."""

    name: str
    space: str


@dataclass(frozen=True, slots=True)
class ProofView:
    """The profile, None where none is named; ``trouble`` where the named one is no use.

    ``pages`` are those of the file to read, 0 where it is not made; ``names`` what they are: "7",
    "(7)" for page 7 seen through a leaf. ``proven`` is what was found.
    """

    profile: ProfileView | None
    trouble: str | None
    pages: int
    names: tuple[str, ...]
    proven: tuple[ProvenPage, ...]


@dataclass(frozen=True, slots=True)
class _Kept:
    """Pages proven with one profile and one file to read."""

    of: tuple[str, int]
    pages: dict[int, ProvenPage]


_PROVEN: WeakKeyDictionary[Session, _Kept] = WeakKeyDictionary()


def view_proof(session: Session) -> ProofView:
    """Give the profile and what is proven with it."""
    reading = session.folder.out / READING
    pages = count_pages(reading) if reading.is_file() else 0
    names = tuple(_name_pages(session, pages))
    kept = _find_kept(session).pages
    proven = tuple(kept[number] for number in sorted(kept))
    name = session.results.book.printer.profile
    if not name:
        return ProofView(None, None, pages, names, proven)
    try:
        profile = PrinterProfile.read(session.folder.root / name)
    except UserError as error:
        return ProofView(None, error.what, pages, names, proven)
    return ProofView(ProfileView(profile.name, profile.space), None, pages, names, proven)


def take_profile(session: Session, data: bytes) -> ProofView:
    """Keep a profile in the book's folder and prove with it from now on; it can be undone.

    Raises UserError for what is no printer's profile.
    """
    PrinterProfile(data, "")
    # Named by its content: to undo this is to prove with the one before again.
    name = f"printer-{hash_bytes(data)[:10]}.icc"
    write_whole(session.folder.root / name, data)
    session.settle({"printer": {"profile": name}})
    return view_proof(session)


def leave_profile(session: Session) -> ProofView:
    """Name no profile any more; its file stays."""
    session.settle({"printer": {"profile": None}})
    return view_proof(session)


def prove_page(session: Session, page: int) -> ProofView:
    """Prove one page of the file to read."""
    _prove(session, page, NoProgress())
    return view_proof(session)


def start_proving(session: Session) -> Work:
    """Prove all pages, as work that can be watched and stopped; once at a time."""
    for work in session.work.works:
        if work.name == PROVING and work.state in ("waiting", "going on"):
            return work
    _require_made(session)
    return session.work.start(PROVING, lambda progress: _prove(session, None, progress))


def page_png(session: Session, page: int, look: Look) -> bytes:
    """Give a page as the screen has it, as paper will, or with what is lost marked.

    Raises NotFoundError for a page that there is not, or that is not proven.
    """
    reading = _require_made(session)
    if look == "screen":
        if not 1 <= page <= count_pages(reading):
            raise NotFoundError(f"The file to read has no page {page}.")
        file = io.BytesIO()
        view_page(reading, page, px_from_mm(1.0, PROOF_PPI)).save(file, "PNG")
        return file.getvalue()
    proven = _find_kept(session).pages.get(page)
    if proven is None:
        raise NotFoundError(f"Page {page} is not proven yet.")
    ending = "-lost" if look == "lost" else ""
    return (session.folder.out / FOLDER / f"page-{page:03}{ending}.png").read_bytes()


def _prove(session: Session, page: int | None, progress: Progress) -> None:
    _require_made(session)
    kept = _find_kept(session)
    with _naming_no_place():
        for proven in prove_book(session.folder.root, page, progress):
            kept.pages[proven.page] = proven


def _name_pages(session: Session, pages: int) -> Iterator[str]:
    reading = session.shown.view().reading
    for place in range(pages):
        # The file may be of the book before its last changes, and have other pages.
        if len(reading) == pages:
            page = reading[place]
            yield str(page.number) if page.veiled is None else f"({page.number})"
        else:
            yield str(place + 1)


def _find_kept(session: Session) -> _Kept:
    reading = session.folder.out / READING
    at = reading.stat().st_mtime_ns if reading.is_file() else 0
    of = (session.results.book.printer.profile, at)
    kept = _PROVEN.get(session)
    if kept is None or kept.of != of:
        kept = _PROVEN[session] = _Kept(of, {})
    return kept


def _require_made(session: Session) -> Path:
    reading = session.folder.out / READING
    if not reading.is_file():
        raise NotFoundError(
            "The print files are not made yet, and it is those that are proven.",
            remedy="Make them first.",
        )
    return reading


@contextmanager
def _naming_no_place() -> Iterator[None]:
    """Let errors through without where on the disk they arose."""
    try:
        yield
    except UserError as error:
        raise type(error)(error.what, remedy=error.remedy) from error

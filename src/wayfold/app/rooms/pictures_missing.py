"""Photographs whose files are gone: which they are, and finding them in another folder."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from wayfold.app.session import Session
from wayfold.app.work import Work
from wayfold.base.counts import count_of
from wayfold.base.errors import UserError
from wayfold.base.progress import Progress
from wayfold.photos.catalogue import KnownFile
from wayfold.photos.finding import find_contents
from wayfold.project.cache import RecordCache
from wayfold.project.store import load_book


@dataclass(frozen=True, slots=True)
class MissingPhoto:
    """A photograph whose file is not found, by the last names of its file and its folder."""

    photo: str
    name: str
    folder: str


def list_missing(session: Session) -> tuple[MissingPhoto, ...]:
    """Give the photographs whose files are not found, in the order of their names."""
    known = _know_missing(session)
    shown = (
        MissingPhoto(photo, Path(file.path).name, Path(file.path).parent.name)
        for photo, file in known.items()
    )
    return tuple(sorted(shown, key=lambda one: (one.folder, one.name, one.photo)))


def begin_search(session: Session, folder: Path) -> Work:
    """Look for the missing files in ``folder`` and below, as work that is watched.

    What is found belongs to the book again: the folder where it lies is read from then on. Where
    nothing is found the work fails with words that say so.
    """
    name = f"Looking for missing photographs in {folder.name or folder}"
    return session.work.start(name, lambda progress: search(session, folder, progress))


def search(session: Session, folder: Path, progress: Progress) -> None:
    """Do what ``begin_search`` begins. Raises UserError where nothing is found or missing."""
    known = _know_missing(session)
    if not known:
        raise UserError("No photograph is missing any more.")
    wanted = {file.content for file in known.values()}
    cache = RecordCache(session.folder.cache, "photos")
    found = find_contents(folder, wanted, cache, progress)
    if not found:
        raise UserError(
            f"None of the {count_of(len(known), 'missing photograph')} lies in {folder.name}.",
            remedy="Choose another folder: they are known by their content, so other names and "
            "folders do no harm, but files that were edited since are others.",
        )
    still = [file for file in known.values() if file.content not in found]
    folders = session.results.book.photographs
    after = _add_folder(session, folders, [Path(path) for path in found.values()], still)
    if after == list(folders):
        session.look_again(progress)
    else:
        session.settle({"book": {"photographs": after}})


def _know_missing(session: Session) -> dict[str, KnownFile]:
    missing = session.results.catalogue.missing
    if not missing:
        return {}
    known = load_book(session.folder).known
    return {photo: known[photo] for photo in missing if photo in known}


def _add_folder(
    session: Session, folders: Sequence[str], found: Sequence[Path], still: Iterable[KnownFile]
) -> list[str]:
    """Give the book's folders with that of the files found, without those that hold nothing now."""
    roots = {name: _normal(session.folder.root / name) for name in folders}
    lost = [Path(file.path) for file in still]
    kept = [
        name
        for name, root in roots.items()
        if root.is_dir() or any(path.is_relative_to(root) for path in lost)
    ]
    if all(any(path.is_relative_to(roots[name]) for name in kept) for path in found):
        return kept
    common = Path(os.path.commonpath([path.parent for path in found]))
    inside = common.is_relative_to(session.folder.root)
    name = common.relative_to(session.folder.root) if inside else common
    return [*kept, name.as_posix()]


def _normal(path: Path) -> Path:
    return Path(os.path.normpath(path))

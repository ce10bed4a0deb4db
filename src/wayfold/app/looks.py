"""Looking at all photographs of a book, once each: every later stage then knows how they look."""

from __future__ import annotations

import contextlib
from dataclasses import replace

from wayfold.app.code_reach import function_key
from wayfold.app.kept_copies import CopySize, name_copy, open_copies
from wayfold.app.kept_reading import read_kept
from wayfold.base.errors import UserError
from wayfold.base.findings import Finding, Severity
from wayfold.base.progress import Progress
from wayfold.photos.catalogue import Catalogue
from wayfold.photos.crew import Crew
from wayfold.photos.faces import name_finder
from wayfold.photos.look import Look
from wayfold.photos.look_record import pack_look, unpack_look
from wayfold.photos.looking import Seen, see
from wayfold.photos.model import Photo
from wayfold.project.cache import RecordCache
from wayfold.project.files import BookFolder


def look_at(folder: BookFolder, catalogue: Catalogue, progress: Progress, crew: Crew) -> Catalogue:
    """Give the catalogue with the look of every photograph that can be decoded.

    Its small copy for the screen comes of the same decoding, and is kept.
    Where this machine has no finder of faces, one finding says so, and no picture has any.
    Raises CancelledError when the person stops it.
    """
    finder, copies = name_finder(), open_copies(folder.cache)

    def take(photo: Photo, seen: Seen) -> Look:
        # A copy that the disk refuses is made when it is asked for.
        with contextlib.suppress(UserError):
            copies.put_file(name_copy(photo, CopySize.SMALL), seen.copy)
        return seen.look

    looks = read_kept(
        RecordCache(folder.cache, "looks", function_key(see)),
        catalogue.photos,
        see,
        take,
        pack_look,
        unpack_look,
        crew,
        about=f"faces by {finder}",
        progress=progress,
        label="Looking at the photographs",
    )
    photos = tuple(replace(p, look=looks.get(p.id)) for p in catalogue.photos)
    said = () if finder else (_explain_no_faces(),)
    return replace(catalogue, photos=photos, findings=(*catalogue.findings, *said))


def _explain_no_faces() -> Finding:
    return Finding(
        "faces.not-sought",
        Severity.NOTE,
        "photographs",
        "Faces are not looked for on this machine, so no crop or fold is kept clear of them "
        "by itself.",
        "Look at crops and folds with people yourself, or make the book with Python 3.11 to 3.13 "
        "on Linux, Windows or macOS with an Intel or AMD processor.",
    )

"""Looking at all photographs of a book, once each: every later stage then knows how they look."""

from __future__ import annotations

from dataclasses import replace

from wayfold.app.code_reach import function_key
from wayfold.app.kept_reading import read_kept
from wayfold.base.findings import Finding, Severity
from wayfold.base.progress import Progress
from wayfold.photos.faces import name_finder
from wayfold.photos.look_record import pack_look, unpack_look
from wayfold.photos.looking import read_look
from wayfold.photos.model import Catalogue
from wayfold.project.cache import RecordCache
from wayfold.project.files import BookFolder


def look_at(folder: BookFolder, catalogue: Catalogue, progress: Progress) -> Catalogue:
    """Give the catalogue with the look of every photograph that can be decoded.

    Where this machine has no finder of faces, one finding says so, and no picture has any.
    Raises CancelledError when the person stops it.
    """
    finder = name_finder()
    looks = read_kept(
        RecordCache(folder.cache, "looks", function_key(read_look)),
        catalogue.photos,
        read_look,
        pack_look,
        unpack_look,
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

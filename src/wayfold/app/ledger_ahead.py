"""The ledger before the print files are made: which printed sheets the book has outgrown by now."""

from __future__ import annotations

from wayfold.app.ledger_compare import Inks, LedgerView, compare_sheets
from wayfold.app.ledger_words import name_photos
from wayfold.app.setting import list_faces
from wayfold.app.stages import Results
from wayfold.press.ledger import trace_sheets
from wayfold.project.files import BookFolder
from wayfold.project.ledger_file import read_ledger


def foresee_ledger(folder: BookFolder, results: Results) -> LedgerView:
    """Compare a book as it would be made now with what lies printed; nothing is written.

    The ink alone decides: that something looks the same after all, only its print file can tell.
    """
    contents = {photo.id: photo.content for photo in results.catalogue.photos}
    faces = tuple(list_faces(results.interleaf_sheets, results.leaves))
    inks = Inks(
        trace_sheets(results.sheets, results.drawings, contents),
        trace_sheets(results.interleaf_sheets, faces, contents),
        code="",
    )
    known = read_ledger(folder.ledger_file)
    photos = name_photos(folder)
    return compare_sheets(known, inks, results.book.reprinting, photos, lambda _: {})

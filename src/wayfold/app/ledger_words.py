"""What has changed on a printed sheet, in words."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import PurePath

from wayfold.book.reprinting import Reprinting
from wayfold.press.ledger import MARKS, PLACE, Change
from wayfold.project.files import BookFolder
from wayfold.project.store import load_book
from wayfold.washes.model import NAMED

_WHOLE = {
    MARKS: "the marks round the pages",
    "sheet": "the size of the sheet",
    "setting": "set a little differently by this version of Wayfold",
}
_PLAIN = {
    "folio": "page number",
    "running": "running head",
    "lines": "lines",
    "order": "what lies on top",
    "all": "all of it",
    "gone": "no longer on this sheet",
}
_FACES = ("the first leaf's front", "its back", "the second leaf's front", "its back")


def name_photos(folder: BookFolder) -> dict[str, str]:
    """Give the file name of each photograph the book knows, by id."""
    known = load_book(folder).known
    return {photo: PurePath(file.path).name for photo, file in known.items()}


def tell_change(change: Change, photos: Mapping[str, str], *, paper: bool) -> str:
    """Say what has changed and where: "page 37: caption of DSC_0042.JPG"."""
    if change.page is None:
        return f"{change.side.value}: {_WHOLE[change.what]}"
    where = _tell_page(change.page, paper=paper)
    if change.what == PLACE:
        return f"{where}: lies {change.moved:.2f} mm elsewhere"
    kind, _, rest = change.what.partition(" ")
    if kind == "page":
        return f"{where}: lies where {_tell_page(int(rest), paper=paper)} lay"
    if rest.startswith(NAMED):
        return f"{where}: wash"
    name = f"{_PLAIN.get(kind, kind)}"
    return f"{where}: {name}" + (f" {photos[rest]}" if rest in photos else "")


def tell_ignored(change: Change, reprinting: Reprinting, *, paper: bool) -> str:
    """Say what the person passes over, and by which word."""
    if change.what == MARKS:
        return f"{change.side.value}: the marks differ (printed.ignore_marks)"
    where = _tell_page(change.page or 0, paper=paper)
    return (
        f"{where}: would lie {change.moved:.2f} mm elsewhere "
        f"(printed.ignore_shift_mm = {reprinting.ignore_shift:g})"
    )


def _tell_page(page: int, *, paper: bool) -> str:
    return f"page {page}" if paper else _FACES[(page - 1) % 4]

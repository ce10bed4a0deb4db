"""A picture on a sheet that lies printed is other than it was printed."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.findings import Finding, Severity
from wayfold.base.mends import Mend
from wayfold.checks.subject import Subject
from wayfold.press.ledger import Change, SheetInk, list_changes

RULE = "printed-pictures"
PICTURE = "picture "


def find_outgrown_pictures(subject: Subject) -> Iterator[Finding]:
    """Name the pictures that came, went, or look otherwise since their sheet was printed."""
    now = {sheet.label: sheet for sheet in subject.inks}
    for printed in subject.printed:
        sheet = now.get(printed.label)
        if sheet is None:
            continue
        for change in list_changes(printed, sheet):
            photo = change.what.removeprefix(PICTURE)
            if change.page is None or photo == change.what or photo not in subject.photos:
                continue
            yield Finding(
                RULE,
                Severity.WARN,
                f"page {change.page}",
                f"{subject.name_photo(photo)} {_tell(change, printed, sheet)} since "
                f"{printed.label} was printed.",
                f"Print that sheet again, then say so: {Mend.PRINTED}; or take the change back: "
                f"{Mend.HISTORY}.",
                about=photo,
            )


def _tell(change: Change, printed: SheetInk, now: SheetInk) -> str:
    before, after = (_has(sheet, change) for sheet in (printed, now))
    if before and after:
        return "has changed"
    return "was added" if after else "was taken away"


def _has(sheet: SheetInk, change: Change) -> bool:
    return any(
        part.what == change.what
        for side, ink in sheet.sides
        if side is change.side
        for page in ink.pages
        if page.page == change.page
        for part in page.parts
    )

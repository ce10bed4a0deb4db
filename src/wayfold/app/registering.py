"""The registration sheet of a book's printer: made, read by a person or off a picture, and kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from wayfold.app.setting import set_pages
from wayfold.base.errors import UserError
from wayfold.base.geometry import Point, Size
from wayfold.base.progress import Progress
from wayfold.book.registration import Registration
from wayfold.checks.registration_photo import DiscPlan, draw_discs, read_discs
from wayfold.disk.placing import write_whole
from wayfold.disk.refusals import explain_os_errors
from wayfold.press.bed import lie_sheet, turns_heads
from wayfold.press.registering import (
    LARGEST_OFFSET,
    LARGEST_STRETCH,
    MISREAD,
    fit_affine,
    list_marks,
    measure_lengths,
    measure_misreading,
)
from wayfold.press.registration_sheet import (
    DISC,
    DISC_BACK,
    DISC_FRONT,
    NAMES,
    draw_registration,
    find_disc,
)
from wayfold.project.files import BookFolder
from wayfold.project.store import load_book, write_registration
from wayfold.typeset.assemble import DocumentInfo, assemble_pdf
from wayfold.typeset.engine import Typesetter

FILE, READ_FILE = "registration.pdf", "registration-read.png"


@dataclass(frozen=True, slots=True)
class Reading:
    """What was read, and the picture that shows it (None where a person read)."""

    registration: Registration
    shown: Path | None = None


def make_registration_sheet(root: Path, progress: Progress) -> Path:
    """Write out/registration.pdf for the book's paper and printer, and give its path."""
    folder = BookFolder(root.resolve())
    book = load_book(folder).book
    size = _lie(folder)
    drawings = draw_registration(
        size, book.printer.name, turns_heads=turns_heads(size, book.printer.duplex)
    )
    proofs = set_pages(folder, drawings, Typesetter(), progress, "Drawing the registration sheet")
    target = folder.out / FILE
    with explain_os_errors(folder.out):
        folder.out.mkdir(parents=True, exist_ok=True)
        assemble_pdf(proofs.files, {}, target, DocumentInfo("Registration", language="en"))
    return target


def read_picture(root: Path, picture: Path) -> Reading:
    """Measure a picture of the sheet held to the light; lengths stay as they were read before.

    Writes out/registration-read.png, which shows what was found. Raises UserError where a mark is
    not found or lies impossibly far off.
    """
    folder = BookFolder(root.resolve())
    size = _lie(folder)
    marks = list_marks(size)
    plan = DiscPlan(
        size,
        tuple(find_disc(mark, size, DISC_FRONT) for mark in marks),
        tuple(find_disc(mark, size, DISC_BACK) for mark in marks),
        DISC,
    )
    found = read_discs(picture, plan)
    shown = folder.out / READ_FILE
    write_whole(shown, draw_discs(picture, found), lasting=False)
    landed = [
        Point(at.x + off.x, at.y + off.y) for at, off in zip(plan.back, found.offsets, strict=True)
    ]
    fitted = fit_affine(plan.back, landed)
    offsets = {
        name: Point(fitted.apply(mark).x - mark.x, fitted.apply(mark).y - mark.y)
        for name, mark in zip(NAMES, marks, strict=True)
    }
    return Reading(keep_readings(root, offsets), shown)


def keep_readings(
    root: Path,
    offsets: Mapping[str, Point],
    *,
    across: float | None = None,
    along: float | None = None,
) -> Registration:
    """Write readings into book.toml; what is not given stays as it was read before.

    ``offsets`` are those of the marks by name, "A" to "D". Raises UserError for a mark that is not
    there and for readings that no printer gives.
    """
    folder = BookFolder(root.resolve())
    before = load_book(folder).book.registration or Registration()
    size = _lie(folder)
    known = dict(zip(NAMES, before.offsets, strict=True))
    for name, offset in offsets.items():
        if name not in known:
            raise UserError(
                f"There is no mark {name!r} on the sheet.",
                remedy=f"Name one of {', '.join(NAMES)}.",
            )
        _refuse_far(name, offset)
        known[name] = Point(round(offset.x, 2), round(offset.y, 2))
    a, b, c, d = (known[name] for name in NAMES)
    lengths = [across or before.across, along or before.along]
    for what, length, wanted in zip(
        ("across", "along"), lengths, measure_lengths(size), strict=True
    ):
        if length is not None and abs(length / wanted - 1.0) > LARGEST_STRETCH:
            raise UserError(
                f"{length:g} mm {what} is far from the {wanted:g} mm that the sheet says.",
                remedy="Measure in millimetres between the tips of the arrowheads; and print at "
                "100 %, not “fit to page”.",
            )
    registration = Registration((a, b, c, d), lengths[0], lengths[1])
    write_registration(folder, registration)
    return registration


def doubt_readings(root: Path) -> str | None:
    """Give what is to be said where the readings of the four marks do not go together."""
    folder = BookFolder(root.resolve())
    readings = load_book(folder).book.registration
    off = 0.0 if readings is None else measure_misreading(readings, _lie(folder))
    if off <= MISREAD:
        return None
    return (
        f"One of the readings is {off:.1f} mm at odds with the others: no printer shifts, turns "
        "and stretches a sheet like that. Read the four marks again; left and above are minus."
    )


def _refuse_far(name: str, offset: Point) -> None:
    if max(abs(offset.x), abs(offset.y)) > LARGEST_OFFSET:
        raise UserError(
            f"At {name} the back would lie {offset.x:g} mm and {offset.y:g} mm off.",
            remedy="So far off, the sheet was fed or turned wrong, or the reading is not in "
            "millimetres. Print the sheet again and look at its head.",
        )


def _lie(folder: BookFolder) -> Size:
    book = load_book(folder).book
    return lie_sheet(book.trim, book.bleed, book.paper, book.printer).sheet

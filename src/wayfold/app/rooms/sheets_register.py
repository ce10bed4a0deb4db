"""The registration of the printer at the desk: the sheet, its readings, and what they come to."""

from __future__ import annotations

import tempfile
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from wayfold.app.registering import (
    READ_FILE,
    doubt_readings,
    keep_readings,
    make_registration_sheet,
    read_picture,
)
from wayfold.app.session import Session
from wayfold.base.errors import NotFoundError, UserError
from wayfold.base.geometry import Point, Size
from wayfold.base.progress import NoProgress
from wayfold.bench.registering_figures import (
    draw_found,
    draw_lengths,
    draw_lit_sheet,
    draw_mark_reading,
)
from wayfold.book.registration import Registration
from wayfold.disk.refusals import explain_os_errors
from wayfold.press.registering import BackLie, describe_lie, measure_lengths
from wayfold.press.registration_sheet import NAMES

FIGURES = ("light", "mark", "lengths", "found")


@dataclass(frozen=True, slots=True)
class MarkRead:
    """What was read at a mark: mm to the right of 0 and below it."""

    name: str
    right: float
    down: float


@dataclass(frozen=True, slots=True)
class RegistrationView:
    """The readings that are kept, and what they come to (mm); ``lie`` None where nothing is read.

    ``across`` and ``along`` are None where they were not measured. ``doubt`` says where readings
    do not go together; ``pictured`` whether there is a picture of what was found.
    """

    marks: tuple[MarkRead, ...]
    across: float | None
    along: float | None
    wanted_across: float
    wanted_along: float
    lie: BackLie | None
    doubt: str | None
    pictured: bool


def view_registration(session: Session) -> RegistrationView:
    """Give the readings that are kept."""
    book, size = session.results.book, _size(session)
    readings = book.registration or Registration()
    marks = (MarkRead(n, p.x, p.y) for n, p in zip(NAMES, readings.offsets, strict=True))
    across, along = measure_lengths(size)
    return RegistrationView(
        tuple(marks),
        readings.across,
        readings.along,
        across,
        along,
        None if readings == Registration() else describe_lie(readings, size),
        doubt_readings(session.folder.root),
        (session.folder.out / READ_FILE).is_file(),
    )


def make_sheet(session: Session) -> None:
    """Make the registration sheet anew."""
    make_registration_sheet(session.folder.root, NoProgress())


def keep(
    session: Session, marks: Mapping[str, Point], across: float | None, along: float | None
) -> RegistrationView:
    """Keep readings of all marks and lengths; it can be undone. Raises as ``keep_readings``."""
    with session.hold():
        keep_readings(session.folder.root, marks, across=across, along=along)
        session.look_again()
        return view_registration(session)


def forget(session: Session) -> RegistrationView:
    """Print fronts and backs as if nothing had been read; it can be undone."""
    session.settle({"registration": dict.fromkeys(("offsets_mm", "across_mm", "along_mm"))})
    return view_registration(session)


def measure_picture(session: Session, data: bytes) -> RegistrationView:
    """Read the marks off a picture of the sheet against the light, and keep the readings.

    Raises UserError where it is no picture, or a mark is not to be found in it.
    """
    folder = session.folder
    with explain_os_errors(folder.private):
        folder.private.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=folder.private, prefix="handed-in-") as place:
            picture = Path(place) / "picture"
            picture.write_bytes(data)
            with session.hold():
                try:
                    read_picture(folder.root, picture)
                except UserError as error:
                    # Where it lay meanwhile says nothing to the person who handed it in.
                    raise UserError(error.what, remedy=error.remedy) from error
                session.look_again()
    return view_registration(session)


def find_picture(session: Session) -> Path:
    """Give the picture that shows what was found. Raises NotFoundError where there is none."""
    path = session.folder.out / READ_FILE
    if not path.is_file():
        raise NotFoundError("No picture of the registration sheet has been measured yet.")
    return path


def figure_svg(session: Session, name: str) -> str:
    """Draw one of ``FIGURES``."""
    book, size = session.results.book, _size(session)
    readings = book.registration or Registration()
    drawing = {
        "light": lambda: draw_lit_sheet(size, book.style),
        "mark": lambda: draw_mark_reading(book.style),
        "lengths": lambda: draw_lengths(size, book.style),
        "found": lambda: draw_found(size, readings, book.style),
    }[name]()
    return session.shown.draw_svg(drawing)


def _size(session: Session) -> Size:
    return session.results.sheets[0].size

"""Registration at the desk: typed, photographed, seen for what it comes to, and taken back."""

from __future__ import annotations

import io
import re

import pytest
from PIL import Image, ImageDraw, ImageFilter

from wayfold.app.make import make_book
from wayfold.app.rooms.sheets import view_sheets
from wayfold.app.rooms.sheets_register import (
    FIGURES,
    figure_svg,
    find_picture,
    forget,
    keep,
    make_sheet,
    measure_picture,
    view_registration,
)
from wayfold.app.session import Session
from wayfold.base.errors import NotFoundError, UserError
from wayfold.base.geometry import Point
from wayfold.base.progress import NoProgress

PX = 5
"""Pixels to a millimetre of the picture that is handed in."""
# The discs of the sheet for A3+, reckoned by hand: marks 40 and 30 mm from the edges, the front's
# disc 16 mm beside each, the back's 14 mm above or below, both towards the middle.
WIDE, HIGH = 483.0, 329.0
FRONT = [(56, 30), (427, 30), (56, 299), (427, 299)]
BACK = [(40, 44), (443, 44), (40, 285), (443, 285)]


def photograph(right: float, down: float) -> bytes:
    """The sheet against the light, its back printed so far off."""
    image = Image.new("L", (int(WIDE * PX), int(HIGH * PX)), 226)
    pen = ImageDraw.Draw(image)
    for discs, grey, dx, dy in ((FRONT, 30, 0.0, 0.0), (BACK, 110, right, down)):
        for x, y in discs:
            at = ((x + dx) * PX, (y + dy) * PX)
            reach = 2.5 * PX
            pen.ellipse((at[0] - reach, at[1] - reach, at[0] + reach, at[1] + reach), fill=grey)
    file = io.BytesIO()
    image.filter(ImageFilter.GaussianBlur(1)).save(file, "JPEG", quality=90)
    return file.getvalue()


def test_readings_are_kept_told_and_taken_back(session: Session) -> None:
    make_book(session.folder.root, NoProgress())
    before = view_registration(session)
    assert before.lie is None and before.doubt is None
    assert (before.wanted_across, before.wanted_along) == (WIDE - 60, HIGH - 40)
    view = keep(session, {n: Point(0.4, -0.2) for n in "ABCD"}, 423.4, None)
    assert view.lie is not None
    assert (view.lie.right, view.lie.down) == pytest.approx((0.4, -0.2))
    assert (view.across, view.along) == (423.4, None)
    assert view_sheets(session).freshness == "outdated"
    assert session.state().undo == "the printer's registration"
    session.undo()
    assert view_registration(session) == before
    assert view_sheets(session).freshness == "current"
    session.redo()
    assert forget(session).lie is None


def test_a_misread_mark_is_in_doubt(session: Session) -> None:
    view = keep(session, {"A": Point(1.4, 0.0)}, None, None)
    assert view.doubt is not None and "1.4 mm at odds" in view.doubt


def test_a_photograph_is_measured_and_shown(session: Session) -> None:
    with pytest.raises(NotFoundError):
        find_picture(session)
    view = measure_picture(session, photograph(0.6, -0.4))
    assert view.lie is not None and view.pictured
    assert (view.lie.right, view.lie.down) == pytest.approx((0.6, -0.4), abs=0.05)
    for mark in view.marks:
        assert (mark.right, mark.down) == pytest.approx((0.6, -0.4), abs=0.1)
    with Image.open(find_picture(session)) as shown:
        assert max(shown.size) <= 2400
    assert not list(session.folder.private.glob("handed-in-*"))


@pytest.mark.parametrize("data", [b"", b"words", photograph(0, 0)[:300], b"%!PS-Adobe-3.0\n"])
def test_what_is_no_picture_is_refused_without_a_path(session: Session, data: bytes) -> None:
    before = session.folder.book_file.read_bytes()
    with pytest.raises(UserError) as caught:
        measure_picture(session, data)
    told = f"{caught.value.what} {caught.value.where} {caught.value.remedy}"
    assert str(session.folder.root) not in told
    assert "JPEG" in caught.value.remedy
    assert session.folder.book_file.read_bytes() == before
    assert not list(session.folder.private.glob("handed-in-*"))


def test_every_step_has_its_picture(session: Session) -> None:
    keep(session, {"A": Point(0.4, -0.2)}, None, None)
    for name in FIGURES:
        assert re.match(r"<svg [^>]*viewBox", figure_svg(session, name))
    make_sheet(session)
    assert (session.folder.out / "registration.pdf").read_bytes().startswith(b"%PDF-")

"""The translucent paper measured at the desk."""

from __future__ import annotations

import pytest

from wayfold.app.rooms.sheets_leaf import Edge, Greys, keep_leaf, measure_leaf
from wayfold.app.session import Session
from wayfold.base.errors import UserError


def test_no_sheet_at_all_gives_nothing_back_and_lets_all_through(session: Session) -> None:
    found = measure_leaf(session, Greys(250, 40, 250, 40), None)
    assert (found.reflectance, found.transmittance) == pytest.approx((0.0, 1.0), abs=1e-3)


def test_what_is_measured_is_kept_and_taken_back(session: Session) -> None:
    was = session.results.book.translucent
    greys = Greys(245, 45, 225, 140)
    found = keep_leaf(session, greys, Edge(1.2, 2.0))
    now = session.results.book.translucent
    assert (now.reflectance, now.transmittance, now.haze_deg) == (
        found.reflectance,
        found.transmittance,
        found.haze_deg,
    )
    assert 0 < found.letters < found.shapes <= 1
    session.undo()
    assert session.results.book.translucent == was
    # Without an edge the haze stays what it was.
    keep_leaf(session, greys, None)
    assert session.results.book.translucent.haze_deg == was.haze_deg


def test_greys_that_no_sheet_shows_are_refused(session: Session) -> None:
    before = session.folder.book_file.read_bytes()
    with pytest.raises(UserError, match=r"cannot be|make light"):
        keep_leaf(session, Greys(200, 40, 255, 30), None)
    assert session.folder.book_file.read_bytes() == before

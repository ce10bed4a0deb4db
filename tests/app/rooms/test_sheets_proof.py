"""Soft proofs at the desk. The CMYK profile is a third party's (Graeme W. Gill, public domain), out
of the imaging library's package."""

from __future__ import annotations

import time
from io import BytesIO

import pytest
import pyvips
from PIL import Image

from wayfold.app.make import make_book
from wayfold.app.rooms.sheets_proof import (
    leave_profile,
    page_png,
    prove_page,
    start_proving,
    take_profile,
    view_proof,
)
from wayfold.app.session import Session
from wayfold.base.errors import NotFoundError, UserError
from wayfold.base.progress import NoProgress


def load(name: str) -> bytes:
    return bytes(pyvips.Operation.call("profile_load", name))


def test_a_profile_is_kept_beside_the_book_and_taken_back(session: Session) -> None:
    assert view_proof(session).profile is None
    with pytest.raises(UserError, match="no colour profile"):
        take_profile(session, b"nonsense")
    assert not list(session.folder.root.glob("*.icc"))
    view = take_profile(session, load("cmyk"))
    assert view.profile is not None and view.profile.space == "CMYK"
    assert take_profile(session, load("srgb")).profile.space == "RGB"  # type: ignore[union-attr]
    session.undo()
    back = view_proof(session).profile
    assert back is not None and back.space == "CMYK"
    (session.folder.root / session.results.book.printer.profile).unlink()
    lost = view_proof(session)
    assert lost.profile is None and lost.trouble
    assert str(session.folder.root) not in lost.trouble
    assert leave_profile(session).trouble is None


def test_pages_are_proven_one_by_one_or_all(session: Session) -> None:
    take_profile(session, load("cmyk"))
    with pytest.raises(NotFoundError) as caught:
        prove_page(session, 1)
    assert str(session.folder.root) not in f"{caught.value.where}{caught.value.remedy}"
    make_book(session.folder.root, NoProgress())
    view = prove_page(session, 2)
    assert [page.page for page in view.proven] == [2]
    assert view.names == tuple(str(n + 1) for n in range(view.pages))
    sizes = {Image.open(BytesIO(page_png(session, 2, n))).size for n in ("screen", "paper", "lost")}
    assert len(sizes) == 1
    with pytest.raises(NotFoundError, match="not proven"):
        page_png(session, 3, "paper")
    for number in (0, 4000):
        with pytest.raises(NotFoundError):
            page_png(session, number, "screen")
    work = start_proving(session)
    deadline = time.monotonic() + 300
    while next(w for w in session.work.works if w.number == work.number).state != "done":
        assert time.monotonic() < deadline
        time.sleep(0.1)
    proven = view_proof(session)
    assert len(proven.proven) == proven.pages
    # With another profile nothing is proven yet.
    assert not take_profile(session, load("srgb")).proven

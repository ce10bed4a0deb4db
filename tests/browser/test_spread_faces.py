"""Faces on a spread: a crop that cuts one off is told at once."""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import BrowserContext, expect

from tests.browser.conftest import let_in, serve_desk
from tests.browser.rooms import RealDesk
from tests.browser.spread_room import open_spread, pictures_of, wait_until
from tests.desk_book import DATE, EXIF_IFD, START, copy_book, open_book
from tests.labelled_faces import fetch_pictures, read_labels
from wayfold.app.session import Session
from wayfold.book.edits import SetPicks
from wayfold.book.state import Pick

pytestmark = pytest.mark.browser

PEOPLE = "sample1.jpg"
"""Of the labelled pictures, one with three faces beside each other."""


@pytest.fixture
def desk_of_faces(
    windows: BrowserContext, atlantic: Path, tmp_path: Path, request: pytest.FixtureRequest
) -> Iterator[RealDesk]:
    """A copy of the book with one more picture, of which the faces are known, at the desk."""
    source = fetch_pictures()[PEOPLE]
    root = copy_book(atlantic, tmp_path / "atlantic")
    picture = Image.open(source)
    exif = picture.getexif()
    exif.get_ifd(EXIF_IFD)[DATE] = (START + timedelta(minutes=30)).strftime("%Y:%m:%d %H:%M:%S")
    picture.save(root / "photographs" / PEOPLE, quality=92, exif=exif)
    shelf = open_book(root)
    photo = find_photo(shelf.session, PEOPLE)
    shelf.session.edit(SetPicks(((photo, Pick.HERO),)))
    with (
        serve_desk(shelf) as opening,
        let_in(windows, opening, request) as (page, faults, shoot),
    ):
        page.get_by_role("heading", level=1).wait_for()
        yield RealDesk(page, shelf.session, page.url, shoot, faults)


def find_photo(session: Session, name: str) -> str:
    return next(id_ for id_, p in session.results.photos.items() if Path(p.path).name == name)


def test_a_face_that_is_cropped_out_is_told_at_once(desk_of_faces: RealDesk) -> None:
    desk, page = desk_of_faces, desk_of_faces.page
    photo = find_photo(desk.session, PEOPLE)
    layout = desk.session.results.layout
    number = next(p.number for p in layout.pages if photo in (f.photo for f in pictures_of(p)))
    spread = open_spread(desk, number)
    page.get_by_role("button", name="faces", exact=True).click()
    spread.find(photo).focus()
    spread.side("Crop inside the frame").click()
    status = page.get_by_role("complementary").get_by_role("status")
    expect(status).to_have_text("")
    desk.shoot("spread-faces")
    # The hand-boxed faces of this picture end at 88 and 51 % of its width: its right edge cut by
    # as much of the frame as leaves 70 % takes out the face at the right, and no other.
    labelled = next(one for one in read_labels() if one.file == PEOPLE)
    assert sum(face.x > 0.7 for face in labelled.faces) == 1
    assert not any(face.x < 0.7 < face.right for face in labelled.faces)
    width = spread.number("Width")
    cut = float(width.input_value()) * 0.7
    width.fill(f"{cut:.1f}")
    width.press("Enter")
    expect(status).to_contain_text("It leaves a face out.")
    desk.shoot("spread-face-out")
    spread.side("Keep this crop").click()
    spread.wait_until_drawn()
    after = desk.session.results.layout.pages[number - 1]
    (frame,) = (f for f in pictures_of(after) if f.photo == photo)
    assert frame.crop.width == pytest.approx(0.7, abs=0.03)
    page.keyboard.press("Control+z")
    wait_until(lambda: desk.session.results.layout.pages[number - 1] == layout.pages[number - 1])

"""Copies of photographs for the screen."""

import threading
import time
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image, ImageStat

from wayfold.app.kept_copies import CopySize, name_copy
from wayfold.app.rooms import pictures_small
from wayfold.app.rooms.pictures_small import MOST_AHEAD, Copies, find_copies, find_photo
from wayfold.app.session import Session
from wayfold.base.errors import NotFoundError
from wayfold.photos.model import Photo, SizePx


def open_jpeg(data: bytes) -> Image.Image:
    return Image.open(BytesIO(data))


def test_a_copy_shows_the_whole_picture_in_its_size(session: Session) -> None:
    copies = find_copies(session)
    assert find_copies(session) is copies
    for photo in session.results.catalogue.photos[:3]:
        # Looking at the photograph has made it.
        small = open_jpeg(copies.get_kept(photo, CopySize.SMALL) or b"")
        assert max(small.size) == 320
        assert small.width / small.height == pytest.approx(photo.size.aspect, rel=0.01)
        # The independent reference: Pillow's own reading of the file.
        with Image.open(photo.path) as file:
            whole = file.convert("RGB").resize(small.size, Image.Resampling.BOX)
        means = zip(ImageStat.Stat(whole).mean, ImageStat.Stat(small).mean, strict=True)
        assert all(abs(one - other) < 2 for one, other in means)
        full = open_jpeg(copies.get(photo, CopySize.FULL))
        assert full.size == (photo.size.width_px, photo.size.height_px)


def test_a_copy_is_made_once_and_carries_no_metadata(session: Session) -> None:
    photo = next(p for p in session.results.catalogue.photos if p.place)
    first = find_copies(session).get(photo, CopySize.LARGE)
    assert not open_jpeg(first).getexif()
    Path(photo.path).unlink()
    assert Copies(session.folder.cache).get(photo, CopySize.LARGE) == first


def test_a_file_that_is_gone_is_told(session: Session) -> None:
    photo = session.results.catalogue.photos[0]
    Path(photo.path).unlink()
    with pytest.raises(NotFoundError):
        find_copies(session).get(photo, CopySize.LARGE)
    with pytest.raises(NotFoundError):
        find_photo(session, "nothing")


def test_the_newest_wish_is_made_first(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    order: list[str] = []
    may_go = threading.Event()

    def make(photo: Photo, _crop: object, _px: int, target: Path) -> None:
        may_go.wait(10)
        order.append(photo.id)
        target.write_bytes(photo.id.encode())

    monkeypatch.setattr(pictures_small, "make_preview", make)
    monkeypatch.setattr(pictures_small, "HANDS", 1)
    photos = [Photo(f"p{n}", f"c{n}", f"/{n}", SizePx(3, 2)) for n in range(MOST_AHEAD + 12)]
    copies = Copies(tmp_path)
    copies.make_ahead(photos[:1])  # under way, and waits
    while copies._ahead:
        time.sleep(0.001)
    copies.make_ahead(photos[1:4])
    copies.make_ahead(photos[4:6])
    asking = threading.Thread(target=copies.get, args=(photos[9], CopySize.SMALL))
    asking.start()
    while not copies._asked:
        time.sleep(0.001)
    may_go.set()
    asking.join(10)
    # Asked for only now: it would be made before what is still wished for.
    while copies._ahead or copies._going_on:
        time.sleep(0.001)
    assert copies.get(photos[3], CopySize.SMALL) == b"p3"
    assert order == ["p0", "p9", "p4", "p5", "p1", "p2", "p3"]
    may_go.clear()
    copies.make_ahead(photos[10:12])
    copies.make_ahead(photos[12:])
    assert len(copies._ahead) <= MOST_AHEAD
    assert name_copy(photos[11], CopySize.SMALL) not in copies._ahead
    may_go.set()

"""Looking at a book's photographs: once each, kept, and seen by every later stage."""

from __future__ import annotations

import pytest

from wayfold.app import looks
from wayfold.app.stages import read_looks
from wayfold.base.progress import NoProgress
from wayfold.photos.crew import Crew
from wayfold.photos.faces import name_finder
from wayfold.project.cache import RecordCache
from wayfold.project.files import BookFolder
from wayfold.project.store import load_book


def look_through(folder):
    return read_looks(folder, load_book(folder), NoProgress())


def test_every_photograph_is_looked_at_once(book, monkeypatch):
    folder = BookFolder(book)
    first = look_through(folder)
    assert all(photo.look is not None for photo in first.photos)

    def run(_crew, _read, photos):
        assert not photos, "photographs are looked at again"
        return iter(())

    monkeypatch.setattr(Crew, "run", run)
    assert look_through(folder) == first


@pytest.mark.parametrize("spoilt", [b"", b"{}", b"[1, 2", b"\xff\xfe", b'{"faces": []}'])
def test_a_spoilt_record_is_measured_again(book, spoilt):
    folder = BookFolder(book)
    first = look_through(folder)
    (file,) = (folder.cache / "looks").iterdir()
    whole = file.read_bytes()
    lines = whole.split(b"\n")
    assert len(lines) == 1 + len(first.photos)
    file.write_bytes(b"\n".join([*lines[:-1], spoilt]))
    assert look_through(folder) == first
    # A key that is right, with the sum, over something that is no look.
    RecordCache(folder.cache, "looks", file.stem).put(lines[-1][:32].decode(), b"{}" + spoilt)
    assert look_through(folder) == first


def test_without_a_finder_of_faces_one_finding_says_so(book, monkeypatch):
    folder = BookFolder(book)
    assert name_finder()
    with_faces = look_through(folder)
    assert not [f for f in with_faces.findings if f.rule == "faces.not-sought"]
    monkeypatch.setattr(looks, "name_finder", lambda: "")
    without = look_through(folder)
    assert len([f for f in without.findings if f.rule == "faces.not-sought"]) == 1
    # What was measured with another finder is not taken for this one's.
    (file,) = (folder.cache / "looks").iterdir()
    assert len(file.read_bytes().split(b"\n")) == 1 + 2 * len(with_faces.photos)

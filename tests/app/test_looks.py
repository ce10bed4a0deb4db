"""Looking at a book's photographs: once each, kept, and seen by every later stage."""

from __future__ import annotations

import pytest

from wayfold.app import looks
from wayfold.app.looks import look_at
from wayfold.app.stages import read_catalogue
from wayfold.base.progress import NoProgress
from wayfold.photos.faces import name_finder
from wayfold.project.files import BookFolder
from wayfold.project.store import load_book


def look_through(folder):
    return look_at(folder, read_catalogue(folder, load_book(folder), NoProgress()), NoProgress())


def test_every_photograph_is_looked_at_once(book, monkeypatch):
    folder = BookFolder(book)
    first = look_through(folder)
    assert all(photo.look is not None for photo in first.photos)

    def read(photo):
        raise AssertionError(f"{photo.path} is looked at again")

    monkeypatch.setattr(looks, "read_look", read)
    assert look_through(folder) == first


@pytest.mark.parametrize("spoilt", [b"", b"{}", b"[1, 2", b"\xff\xfe", b'{"faces": []}'])
def test_a_spoilt_record_is_measured_again(book, spoilt):
    folder = BookFolder(book)
    first = look_through(folder)
    files = [p for p in (folder.cache / "looks").rglob("*") if p.is_file()]
    assert len(files) == len(first.photos)
    files[0].write_bytes(spoilt)
    assert look_through(folder) == first
    assert files[0].read_bytes() != spoilt


def test_without_a_finder_of_faces_one_finding_says_so(book, monkeypatch):
    folder = BookFolder(book)
    assert name_finder()
    with_faces = look_through(folder)
    assert not [f for f in with_faces.findings if f.rule == "faces.not-sought"]
    monkeypatch.setattr(looks, "name_finder", lambda: "")
    without = look_through(folder)
    assert len([f for f in without.findings if f.rule == "faces.not-sought"]) == 1
    # What was measured with another finder is not taken for this one's.
    files = [p for p in (folder.cache / "looks").rglob("*") if p.is_file()]
    assert len(files) == 2 * len(with_faces.photos)

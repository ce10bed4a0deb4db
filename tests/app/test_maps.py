"""A map is drawn once, and again only when something that shows in it changes."""

import json
import tomllib
from pathlib import Path

import pytest

from wayfold.app.make import make_book
from wayfold.base.progress import NoProgress
from wayfold.book.edits import SetCaption
from wayfold.maps import outlines
from wayfold.project.files import BookFolder
from wayfold.project.store import write_edit


class NeededError(Exception):
    """The outlines were asked for."""


def refuse() -> None:
    raise NeededError


def test_a_map_is_kept_until_it_changes(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = BookFolder(book)
    said = folder.trip_file.read_text("utf-8") if folder.trip_file.is_file() else ""
    folder.trip_file.write_text(f"overview = true\n{said}", "utf-8")
    make_book(book, NoProgress())
    plan = json.loads((book / "out" / "plan.json").read_text("utf-8"))
    pages = [page["number"] for page in plan["pages"] if page["block"] == "overview"]
    assert pages

    monkeypatch.setattr(outlines, "load_outlines", refuse)
    photo = next(iter(tomllib.loads(folder.photos_file.read_text("utf-8"))["photo"]))
    write_edit(folder, SetCaption(photo, "One."))
    report = make_book(book, NoProgress())
    assert report.pages
    assert not set(report.pages) & set(pages)

    for kept in (folder.cache / "maps").rglob("*"):
        if kept.is_file():
            kept.write_bytes(b"[1, 2")
    write_edit(folder, SetCaption(photo, "Two."))
    with pytest.raises(NeededError):
        make_book(book, NoProgress())
